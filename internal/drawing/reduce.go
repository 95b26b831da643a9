package drawing

import (
	"math"
	"sort"

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
}

// tree is a strand and the branches that hang on its far end.
type tree struct {
	strand int // oriented away from the core
	node   int // its far end
	kids   []tree
}

// block is a series-parallel piece of the core: a strand, a series or a parallel group.
type block struct {
	from, to int
	strand   int      // −1 unless a strand
	series   []*block // left to right
	legs     []*block // top to bottom
	high     float64  // rank of its topmost strand
	low      float64  // rank of its lowest
	first    int
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

// reduce merges the core strands in series and in parallel until one block joins street
// and sink; what resists becomes a back strand.
func (p *plan) reduce(source, sink int) {
	var edges []*block
	for _, id := range p.core {
		s := p.g.strands[id]
		if s.from == s.to {
			p.back = append(p.back, p.openLoop(id)...)
			continue
		}
		edges = append(edges, &block{from: s.from, to: s.to, strand: id, high: s.rank, low: s.rank, first: s.first})
	}
	if source == sink {
		for _, e := range edges {
			p.back = append(p.back, e.all()...)
		}
		return
	}
	for {
		var changed bool
		if edges, changed = mergeParallel(edges); changed {
			continue
		}
		if edges, changed = mergeSeries(edges, source, sink); changed {
			continue
		}
		if edges, changed = p.prune(edges, source, sink); changed {
			continue
		}
		break
	}
	if len(edges) == 1 {
		p.root = edges[0]
		p.root.orient(source)
		p.root.sortLegs()
		p.root.turn(p.g)
		p.fold(p.root)
	}
}

// openLoop puts a bend into a strand that comes back to its own node, which makes two of it.
func (p *plan) openLoop(id int) []int {
	g := p.g
	s := g.strands[id]
	n := len(g.nodes)
	g.nodes = append(g.nodes, node{part: -1})
	p.into = append(p.into, -1)
	g.drop(id)
	out := g.add(strand{from: s.from, fromPort: s.fromPort, to: n, cells: s.cells, row: -1, first: s.first})
	back := g.add(strand{from: s.to, fromPort: s.toPort, to: n, row: -1, first: s.first})
	return []int{out, back}
}

// mergeParallel joins edges between the same two nodes.
func mergeParallel(edges []*block) ([]*block, bool) {
	for i, a := range edges {
		legs := []*block{}
		rest := append([]*block(nil), edges[:i]...)
		for _, b := range edges[i+1:] {
			if a.from == b.from && a.to == b.to || a.from == b.to && a.to == b.from {
				legs = append(legs, b)
			} else {
				rest = append(rest, b)
			}
		}
		if len(legs) > 0 {
			return append(rest, group(a.from, a.to, append([]*block{a}, legs...))), true
		}
	}
	return edges, false
}

func group(from, to int, legs []*block) *block {
	b := &block{from: from, to: to, strand: -1, first: legs[0].first, high: legs[0].high, low: legs[0].low}
	for _, l := range legs {
		if l.legs != nil {
			b.legs = append(b.legs, l.legs...)
		} else {
			b.legs = append(b.legs, l)
		}
		b.high, b.low = min(b.high, l.high), max(b.low, l.low)
		b.first = min(b.first, l.first)
	}
	return b
}

// mergeSeries joins two edges that meet at a node nothing else meets at.
func mergeSeries(edges []*block, source, sink int) ([]*block, bool) {
	at := map[int][]int{}
	var nodes []int
	for i, e := range edges {
		for _, n := range []int{e.from, e.to} {
			if at[n] == nil {
				nodes = append(nodes, n)
			}
			at[n] = append(at[n], i)
		}
	}
	sort.Ints(nodes)
	for _, n := range nodes {
		if n == source || n == sink || len(at[n]) != 2 || at[n][0] == at[n][1] {
			continue
		}
		a, b := edges[at[n][0]], edges[at[n][1]]
		a.orientTo(n)
		b.orient(n)
		c := &block{from: a.from, to: b.to, strand: -1, high: min(a.high, b.high), low: max(a.low, b.low), first: min(a.first, b.first)}
		c.series = append(c.series, a.chain()...)
		c.series = append(c.series, b.chain()...)
		var rest []*block
		for i, e := range edges {
			if i != at[n][0] && i != at[n][1] {
				rest = append(rest, e)
			}
		}
		return append(rest, c), true
	}
	return edges, false
}

func (b *block) chain() []*block {
	if b.series != nil {
		return b.series
	}
	return []*block{b}
}

// prune takes one edge out of a core that is neither series nor parallel: a loose end,
// a loop on one node, or the last edge that street and sink can do without.
func (p *plan) prune(edges []*block, source, sink int) ([]*block, bool) {
	if len(edges) <= 1 && (len(edges) == 0 || edges[0].joins(source, sink)) {
		return edges, false
	}
	pick := -1
	for i, e := range edges {
		if e.from == e.to || !e.joins(source, sink) && connected(edges, i, source, sink) && better(edges, pick, i) {
			pick = i
		}
	}
	if pick < 0 {
		return edges, false
	}
	p.back = append(p.back, edges[pick].all()...)
	rest := append([]*block(nil), edges[:pick]...)
	return append(rest, edges[pick+1:]...), true
}

// better prefers to part with a by-pass, then with what stands last in the list.
func better(edges []*block, pick, i int) bool {
	if pick < 0 {
		return true
	}
	a, b := math.Abs(edges[i].low-ranks[assembly.BypassBy]), math.Abs(edges[pick].low-ranks[assembly.BypassBy])
	if a != b {
		return a < b
	}
	return edges[i].first > edges[pick].first
}

func (b *block) joins(x, y int) bool { return b.from == x && b.to == y || b.from == y && b.to == x }

// connected reports whether source and sink still meet without edge skip.
func connected(edges []*block, skip, source, sink int) bool {
	reached := map[int]bool{source: true}
	for grown := true; grown; {
		grown = false
		for i, e := range edges {
			if i != skip && reached[e.from] != reached[e.to] {
				reached[e.from], reached[e.to], grown = true, true, true
			}
		}
	}
	return reached[sink]
}

// all lists the strands of a block.
func (b *block) all() []int {
	if b.strand >= 0 {
		return []int{b.strand}
	}
	var list []int
	for _, k := range append(append([]*block(nil), b.series...), b.legs...) {
		list = append(list, k.all()...)
	}
	return list
}

// orient turns a block so that it begins at node n.
func (b *block) orient(n int) {
	if b.from == n {
		return
	}
	b.from, b.to = b.to, b.from
	for i, j := 0, len(b.series)-1; i < j; i, j = i+1, j-1 {
		b.series[i], b.series[j] = b.series[j], b.series[i]
	}
}

func (b *block) orientTo(n int) {
	if b.to != n {
		b.orient(n)
		b.orient(b.to)
	}
}

// turn orients everything inside a block, down to the strands, left to right.
func (b *block) turn(g *graph) {
	if b.strand >= 0 {
		if g.strands[b.strand].from != b.from {
			g.strands[b.strand].reverse()
		}
		return
	}
	at := b.from
	for _, k := range b.series {
		k.orient(at)
		k.turn(g)
		at = k.to
	}
	for _, k := range b.legs {
		k.orient(b.from)
		k.turn(g)
	}
}

// sortLegs stacks the legs of every parallel group: main above, store below, by-pass between.
func (b *block) sortLegs() {
	for _, k := range b.series {
		k.sortLegs()
	}
	for _, k := range b.legs {
		k.sortLegs()
	}
	sort.SliceStable(b.legs, func(i, j int) bool {
		x, y := b.legs[i], b.legs[j]
		if x.low != y.low {
			return x.low < y.low
		}
		return x.first < y.first
	})
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

// emit lists the nodes between the ends of a block.
func (b *block) emit(put func(int)) {
	for i, k := range b.series {
		k.emit(put)
		if i+1 < len(b.series) {
			put(k.to)
		}
	}
	for _, k := range b.legs {
		k.emit(put)
	}
}

func (t tree) emit(put func(int)) {
	put(t.node)
	for _, k := range t.kids {
		k.emit(put)
	}
}

// hangDrains takes the drains that sit straight on a store out of the dead ends.
func (p *plan) hangDrains() {
	p.drains = map[int][]int{}
	kept := p.dead[:0]
	for _, t := range p.dead {
		s := &p.g.strands[t.strand]
		if p.g.kind(s.from) == assembly.Store && p.g.kind(t.node) == assembly.Drain && len(s.cells) == 0 {
			p.drains[s.from] = append(p.drains[s.from], p.g.nodes[t.node].part)
			p.g.nodes[t.node].gone = true
			p.g.drop(t.strand)
		} else {
			kept = append(kept, t)
		}
	}
	p.dead = kept
}

// drainReach is how far down the drains of the stores hang.
func (p *plan) drainReach() float64 {
	reach := 0.0
	for n := range p.drains {
		for _, id := range p.g.nodes[n].strands {
			reach = max(reach, p.g.strands[id].y+1.6+drainLen+3)
		}
	}
	return reach
}
