package paper

import "tideover/internal/drawing"

// Style is a way to set text.
type Style uint8

// The styles.
const (
	Body Style = iota
	Strong
	Small
	SmallStrong
	Heading
	Lead   // the one line that says it
	Figure // big
	Must   // rust, bold, always with the word
	Card   // read from a metre
	CardStrong
	Title
	Tiny // sums to redo, at a desk
	TinyStrong
)

const point = 25.4 / 72 // mm

type setting struct {
	size, leading float64 // pt; leading as a multiple
	bold          bool
	class         string
}

var settings = [...]setting{
	Body:        {9.5, 1.36, false, "page-text"},
	Strong:      {9.5, 1.36, true, "page-strong"},
	Small:       {8, 1.34, false, "page-text"},
	SmallStrong: {8, 1.34, true, "page-strong"},
	Heading:     {12, 1.3, true, "page-strong"},
	Lead:        {14, 1.3, true, "page-strong"},
	Figure:      {22, 1.2, true, "page-strong"},
	Must:        {12, 1.32, true, "page-must"},
	Card:        {19, 1.26, false, "page-text"},
	CardStrong:  {21, 1.2, true, "page-strong"},
	Title:       {20, 1.16, true, "page-strong"},
	Tiny:        {7, 1.3, false, "page-text"},
	TinyStrong:  {7, 1.3, true, "page-strong"},
}

// setter knows the column.
type setter struct {
	side        *setter // of a page turned on its side
	width, tall float64
	scale       float64 // of type sizes
}

// size returns the type size, the line height and the cut of a style. [mm]
func (s *setter) size(st Style) (em, line float64, c cut) {
	t := settings[st]
	em = t.size * point * s.scale
	return em, em * t.leading, cut{t.bold}
}

// lines sets lines of one style from (x, y) down and returns the items and the height.
func (s *setter) lines(list []string, st Style, x, y float64, a drawing.Anchor) ([]drawing.Item, float64) {
	em, line, _ := s.size(st)
	var items []drawing.Item
	for i, l := range list {
		if l == "" {
			continue
		}
		base := y + float64(i)*line + (line-em)/2 + 0.8*em
		items = append(items, drawing.Item{
			Kind: drawing.Text, Class: settings[st].class, Text: l, Size: em, Anchor: a, Pts: []float64{x, base},
		})
	}
	return items, float64(len(list)) * line
}

// on is the setter of an upright page or of one turned on its side.
func (s *setter) on(wide bool) *setter {
	if wide {
		return s.side
	}
	return s
}

func at(items ...drawing.Item) []placed { return []placed{{items: items, scale: 1}} }

func rule(x0, y0, x1, y1 float64, class string) drawing.Item {
	return drawing.Item{Kind: drawing.Line, Class: class, Pts: []float64{x0, y0, x1, y1}}
}

func box(x, y, w, h float64, class string) drawing.Item {
	return drawing.Item{Kind: drawing.Area, Class: class, Pts: []float64{x, y, x + w, y, x + w, y + h, x, y + h}}
}
