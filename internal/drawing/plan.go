package drawing

import (
	"tideover/internal/assembly"
)

// plan is what each strand is for in the layout.
type plan struct {
	g      *graph
	into   []int // per node: the strand by which a peeled tree hangs on, or −1
	core   []int // strands between street and home, oriented left to right
	root   *block
	back   []int         // core strands outside the series-parallel whole
	dead   []tree        // trees without an outlet, hung on the core
	homes  []tree        // trees with outlets; the first is the main one
	order  []int         // nodes, each after those its strands come from
	folded []int         // stores that stand below the incoming line, filled from their right
	drains map[int][]int // drains of a store, by node: they hang from its tanks
	levels map[int]int   // per node of a store: its level switch
}

// tree is a strand and the branches that hang on its far end.
type tree struct {
	strand int // oriented away from the core
	node   int // its far end
	kids   []tree
}

// planOf peels the trees off, finds the home and reduces what is left from street to home.
func planOf(g *graph) *plan {
	p := &plan{g: g, into: make([]int, len(g.nodes))}
	for i := range p.into {
		p.into[i] = -1
	}
	if g.street < 0 {
		return p
	}
	p.peel()
	sink := p.findHome()
	p.hangDrains()
	p.reduce(g.street, sink)
	p.arrangeOrder()
	return p
}

// peel takes leaves off, again and again, until only loops and what joins them to the
// street are left.
func (p *plan) peel() {
	g := p.g
	degree := make([]int, len(g.nodes))
	var queue []int
	for n := range g.nodes {
		degree[n] = len(g.nodes[n].strands)
		for _, id := range g.nodes[n].strands {
			if g.strands[id].from == g.strands[id].to {
				degree[n]++
			}
		}
		if !g.nodes[n].gone && degree[n] == 1 && n != g.street {
			queue = append(queue, n)
		}
	}
	peeled := make([]bool, len(g.strands))
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, id := range g.nodes[n].strands {
			if !peeled[id] {
				peeled[id] = true
				p.into[n] = id
				up := g.far(id, n)
				if degree[up]--; degree[up] == 1 && up != g.street {
					queue = append(queue, up)
				}
			}
		}
	}
}

// hung returns the tree that hangs by a strand from node n.
func (p *plan) hung(id, n int) tree {
	if p.g.strands[id].from != n {
		p.g.strands[id].reverse()
	}
	t := tree{strand: id, node: p.g.strands[id].to}
	for _, kid := range p.g.nodes[t.node].strands {
		if kid != id {
			t.kids = append(t.kids, p.hung(kid, t.node))
		}
	}
	return t
}

func (p *plan) outlets(t tree) int {
	count := 0
	if p.g.kind(t.node) == assembly.Outlet {
		count = 1
	}
	for _, k := range t.kids {
		count += p.outlets(k)
	}
	return count
}

// findHome sorts the hanging trees into the home, other trees with outlets and dead
// ends, and returns the node where the home begins.
func (p *plan) findHome() (sink int) {
	g, best, most := p.g, -1, 0
	var all []tree
	for n := range g.nodes {
		if g.nodes[n].gone || p.into[n] >= 0 {
			continue
		}
		for _, id := range append([]int(nil), g.nodes[n].strands...) {
			if far := g.far(id, n); p.into[far] == id {
				t := p.hung(id, n)
				if c := p.outlets(t); c > most {
					best, most = len(all), c
				}
				all = append(all, t)
			} else if n == g.strands[id].from {
				p.core = append(p.core, id)
			}
		}
	}
	for i, t := range all {
		if i != best {
			p.hang(t)
		}
	}
	if best < 0 {
		return p.somewhere()
	}
	return p.follow(all[best])
}

// hang sorts a tree: a dead end, a home, or, where something bulky stands in it, a piece
// of the core with homes beyond.
func (p *plan) hang(t tree) {
	switch {
	case p.outlets(t) == 0:
		p.dead = append(p.dead, t)
	case !p.bulky(t):
		p.homes = append(p.homes, t)
	default:
		p.back = append(p.back, t.strand)
		for _, k := range t.kids {
			p.hang(k)
		}
	}
}

