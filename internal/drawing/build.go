package drawing

import (
	"math"

	"tideover/internal/drawing/font"
)

// nothing is the box of no ink at all: a union with it changes nothing.
var nothing = [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

func union(a, b [4]float64) [4]float64 {
	return [4]float64{min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])}
}

func boxOf(pts []float64, grow float64) [4]float64 {
	b := nothing
	for i := 0; i+1 < len(pts); i += 2 {
		x, y := pts[i], pts[i+1]
		b = union(b, [4]float64{x - grow, y - grow, x + grow, y + grow})
	}
	return b
}

// DrawLine is an open polyline through x0 y0 x1 y1 … [mm].
func DrawLine(class string, pts ...float64) Item {
	return Item{Kind: Line, Class: class, Pts: pts, Box: boxOf(pts, pen(class).Width/2)}
}

// DrawArea is a closed polygon through x0 y0 x1 y1 … [mm].
func DrawArea(class string, pts ...float64) Item {
	return Item{Kind: Area, Class: class, Pts: pts, Box: boxOf(pts, pen(class).Width/2)}
}

// DrawRect is an upright rectangle between two corners [mm].
func DrawRect(class string, x0, y0, x1, y1 float64) Item {
	return DrawArea(class, x0, y0, x1, y0, x1, y1, x0, y1)
}

// DrawCircle is a circle of radius r round x, y [mm].
func DrawCircle(class string, x, y, r float64) Item {
	return Item{Kind: Circle, Class: class, Pts: []float64{x, y, r}, Box: boxOf([]float64{x, y}, r+pen(class).Width/2)}
}

// DrawArc is part of a circle of radius r round x, y [mm], from one angle to another
// [degrees, clockwise from the right, to > from]. Its box is that of its end points and
// of the quarter points it passes.
func DrawArc(class string, x, y, r, from, to float64) Item {
	at := func(deg float64) (float64, float64) {
		s, c := math.Sincos(deg * math.Pi / 180)
		return x + r*c, y + r*s
	}
	x0, y0 := at(from)
	x1, y1 := at(to)
	pts := []float64{x0, y0, x1, y1}
	for q := math.Ceil(from/90) * 90; q < to; q += 90 {
		qx, qy := at(q)
		pts = append(pts, qx, qy)
	}
	return Item{Kind: Arc, Class: class, Pts: []float64{x, y, r, from, to}, Box: boxOf(pts, pen(class).Width/2)}
}

// DrawText is one line of text with its baseline at x, y [mm], size its em [mm].
func DrawText(class string, size float64, anchor Anchor, x, y float64, text string) Item {
	w := font.Advance(text, size, pen(class).Bold)
	left := x
	switch anchor {
	case Middle:
		left -= w / 2
	case End:
		left -= w
	}
	return Item{
		Kind: Text, Class: class, Text: text, Size: size, Anchor: anchor, Pts: []float64{x, y},
		Box: [4]float64{left, y - font.Ascent*size, left + w, y + font.Descent*size},
	}
}

// Gather makes a group of items: class and tag say what it shows, title says so to a
// screen reader. Its box is that of its kids.
func Gather(class, tag, title string, kids ...Item) Item {
	b := nothing
	for i := range kids {
		b = union(b, kids[i].Box)
	}
	return Item{Kind: Group, Class: class, Tag: tag, Title: title, Kids: kids, Box: b}
}

// Shift moves an item and its kids by dx, dy [mm], in place.
func (it *Item) Shift(dx, dy float64) {
	n := len(it.Pts)
	if it.Kind == Circle || it.Kind == Arc {
		n = 2
	}
	for i := 0; i+1 < n; i += 2 {
		it.Pts[i] += dx
		it.Pts[i+1] += dy
	}
	it.Box = [4]float64{it.Box[0] + dx, it.Box[1] + dy, it.Box[2] + dx, it.Box[3] + dy}
	for i := range it.Kids {
		it.Kids[i].Shift(dx, dy)
	}
}

// Walk calls see for every item of the scene, parents before kids, in drawing order.
func (s *Scene) Walk(see func(*Item)) {
	var down func(items []Item)
	down = func(items []Item) {
		for i := range items {
			see(&items[i])
			down(items[i].Kids)
		}
	}
	down(s.Items)
}
