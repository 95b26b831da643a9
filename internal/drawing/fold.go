package drawing

import "tideover/internal/assembly"

// fold turns the last pipe to a store round, so that the store stands below the
// incoming line and not beyond it: the drawing is a third narrower and the way from
// the store to the home still runs left to right.
func (p *plan) fold(b *block) {
	for _, l := range b.legs {
		p.fold(l)
	}
	if b.strand >= 0 && p.fills(b.strand) {
		return // a leg that ends in a store has no way on: leave it
	}
	for i := 0; i < len(b.series); i++ {
		k := b.series[i]
		p.fold(k)
		if k.strand < 0 || !p.fills(k.strand) || i+1 == len(b.series) || p.isFolded(k.to) {
			continue
		}
		if k.from == p.g.street {
			if !p.corner(b, i) {
				continue
			}
			k = b.series[i+1]
		}
		p.g.strands[k.strand].reverse()
		p.folded = append(p.folded, k.to)
	}
}

// fills reports whether a strand ends above a store that nothing else reaches from the
// left.
func (p *plan) fills(id int) bool {
	s := &p.g.strands[id]
	if s.toPort != air || p.g.kind(s.to) != assembly.Store {
		return false
	}
	for _, other := range p.g.nodes[s.to].strands {
		if o := &p.g.strands[other]; other != id && o.to == s.to {
			return false
		}
	}
	return true
}

func (p *plan) isFolded(n int) bool {
	for _, f := range p.folded {
		if f == n {
			return true
		}
	}
	return false
}

// corner splits the strand from the street to a store, the i-th of a series, where the
// feed begins.
func (p *plan) corner(b *block, i int) bool {
	g := p.g
	id := b.series[i].strand
	s := g.strands[id]
	at := 0
	for at < len(s.cells) && g.a.Parts[s.cells[at].part].Role != assembly.Feed {
		at++
	}
	if at < 2 || len(s.cells)-at < 2 {
		return false
	}
	n := len(g.nodes)
	g.nodes = append(g.nodes, node{part: -1})
	p.into = append(p.into, -1)
	p.drains[n] = nil
	g.drop(id)
	first := g.add(strand{from: s.from, fromPort: s.fromPort, to: n, cells: s.cells[:at:at], row: -1, first: s.first})
	second := g.add(strand{from: n, to: s.to, toPort: s.toPort, cells: s.cells[at:], row: -1, first: s.first})
	k := b.series[i]
	x := &block{from: s.from, to: n, strand: first, high: k.high, low: k.low, first: k.first}
	y := &block{from: n, to: s.to, strand: second, high: k.high, low: k.low, first: k.first}
	b.series = append(b.series[:i:i], append([]*block{x, y}, b.series[i+1:]...)...)
	return true
}
