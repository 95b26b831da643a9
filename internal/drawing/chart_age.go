package drawing

import (
	"math"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// AgeBin is the share of the water that is between two ages when it reaches a tap, with its
// interval.
type AgeBin struct {
	From, To         float64 // s
	Share, Low, High float64 // 0..1
}

// AgeChart is how old the water is that a store gives, as a histogram over its volume. Ages
// above the ceiling are hatched.
type AgeChart struct {
	Title   string // states the finding
	Note    string
	Units   quantity.System
	Bins    []AgeBin
	Beyond  float64 // share older than the last bin
	Ceiling Reading // mean age up to which water counts as fresh [s]; SI 0 or +Inf none
	Mean    Reading
}

const ageTall = 62.0

// Scene draws the chart.
func (c *AgeChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	for _, b := range c.Bins {
		x0, top := p.at(Point{b.From, b.Share})
		x1, foot := p.at(Point{b.To, 0})
		if foot-top < 0.05 {
			continue
		}
		p.lines = append(p.lines, DrawRect("chart bar open", x0, top, x1, foot))
		p.labels.take([4]float64{x0, top, x1, foot})
		c.interval(p, b)
	}
	c.ceiling(p)
	c.upright(p, "chart need", c.Mean.SI, words.Say("chart.age.mean", words.Args{"age": c.Mean.Text}))
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + p.x.below()
	s.said(p.rest)
	if c.Beyond > 0.0005 {
		s.note(words.Say("chart.age.beyond", words.Args{"share": c.share(c.Beyond), "age": c.age(c.Bins[len(c.Bins)-1].To)}))
	}
	return s.scene(c.Desc())
}

func (c *AgeChart) plot(top float64) *plot {
	high, last := 0.0, 1.0
	for _, b := range c.Bins {
		high, last = max(high, b.Share, b.High/1.15), max(last, b.To)
	}
	x := axisOf(quantity.TimeDim, 0, last, 8, true, c.Units, words.Say("chart.age.x", nil))
	y := axisOf(quantity.RatioDim, 0, high*1.2, 4, true, c.Units, words.Say("chart.age.y", nil))
	top += 5
	return newPlot(x, y, margin+y.room()+2, top, chartWidth-margin, top+ageTall)
}

// interval is an upright on a bar, where it is tall enough to be seen.
func (c *AgeChart) interval(p *plot, b AgeBin) {
	x, low := p.at(Point{(b.From + b.To) / 2, b.Low})
	_, high := p.at(Point{0, min(b.High, p.y.high)})
	if low-high < 0.6 {
		return
	}
	p.lines = append(p.lines, DrawLine("chart line thin", x, low, x, high), DrawLine("chart line thin", x-0.8, low, x+0.8, low), DrawLine("chart line thin", x-0.8, high, x+0.8, high))
	p.labels.take([4]float64{x - 1, high - 0.3, x + 1, low + 0.3})
}

// ceiling hatches the ages above it.
func (c *AgeChart) ceiling(p *plot) {
	if !(c.Ceiling.SI > 0) || math.IsInf(c.Ceiling.SI, 1) || c.Ceiling.SI >= p.x.high {
		return
	}
	x := p.x.at(c.Ceiling.SI)
	p.hatch([]float64{x, p.box[1], p.box[2], p.box[1], p.box[2], p.box[3], x, p.box[3]})
	c.upright(p, "chart line dash", c.Ceiling.SI, words.Say("chart.age.ceiling", words.Args{"age": c.Ceiling.Text}))
}

// upright draws a line at an age and names it at its head.
func (c *AgeChart) upright(p *plot, class string, age float64, text string) {
	if !(age > 0) || age > p.x.high {
		p.rest = append(p.rest, text)
		return
	}
	x := p.x.at(age)
	p.lines = append(p.lines, DrawLine(class, x, p.box[1], x, p.box[3]))
	p.labels.avoid([]float64{x, p.box[1], x, p.box[3]})
	var spots []spot
	for y := p.box[1] + 0.5; y < p.box[3]-4; y += 4 {
		spots = append(spots, spot{x + 1.2, y, Start, false}, spot{x - 1.2, y, End, false})
	}
	p.label("label strong", text, spots)
}

func (c *AgeChart) share(v float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.RatioDim, SI: v, Half: 0.005}, c.Units)
}

func (c *AgeChart) age(v float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: v}, c.Units)
}

// Table is the chart as a table.
func (c *AgeChart) Table() [][]string {
	rows := [][]string{{words.Say("chart.age.x", nil), words.Say("chart.age.y", nil), words.Say("chart.size.interval", nil)}}
	for _, b := range c.Bins {
		rows = append(rows, []string{words.Say("chart.age.between", words.Args{"from": c.age(b.From), "to": c.age(b.To)}), c.share(b.Share),
			words.Say("chart.size.between", words.Args{"low": c.share(b.Low), "high": c.share(b.High)})})
	}
	if n := len(c.Bins); n > 0 {
		rows = append(rows, []string{words.Say("chart.age.over", words.Args{"age": c.age(c.Bins[n-1].To)}), c.share(c.Beyond), ""})
	}
	return rows
}

// Desc is the chart in words.
func (c *AgeChart) Desc() string {
	list := []string{c.Note, words.Say("chart.age.mean", words.Args{"age": c.Mean.Text}) + "."}
	for _, b := range c.Bins {
		list = append(list, words.Say("chart.age.desc", words.Args{"from": c.age(b.From), "to": c.age(b.To), "share": c.share(b.Share)}))
	}
	return strings.Join(list, " ")
}
