package hydraulics

import "slices"

// rivals returns the names of regulators that can answer one another round a ring, in the
// circuit's order; nil when there are none. Rings are counted with every source as one
// point: a head held by the world joins what it feeds no less than a pipe does. The open
// mouths of draw-offs, where nothing comes back, join nothing.
//
// A reducer with a set head of its own and a pump, each fed from a held head by a way that
// leads nowhere else, are no rivals, ring or not: each then acts on the rest as a source of
// head does. How two heads answer two such sources is a block of the inverse of a matrix of
// the circuit, an M-matrix, whose principal minors are all positive; so there is one pair of
// settings at most (Gale & Nikaido 1965, Math. Annalen 159:81).
func (n *Net) rivals(s *State, list []keeper) []string {
	var names []string
	for i, r := range list {
		for _, t := range list[:i] {
			if r.Element == t.Element || r.own != t.own && n.fedApart(s, r, t) || !n.rival(s, r.Element, t.Element) {
				continue
			}
			for _, e := range [2]int32{min(r.Element, t.Element), max(r.Element, t.Element)} {
				if name := named("element", int(e), n.elements[e].Name); !slices.Contains(names, name) {
					names = append(names, name)
				}
			}
		}
	}
	return names
}

// rival reports whether e and f lie on one ring and neither is merely behind the other:
// two on a ring are in series when taking one out takes the other off every ring, and
// water runs through both the same way round.
func (n *Net) rival(s *State, e, f int32) bool {
	node := n.sources(s)
	pass := func(k int32) bool { return n.passes(s, k) || k == e || k == f }
	block, size := n.ringBlocks(node, pass, nil)
	if block[e] != block[f] || size[block[e]] < 2 {
		return false
	}
	left, size := n.ringBlocks(node, func(k int32) bool { return k != e && pass(k) }, nil)
	if size[left[f]] > 1 {
		return true
	}
	// Without both the ring falls in two: behind e, does f lead on or come up to meet it?
	behind := node[n.elements[e].To]
	return !n.joined(node, behind, node[n.elements[f].From], func(k int32) bool { return k != e && k != f && pass(k) })
}

// fedApart reports whether the ways that feed two regulators, from held heads, meet nothing
// else that either regulates. What leads round a regulator to its own outlet (a worn seat, a
// standing pump beside it) only makes it a weaker source (Thévenin), and is no way out.
func (n *Net) fedApart(s *State, r, t keeper) bool {
	out := func(k int32) bool {
		stands := n.ways[k].pump != nil && s.Opening[k] == 0
		return n.passes(s, k) && !stands && k != r.Element && k != t.Element && !slices.Contains(r.with, k) && !slices.Contains(t.with, k)
	}
	return n.fedAlone(r, t, out) && n.fedAlone(t, r, out)
}

// fedAlone reports whether water before regulator r, without going through a held head or
// r's own outlet, meets nothing of t.
func (n *Net) fedAlone(r, t keeper, out func(k int32) bool) bool {
	from, to := n.elements[r.Element].From, n.elements[r.Element].To
	wall := make([]int32, len(n.points))
	for p := range wall {
		if wall[p] = int32(p); n.points[p].Held || int32(p) == to {
			wall[p] = -1
		}
	}
	if n.points[from].Held {
		return true
	}
	for _, other := range [4]int32{n.elements[t.Element].From, n.elements[t.Element].To, r.Point, t.Point} {
		if other != to && (from == other || n.meets(wall, from, other, out)) {
			return false
		}
	}
	return true
}

// meets reports whether elements that pass join two points without going through a held one.
func (n *Net) meets(node []int32, from, to int32, pass func(e int32) bool) bool {
	seen := map[int32]bool{from: true}
	for grew := true; grew && !seen[to]; {
		grew = false
		for e := range n.elements {
			u, v := n.elements[e].From, n.elements[e].To
			if node[u] < 0 || node[v] < 0 || !pass(int32(e)) {
				continue
			}
			if seen[u] != seen[v] {
				seen[u], seen[v], grew = true, true, true
			}
		}
	}
	return seen[to]
}

