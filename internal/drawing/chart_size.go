package drawing

import (
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// SizePoint is one size of store: its usable water [m³], the share of the interruptions it
// rides out with the interval of the run, and the range that nine futures of ten lie in.
type SizePoint struct {
	Name           string
	Usable         float64
	Share          float64 // 0..1
	Low, High      float64 // interval of the run
	Lucky, Unlucky float64 // ends of the range of the futures
	Age            Reading // mean age of its water [s]
	Own            bool
}

// SizeChart is how many interruptions each size rides out, with the size up to which its
// water stays fresh. What is not wanted, too little or too old, is hatched; a size that is
// enough and fresh stands on white.
type SizeChart struct {
	Title string // states the finding
	Note  string
	Units quantity.System

	Points  []SizePoint // by usable water
	Enough  float64     // share that is wanted
	FreshTo float64     // usable water up to which the water stays fresh [m³]; 0 none does, +Inf all do
	Fresh   string      // what counts as fresh, as printed everywhere
}

const sizeTall = 78.0

// Scene draws the chart.
func (c *SizeChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	p := c.plot(s.y)
	c.unwanted(p)
	line, unlucky, lucky := c.lines()
	p.curve("chart line dash", unlucky)
	p.curve("chart line dash", lucky)
	p.curve("chart line", line)
	c.marks(p)
	p.name("label", words.Say("chart.size.unlucky", nil), unlucky, 0.7)
	p.name("label", words.Say("chart.size.lucky", nil), lucky, 0.7)
	c.limits(p)
	s.items = append(s.items, p.items()...)
	s.y = p.box[3] + p.x.below()
	s.said(p.rest)
	return s.scene(c.Desc())
}

func (c *SizeChart) lines() (line, unlucky, lucky []Point) {
	for _, v := range c.Points {
		line = append(line, Point{v.Usable, v.Share})
		unlucky, lucky = append(unlucky, Point{v.Usable, v.Unlucky}), append(lucky, Point{v.Usable, v.Lucky})
	}
	return line, unlucky, lucky
}

func (c *SizeChart) plot(top float64) *plot {
	most := 0.0
	for _, v := range c.Points {
		most = max(most, v.Usable)
	}
	x := axisOf(quantity.VolumeDim, 0, most*1.05, 6, true, c.Units, words.Say("chart.size.x", nil))
	y := axisOf(quantity.RatioDim, 0, 0.99, 5, false, c.Units, words.Say("chart.size.y", nil))
	y.high = 1.06 // a line of those that ride out all stays inside the field
	top += 5
	return newPlot(x, y, margin+y.room()+2, top, chartWidth-margin, top+sizeTall)
}

// fresh is where the water becomes too old [mm], within the field.
func (c *SizeChart) fresh(p *plot) float64 {
	return p.x.at(max(p.x.low, min(c.FreshTo, p.x.high)))
}

// unwanted hatches what is too little, and above that what is too old.
func (c *SizeChart) unwanted(p *plot) {
	x0, y0, x1, y1 := p.box[0], p.box[1], p.box[2], p.box[3]
	enough, fresh := p.y.at(c.Enough), c.fresh(p)
	p.hatch([]float64{x0, enough, x1, enough, x1, y1, x0, y1})
	if fresh < x1 {
		p.hatch([]float64{fresh, y0, x1, y0, x1, enough, fresh, enough})
	}
}

// marks are the sizes, each with its interval as an upright, the chosen one named.
func (c *SizeChart) marks(p *plot) {
	for _, v := range c.Points {
		x, y := p.at(Point{v.Usable, v.Share})
		_, low := p.at(Point{v.Usable, v.Low})
		_, high := p.at(Point{v.Usable, v.High})
		p.lines = append(p.lines, DrawLine("chart line thin", x, low, x, high), DrawLine("chart line thin", x-1, low, x+1, low), DrawLine("chart line thin", x-1, high, x+1, high))
		p.labels.take([4]float64{x - 1.2, high - 0.3, x + 1.2, low + 0.3})
		if !v.Own {
			p.over = append(p.over, DrawCircle("dot", x, y, 0.8))
		}
	}
	for _, v := range c.Points {
		if v.Own {
			p.mark(words.Say("chart.size.own", words.Args{"store": v.Name, "share": c.share(v.Share)}), Point{v.Usable, v.Share})
		}
	}
}

// limits are what is wanted: enough from one line up, fresh up to another.
func (c *SizeChart) limits(p *plot) {
	x0, y0, x1 := p.box[0], p.box[1], p.box[2]
	y := p.y.at(c.Enough)
	p.lines = append(p.lines, DrawLine("chart zero", x0, y, x1, y))
	p.labels.avoid([]float64{x0, y, x1, y})
	p.label("label", words.Say("chart.size.enough", words.Args{"share": c.share(c.Enough)}), []spot{{x0 + 1, y - 0.4, Start, true}, {x1 - 1, y - 0.4, End, true},
		{x0 + 1, y + 0.4, Start, false}, {x1 - 1, y + 0.4, End, false}, {(x0 + x1) / 2, y + 0.4, Middle, false}})
	x := c.fresh(p)
	text := words.Say("chart.size.fresh", words.Args{"age": c.Fresh})
	switch {
	case x >= x1:
		p.label("label", words.Say("chart.size.all-fresh", words.Args{"age": c.Fresh}), c.down(p, x1-1, End))
		return
	case x <= x0:
		text = words.Say("chart.size.none-fresh", words.Args{"age": c.Fresh})
	default:
		p.lines = append(p.lines, DrawLine("chart line thin", x, y0, x, p.box[3]))
		p.labels.avoid([]float64{x, y0, x, p.box[3]})
	}
	p.label("label", text, append(c.down(p, x+1, Start), c.down(p, x-1, End)...))
}

// down is places for a text beside an upright, from the foot up.
func (c *SizeChart) down(p *plot, x float64, a Anchor) []spot {
	var list []spot
	for y := p.box[3] - 1; y > p.box[1]+4; y -= 4 {
		list = append(list, spot{x, y, a, true})
	}
	return list
}

// share is in whole hundredths: no run of this kind deserves more.
func (c *SizeChart) share(v float64) string {
	return words.Say("chart.percent", words.Args{"n": quantity.Fixed(100*v, 0)})
}

func (c *SizeChart) volume(v float64) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: v, Half: 0.02 * v}, c.Units)
}

// Table is the chart as a table.
func (c *SizeChart) Table() [][]string {
	rows := [][]string{{words.Say("chart.size.store", nil), words.Say("chart.size.x", nil), words.Say("chart.size.y", nil),
		words.Say("chart.size.interval", nil), words.Say("chart.size.futures", nil), words.Say("chart.size.age", nil)}}
	for _, v := range c.Points {
		rows = append(rows, []string{v.Name, c.volume(v.Usable), c.share(v.Share), c.between(v.Low, v.High), c.between(v.Unlucky, v.Lucky), v.Age.Text})
	}
	return rows
}

func (c *SizeChart) between(low, high float64) string {
	return words.Say("chart.size.between", words.Args{"low": c.share(low), "high": c.share(high)})
}

// Desc is the chart in words.
func (c *SizeChart) Desc() string {
	list := []string{c.Note}
	for _, v := range c.Points {
		list = append(list, words.Say("chart.size.desc", words.Args{"store": v.Name, "usable": c.volume(v.Usable), "share": c.share(v.Share),
			"low": c.share(v.Low), "high": c.share(v.High), "age": v.Age.Text}))
	}
	return strings.Join(list, " ")
}
