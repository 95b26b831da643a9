package drawing

import (
	"sort"

	"tideover/internal/assembly"
)

// Horizontal measures [mm].
const (
	lead      = 2.2 // bare pipe at the ends of a strand
	cellGap   = 0.6 // between two cells, beside their own margins
	barGap    = 5.0 // between two bars that pass one another
	bareRun   = 5.0 // least length of a strand without cells
	divideGap = 4.0 // between the core and the fan
)

// width is what a strand needs between its ends [mm].
func (s *strand) width() float64 {
	w := 2 * lead
	for _, c := range s.cells {
		w += c.left + c.right + cellGap
	}
	return max(w, bareRun)
}

// columns places the bars: first as far left as the strands let them, then, in that
// order, apart from one another and clear of every symbol on the lines they cross.
type columns struct {
	p     *plan
	order []int // nodes, left to right
	place []int // of each node in order
	fan   map[int]bool
	roots map[int]bool
	edge  float64 // right of the roots of all homes: parts in the fan stand beyond
}

func (p *plan) columns() *columns {
	c := &columns{p: p, place: make([]int, len(p.g.nodes)), fan: map[int]bool{}, roots: map[int]bool{}}
	for _, t := range p.homes {
		c.roots[t.node] = true
		t.emit(func(n int) { c.fan[n] = true })
	}
	c.reach()
	c.first()
	c.final()
	return c
}

// reach finds the top and bottom of each bar.
func (c *columns) reach() {
	g := c.p.g
	for n := range g.nodes {
		b := &g.nodes[n]
		for i, id := range b.strands {
			y := g.strands[id].y
			if i == 0 {
				b.top, b.bottom = y, y
			}
			b.top, b.bottom = min(b.top, y), max(b.bottom, y)
		}
		if g.kind(n) == assembly.Store && !b.gone && len(b.strands) > 0 {
			top, bottom := c.p.tankReach(n)
			b.top, b.bottom = min(b.top, top), max(b.bottom, bottom)
		}
	}
}

// least is the x a node needs for the strands that end at it.
func (c *columns) least(n int) float64 {
	g := c.p.g
	x := g.nodes[n].left
	for _, id := range g.nodes[n].strands {
		if s := &g.strands[id]; s.to == n && s.from != n {
			x = max(x, g.nodes[s.from].x+g.nodes[s.from].right+s.width()+g.nodes[n].left)
		}
	}
	return x
}

// first places every node after the strands that end at it, the fan beyond all else,
// and orders them from left to right.
func (c *columns) first() {
	g := c.p.g
	edge := 0.0
	for _, n := range c.p.order {
		if !c.fan[n] {
			g.nodes[n].x = c.least(n)
			edge = max(edge, g.nodes[n].x)
		}
	}
	for _, n := range c.p.order {
		if c.fan[n] {
			g.nodes[n].x = max(c.least(n), edge+divideGap)
		}
	}
	c.order = append([]int(nil), c.p.order...)
	at := map[int]int{}
	for i, n := range c.order {
		at[n] = i
	}
	class := func(n int) int {
		switch {
		case !c.fan[n]:
			return 0
		case c.roots[n]:
			return 1
		case g.kind(n) == assembly.Outlet:
			return 3
		}
		return 2
	}
	sort.SliceStable(c.order, func(i, j int) bool {
		a, b := c.order[i], c.order[j]
		if class(a) != class(b) {
			return class(a) < class(b)
		}
		if g.nodes[a].x != g.nodes[b].x {
			return g.nodes[a].x < g.nodes[b].x
		}
		return at[a] < at[b]
	})
	for i, n := range c.order {
		c.place[n] = i
	}
}

