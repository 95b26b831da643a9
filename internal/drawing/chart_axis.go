package drawing

import (
	"math"

	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
)

// axis is one scale: few ticks at round figures in the reader's unit, which stands at the
// last of them.
type axis struct {
	col       quantity.Column
	name      string    // what is measured; "" says nothing
	ticks     []float64 // SI
	places    int
	low, high float64 // SI, the ends
	from, to  float64 // mm, where they stand
}

// axisOf makes a scale that holds low to high [SI] with about n ticks and shows nought.
// tight ends it at high itself, not at the next tick.
func axisOf(d quantity.Dim, low, high float64, n int, tight bool, sys quantity.System, name string) axis {
	low, high = min(low, 0), max(high, 0)
	if !(high-low > leastSpan) {
		high = low + leastSpan
	}
	a := axis{col: quantity.ColumnFor(d, max(high, -low), sys), name: name}
	bottom, top := a.col.Number(low), a.col.Number(high)
	step := roundStep((top-bottom)/float64(n), d == quantity.TimeDim && a.col.Unit == "h")
	a.places = max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	first, last := math.Floor(bottom/step+1e-9), math.Ceil(top/step-1e-9)
	a.low, a.high = a.col.SI(first*step), a.col.SI(last*step)
	if tight {
		a.high = high
		last = math.Floor(top/step + 1e-9)
	}
	for k := first; k <= last; k++ {
		a.ticks = append(a.ticks, a.col.SI(k*step))
	}
	return a
}

// leastSpan is the shortest scale [SI]: less than this of anything drawn here is nothing.
const leastSpan = 1e-7

// roundStep returns the smallest round step not below x: 1, 2 or 5 times a power of ten;
// of hours also 3, 6, 12 and 24.
func roundStep(x float64, hours bool) float64 {
	if hours && x > 1 {
		for _, s := range []float64{2, 3, 6, 12, 24, 48} {
			if s >= x {
				return s
			}
		}
	}
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, s := range []float64{1, 2, 5, 10} {
		if s*power >= x*(1-1e-9) {
			return s * power
		}
	}
	return 10 * power
}

// at is where a value stands [mm].
func (a *axis) at(v float64) float64 { return a.from + (a.to-a.from)*(v-a.low)/(a.high-a.low) }

// text is the figure at a tick; the last carries the unit.
func (a *axis) text(i int) string {
	t := a.col.Text(a.ticks[i], a.places)
	if i == len(a.ticks)-1 && a.col.Unit != "" {
		t += " " + a.col.Unit
	}
	return t
}

// ends holds a scale to another's ends and leaves out the ticks beyond them.
func (a *axis) ends(of axis) {
	a.low, a.high = of.low, of.high
	kept := a.ticks[:0]
	for _, v := range a.ticks {
		if v >= a.low && v <= a.high {
			kept = append(kept, v)
		}
	}
	a.ticks = kept
}

// room is the widest figure of the axis [mm].
func (a axis) room() float64 {
	w := 0.0
	for i := range a.ticks {
		w = max(w, font.Advance(a.text(i), chartTick, false))
	}
	return w
}

// axes draws both scales: the upright one left, the level one below, its figures kept
// apart, the names of what is measured at their ends.
func (p *plot) axes() []Item {
	x0, y0, x1, y1 := p.box[0], p.box[1], p.box[2], p.box[3]
	items := []Item{DrawLine("chart axis", x0, y0, x0, y1, x1, y1)}
	for i, v := range p.y.ticks {
		y := p.y.at(v)
		items = append(items, DrawLine("chart axis", x0-1, y, x0, y),
			DrawText("note", chartTick, End, x0-1.8, y+font.CapHeight*chartTick/2, p.y.text(i)))
		if v == 0 && y < y1-0.1 {
			items = append(items, DrawLine("chart zero", x0, y, x1, y))
		}
	}
	if p.y.name != "" {
		items = append(items, DrawText("note", chartTick, Start, x0-1.8, y0-3.2, font.Fit(p.y.name, chartTick, false, x1-x0)))
	}
	return append(items, p.level(y1)...)
}

// level draws the scale below the field.
func (p *plot) level(y float64) []Item {
	var items []Item
	edge := math.Inf(1) // left edge of the figure to the right, the last one being wanted most
	for i := len(p.x.ticks) - 1; i >= 0; i-- {
		x := p.x.at(p.x.ticks[i])
		items = append(items, DrawLine("chart axis", x, y, x, y+1))
		it := DrawText("note", chartTick, Middle, x, y+1.6+font.Ascent*chartTick, p.x.text(i))
		if over := it.Box[2] - (chartWidth - 1); over > 0 {
			it.Shift(-over, 0)
		}
		if it.Box[2]+1 < edge {
			items = append(items, it)
			edge = it.Box[0]
		}
	}
	if p.x.name != "" {
		items = append(items, DrawText("note", chartTick, End, p.box[2], y+1.6+chartLine+font.Ascent*chartTick,
			font.Fit(p.x.name, chartTick, false, p.box[2]-p.box[0])))
	}
	return items
}

// below is the room the level scale takes [mm].
func (a *axis) below() float64 {
	if a.name != "" {
		return 2.2 + 2*chartLine
	}
	return 2.2 + chartLine
}
