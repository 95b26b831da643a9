package drawing

import (
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// FillLine is how much water the store holds over time; points are seconds and m³.
type FillLine struct {
	Name   string // as it stands on the line
	Points []Point
	Thin   bool    // less important than the others
	At     float64 // share of the way along it at which its name stands best
}

// FillSpan is a stretch of the time shown that is named and hatched: the hours in which
// nothing comes.
type FillSpan struct {
	From, To float64 // s
	Name     string
}

// FillMark is a named moment.
type FillMark struct {
	Name string
	At   Point
}

// FillChart is the water in the store over hours.
type FillChart struct {
	Title string // states the finding
	Note  string // in what case
	Units quantity.System
	X     string // what the hours are counted from
	Hours float64
	Lines []FillLine
	Full  Reading // usable water of a full store [m³]
	Spans []FillSpan
	Marks []FillMark
}

const fillTall = 66.0

// Scene draws the chart.
func (c *FillChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	for _, l := range c.Lines {
		class := "chart line"
		if l.Thin {
			class = "chart line thin"
		}
		p.curve(class, l.Points)
	}
	c.full(p)
	c.spans(p)
	for _, m := range c.Marks {
		p.mark(m.Name, m.At)
	}
	for _, l := range c.Lines {
		p.name("label", l.Name, l.Points, l.At)
	}
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + p.x.below()
	s.said(p.rest)
	return s.scene(c.Desc())
}

func (c *FillChart) plot(top float64) *plot {
	high := c.Full.SI
	for _, l := range c.Lines {
		for _, v := range l.Points {
			high = max(high, v.Y)
		}
	}
	x := axisOf(quantity.TimeDim, 0, c.Hours*3600, 8, true, c.Units, c.X)
	y := axisOf(quantity.VolumeDim, 0, high*1.12, 4, true, c.Units, words.Say("chart.fill.y", nil))
	top += 5
	return newPlot(x, y, margin+y.room()+2, top, chartWidth-margin, top+fillTall)
}

// full marks how much a full store gives; above it nothing can be.
func (c *FillChart) full(p *plot) {
	y := p.y.at(c.Full.SI)
	x0, x1 := p.box[0], p.box[2]
	p.hatch([]float64{x0, p.box[1], x1, p.box[1], x1, y, x0, y})
	p.lines = append(p.lines, DrawLine("chart line dash", x0, y, x1, y))
	p.labels.avoid([]float64{x0, y, x1, y})
	text := words.Say("chart.fill.full", words.Args{"volume": c.Full.Text})
	p.label("label", text, []spot{{x1 - 1, y - 0.4, End, true}, {x0 + 1, y - 0.4, Start, true}, {(x0 + x1) / 2, y - 0.4, Middle, true}})
}

// spans hatches the named hours from the full line down and names each at its foot.
func (c *FillChart) spans(p *plot) {
	top, bottom := p.y.at(c.Full.SI), p.box[3]
	for _, s := range c.Spans {
		x0, x1 := p.x.at(max(s.From, p.x.low)), p.x.at(min(s.To, p.x.high))
		if x1 <= x0 {
			continue
		}
		p.hatch([]float64{x0, top, x1, top, x1, bottom, x0, bottom})
		var spots []spot
		for y := bottom - 1; y > top+4; y -= 4 {
			spots = append(spots, spot{(x0 + x1) / 2, y, Middle, true}, spot{x0, y, Start, true}, spot{x1, y, End, true})
		}
		p.label("note", s.Name, spots)
	}
}

// Table is the chart as a table: every line at its own points.
func (c *FillChart) Table() [][]string {
	rows := [][]string{{words.Say("chart.fill.line", nil), words.Say("chart.fill.time", nil), words.Say("chart.fill.y", nil)}}
	for _, l := range c.Lines {
		for _, v := range l.Points {
			rows = append(rows, []string{l.Name, c.time(v.X), c.volume(v.Y)})
		}
	}
	return rows
}

func (c *FillChart) time(s float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: s}, c.Units)
}

func (c *FillChart) volume(v float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: v}, c.Units)
}

// Desc is the chart in words.
func (c *FillChart) Desc() string {
	list := []string{c.Note}
	for _, l := range c.Lines {
		if n := len(l.Points); n > 0 {
			a, b := l.Points[0], l.Points[n-1]
			list = append(list, words.Say("chart.fill.desc", words.Args{"line": l.Name,
				"from": c.volume(a.Y), "start": c.time(a.X), "to": c.volume(b.Y), "end": c.time(b.X)}))
		}
	}
	for _, s := range c.Spans {
		list = append(list, words.Say("chart.fill.desc.span", words.Args{"span": s.Name, "from": c.time(s.From), "to": c.time(s.To)}))
	}
	return strings.Join(list, " ")
}