// bulky reports whether a store or a three-way valve stands in a tree: the fan of
// outlets has no room for them.
func (p *plan) bulky(t tree) bool {
	if k := p.g.kind(t.node); k == assembly.Store || k == assembly.ThreeWay {
		return true
	}
	for _, k := range t.kids {
		if p.bulky(k) {
			return true
		}
	}
	return false
}

// somewhere is the end of a core without a home: the node farthest down the list.
func (p *plan) somewhere() int {
	sink := p.g.street
	for _, id := range p.core {
		for _, n := range []int{p.g.strands[id].from, p.g.strands[id].to} {
			sink = max(sink, n)
		}
	}
	return sink
}

// follow walks down the home's trunk while a single branch carries all its outlets or
// a store is still to come; what it walks along belongs to the core.
func (p *plan) follow(t tree) (sink int) {
	others := p.homes
	p.homes = nil
	for {
		next := -1
		with := 0
		for i, k := range t.kids {
			if c := p.outlets(k); c > 0 {
				with++
				if next < 0 || c > p.outlets(t.kids[next]) {
					next = i
				}
			}
		}
		if next < 0 || with > 1 && !p.bulky(t) {
			break
		}
		p.core = append(p.core, t.strand)
		for i, k := range t.kids {
			if i != next {
				p.hang(k)
			}
		}
		t = t.kids[next]
	}
	p.homes = append(append([]tree{t}, others...), p.homes...)
	return p.g.strands[t.strand].from
}

// arrangeOrder lists the nodes so that every strand runs from an earlier to a later
// one, and turns the back strands accordingly.
func (p *plan) arrangeOrder() {
	g := p.g
	place := make([]int, len(g.nodes))
	put := func(n int) {
		if place[n] == 0 {
			p.order = append(p.order, n)
			place[n] = len(p.order)
		}
	}
	put(g.street)
	for _, n := range p.folded {
		put(n)
	}
	if p.root != nil {
		p.root.emit(put)
		put(p.root.to)
	}
	for grown := true; grown; {
		grown = false
		for _, id := range p.back {
			s := &g.strands[id]
			if place[s.from] == 0 && place[s.to] > 0 {
				s.reverse()
			}
			if place[s.from] > 0 && place[s.to] == 0 {
				put(s.to)
				grown = true
			}
		}
	}
	for _, id := range p.back {
		if s := &g.strands[id]; place[s.from] > place[s.to] {
			s.reverse()
		}
	}
	for _, list := range [][]tree{p.dead, p.homes} {
		for _, t := range list {
			t.emit(put)
		}
	}
}

func (t tree) emit(put func(int)) {
	put(t.node)
	for _, k := range t.kids {
		k.emit(put)
	}
}

// hangDrains takes the drains and the level switch that sit straight on a store out of the
// dead ends.
func (p *plan) hangDrains() {
	p.drains, p.levels = map[int][]int{}, map[int]int{}
	kept := p.dead[:0]
	for _, t := range p.dead {
		s := &p.g.strands[t.strand]
		from, part := s.from, p.g.nodes[t.node].part
		straight := p.g.kind(from) == assembly.Store && len(s.cells) == 0
		switch kind := p.g.kind(t.node); {
		case straight && kind == assembly.Drain:
			p.drains[from] = append(p.drains[from], part)
		case straight && kind == assembly.Switch && p.levels[from] == 0:
			p.levels[from] = part // never the main, which is part 0
		default:
			kept = append(kept, t)
			continue
		}
		p.g.nodes[t.node].gone = true
		p.g.drop(t.strand)
	}
	p.dead = kept
}

// drainReach is how far down the drains and level switches of the stores hang.
func (p *plan) drainReach() float64 {
	reach := 0.0
	for n := range p.drains {
		for _, id := range p.g.nodes[n].strands {
			reach = max(reach, p.g.strands[id].y+1.6+drainLen+3)

		}
	}
	for n := range p.levels {
		for _, id := range p.g.nodes[n].strands {
			reach = max(reach, p.g.strands[id].y+1.6+levelReach+1)
		}
	}
	return reach
}