// final moves the nodes right, one after another, until nothing touches.
func (c *columns) final() {
	g := c.p.g
	edge, outlets := 0.0, 0.0
	for i, n := range c.order {
		b := &g.nodes[n]
		if g.kind(n) == assembly.Outlet && c.fan[n] {
			outlets = max(outlets, c.least(n))
			continue
		}
		b.x = max(c.least(n), c.clear(i))
		if c.fan[n] {
			b.x = max(b.x, edge+divideGap+b.left)
			if c.roots[n] {
				c.edge = max(c.edge, b.x+b.right)
			} else {
				b.x = max(b.x, c.beyond(n))
			}
			outlets = max(outlets, b.x+b.right)
		} else {
			edge = max(edge, b.x+b.right, c.trunkEnd(n))
		}
	}
	for _, t := range c.p.homes {
		t.emit(func(n int) {
			for _, id := range g.nodes[n].strands {
				if s := &g.strands[id]; s.to == n && g.kind(n) == assembly.Outlet {
					outlets = max(outlets, c.lastBar(n)+s.width())
				}
			}
		})
	}
	for n := range c.fan {
		if g.kind(n) == assembly.Outlet {
			g.nodes[n].x = outlets
		}
	}
}

// beyond is the x a node of the fan needs for its parts to stand right of all roots.
func (c *columns) beyond(n int) float64 {
	x := 0.0
	for _, id := range c.p.g.nodes[n].strands {
		if s := &c.p.g.strands[id]; s.to == n {
			x = max(x, c.edge+s.width()+c.p.g.nodes[n].left)
		}
	}
	return x
}

// trunkEnd is how far the pipe from core node n to a home needs for its parts: they
// stand before the divide.
func (c *columns) trunkEnd(n int) float64 {
	g, end := c.p.g, 0.0
	for _, id := range g.nodes[n].strands {
		if s := &g.strands[id]; s.from == n && c.fan[s.to] {
			end = max(end, g.nodes[n].x+g.nodes[n].right+s.width())
		}
	}
	return end
}

// lastBar is the right edge of the last bar of the fan that an outlet's line must pass.
func (c *columns) lastBar(n int) float64 {
	g := c.p.g
	x := c.edge
	for _, id := range g.nodes[n].strands {
		s := &g.strands[id]
		x = max(x, g.nodes[s.from].x+g.nodes[s.from].right)
		for _, k := range c.order[c.place[s.from]+1:] {
			if k != n && g.nodes[k].crosses(s.y) {
				x = max(x, g.nodes[k].x+g.nodes[k].right)
			}
		}
	}
	return x
}

// crosses reports whether a bar passes over a line at y.
func (b *node) crosses(y float64) bool { return b.top < y-0.01 && y+0.01 < b.bottom }

// clear is the least x of the i-th node for what stands left of it: bars beside it,
// and the symbols of lines it crosses.
func (c *columns) clear(i int) float64 {
	g := c.p.g
	n := c.order[i]
	b := &g.nodes[n]
	x := 0.0
	for _, m := range c.order[:i] {
		other := &g.nodes[m]
		x = max(x, other.x)
		if other.top <= b.bottom+3 && b.top <= other.bottom+3 {
			x = max(x, other.x+other.right+barGap+b.left)
		}
	}
	for id := range g.strands {
		s := &g.strands[id]
		if s.gone || s.from == n || s.to == n || c.place[s.from] >= i || !c.live(s) {
			continue
		}
		if c.place[s.to] > i && b.crosses(s.y) && g.kind(s.to) != assembly.Outlet {
			from := g.nodes[s.from].x + g.nodes[s.from].right
			if s.home {
				from = max(from, c.edge)
			}
			x = max(x, from+s.width()+b.left)
		}
	}
	return x
}

func (c *columns) live(s *strand) bool {
	return !c.p.g.nodes[s.from].gone && !c.p.g.nodes[s.to].gone
}

// crossings lists the bars a strand's line passes under, left to right.
func (c *columns) crossings(s *strand) []int {
	var list []int
	for _, k := range c.order {
		b := &c.p.g.nodes[k]
		if k != s.from && k != s.to && b.crosses(s.y) && b.x > c.p.g.nodes[s.from].x && b.x < c.p.g.nodes[s.to].x {
			list = append(list, k)
		}
	}
	return list
}
