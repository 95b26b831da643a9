package drawing

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// carry is the water in one piece of line, its flow along the direction it is drawn in.
type carry struct {
	water Water
	flow  float64 // m³/s, positive left to right and top to bottom
	speed float64 // m/s, ≥ 0
	harm  bool
	known bool
}

const stillFlow = float64(quantity.Standing) // [m³/s]

func (c carry) moves() bool { return math.Abs(c.flow) > stillFlow }

func (c carry) reversed() carry { c.flow = -c.flow; return c }

// class is the style of a line that carries this.
func (c carry) class() string {
	name := "pipe " + c.water.String()
	if c.harm {
		name += " harm"
	}
	return name
}

// of reads what the view says of a part that is passed from port in to port out.
func (v *View) of(p *assembly.Part, in, out int) carry {
	s, ok := v.Parts[p.Tag]
	if !ok {
		return carry{}
	}
	c := carry{water: s.Water, flow: float64(s.Flow), speed: float64(s.Speed), harm: s.Harm, known: true}
	if in > out {
		c.flow = -c.flow
	}
	return c
}

// segments are the pieces of a strand's line: before its first cell, between cells,
// after its last. A piece beside a run shows the run's water; otherwise that of the part
// beside it; a tee passes on what reaches it.
func (g *graph) segments(s *strand, v *View) []carry {
	list := make([]carry, len(s.cells)+1)
	read := func(i int, run bool) carry {
		if i < 0 || i >= len(s.cells) {
			return carry{}
		}
		c := s.cells[i]
		p := &g.a.Parts[c.part]
		if (p.Kind == assembly.Run) != run || p.Kind == assembly.Tee {
			return carry{}
		}
		return v.of(p, c.in, c.out)
	}
	for i := range list {
		for _, c := range []carry{read(i-1, true), read(i, true), read(i-1, false), read(i, false)} {
			if c.known {
				list[i] = c
				break
			}
		}
	}
	for i := 1; i < len(list); i++ {
		if !list[i].known {
			list[i] = list[i-1]
		}
	}
	for i := len(list) - 2; i >= 0; i-- {
		if !list[i].known {
			list[i] = list[i+1]
		}
	}
	return list
}

// carries works out the pieces of every strand; a strand without parts carries what the
// tees at its ends leave over.
func (g *graph) carries(v *View) [][]carry {
	all := make([][]carry, len(g.strands))
	for id := range g.strands {
		all[id] = g.segments(&g.strands[id], v)
	}
	for grown := true; grown; {
		grown = false
		for n := range g.nodes {
			if g.balance(n, all) {
				grown = true
			}
		}
	}
	return all
}

// into is what a strand carries at node n, positive towards the node.
func (g *graph) into(id, n int, all [][]carry) carry {
	if g.strands[id].to == n {
		return all[id][len(all[id])-1]
	}
	return all[id][0].reversed()
}

// balance fills the one unknown strand at a tee from the others.
func (g *graph) balance(n int, all [][]carry) bool {
	if k := g.kind(n); k != assembly.Tee && k != "" || g.nodes[n].gone {
		return false
	}
	unknown := -1
	var sum carry
	for _, id := range g.nodes[n].strands {
		c := g.into(id, n, all)
		if !c.known {
			if unknown >= 0 {
				return false
			}
			unknown = id
			continue
		}
		sum = sum.join(c)
	}
	if unknown < 0 || !sum.known {
		return false
	}
	out := sum.settled()
	if g.strands[unknown].to == n {
		out = out.reversed()
	}
	for i := range all[unknown] {
		all[unknown][i] = out
	}
	return true
}

// join adds what two pipes bring to one place. Water under way outweighs water that
// stands, the larger inflow the smaller, and water no water.
func (c carry) join(d carry) carry {
	if !c.known {
		return d
	}
	if !d.known {
		return c
	}
	sum := c
	if c.weight() < d.weight() {
		sum = d
	}
	sum.flow = c.flow + d.flow
	sum.speed = max(c.speed, d.speed)
	return sum
}

// settled is what a piece nobody described carries, given what the others bring: water
// that does not move stands still.
func (c carry) settled() carry {
	if !c.moves() {
		c.flow, c.speed, c.harm = 0, 0, false
		if c.water == FromMain || c.water == FromStore {
			c.water = StandsThere
		}
	}
	return c
}

// weight orders waters for join.
func (c carry) weight() float64 {
	switch {
	case c.flow > stillFlow:
		return 3 + c.flow
	case c.water == FromMain || c.water == FromStore:
		return 2
	case c.water == StandsThere:
		return 1
	}
	return 0
}
