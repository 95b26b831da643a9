package hydraulics

import (
	"errors"
	"math"
)

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
	lo, hi   []float64 // per block: bounds of what is to be added to its heads
	add      []float64 // per block: what was added
	set      []bool
	reach    []float64 // peaks, per pump subset and point; grown by Rest
	half     float64   // the line search's trial slope
	boosters []int32
}

func newStand(n *Net) stand {
	p := len(n.points)
	return stand{
		block: make([]int32, p), shift: make([]float64, p), queue: make([]int32, 0, p),
		lo: make([]float64, p+1), hi: make([]float64, p+1), add: make([]float64, p+1), set: make([]bool, p+1),
	}
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
		n.bound(s, a, w)
		n.choose(s, a, w)
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

// between calls yield for every one-way part between two blocks that is at rest but not
// shut off: the block downstream stands at least c above the other, in added head.
func (n *Net) between(s *State, a *Answer, w *Work, yield func(p, q int32, c float64)) {
	b := &w.stand
	for e := range n.elements {
		el := &n.elements[e]
		p, q := b.block[el.From], b.block[el.To]
		if p == q || !n.passes(s, int32(e)) || !n.ways[e].stiff(s.Opening[e]) {
			continue
		}
		h0, _ := n.ways[e].at(0, s.Opening[e])
		yield(p, q, a.Head[el.From]-a.Head[el.To]-h0)
	}
}

// bound finds lo and hi of every block against the held heads.
func (n *Net) bound(s *State, a *Answer, w *Work) {
	b := &w.stand
	for k := range b.count {
		b.lo[k], b.hi[k] = math.Inf(-1), math.Inf(1)
	}
	b.lo[0], b.hi[0] = 0, 0
	for range b.count {
		changed := false
		n.between(s, a, w, func(p, q int32, c float64) {
			if v := b.lo[p] + c; q != 0 && v > b.lo[q] {
				b.lo[q], changed = v, true
			}
			if v := b.hi[q] - c; p != 0 && v < b.hi[p] {
				b.hi[p], changed = v, true
			}
		})
		if !changed {
			break
		}
	}
}

// choose picks one standing for every block that all one-way parts allow: the lowest
// where a held head presses into it, else the highest that what it drains to allows,
// else the height of its first point (open to the air).
func (n *Net) choose(s *State, a *Answer, w *Work) {
	b := &w.stand
	for k := range b.count {
		b.set[k] = !math.IsInf(b.lo[k], -1)
		b.add[k] = math.Inf(1)
		if b.set[k] {
			b.add[k] = b.lo[k]
		}
	}
	n.relax(s, a, w, func(p, q int32, c float64) bool {
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
	n.relax(s, a, w, func(p, q int32, c float64) bool {
		v := b.add[p] + c
		if b.set[q] || !(v > b.add[q]) {
			return false
		}
		b.add[q] = v
		return true
	})
}

// relax repeats improve over all one-way parts between blocks until nothing changes.
func (n *Net) relax(s *State, a *Answer, w *Work, improve func(p, q int32, c float64) bool) {
	for range w.stand.count {
		changed := false
		n.between(s, a, w, func(p, q int32, c float64) { changed = improve(p, q, c) || changed })
		if !changed {
			return
		}
	}
}

// Reach marks every point that a head at the point from can press on in the state s:
// along anything that passes, one-way parts and running pumps forward only. mask has a
// place per point and is overwritten.
func (n *Net) Reach(s *State, from int32, mask []bool, w *Work) {
	clear(mask)
	mask[from] = true
	queue := append(w.stand.queue[:0], from)
	for i := 0; i < len(queue); i++ {
		u := queue[i]
		for _, e := range n.linkTo[n.link[u]:n.link[u+1]] {
			el := &n.elements[e]
			v := el.From + el.To - u
			if mask[v] || !n.passes(s, e) || u == el.To && n.ways[e].stiff(s.Opening[e]) {
				continue
			}
			mask[v] = true
			queue = append(queue, v)
		}
	}
	w.stand.queue = queue
}

// Rest completes Low and High of the answer a that Solve just gave for s with w: how
// high water cut off from everything can stand, when ever is the most that could have
// been before: per held point the greatest head it ever had, per element the greatest
// opening or speed, and Off only where it never passed anything.
//
//	a point joined to a held head           Low = Head = High
//	a trap behind a one-way part            Low what presses on it now (less the opening
//	                                        head, plus a running pump's shut-off head),
//	                                        High the greatest that could have pressed
//	shut off on all sides                   −Inf to the greatest that could have pressed
//	before a one-way part, else shut off    at most what it would drain to
//	never pressed by anything               −Inf to +Inf: not determined
//
// With every pump counted at most once on a way; with more than four pumps their
// shut-off heads are simply added up, which can only err upward.
func (n *Net) Rest(s, ever *State, a *Answer, w *Work) error {
	if err := n.checkState(ever); err != nil {
		return err
	}
	if a.Status != Converged && a.Status != Still {
		return errors.New("hydraulics: the heads of standing water need a solved answer first")
	}
	b := &w.stand
	if b.count == 1 {
		return nil
	}
	peak := n.peaks(ever, w)
	for k := range b.count {
		b.lo[k] = math.Inf(-1)
	}
	for p := range n.points { // the greatest that pressed, as head added to the block
		if k := b.block[p]; k != 0 {
			b.lo[k] = math.Max(b.lo[k], peak[p]-a.Head[p])
		}
	}
	for p := range n.points {
		k := b.block[p]
		if k == 0 || math.IsInf(b.lo[k], -1) {
			continue
		}
		most := math.Max(a.Low[p], a.Head[p]+b.lo[k])
		limit := a.Head[p] + (b.hi[k] - b.add[k])
		a.High[p] = math.Min(limit, most)
	}
	return nil
}

// peaks returns per point the greatest head that could press on it in the state ever.
func (n *Net) peaks(ever *State, w *Work) []float64 {
	b := &w.stand
	b.boosters = b.boosters[:0]
	sum := 0.0
	for e := range n.ways {
		if p := n.ways[e].pump; p != nil && n.passes(ever, int32(e)) && ever.Opening[e] > 0 {
			b.boosters = append(b.boosters, int32(e))
			sum += p.ShutOff(ever.Opening[e])
		}
	}
	if len(b.boosters) > 4 {
		b.boosters = b.boosters[:0]
	} else {
		sum = 0
	}
	size := len(n.points) << len(b.boosters)
	if cap(b.reach) < size {
		b.reach = make([]float64, size)
	}
	b.reach = b.reach[:size]
	for i := range b.reach {
		b.reach[i] = math.Inf(-1)
	}
	for p := range n.points {
		if n.points[p].Held {
			b.reach[p] = ever.Held[p]
		}
	}
	for n.spread(ever, b) {
	}
	np := len(n.points)
	for i := np; i < size; i++ {
		b.reach[i%np] = math.Max(b.reach[i%np], b.reach[i])
	}
	peak := b.reach[:np]
	for p := range peak {
		peak[p] += sum
	}
	return peak
}

// spread carries peaks one round over every element; it reports whether any rose.
// The label of a point is kept per set of pumps already passed.
func (n *Net) spread(ever *State, b *stand) bool {
	np := len(n.points)
	rose := false
	lift := func(to int, v float64) {
		if v > b.reach[to] {
			b.reach[to], rose = v, true
		}
	}
	for e := range n.elements {
		if !n.passes(ever, int32(e)) {
			continue
		}
		el, l, x := &n.elements[e], &n.ways[e], ever.Opening[e]
		bit, boost := 0, -l.opens
		if l.pump != nil && x > 0 {
			for i, f := range b.boosters {
				if int(f) == e {
					bit, boost = 1<<i, boost+l.pump.ShutOff(x)
				}
			}
		}
		back := !l.oneWay && (l.pump == nil || l.pump.passage != nil)
		for m := 0; m < len(b.reach)/np; m++ {
			f, t := m*np+int(el.From), m*np+int(el.To)
			if bit&m == 0 {
				lift((m|bit)*np+int(el.To), b.reach[f]+boost)
			} else {
				lift(t, b.reach[f]-l.opens)
			}
			if back {
				lift(f, b.reach[t])
			}
		}
	}
	return rose
}
