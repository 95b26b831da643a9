package pack

import (
	"math"

	"tideover/internal/drawing"
)

// Pictograms for the owner's card, drawn on a field of pictSide × pictSide mm: what has
// happened, and which handle goes which way. Shapes of our own; weight carries them, so
// they survive any printer.
const (
	pictSide = 24.0
	turnWide = 19.0
	turnTall = 25.0
)

// pictogram is the sign of one part of the card.
func pictogram(name string) *drawing.Scene {
	draw := map[string]func() []drawing.Item{
		"main-off": pictTapDry, "power": pictPlug, "notice": pictPot, "leak": pictLeak, "clean": pictBrush,
	}[name]
	return &drawing.Scene{Title: name, Width: pictSide, Height: pictSide, Items: draw()}
}

// The classes of pictograms are the page's own, so their shapes are made here.

func stroke(class string, pts ...float64) drawing.Item {
	return drawing.Item{Kind: drawing.Line, Class: class, Pts: pts}
}

func area(class string, pts ...float64) drawing.Item {
	return drawing.Item{Kind: drawing.Area, Class: class, Pts: pts}
}

func circle(class string, x, y, r float64) drawing.Item {
	return drawing.Item{Kind: drawing.Circle, Class: class, Pts: []float64{x, y, r}}
}

func arc(class string, x, y, r, from, to float64) drawing.Item {
	return drawing.Item{Kind: drawing.Arc, Class: class, Pts: []float64{x, y, r, from, to}}
}

// letters are words round the middle x, size mm tall.
func letters(size, x, y float64, text string) drawing.Item {
	return drawing.Item{Kind: drawing.Text, Class: "pict-tag", Size: size, Anchor: drawing.Middle, Pts: []float64{x, y}, Text: text}
}

// drop is a falling drop with its round end at x, y.
func drop(x, y, r float64, class string) drawing.Item {
	pts := []float64{x, y - 2.1*r}
	for a := -30.0; a <= 210; a += 20 {
		pts = append(pts, x+r*math.Cos(a*math.Pi/180), y+r*math.Sin(a*math.Pi/180))
	}
	return area(class, pts...)
}

// cross strikes something out.
func cross(x, y, r float64) []drawing.Item {
	return []drawing.Item{stroke("pict-cross", x-r, y-r, x+r, y+r), stroke("pict-cross", x-r, y+r, x+r, y-r)}
}

// tap is a tap with its spout to the right; its mouth is at 17, 12.5.
func tap() []drawing.Item {
	return []drawing.Item{
		stroke("pict-thick", 2, 8, 15, 8, 17, 9.5, 17, 11.5),
		stroke("pict-thick", 2, 5, 2, 11),
		stroke("pict-pipe", 9, 8, 9, 3.5),
		stroke("pict-thick", 6, 3, 12, 3),
	}
}

func pictTapDry() []drawing.Item {
	return append(append(tap(), drop(17, 19, 2.2, "pict-open")), cross(17, 18, 3.8)...)
}

// pictPlug is a plug pulled out of its socket.
func pictPlug() []drawing.Item {
	items := []drawing.Item{
		area("pict-full", 3, 8, 9, 8, 9, 16, 3, 16),
		stroke("pict-pipe", 9, 10, 13, 10), stroke("pict-pipe", 9, 14, 13, 14),
		stroke("pict-pipe", 3, 12, 0.5, 12),
		area("pict-open", 17.5, 6, 22.5, 6, 22.5, 18, 17.5, 18),
		circle("pict-full", 20, 10, 0.7), circle("pict-full", 20, 14, 0.7),
	}
	return append(items, cross(15, 4, 2.2)...)
}

// pictPot is a pot that boils.
func pictPot() []drawing.Item {
	items := []drawing.Item{
		area("pict-open", 4, 12, 20, 12, 20, 19, 18.5, 21, 5.5, 21, 4, 19),
		stroke("pict-pipe", 1, 13.5, 4, 13.5), stroke("pict-pipe", 20, 13.5, 23, 13.5),
		stroke("pict-line", 5.5, 15, 18.5, 15),
		stroke("pict-thick", 5, 23.2, 19, 23.2),
	}
	for _, x := range []float64{8, 12, 16} {
		items = append(items, arc("pict-line", x, 8.6, 1.4, 90, 270), arc("pict-line", x, 5.8, 1.4, 270, 450))
	}
	return items
}

// pictLeak is a pipe that drips into a puddle.
func pictLeak() []drawing.Item {
	return []drawing.Item{
		stroke("pict-line", 1, 4, 23, 4), stroke("pict-line", 1, 8, 23, 8),
		stroke("pict-cross", 10.5, 6.5, 12, 9, 13.5, 6.5),
		drop(12, 14.5, 1.7, "pict-full"), drop(7.5, 16.5, 1.3, "pict-full"), drop(16.5, 16.5, 1.3, "pict-full"),
		area("pict-full", 2, 21.5, 6, 20.4, 12, 20, 18, 20.4, 22, 21.5, 18, 22.6, 12, 23, 6, 22.6),
	}
}

// pictBrush is a store with its lid off and a long brush in it.
func pictBrush() []drawing.Item {
	return []drawing.Item{
		stroke("pict-line", 3, 8, 3, 23, 18, 23, 18, 8),
		stroke("pict-line", 3, 18, 6, 17.2, 9, 18, 12, 17.2, 15, 18, 18, 17.2),
		stroke("pict-pipe", 21, 1, 11, 13),
		area("pict-full", 11.8, 12, 13.4, 13.4, 9.6, 18, 6.6, 15.4),
		stroke("pict-thick", 2, 4.5, 12, 1.8),
	}
}

// turnScene shows handles to turn, in their order: the tag, the pipe, and the handle
// across it for shut or along it for open; a three-way handle has its word.
func turnScene(list []turn) *drawing.Scene {
	s := &drawing.Scene{Width: turnWide*float64(len(list)) - 2, Height: turnTall}
	for i, t := range list {
		x := turnWide * float64(i)
		s.Items = append(s.Items, turnSign(x, t)...)
		if i > 0 {
			s.Items = append(s.Items, area("pict-full", x-2.2, 12.6, x-2.2, 15.4, x-0.2, 14))
		}
	}
	return s
}

func turnSign(x float64, t turn) []drawing.Item {
	c := x + (turnWide-2)/2
	items := []drawing.Item{
		letters(6, c, 6, t.tag),
		stroke("pict-line", x+1.5, 12.4, x+turnWide-3.5, 12.4), stroke("pict-line", x+1.5, 15.6, x+turnWide-3.5, 15.6),
	}
	switch t.to {
	case "shut":
		items = append(items, stroke("pict-thick", c, 9.6, c, 18.4))
	case "open":
		items = append(items, stroke("pict-thick", c-4.4, 14, c+4.4, 14))
	default:
		items = append(items, circle("pict-open", c, 14, 2.6), stroke("pict-thick", c, 14, c+3.4, 10.8))
	}
	return append(items, letters(4.4, c, 23.4, sayOr("turn."+t.to, t.to)))
}
