package drawing

import (
	"math"
	"sort"
)

// Measures of what is drawn on a line [mm].
const (
	hopR     = 1.5 // of the hop where one line passes another
	shutGap  = 0.9 // broken line either side of a shut valve
	hatchGap = 1.6 // between the strokes on a line that does harm
	chevronH = 1.05
	chevronL = 0.9
)

// lines collects what is drawn, layer upon layer: pipes under the white of double
// lines, under chevrons, under symbols, under labels.
type lines struct {
	pipes   map[int][]Item // by part; −1 for pieces that belong to no run
	cores   []Item
	over    []Item // hatching and chevrons
	symbols []Item
	labels  []Item
	upright []vertical
	tag     func(part int) string
}

// straight draws one straight piece of pipe from x0, y0 to x1, y1 and what moves in it.
func (l *lines) straight(part int, c carry, x0, y0, x1, y1 float64) {
	if math.Abs(x1-x0)+math.Abs(y1-y0) < 0.005 {
		return
	}
	l.stroke(part, c, func(class string) Item { return DrawLine(class, x0, y0, x1, y1) })
	l.marks(part, c, x0, y0, x1, y1)
}

// stroke draws a piece of pipe of any shape, with its white core if it is a double line.
func (l *lines) stroke(part int, c carry, draw func(class string) Item) {
	l.pipes[part] = append(l.pipes[part], draw(c.class()))
	if c.water == FromStore {
		core := "core stored"
		if c.harm {
			core += " harm"
		}
		l.cores = append(l.cores, draw(core))
	}
}

// spacing is the distance of chevrons [mm] at a speed [m/s]: close when water is fast.
func spacing(speed float64) float64 {
	if speed <= 0 {
		return 9
	}
	return min(max(12/(0.6+speed), 4), 16)
}

// marks hatches a pipe that does harm and sets chevrons along water that moves.
func (l *lines) marks(part int, c carry, x0, y0, x1, y1 float64) {
	long := math.Hypot(x1-x0, y1-y0)
	ux, uy := (x1-x0)/long, (y1-y0)/long
	if c.harm {
		w := pen(c.class()).Width/2 + 0.5
		for t := hatchGap / 2; t < long; t += hatchGap {
			x, y := x0+ux*t, y0+uy*t
			l.over = append(l.over, DrawLine("hatch", x-ux*w*0.6-uy*w, y-uy*w*0.6-ux*w, x+ux*w*0.6+uy*w, y+uy*w*0.6+ux*w))
		}
	}
	if !c.moves() || long < 3 {
		return
	}
	if c.flow < 0 {
		x0, y0, ux, uy = x1, y1, -ux, -uy
	}
	n := max(1, int((long-1)/spacing(c.speed)))
	for i := range n {
		t := long * (float64(i) + 0.5) / float64(n)
		x, y := x0+ux*(t+chevronL/2), y0+uy*(t+chevronL/2)
		h := chevronH
		if c.water == FromStore {
			h += 0.35
		}
		class := "chevron"
		if c.harm {
			class = "chevron harm"
		}
		it := DrawLine(class, x-ux*chevronL-uy*h, y-uy*chevronL+ux*h, x, y, x-ux*chevronL+uy*h, y-uy*chevronL-ux*h)
		if part >= 0 {
			it.Tag = l.tag(part)
		}
		l.over = append(l.over, it)
	}
}

// vertical is an upright piece of pipe that level ones may have to pass.
type vertical struct{ x, top, bottom float64 }

// level draws a horizontal piece that hops over every upright one it crosses.
func (l *lines) level(part int, c carry, x0, x1, y float64) {
	var cross []float64
	for _, v := range l.upright {
		if v.x > x0+0.05 && v.x < x1-0.05 && v.top < y-0.05 && y+0.05 < v.bottom {
			cross = append(cross, v.x)
		}
	}
	sort.Float64s(cross)
	at := x0
	for i, x := range cross {
		next := x1
		if i+1 < len(cross) {
			next = (x + cross[i+1]) / 2
		}
		r := min(hopR, x-at, next-x)
		if r < 0.2 {
			continue
		}
		l.straight(part, c, at, y, x-r, y)
		l.stroke(part, c, func(class string) Item { return DrawArc(class, x, y, r, 180, 360) })
		at = x + r
	}
	l.straight(part, c, at, y, x1, y)
}
