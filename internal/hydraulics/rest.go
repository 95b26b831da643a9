package hydraulics

import (
	"errors"
	"math"
)

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
// Every pump is counted at most once on a way, and once more on what stands trapped
// before it when it runs; with more than four pumps their shut-off heads are simply
// added up, which can only err upward.
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
	n.pair(s, a, w)
	peak := n.peaks(ever, w)
	for k := range b.count {
		b.lo[k] = math.Inf(-1)
	}
	for p := range n.points { // the greatest that pressed, as head added to the block
		if k := b.block[p]; k != 0 {
			b.lo[k] = math.Max(b.lo[k], peak[p]-a.Head[p])
		}
	}
	b.relax(func(t pair) bool { // and what that presses on in turn
		p, q := t.p, t.q
		v := math.Min(b.lo[p]+t.c, t.most)
		if p == 0 || q == 0 || !(v > b.lo[q]) {
			return false
		}
		b.lo[q] = v
		return true
	})
	for p := range n.points {
		k := b.block[p]
		if k == 0 || math.IsInf(b.lo[k], -1) {
			continue
		}
		most := math.Max(a.Low[p], a.Head[p]+b.lo[k])
		limit := a.Head[p] + b.hi[k]
		a.High[p] = math.Min(limit, most)
	}
	n.lower(a, w)
	return nil
}

// lower brings heads that only stood for "not determined" under what is known by now,
// and with them what would press on them otherwise.
func (n *Net) lower(a *Answer, w *Work) {
	b := &w.stand
	clear(b.add[:b.count])
	for p := range n.points {
		k := b.block[p]
		b.add[k] = math.Min(b.add[k], a.High[p]-a.Head[p])
	}
	b.relax(func(t pair) bool {
		p, q := t.p, t.q
		v := b.add[q] - t.c
		if t.own || p == 0 || !(v < b.add[p]) {
			return false
		}
		b.add[p] = v
		return true
	})
	for p := range n.points {
		a.Head[p] += b.add[b.block[p]]
	}
	for k := range b.count {
		b.hi[k] -= b.add[k]
	}
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
		bit, boost, cap := 0, -l.opens, math.Inf(1)
		if r, is := el.Law.(*Reducer); is && r.own {
			cap = r.set // no more has ever passed it
		}
		if l.oneWay && l.pump == nil { // what a reducing valve takes off as it is set in ever
			h0, _ := l.drop.Drop(0, x)
			boost -= math.Max(h0, 0)
		}
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
				lift((m|bit)*np+int(el.To), math.Min(b.reach[f]+boost, cap))
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
