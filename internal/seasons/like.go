package seasons

import "math"

// like is how a store that stays in the topmost band of its refill went through a stretch: any
// other that lacks as much at the start, with the same flow into that band, goes the same
// way, whatever its size. So all stores that are full, or were not dry since they were, cost one.
type like struct {
	known      bool
	flow       float64 // into the band [m³/s]
	start, end float64 // what is lacking then [m³]
	most       float64 // that is lacking on the way
	out        float64 // what is given [m³]
}

// same is how far what two stores lack may differ and count as the same: the rounding of a level. [m³]
const same = 1e-12

// remember keeps how a store went through a stretch, if it stayed in its topmost band and
// everything was given. Where people ration, what is asked hangs on the size, and nothing is kept.
func (w *Worker) remember(i int, n *now, before, least, out float64) {
	b := &w.tanks[i]
	if w.alone(b) || w.in.Ration[0] > 0 || least <= b.belowTop() {
		return
	}
	w.like = like{true, b.topFlow(n), b.usable - before, b.usable - b.level, b.usable - least, out}
}

// likeAnother takes a store through a stretch as one before it went. It reports false, having done
// nothing, where the two may part.
func (w *Worker) likeAnother(i int, n *now) bool {
	b, l := &w.tanks[i], &w.like
	if w.alone(b) || l.flow != b.topFlow(n) ||
		math.Abs(b.usable-b.level-l.start) > same || b.usable-l.most-same <= b.belowTop() {
		return false
	}
	before := b.level
	b.level = b.usable - l.end
	b.n.In += b.level - before + l.out
	b.n.Out += l.out
	b.dry, b.full = 0, false
	return true
}

// alone says that a store has to go its own way: somebody looks, it spills, its halves take turns, or it fills in pulses.
func (w *Worker) alone(b *tank) bool { return w.watch != nil || b.weep > 0 || b.inTurn || b.opens > 0 }

// belowTop is where the topmost band begins. [m³]
func (b *tank) belowTop() float64 {
	if k := len(b.edges) - 1; k > 0 {
		return b.edges[k-1]
	}
	return 0
}

func (b *tank) topFlow(n *now) float64 {
	row := b.fill[n.main]
	return row[len(row)-1]
}

// topUp takes a store through a stretch in which nothing is drawn, if it surely gets full
// within: even the last band's flow, the least of all, would bring what is lacking.
func (w *Worker) topUp(i int, n *now) bool {
	b := &w.tanks[i]
	lacks := b.usable - b.level
	if w.watch != nil || b.weep > 0 || !(lacks <= b.topFlow(n)*(n.to-n.from)) {
		return false
	}
	b.n.In += lacks
	b.level, b.dry, b.shut = b.usable, 0, b.opens > 0
	if lacks > 0 {
		b.full = false
	}
	b.turnLead(b.usable - lacks)
	return true
}
