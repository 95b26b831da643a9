package drawing

import (
	"math"
	"sort"
	"strings"

	"tideover/internal/drawing/font"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// WayStep is one part the water passes: the head before and after it [m above the ground
// at the meter], and the height of its far end [m].
type WayStep struct {
	Part, What    string
	Before, After float64
	Height        float64
	Gradual       bool      // a pipe: the head falls along it, not at one place
	Texts         [3]string // before, change and after, as printed everywhere
	Takes, Stands string    // change and head after, as they stand on the picture
}

// Way is the walk of the water to one outlet, the source first, the outlet itself left
// out. Where nothing runs it is one step: how high the water stands.
type Way struct {
	Outlet string
	Says   string // what is left at the outlet, against what it asks for
	Steps  []WayStep
	Height float64 // of the outlet [m]
	Left   Reading // head at the outlet while it runs [m]; its text is a pressure
	Need   Reading // head it asks for [m]; its text is a pressure
	Runs   bool
}

// WayChart is pressure along the way from the source to each outlet, each open alone: a
// walk in heads. The first way is drawn large, with a tag on every part there is room
// for; the others small, on the same scale.
type WayChart struct {
	Title string // states the finding
	Note  string // in what case
	Units quantity.System
	Ways  []Way
}

// Measures of the panels [mm].
const (
	wayTall  = 64.0
	waySmall = 30.0
	wayGap   = 7.0
	wayAbove = 9.5 // heading and name of the scale
)

// Scene draws the chart.
func (c *WayChart) Scene() *Scene {
	s := newSheet(c.Title, c.Note)
	x := margin + c.scale(5).room() + 2
	if c.dry() {
		s.items = append(s.items, c.heights(x, s.y+5, chartWidth-margin, s.y+5+waySmall+10)...)
		s.y += 5 + waySmall + 10
		return s.scene(c.Desc())
	}
	for i := range c.Ways {
		if i == 0 {
			s.items = append(s.items, c.panel(&c.Ways[0], true, x, s.y, chartWidth-margin, s.y+wayAbove+wayTall)...)
			s.y += wayAbove + wayTall + 3
			continue
		}
		half := (chartWidth - margin - x - wayGap - x + margin) / 2
		at := x
		if i%2 == 0 {
			at = chartWidth - margin - half
		}
		s.items = append(s.items, c.panel(&c.Ways[i], false, at, s.y, at+half, s.y+6+waySmall)...)
		if i%2 == 0 || i == len(c.Ways)-1 {
			s.y += 6 + waySmall + 5
		}
	}
	return s.scene(c.Desc())
}

// scale is the one scale of heads of all panels.
func (c *WayChart) scale(n int) axis {
	low, high := 0.0, 0.0
	for i := range c.Ways {
		w := &c.Ways[i]
		low, high = min(low, w.Height), max(high, w.Height)
		if w.Runs {
			high = max(high, w.Left.SI, w.Need.SI)
		}
		for _, s := range w.Steps {
			low, high = min(low, s.After, s.Height), max(high, s.Before, s.After, s.Height)
		}
	}
	return axisOf(quantity.HeadDim, low, high, n, false, c.Units, "")
}

// panel draws one way between two corners, its heading on top.
func (c *WayChart) panel(w *Way, large bool, x0, y0, x1, y1 float64) []Item {
	ticks, top := 3, y0+6
	y := c.scale(ticks)
	if large {
		y, top = c.scale(5), y0+wayAbove
		y.name = words.Say("chart.way.y", nil)
	}
	y.ends(c.scale(5)) // the same whatever the ticks
	n := float64(len(w.Steps))
	p := newPlot(axis{low: 0, high: n + 0.6}, y, x0, top, x1, y1)
	size := chartText
	heading := DrawText("label strong", size, Start, x0, y0+font.Ascent*size, font.Fit(w.Says, size, true, x1-x0))
	p.ground(w)
	p.heads(w)
	p.arrival(w, large)
	p.parts(w, large)
	return append([]Item{heading}, p.items()...)
}

// ground draws the height of the pipe, hatched below: water whose head falls under that
// line would be sucked, not pressed.
func (p *plot) ground(w *Way) {
	n := float64(len(w.Steps))
	line := []Point{{0, p.y.low}}
	if len(w.Steps) > 0 {
		line[0].Y = w.Steps[0].Height
	}
	if w.Runs {
		for i, s := range w.Steps {
			line = append(line, Point{float64(i) + 1, s.Height})
		}
	} else {
		line = append(line, Point{n, line[0].Y}, Point{n, w.Height})
	}
	line = append(line, Point{n, w.Height}, Point{n + 0.6, w.Height})
	p.curve("chart line thin", line)
	p.hatch(append(p.path(line), p.box[2], p.box[3], p.box[0], p.box[3]))
}

// heads draws the head line: sloping along pipes, a step in the middle of other parts.
func (p *plot) heads(w *Way) {
	var line []Point
	for i, s := range w.Steps {
		at := float64(i)
		switch {
		case i == 0:
			line = append(line, Point{0, s.After}, Point{1, s.After})
		case s.Gradual:
			line = append(line, Point{at, s.Before}, Point{at + 1, s.After})
		default:
			line = append(line, Point{at, s.Before}, Point{at + 0.5, s.Before}, Point{at + 0.5, s.After}, Point{at + 1, s.After})
		}
	}
	if w.Runs && len(line) > 0 {
		line = append(line, Point{float64(len(w.Steps)) + 0.3, line[len(line)-1].Y})
	}
	p.curve("chart line", line)
}

// arrival marks at the end what is left above the outlet, and the head it asks for.
func (p *plot) arrival(w *Way, large bool) {
	n := float64(len(w.Steps))
	x, floor := p.at(Point{n + 0.3, w.Height})
	need := p.y.at(w.Need.SI)
	if w.Need.SI > w.Height && w.Need.SI <= p.y.high {
		p.over = append(p.over, DrawLine("chart need", x-2.4, need, x+2.4, need))
		p.labels.take([4]float64{x - 2.4, need - 0.5, x + 2.4, need + 0.5})
	}
	if w.Runs {
		left := p.y.at(w.Left.SI)
		p.over = append(p.over, DrawLine("chart left", x, floor, x, left), DrawCircle("chart point", x, left, 1.1))
		p.labels.take([4]float64{x - 1, min(left, floor), x + 1, max(left, floor)})
	}
	if !large {
		return
	}
	if w.Runs {
		left := p.y.at(w.Left.SI)
		p.label("label strong", words.Say("chart.way.left", words.Args{"pressure": w.Left.Text}), beside(x, left, floor))
	}
	if w.Need.SI > w.Height && w.Need.SI <= p.y.high {
		p.label("label", words.Say("chart.way.need", words.Args{"pressure": w.Need.Text}), beside(x, need, floor))
	}
}

// beside lists the places left and right of an upright, from a height on down and up.
func beside(x, y, floor float64) []spot {
	list := []spot{{x - 3, y - 0.2, End, true}, {x - 3, y + 0.4, End, false}}
	for k := 1.0; k < 8; k++ {
		list = append(list, spot{x - 3, y - 3.4*k, End, true}, spot{x + 1.4, y - 3.4*k, End, true}, spot{x - 3, min(y+3.4*k, floor), End, true})
	}
	return list
}

// parts writes tags beside the steps, those that take or add most first; in a small panel
// only theirs. What finds no room stands in the table.
func (p *plot) parts(w *Way, large bool) {
	order := make([]int, 0, len(w.Steps))
	for i := range w.Steps {
		if i > 0 || len(w.Steps) == 1 || large {
			order = append(order, i)
		}
	}
	drop := func(i int) float64 {
		if i == 0 {
			return math.Inf(1) // the source comes first of all
		}
		return math.Abs(w.Steps[i].After - w.Steps[i].Before)
	}
	sort.SliceStable(order, func(a, b int) bool { return drop(order[a]) > drop(order[b]) })
	for rank, i := range order {
		if !large && rank >= 2 {
			return
		}
		p.tag(&w.Steps[i], i, rank, large)
	}
}

// tag writes one step's tag, and for the largest what it takes or adds.
func (p *plot) tag(s *WayStep, i, rank int, large bool) {
	text, class := s.Part, "note"
	if i == 0 {
		text = words.Say("chart.way.source", words.Args{"what": s.What, "head": s.Stands})
	} else if rank <= 3 || !large {
		text, class = words.Say("chart.way.step", words.Args{"part": s.Part, "change": s.Takes}), "label"
	}
	x, y := p.at(Point{float64(i) + 0.5, (s.Before + s.After) / 2})
	if i == 0 {
		x, y = p.at(Point{0, s.After})
	}
	high := math.Abs(p.y.at(s.Before)-p.y.at(s.After)) / 2
	if i == 0 {
		high = 0
	}
	spots := []spot{{x + 1, y - 0.8, Start, true}, {x, y - high - 0.8, Middle, true}, {x - 1, y + 0.8, End, false}, {x, y + high + 0.8, Middle, false},
		{x + 1.2, y - high*0.5, Start, true}, {x + 1, y - high - 0.8, Start, true}, {x - 1, y + high + 0.8, End, false}}
	for _, gap := range []float64{3, 6} {
		spots = append(spots, around(x, y, gap+high)...)
	}
	if it, ok := p.labels.put(class, chartTick, text, spots); ok {
		p.over = append(p.over, it...)
	}
}

// Table is the chart as a table: every step of every way.
func (c *WayChart) Table() [][]string {
	var rows [][]string
	head := []string{}
	for _, col := range []string{"outlet", "part", "what", "before", "change", "after"} {
		head = append(head, words.Say("chart.way.col-"+col, nil))
	}
	rows = append(rows, head)
	for i := range c.Ways {
		for _, s := range c.Ways[i].Steps {
			rows = append(rows, []string{c.Ways[i].Outlet, s.Part, s.What, s.Texts[0], s.Texts[1], s.Texts[2]})
		}
	}
	return rows
}

// Desc is the chart in words.
func (c *WayChart) Desc() string {
	list := []string{c.Note}
	for i := range c.Ways {
		list = append(list, c.Ways[i].Says+".")
	}
	return strings.Join(list, " ")
}
