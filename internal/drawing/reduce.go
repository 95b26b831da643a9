package drawing

import (
	"math"
	"sort"

	"tideover/internal/assembly"
)

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
