package drawing

import (
	"strconv"
	"strings"

	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TraceChart is the water in a store through some days, and under it, hour by hour, what
// the main and the power did and when the taps went dry.
type TraceChart struct {
	Title string // states the finding
	Note  string
	Units quantity.System
	Days  int
	First int     // weekday of the first, 0 Monday
	Line  []Point // s from the first midnight, m³
	Full  Reading // usable water of a full store [m³]
	Under []Strip
}

// Measures of the strips under the field [mm].
const (
	traceTall  = 62.0
	stripPitch = 5.2
	stripTall  = 3.2
)

// Scene draws the chart.
func (c *TraceChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	c.days(p)
	c.full(p)
	p.curve("chart line", c.Line)
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + 2.2 + chartLine + 1.5
	c.strips(s, p)
	s.said(p.rest)
	return s.scene(c.Desc())
}

func (c *TraceChart) end() float64 { return float64(max(c.Days, 1)) * 86400 }

// stripNames is the room left of the field that the names of the strips take.
const stripNames = 27.0

func (c *TraceChart) plot(top float64) *plot {
	high := c.Full.SI
	for _, v := range c.Line {
		high = max(high, v.Y)
	}
	y := axisOf(quantity.VolumeDim, 0, high*1.1, 4, true, c.Units, words.Say("chart.trace.y", nil))
	x := axis{low: 0, high: c.end()}
	top += 5
	return newPlot(x, y, margin+max(y.room()+2, stripNames), top, chartWidth-margin, top+traceTall)
}

// days draws each midnight and names the days between.
func (c *TraceChart) days(p *plot) {
	wide := (p.box[2] - p.box[0]) / float64(max(c.Days, 1))
	for d := range c.Days {
		x := p.x.at(float64(d) * 86400)
		if d > 0 {
			p.under = append(p.under, DrawLine("chart grid", x, p.box[1], x, p.box[3]))
		}
		p.lines = append(p.lines, DrawLine("chart axis", x, p.box[3], x, p.box[3]+1))
		name := words.Say("weekday.short."+strconv.Itoa((c.First+d)%7), nil)
		if font.Advance(name, chartTick, false) < wide-1 {
			p.over = append(p.over, DrawText("note", chartTick, Middle, x+wide/2, p.box[3]+1.6+font.Ascent*chartTick, name))
		}
	}
}

// full marks how much a full store gives.
func (c *TraceChart) full(p *plot) {
	y := p.y.at(c.Full.SI)
	x0, x1 := p.box[0], p.box[2]
	p.lines = append(p.lines, DrawLine("chart line dash", x0, y, x1, y))
	p.labels.avoid([]float64{x0, y, x1, y})
	text := words.Say("chart.fill.full", words.Args{"volume": c.Full.Text})
	p.label("label", text, []spot{{x1 - 1, y - 0.4, End, true}, {x0 + 1, y - 0.4, Start, true}, {(x0 + x1) / 2, y - 0.4, Middle, true}})
}

// strips draws them under the field, each with its name at the left.
func (c *TraceChart) strips(s *sheet, p *plot) {
	for i := range c.Under {
		t := &c.Under[i]
		s.items = append(s.items, DrawText("label", chartTick, End, p.box[0]-2, s.y+stripTall/2+font.CapHeight*chartTick/2, font.Fit(t.Name, chartTick, false, stripNames-4)),
			DrawLine("hair", p.box[0], s.y+stripTall, p.box[2], s.y+stripTall))
		s.items = append(s.items, t.bars(p.x.at, 0, c.end(), s.y, stripTall)...)
		s.y += stripPitch
	}
}

// every is how far apart the rows of the table stand [s].
const every = 6 * 3600.0

// Table is the chart as a table: the level every six hours, and how much of the six hours
// before each thing lasted.
func (c *TraceChart) Table() [][]string {
	head := []string{words.Say("chart.trace.when", nil), words.Say("chart.trace.y", nil)}
	for i := range c.Under {
		head = append(head, c.Under[i].Name)
	}
	rows := [][]string{head}
	for t := 0.0; t <= c.end(); t += every {
		level, ok := readOff(c.Line, t)
		text := words.Say("chart.none", nil)
		if ok {
			text = quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: level, Half: max(0.02*level, 0.005)}, c.Units)
		}
		row := []string{c.when(t), text}
		for i := range c.Under {
			row = append(row, c.lasts(c.Under[i].within(t-every, t)))
		}
		rows = append(rows, row)
	}
	return rows
}

// within is how long a strip's times last between two moments [s].
func (s *Strip) within(from, to float64) float64 {
	sum := 0.0
	for _, t := range s.Times {
		sum += max(0, min(t.To, to)-max(t.From, from))
	}
	return sum
}

func (c *TraceChart) lasts(s float64) string {
	if s < 1 {
		return words.Say("chart.none", nil)
	}
	return quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: s, Half: 0.05 * s}, c.Units)
}

// when is a moment as a weekday and an hour.
func (c *TraceChart) when(t float64) string {
	d := int(t / 86400)
	return words.Say("chart.trace.at", words.Args{"day": words.Say("weekday.short."+strconv.Itoa((c.First+d)%7), nil), "hour": clockText(t - float64(d)*86400)})
}

func clockText(s float64) string {
	m := int(s / 60)
	h := strconv.Itoa(m / 60)
	if len(h) < 2 {
		h = "0" + h
	}
	rest := strconv.Itoa(m % 60)
	if len(rest) < 2 {
		rest = "0" + rest
	}
	return h + ":" + rest
}

// Desc is the chart in words.
func (c *TraceChart) Desc() string {
	list := []string{c.Note}
	for i := range c.Under {
		t := &c.Under[i]
		list = append(list, words.Say("chart.strip.desc", words.Args{"strip": t.Name, "n": strconv.Itoa(len(t.Times)), "time": c.lasts(t.within(0, c.end()))}))
		for k, s := range t.Times {
			if k == 12 {
				break // the rest stands in the table
			}
			list = append(list, words.Say("chart.trace.desc", words.Args{"from": c.when(s.From), "to": c.when(s.To)}))
		}
	}
	return strings.Join(list, " ")
}