// joined reports whether elements that pass join two nodes.
func (n *Net) joined(node []int32, from, to int32, pass func(e int32) bool) bool {
	seen := map[int32]bool{from: true}
	for grew := true; grew && !seen[to]; {
		grew = false
		for e := range n.elements {
			u, v := node[n.elements[e].From], node[n.elements[e].To]
			if seen[u] != seen[v] && pass(int32(e)) {
				seen[u], seen[v], grew = true, true, true
			}
		}
	}
	return seen[to]
}

// sources numbers the points for rings: all held points that water can come from are 0,
// every other point is a node of its own.
func (n *Net) sources(s *State) []int32 {
	node := make([]int32, len(n.points))
	for p := range node {
		node[p] = int32(p) + 1
	}
	for e := range n.elements {
		el := &n.elements[e]
		if !n.passes(s, int32(e)) {
			continue
		}
		if n.points[el.From].Held {
			node[el.From] = 0
		}
		if n.points[el.To].Held && !n.ways[e].stiff(s.Opening[e]) {
			node[el.To] = 0
		}
	}
	return node
}

// ringBlocks sorts the elements that pass into blocks: two are in one block when a ring
// runs through both that passes no point twice (Hopcroft & Tarjan 1973, Commun. ACM
// 16:372). node gives each point's node; extra joins pairs of nodes by further elements
// numbered after the circuit's. block is per element, size per block; an element that
// does not pass, or joins a node to itself, is in block 0, which counts as empty.
func (n *Net) ringBlocks(node []int32, pass func(e int32) bool, extra [][2]int32) (block []int32, size []int) {
	b := blocks{ends: make([][2]int32, len(n.elements)+len(extra)), size: []int{0}}
	most := int32(0)
	for e := range b.ends {
		if e >= len(n.elements) {
			b.ends[e] = extra[e-len(n.elements)]
		} else if pass(int32(e)) {
			b.ends[e] = [2]int32{node[n.elements[e].From], node[n.elements[e].To]}
		}
		most = max(most, b.ends[e][0], b.ends[e][1])
	}
	b.at = make([][]int32, most+1)
	for e, end := range b.ends {
		if end[0] != end[1] {
			b.at[end[0]] = append(b.at[end[0]], int32(e))
			b.at[end[1]] = append(b.at[end[1]], int32(e))
		}
	}
	b.seen, b.low = make([]int32, most+1), make([]int32, most+1)
	b.block = make([]int32, len(b.ends))
	for v := range b.at {
		if b.seen[v] == 0 {
			b.walk(int32(v), -1)
		}
	}
	return b.block, b.size
}

type blocks struct {
	ends      [][2]int32 // per element: its nodes
	at        [][]int32  // per node: its elements
	seen, low []int32
	count     int32
	stack     []int32
	block     []int32
	size      []int
}

// walk is the depth-first search from v, reached by element by.
func (b *blocks) walk(v, by int32) {
	b.count++
	b.seen[v], b.low[v] = b.count, b.count
	for _, e := range b.at[v] {
		u := b.ends[e][0] + b.ends[e][1] - v
		switch {
		case e == by:
		case b.seen[u] == 0:
			b.stack = append(b.stack, e)
			b.walk(u, e)
			b.low[v] = min(b.low[v], b.low[u])
			if b.low[u] >= b.seen[v] {
				b.close(e)
			}
		case b.seen[u] < b.seen[v]:
			b.stack = append(b.stack, e)
			b.low[v] = min(b.low[v], b.seen[u])
		}
	}
}

// close takes everything down to element e off the stack as one block.
func (b *blocks) close(e int32) {
	k := int32(len(b.size))
	b.size = append(b.size, 0)
	for {
		top := b.stack[len(b.stack)-1]
		b.stack = b.stack[:len(b.stack)-1]
		b.block[top] = k
		b.size[k]++
		if top == e {
			return
		}
	}
}
