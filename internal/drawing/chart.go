package drawing

import (
	"strings"

	"tideover/internal/drawing/font"
)

// Chart measures [mm].
const (
	chartWidth = 175.0
	chartTitle = 4.2
	chartText  = 2.6
	chartTick  = 2.4
	chartLine  = 3.5 // from baseline to baseline of chartText
	titleLine  = 5.2
)

// Point is one point of a curve, in SI.
type Point struct{ X, Y float64 }

// Reading is a worked-out figure in SI with its text, as it is printed everywhere.
type Reading struct {
	SI   float64
	Text string
}

// sheet is a chart being drawn, from the top down: a title that states the finding, a
// note that says in what case, then what is drawn.
type sheet struct {
	title string
	items []Item
	y     float64
}

func newSheet(title, note string) *sheet {
	s := &sheet{title: title, y: margin}
	for _, line := range wrap(title, chartTitle, true, chartWidth-2*margin, 3) {
		s.items = append(s.items, DrawText("title", chartTitle, Start, margin, s.y+font.Ascent*chartTitle, line))
		s.y += titleLine
	}
	s.note(note)
	s.y += 2
	return s
}

// note sets a paragraph below what stands there.
func (s *sheet) note(text string) {
	for _, line := range wrap(text, chartText, false, chartWidth-2*margin, 6) {
		s.items = append(s.items, DrawText("note", chartText, Start, margin, s.y+font.Ascent*chartText, line))
		s.y += chartLine
	}
}

// scene closes the chart.
func (s *sheet) scene(desc ...string) *Scene {
	return &Scene{Title: s.title, Desc: strings.Join(desc, " "), Width: chartWidth, Height: s.y + margin, Items: s.items}
}

// plot is one pair of axes on a sheet: where values stand, what is drawn on it layer by
// layer, and which labels found a place.
type plot struct {
	x, y   axis
	box    [4]float64 // mm, of the field between the axes
	labels labels
	under  []Item // hatching
	lines  []Item
	over   []Item // marks and texts
	rest   []string
}

// newPlot opens a field between x0, y0 and x1, y1 [mm].
func newPlot(x, y axis, x0, y0, x1, y1 float64) *plot {
	p := &plot{x: x, y: y, box: [4]float64{x0, y0, x1, y1}}
	p.x.from, p.x.to = x0, x1
	p.y.from, p.y.to = y1, y0
	p.labels.bounds = p.box
	return p
}

// at is where a point stands [mm].
func (p *plot) at(v Point) (x, y float64) { return p.x.at(v.X), p.y.at(v.Y) }

// path is a curve in millimetres, cut off at the sides of the field.
func (p *plot) path(curve []Point) []float64 {
	var pts []float64
	for _, v := range within(curve, p.x.low, p.x.high) {
		x, y := p.at(v)
		pts = append(pts, x, y)
	}
	return pts
}

// curve draws a line and keeps labels off it.
func (p *plot) curve(class string, curve []Point) {
	pts := p.path(curve)
	if len(pts) < 4 {
		return
	}
	p.lines = append(p.lines, DrawLine(class, pts...))
	p.labels.avoid(pts)
}

// hatch fills a polygon [mm] with the light hatching of what is not wanted.
func (p *plot) hatch(pts []float64) {
	p.under = append(p.under, hatched("chart hatch", pts, 2.6)...)
}

// name writes a label beside a curve, on the first free place along it; one that finds
// none is said below the chart.
func (p *plot) name(class, text string, curve []Point, shares ...float64) {
	text = font.Fit(text, chartText, pen(class).Bold, p.box[2]-p.box[0]-4)
	pts := p.path(curve)
	var spots []spot
	for _, share := range append(shares, 0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.04, 0.97) {
		if x, y, ok := onPath(pts, share); ok {
			spots = append(spots, around(x, y, 1.1)...)
		}
	}
	p.label(class, text, spots)
}

// mark draws the chosen point and names it.
func (p *plot) mark(text string, v Point) {
	x, y := p.at(v)
	p.over = append(p.over, DrawCircle("chart point", x, y, 1.5))
	p.labels.take([4]float64{x - 1.7, y - 1.7, x + 1.7, y + 1.7})
	for _, gap := range []float64{2.2, 5, 9, 14, 20, 27, 35} {
		it, ok := p.labels.put("label strong", chartText, text, around(x, y, gap))
		if !ok {
			continue
		}
		if gap > 3 {
			lx, ly := nearest(it[1].Box, x, y)
			p.under = append(p.under, DrawLine("leader", x, y, lx, ly))
		}
		p.over = append(p.over, it...)
		return
	}
	p.rest = append(p.rest, text)
}

// nearest is the point of a box next to a point.
func nearest(b [4]float64, x, y float64) (nx, ny float64) {
	return max(b[0], min(x, b[2])), max(b[1], min(y, b[3]))
}

// label puts a text on the first free of its places, else among what is said below.
func (p *plot) label(class, text string, spots []spot) {
	it, ok := p.labels.put(class, chartText, text, spots)
	if !ok {
		p.rest = append(p.rest, text)
		return
	}
	p.over = append(p.over, it...)
}

// items are the layers with the axes, lowest first.
func (p *plot) items() []Item {
	list := append([]Item{}, p.under...)
	list = append(list, p.axes()...)
	list = append(list, p.lines...)
	return append(list, p.over...)
}

// within cuts a curve off at low and high in x, by straight lines between its points.
func within(curve []Point, low, high float64) []Point {
	var list []Point
	for i, v := range curve {
		if i > 0 {
			for _, edge := range ordered(curve[i-1].X < v.X, low, high) {
				u := curve[i-1]
				if (u.X-edge)*(v.X-edge) < 0 {
					list = append(list, Point{edge, u.Y + (v.Y-u.Y)*(edge-u.X)/(v.X-u.X)})
				}
			}
		}
		if v.X >= low && v.X <= high {
			list = append(list, v)
		}
	}
	return list
}

func ordered(rising bool, low, high float64) [2]float64 {
	if rising {
		return [2]float64{low, high}
	}
	return [2]float64{high, low}
}

// said sets what found no place on the plot as notes below it.
func (s *sheet) said(rest []string) {
	for _, text := range rest {
		s.note("· " + text)
	}
}
