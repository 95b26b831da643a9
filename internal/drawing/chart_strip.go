package drawing

import (
	"tideover/internal/drawing/font"
)

// Stretch is a time from one moment to another [s].
type Stretch struct{ From, To float64 }

// StripKind is how a strip's times are drawn: told apart by filling and height, not by hue.
type StripKind uint8

// The kinds: an open bar, one with stripes, a filled one, a thin one.
const (
	Open StripKind = iota
	Striped
	Filled
	Thin
)

// Strip is the times at which something was so.
type Strip struct {
	Name  string
	Kind  StripKind
	Times []Stretch
}

// bars draws the times of a strip between two heights, x giving where a moment stands.
func (s *Strip) bars(x func(t float64) float64, from, to, top, tall float64) []Item {
	var items []Item
	for _, t := range s.Times {
		a, z := x(max(t.From, from)), x(min(t.To, to))
		if t.To <= from || t.From >= to {
			continue
		}
		if z-a < 0.3 { // what is too short to be seen is drawn as a hair
			z = a + 0.3
		}
		items = append(items, s.Kind.bar(a, z, top, tall)...)
	}
	return items
}

func (k StripKind) bar(a, z, top, tall float64) []Item {
	switch k {
	case Filled:
		return []Item{DrawRect("chart bar", a, top, z, top+tall)}
	case Thin:
		return []Item{DrawRect("chart bar", a, top+tall*0.35, z, top+tall*0.65)}
	case Striped:
		bar := []Item{DrawRect("chart bar open", a, top, z, top+tall)}
		return append(bar, hatched("chart stripe", []float64{a, top, z, top, z, top + tall, a, top + tall}, 1.2)...)
	}
	return []Item{DrawRect("chart bar open", a, top, z, top+tall)}
}

// keys explains the strips in one line: a sample of each bar and its name; y is the top.
// It returns the height taken.
func keys(s *sheet, strips []Strip, x float64) {
	at := x
	for i := range strips {
		name := font.Fit(strips[i].Name, chartText, false, chartWidth-2*margin-10)
		wide := 7 + font.Advance(name, chartText, false) + 6
		if at > x && at+wide > chartWidth-margin+6 {
			at = x
			s.y += chartLine + 0.6
		}
		s.items = append(s.items, strips[i].Kind.bar(at, at+6, s.y+0.4, 2.2)...)
		s.items = append(s.items, DrawText("label", chartText, Start, at+7.2, s.y+font.Ascent*chartText-0.2, name))
		at += wide
	}
	s.y += chartLine + 1.4
}
