package drawing

import (
	"math"
	"sort"

	"tideover/internal/drawing/font"
)

// labels knows which places on a field are taken by texts and marks, and where lines
// run; a label goes on the first of its places where it touches none.
type labels struct {
	bounds   [4]float64
	taken    [][4]float64
	segments [][4]float64 // x0 y0 x1 y1
}

// spot is a place for a text: a point and the corner of the text that stands there.
type spot struct {
	x, y   float64
	anchor Anchor
	above  bool // the text's foot stands at y; else its head
}

// around returns the places beside a point, the corners first.
func around(x, y, gap float64) []spot {
	return []spot{
		{x + gap, y - gap*0.6, Start, true}, {x - gap, y - gap*0.6, End, true},
		{x + gap, y + gap*0.6, Start, false}, {x - gap, y + gap*0.6, End, false},
		{x, y - gap, Middle, true}, {x, y + gap, Middle, false},
		{x + gap, y - gap*0.6, Middle, true}, {x - gap, y - gap*0.6, Middle, true},
		{x + gap, y + gap*0.6, Middle, false}, {x - gap, y + gap*0.6, Middle, false},
		{x + gap, y - gap*0.6, End, true}, {x - gap, y + gap*0.6, Start, false},
		{x - gap, y - gap*0.6, Start, true}, {x + gap, y + gap*0.6, End, false},
	}
}

// avoid keeps labels off a path of x0 y0 x1 y1 …
func (l *labels) avoid(pts []float64) {
	for i := 0; i+3 < len(pts); i += 2 {
		l.segments = append(l.segments, [4]float64{pts[i], pts[i+1], pts[i+2], pts[i+3]})
	}
}

func (l *labels) take(box [4]float64) { l.taken = append(l.taken, box) }

// put returns a text on paper of its own on the first free of its places.
func (l *labels) put(class string, size float64, text string, spots []spot) ([]Item, bool) {
	for _, s := range spots {
		y := s.y - font.Descent*size
		if !s.above {
			y = s.y + font.Ascent*size
		}
		it := DrawText(class, size, s.anchor, s.x, y, text)
		if !l.free(it.Box) {
			continue
		}
		l.take(it.Box)
		return []Item{ground(it), it}, true
	}
	return nil, false
}

// ground is the paper under a text, so that hatching does not run through it.
func ground(it Item) Item {
	return DrawRect("clear", it.Box[0]-0.4, it.Box[1]+0.1, it.Box[2]+0.4, it.Box[3]-0.1)
}

// free reports whether a box lies in bounds and touches no text, mark or line.
func (l *labels) free(b [4]float64) bool {
	const gap, clear = 0.4, 0.7
	if b[0] < l.bounds[0] || b[1] < l.bounds[1] || b[2] > l.bounds[2] || b[3] > l.bounds[3] {
		return false
	}
	for _, t := range l.taken {
		if b[0]-gap < t[2] && t[0] < b[2]+gap && b[1]-gap < t[3] && t[1] < b[3]+gap {
			return false
		}
	}
	for _, s := range l.segments {
		if crosses(s, [4]float64{b[0] - clear, b[1], b[2] + clear, b[3]}) {
			return false
		}
	}
	return true
}

// crosses reports whether a straight line passes through a box (Liang and Barsky, 1984).
func crosses(s, b [4]float64) bool {
	t0, t1 := 0.0, 1.0
	d := [2]float64{s[2] - s[0], s[3] - s[1]}
	for k := range 2 {
		if d[k] == 0 {
			if s[k] < b[k] || s[k] > b[k+2] {
				return false
			}
			continue
		}
		a, c := (b[k]-s[k])/d[k], (b[k+2]-s[k])/d[k]
		t0, t1 = math.Max(t0, math.Min(a, c)), math.Min(t1, math.Max(a, c))
	}
	return t0 < t1
}

// onPath is the point at a share of the way along a path, by its level extent.
func onPath(pts []float64, share float64) (x, y float64, ok bool) {
	n := len(pts)
	if n < 4 {
		return 0, 0, false
	}
	x = pts[0] + share*(pts[n-2]-pts[0])
	for i := 0; i+3 < n; i += 2 {
		a, b := pts[i], pts[i+2]
		if a != b && (x-a)*(x-b) <= 0 {
			return x, pts[i+1] + (pts[i+3]-pts[i+1])*(x-a)/(b-a), true
		}
	}
	return x, pts[1], true
}

// hatched fills a polygon [mm] with strokes at 45°, so far apart. They stand on one
// lattice, so that the hatching of fields side by side runs on.
func hatched(class string, pts []float64, apart float64) []Item {
	low, high := math.Inf(1), math.Inf(-1)
	for i := 0; i+1 < len(pts); i += 2 {
		low, high = min(low, pts[i]+pts[i+1]), max(high, pts[i]+pts[i+1])
	}
	var items []Item
	for n := math.Floor(low/apart) + 1; n*apart < high; n++ {
		cuts := cutsOf(pts, n*apart)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.05 {
				items = append(items, DrawLine(class, cuts[i], n*apart-cuts[i], cuts[i+1], n*apart-cuts[i+1]))
			}
		}
	}
	return items
}

// cutsOf returns where the line x + y = c enters and leaves a polygon, by x.
func cutsOf(pts []float64, c float64) []float64 {
	var cuts []float64
	for i := 0; i+1 < len(pts); i += 2 {
		j := (i + 2) % len(pts)
		a, b := pts[i]+pts[i+1]-c, pts[j]+pts[j+1]-c
		if (a < 0) != (b < 0) {
			cuts = append(cuts, pts[i]+(pts[j]-pts[i])*a/(a-b))
		}
	}
	sort.Float64s(cuts)
	return cuts
}
