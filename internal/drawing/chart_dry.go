package drawing

import (
	"sort"

	"tideover/internal/drawing/font"
	"tideover/internal/words"
)

// dry reports whether no way runs.
func (c *WayChart) dry() bool {
	for i := range c.Ways {
		if c.Ways[i].Runs {
			return false
		}
	}
	return true
}

// heights is the chart of a case in which nothing runs: the outlets side by side, each at
// its height, and how high the water stands.
func (c *WayChart) heights(x0, y0, x1, y1 float64) []Item {
	ways := append([]Way{}, c.Ways...)
	sort.SliceStable(ways, func(i, j int) bool { return ways[i].Height < ways[j].Height })
	y := c.scale(4)
	y.name = words.Say("chart.way.y-dry", nil)
	p := newPlot(axis{low: 0, high: max(1, float64(len(ways)))}, y, x0, y0, x1, y1)
	var floor, water []Point
	for i := range ways {
		at := float64(i)
		floor = append(floor, Point{at, ways[i].Height}, Point{at + 1, ways[i].Height})
		if n := len(ways[i].Steps); n > 0 {
			stands := ways[i].Steps[n-1].After
			water = append(water, Point{at, stands}, Point{at + 1, stands})
		}
	}
	p.curve("chart line thin", floor)
	p.curve("chart line", water)
	if len(water) > 1 {
		last := ways[0].Steps[len(ways[0].Steps)-1]
		text := words.Say("chart.way.source", words.Args{"what": last.What, "head": last.Stands})
		p.name("label strong", text, water, 0.02)
	}
	pts := p.path(floor)
	p.hatch(append(pts, p.box[2], p.box[3], p.box[0], p.box[3]))
	wide := (x1 - x0) / max(1, float64(len(ways)))
	for i := range ways {
		x, top := p.at(Point{float64(i) + 0.5, ways[i].Height})
		name := font.Fit(ways[i].Outlet, chartTick, true, wide-1)
		p.label("label strong", name, []spot{{x, top - 0.8, Middle, true}, {x, top + 0.8, Middle, false}, {x, top - 4, Middle, true}, {x, top + 4, Middle, false}})
	}
	return p.items()
}
