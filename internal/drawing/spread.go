package drawing

import (
	"math"

	"tideover/internal/assembly"
)

// divide is the left edge of the roots of all homes.
func (c *columns) divide() float64 {
	x := math.Inf(1)
	for n := range c.roots {
		x = min(x, c.p.g.nodes[n].x-c.p.g.nodes[n].left)
	}
	return x
}

// spread places the cells of every strand evenly between its ends, or, where bars cross
// it, before the first of them; an outlet's cells stand after the last, in line with
// those of the other outlets.
func (c *columns) spread() {
	g := c.p.g
	wide := 0.0
	for id := range g.strands {
		if s := &g.strands[id]; s.home && g.kind(s.to) == assembly.Outlet {
			wide = max(wide, s.width())
		}
	}
	for id := range g.strands {
		s := &g.strands[id]
		if s.gone || !c.live(s) || len(s.cells) == 0 {
			continue
		}
		from := g.nodes[s.from].x + g.nodes[s.from].right
		to := g.nodes[s.to].x - g.nodes[s.to].left
		cross := c.crossings(s)
		if c.roots[s.to] {
			to = min(to, c.divide()) // a trunk's parts stand before the fan
		}
		if s.home {
			from = max(from, c.edge)
			for len(cross) > 0 && g.nodes[cross[0]].x <= from {
				cross = cross[1:]
			}
		}
		if len(cross) > 0 && g.kind(s.to) == assembly.Outlet {
			last := &g.nodes[cross[len(cross)-1]]
			from = last.x + last.right
		} else if len(cross) > 0 {
			to = min(to, g.nodes[cross[0]].x-g.nodes[cross[0]].left)
		}
		slack := (to - from - s.width()) / float64(len(s.cells)+1)
		if s.home && g.kind(s.to) == assembly.Outlet {
			from, slack = max(from, to-wide), 0
		}
		x := from + lead
		for i := range s.cells {
			cl := &s.cells[i]
			x += slack + cl.left + cellGap/2
			cl.x = x
			x += cl.right + cellGap/2
		}
	}
}
