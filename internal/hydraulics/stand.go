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
	block    []int32   // per point: 0 joined to a held head, else a block of its own; the layout's
	shift    []float64 // per point, while placing
	circles  circles
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
		circles: newCircles(p),
		shift:   make([]float64, p), queue: make([]int32, 0, p),
		lo: make([]float64, p+1), hi: make([]float64, p+1), add: make([]float64, p+1), set: make([]bool, p+1),
	}
}

// pair is a one-way part at rest between two blocks: block q, downstream, stands at least
// c above block p, in added head. A regulator with a set head of its own presses q to that
// head at most, whatever p stands at, and what stands before it drains only while q is lower.
type pair struct {
	p, q int32
	c    float64
	most float64 // added head of q up to which it presses
	own  bool
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

// blocks finds the blocks, unless the layout has them already, and makes heads consistent
// within each.
func (n *Net) blocks(s *State, a *Answer, w *Work) {
	b := &w.stand
	t := n.standing(s, w)
	b.block, b.count = t.block, t.count
	for _, e := range t.still { // what is left of nothing by the last step
		a.Flow[e] = 0
	}
	clear(b.shift)
	for _, t := range t.handed {
		if t.live {
			b.shift[t.to] = b.shift[t.from]
			a.Head[t.to] += b.shift[t.from]
			continue
		}
		h := n.ways[t.e].rest(s.Opening[t.e])
		if t.back {
			h = -h
		}
		head := a.Head[t.from] - h
		b.shift[t.to] = head - a.Head[t.to]
		a.Head[t.to] = head
	}
}

// handed is one step of handing heads on: from a point across an element to another.
type handed struct {
	from, to, e int32
	live, back  bool // the element carries water; it is crossed from its far end
}

// standing is how water stands in a layout. Like its shape it has no figure in it: it
// follows from the shape and from which pumps run.
type standing struct {
	runs    []bool   // which of n.pumps run
	barred  []bool   // per element: live, but one-way parts on its ring let nothing round
	still   []int32  // those
	block   []int32  // per point
	count   int      // of blocks
	handed  []handed // in order
	between []int32  // elements between two blocks that may be one-way
}

// spins reports whether the pumps of which some stand run as they did in t.
func (n *Net) spins(s *State, t *standing) bool {
	for i, e := range n.pumps {
		if t.runs[i] != (s.Opening[e] > 0) {
			return false
		}
	}
	return true
}

// standing returns how water stands in the layout, traced once for all who share its shape.
func (n *Net) standing(s *State, w *Work) *standing {
	l := w.lay
	switch {
	case l.stood != nil && n.spins(s, l.stood):
	case l.shape == &l.own:
		l.stood = &l.ownStood
		n.trace(s, w, l.stood)
	default:
		if l.stood = n.album.stood(n, s, l.shape); l.stood == nil {
			l.stood = new(standing)
			n.trace(s, w, l.stood)
			n.album.hang(l.shape, l.stood)
		}
	}
	return l.stood
}

// trace numbers the blocks of a layout and lists how heads are handed on in each. Points
// that water joins to a held head have theirs from the solve; nothing is handed to them.
func (n *Net) trace(s *State, w *Work, t *standing) {
	b := &w.stand
	if t.block == nil {
		t.block, t.runs = make([]int32, len(n.points)), make([]bool, len(n.pumps))
	}
	for i, e := range n.pumps {
		t.runs[i] = s.Opening[e] > 0
	}
	t.handed, t.between = t.handed[:0], t.between[:0]
	n.bar(s, w, t)
	b.queue = b.queue[:0]
	for p, held := range n.held {
		t.block[p], b.set[p] = -1, false // set: the head is from the solve
		if held {
			t.block[p], b.set[p] = 0, true
			b.queue = append(b.queue, int32(p))
		}
	}
	n.flood(s, w, t, 0)
	t.count = 1
	for p := range n.points {
		if t.block[p] < 0 {
			t.block[p] = int32(t.count)
			b.queue = append(b.queue[:0], int32(p))
			n.flood(s, w, t, int32(t.count))
			t.count++
		}
	}
	for e, ends := range n.ends {
		if way := &n.ways[e]; t.block[ends[0]] != t.block[ends[1]] && (way.oneWay || way.pump != nil) {
			t.between = append(t.between, int32(e))
		}
	}
}

// flood spreads block k from the points in the queue.
func (n *Net) flood(s *State, w *Work, t *standing, k int32) {
	b, l := &w.stand, w.lay
	for i := 0; i < len(b.queue); i++ {
		u := b.queue[i]
		for _, e := range n.linkTo[n.link[u]:n.link[u+1]] {
			v := n.across(e, u)
			moves := l.live[e] && !t.barred[e]
			if t.block[v] >= 0 || l.gone[e] || !moves && n.ways[e].stiff(s.Opening[e]) {
				continue
			}
			t.block[v] = k
			b.queue = append(b.queue, v)
			if b.set[v] = b.set[u] && moves; !b.set[v] {
				t.handed = append(t.handed, handed{u, v, e, moves, u == n.ends[e][1]})
			}
		}
	}
}

// pair lists every one-way part between two blocks that is at rest but not shut off.
func (n *Net) pair(s *State, a *Answer, w *Work) {
	b := &w.stand
	b.pairs = b.pairs[:0]
	for _, e := range w.lay.stood.between {
		if x := s.Opening[e]; n.passes(s, e) && n.ways[e].stiff(x) {
			from, to := n.ends[e][0], n.ends[e][1]
			t := pair{b.block[from], b.block[to], a.Head[from] - a.Head[to] - n.ways[e].rest(x), math.Inf(1), false}
			if r, is := n.ways[e].drop.(*Reducer); is && r.own {
				t.most, t.own = r.set-a.Head[to], true
			}
			b.pairs = append(b.pairs, t)
		}
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
			if v := b.hi[t.q] - t.c; t.p != 0 && !t.own && v < b.hi[t.p] {
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
	b.relax(func(t pair) bool {
		p, q := t.p, t.q
		v := b.add[q] - t.c
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
	b.relax(func(t pair) bool {
		p, q := t.p, t.q
		v := b.add[p] + t.c
		if b.set[q] || !(v > b.add[q]) {
			return false
		}
		b.add[q] = v
		return true
	})
}

// relax repeats improve over all one-way parts between blocks until nothing changes.
func (b *stand) relax(improve func(t pair) bool) {
	for range b.count {
		changed := false
		for _, t := range b.pairs {
			changed = improve(t) || changed
		}
		if !changed {
			return
		}
	}
}
