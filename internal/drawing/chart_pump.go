package drawing

import (
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// PumpChart is what a pump gives and what the pipework asks for, with the point where
// they meet and the swing its controller makes. Points are flow [m³/s] and head [m].
type PumpChart struct {
	Title string // states the finding
	Note  string // in what case
	Units quantity.System

	Full    []Point // pump at full speed
	Slowed  []Point // as it runs; nil when that is at full speed
	Circuit []Point // the pipework
	Start   []Point // head at which the controller starts the pump; nil without one
	Stop    []Point // and at which it stops, or which it holds
	Duty    Point

	// The names of the lines, as they stand on them.
	FullName, SlowedName, CircuitName, StartName, StopName, DutyName string
}

const pumpTall = 78.0

// Scene draws the chart.
func (c *PumpChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	c.swing(p)
	for _, l := range c.lines() {
		p.curve(l.class, l.points)
	}
	p.mark(c.DutyName, c.Duty)
	for _, l := range c.lines() {
		p.name("label", l.name, l.points, l.share)
	}
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + p.x.below()
	s.said(p.rest)
	return s.scene(c.Desc())
}

// chartCurve is one named line of a chart.
type chartCurve struct {
	class, name string
	points      []Point
	share       float64 // where along it its name stands best
}

// lines are the curves there are, the main ones first.
func (c *PumpChart) lines() []chartCurve {
	all := []chartCurve{
		{"chart line", c.CircuitName, c.Circuit, 0.3}, {"chart line", c.FullName, c.Full, 0.45},
		{"chart line thin", c.SlowedName, c.Slowed, 0.75},
		{"chart line dash", c.StopName, c.spread(c.Stop), 0.04}, {"chart line dash", c.StartName, c.spread(c.Start), 0.04},
	}
	var list []chartCurve
	for _, l := range all {
		if len(l.points) > 1 {
			list = append(list, l)
		}
	}
	return list
}

// spread carries a level of the controller on from no flow to the edge of the field.
func (c *PumpChart) spread(level []Point) []Point {
	if len(level) == 0 {
		return nil
	}
	list := append([]Point{{0, level[0].Y}}, level...)
	return append(list, Point{c.most(), level[len(level)-1].Y})
}

// most is the largest flow shown.
func (c *PumpChart) most() float64 {
	most := c.Duty.X
	for _, l := range [][]Point{c.Full, c.Slowed, c.Circuit} {
		for _, v := range l {
			most = max(most, v.X)
		}
	}
	return most
}

func (c *PumpChart) plot(top float64) *plot {
	high, low := c.Duty.Y, 0.0
	for _, l := range [][]Point{c.Full, c.Slowed, c.Circuit, c.Start, c.Stop} {
		for _, v := range l {
			high, low = max(high, v.Y), min(low, v.Y)
		}
	}
	x := axisOf(quantity.FlowDim, 0, c.most(), 6, true, c.Units, words.Say("chart.pump.x", nil))
	y := axisOf(quantity.HeadDim, low, high, 5, false, c.Units, words.Say("chart.pump.y", nil))
	top += 5
	return newPlot(x, y, margin+y.room()+2, top, chartWidth-margin, top+pumpTall)
}

// swing leaves the heads between which the controller keeps the pump white and hatches
// the rest.
func (c *PumpChart) swing(p *plot) {
	x0, y0, x1, y1 := p.box[0], p.box[1], p.box[2], p.box[3]
	if stop := p.path(c.spread(c.Stop)); len(stop) > 0 {
		p.hatch(append([]float64{x1, y0, x0, y0}, stop...))
	}
	if start := p.path(c.spread(c.Start)); len(start) > 0 {
		p.hatch(append([]float64{x1, y1, x0, y1}, start...))
	}
}

// Table is the chart as a table: at each flow of its scale, and at the duty, the head of
// every line.
func (c *PumpChart) Table() [][]string {
	head := []string{words.Say("chart.pump.x", nil)}
	lines := c.lines()
	for _, l := range lines {
		head = append(head, l.name)
	}
	rows := [][]string{head}
	p := c.plot(0)
	flow := func(v float64) string {
		return quantity.Format(quantity.Quantity{Dim: quantity.FlowDim, SI: v}, c.Units)
	}
	for _, v := range p.x.ticks {
		rows = append(rows, c.row(flow(v), v, lines))
	}
	return append(rows, c.row(words.Say("chart.pump.at-duty", words.Args{"flow": flow(c.Duty.X)}), c.Duty.X, lines))
}

func (c *PumpChart) row(name string, flow float64, lines []chartCurve) []string {
	row := []string{name}
	for _, l := range lines {
		text := words.Say("chart.none", nil)
		if h, ok := readOff(l.points, flow); ok {
			text = quantity.Format(quantity.Quantity{Dim: quantity.HeadDim, SI: h}, c.Units)
		}
		row = append(row, text)
	}
	return row
}

// readOff reads a curve at x by straight lines between its points, as it is drawn.
func readOff(curve []Point, x float64) (float64, bool) {
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if a.X <= x && x <= b.X && a.X < b.X {
			return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X), true
		}
	}
	return 0, false
}

// Desc is the chart in words.
func (c *PumpChart) Desc() string {
	text := c.Note + " " + words.Say("chart.pump.desc", words.Args{"duty": c.DutyName})
	for _, l := range c.lines() {
		first, last := l.points[0], l.points[len(l.points)-1]
		text += " " + words.Say("chart.pump.desc.line", words.Args{
			"line": l.name, "from": headText(first.Y, c.Units), "to": headText(last.Y, c.Units),
			"flow": quantity.Format(quantity.Quantity{Dim: quantity.FlowDim, SI: last.X}, c.Units),
		})
	}
	return text
}

func headText(h float64, sys quantity.System) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.HeadDim, SI: h}, sys)
}
