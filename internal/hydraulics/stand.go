package hydraulics

import "math"

// Where water stands cut off from every held head, no equation gives its head: only the
// one-way parts around it say what it cannot be. Points joined by anything that is not
// shut form a block with one unknown height of standing; a shut one-way part from block
// p to block q says "q stands at least as high as p, less the opening head, plus what a
// pump that runs adds". From the block that holds the held heads these inequalities
// carry a lowest and a highest standing to all others: shortest paths, exact.

// stand holds the blocks of the last answer.
type stand struct {
	block    []int32   // per point: 0 joined to a held head, else a block of its own
	shift    []float64 // per point, while placing
	queue    []int32
	count    int
	lo, hi   []float64 // per block: bounds of what is to be added to its heads; hi of what more
	add      []float64 // per block: what was added
	set      []bool
	pairs    []pair
	reach    []float64 // peaks, per pump subset and point; grown by Rest
	boosters []int32
}

func newStand(n *Net) stand {
	p := len(n.points)
	return stand{
		block: make([]int32, p), shift: make([]float64, p), queue: make([]int32, 0, p),
		pairs: make([]pair, 0, len(n.elements)), lo: make([]float64, p+1), hi: make([]float64, p+1), add: make([]float64, p+1), set: make([]bool, p+1),
	}
}

// pair is a one-way part at rest between two blocks: block q, downstream, stands at least
// c above block p, in added head.
type pair struct {
	p, q int32
	c    float64
}

// passes reports whether the state lets element e pass anything at all.
func (n *Net) passes(s *State, e int32) bool {
	return !s.Off[e] && !n.ways[e].closed(s.Opening[e])
}

// place hands heads across elements at rest, finds the blocks, and gives each a head
// that every one-way part around it allows, with Low..High as far as this state alone
// tells: where a block is a trap that sources press into, High is +Inf until Rest says
// what could have pressed.
func (n *Net) place(s *State, a *Answer, w *Work) {
	b := &w.stand
	n.blocks(s, a, w)
	if b.count > 1 {
		n.pair(s, a, w)
		b.bound()
		n.choose(a, w)
	}
	for p := range n.points {
		k := b.block[p]
		if k == 0 {
			a.Low[p], a.High[p] = a.Head[p], a.Head[p]
			continue
		}
		a.Head[p] += b.add[k]
		a.Low[p] = a.Head[p] + (b.lo[k] - b.add[k])
		a.High[p] = a.Head[p] + (b.hi[k] - b.add[k])
	}
	for k := range b.count { // from here on relative to the heads given
		b.hi[k] -= b.add[k]
	}
}

// blocks numbers the blocks and makes heads consistent within each.
func (n *Net) blocks(s *State, a *Answer, w *Work) {
	b := &w.stand
	b.queue = b.queue[:0]
	for p := range n.points {
		b.block[p], b.shift[p] = -1, 0
		if n.points[p].Held {
			b.block[p] = 0
			b.queue = append(b.queue, int32(p))
		}
	}
	n.flood(s, a, w, 0)
	b.count = 1
	for p := range n.points {
		if b.block[p] < 0 {
			b.block[p] = int32(b.count)
			b.queue = append(b.queue[:0], int32(p))
			n.flood(s, a, w, int32(b.count))
			b.count++
		}
	}
}

// flood spreads block k from the points in the queue.
func (n *Net) flood(s *State, a *Answer, w *Work, k int32) {
	b := &w.stand
	for i := 0; i < len(b.queue); i++ {
		u := b.queue[i]
		for _, e := range n.linkTo[n.link[u]:n.link[u+1]] {
			el := &n.elements[e]
			v := el.From + el.To - u
			if b.block[v] >= 0 || w.gone[e] || !w.live[e] && n.ways[e].stiff(s.Opening[e]) {
				continue
			}
			b.block[v] = k
			b.queue = append(b.queue, v)
			if w.live[e] {
				b.shift[v] = b.shift[u]
				a.Head[v] += b.shift[u]
				continue
			}
			h, _ := n.ways[e].at(0, s.Opening[e])
			if u == el.To {
				h = -h
			}
			head := a.Head[u] - h
			b.shift[v] = head - a.Head[v]
			a.Head[v] = head
		}
	}
}

// pair lists every one-way part between two blocks that is at rest but not shut off.
func (n *Net) pair(s *State, a *Answer, w *Work) {
	b := &w.stand
	b.pairs = b.pairs[:0]
	for e := range n.elements {
		el := &n.elements[e]
		p, q := b.block[el.From], b.block[el.To]
		if p == q || !n.passes(s, int32(e)) || !n.ways[e].stiff(s.Opening[e]) {
			continue
		}
		h0, _ := n.ways[e].at(0, s.Opening[e])
		b.pairs = append(b.pairs, pair{p, q, a.Head[el.From] - a.Head[el.To] - h0})
	}
}

// bound finds lo and hi of every block against the held heads.
func (b *stand) bound() {
	for k := range b.count {
		b.lo[k], b.hi[k] = math.Inf(-1), math.Inf(1)
	}
	b.lo[0], b.hi[0] = 0, 0
	for range b.count {
		changed := false
		for _, t := range b.pairs {
			if v := b.lo[t.p] + t.c; t.q != 0 && v > b.lo[t.q] {
				b.lo[t.q], changed = v, true
			}
			if v := b.hi[t.q] - t.c; t.p != 0 && v < b.hi[t.p] {
				b.hi[t.p], changed = v, true
			}
		}
		if !changed {
			break
		}
	}
}

// choose picks one standing for every block that all one-way parts allow: the lowest
// where a held head presses into it, else the highest that what it drains to allows,
// else the height of its first point (open to the air).
func (n *Net) choose(a *Answer, w *Work) {
	b := &w.stand
	for k := range b.count {
		b.set[k] = !math.IsInf(b.lo[k], -1)
		b.add[k] = math.Inf(1)
		if b.set[k] {
			b.add[k] = b.lo[k]
		}
	}
	b.relax(func(p, q int32, c float64) bool {
		v := b.add[q] - c
		if b.set[p] || !(v < b.add[p]) {
			return false
		}
		b.add[p] = v
		return true
	})
	for k := range b.count {
		b.set[k] = !math.IsInf(b.add[k], 1)
	}
	for p := len(n.points) - 1; p >= 0; p-- {
		if k := b.block[p]; !b.set[k] {
			b.add[k] = n.points[p].Z - a.Head[p]
		}
	}
	b.relax(func(p, q int32, c float64) bool {
		v := b.add[p] + c
		if b.set[q] || !(v > b.add[q]) {
			return false
		}
		b.add[q] = v
		return true
	})
}

// relax repeats improve over all one-way parts between blocks until nothing changes.
func (b *stand) relax(improve func(p, q int32, c float64) bool) {
	for range b.count {
		changed := false
		for _, t := range b.pairs {
			changed = improve(t.p, t.q, t.c) || changed
		}
		if !changed {
			return
		}
	}
}
