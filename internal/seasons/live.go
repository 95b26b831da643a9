package seasons

import (
	"math"

	"tideover/internal/demand"
)

// now is how everything stands in a stretch.
type now struct {
	from, to float64
	main     uint8
	serves   bool
	notice   bool    // the main is back and not to be drawn on
	draws    uint64  // uses the store gives
	lost     uint64  // uses that should have the store and get nothing
	leak     float64 // out of the store [m³/s]
	hangs    bool    // the home hangs on the store, not for a routine
	routine  bool
}

// live goes from one moment to another, stretch by stretch.
func (w *Worker) live(from, to float64) {
	for t := from; t < to; {
		n := w.stands(t, to)
		if n.routine && w.in.Routine.Dump > 0 {
			w.dump(t)
		}
		for until := n.to; t < until; t = n.to {
			n.from, n.to = t, until
			w.pass(&n)
			w.time[n.main] += n.to - n.from
		}
	}
}

// pass goes through a stretch in which all stands as it does, or through its first hour if anything may
// be drawn in that.
func (w *Worker) pass(n *now) {
	if n.draws|n.lost == 0 && n.leak == 0 && (n.serves || w.lines[demand.OnMain] == 0) {
		w.rest(n)
		return
	}
	if to := w.quiet(n); to > n.from {
		n.to = to
		w.rest(n)
		return
	}
	n.to = math.Min(n.to, (math.Floor(n.from/Hour)+1)*Hour)
	if w.in.Habits != (Habits{}) {
		w.behave(n)
	}
	w.hour(n)
}

// stands works out how everything stands at t, and until when.
func (w *Worker) stands(t, to float64) now {
	off, a := w.off.at(t)
	weak, b := w.weak.at(t)
	dead, c := w.dead.at(t)
	called, d := w.called.at(t)
	notice, e := w.notice.at(t)
	hour := int(t / Hour)
	n := now{from: t, to: min(to, a, b, c, d, e), notice: notice, main: w.week[hour%168]}
	switch {
	case off:
		n.main = 0
	case weak:
		n.main = w.in.Weak
	default:
		n.to = math.Min(n.to, (float64(hour)+w.stays[hour%168])*Hour)
	}
	w.outage(off, t)
	n.serves = w.in.Mains[n.main].Serves
	on := called
	if w.in.Change == Automatic {
		n.serves = w.onMain(n.main)
		on = !n.serves
	}
	if w.in.Routine.Every > 0 {
		inside, until := w.routine(t)
		n.to = math.Min(n.to, until)
		n.routine = inside && n.serves && !on && !dead
	}
	w.shares(&n, on, off || weak, dead)
	return n
}

// routine says whether the store is to be run down at t, and when that changes.
func (w *Worker) routine(t float64) (bool, float64) {
	r := &w.in.Routine
	k := math.Floor((t - r.At) / r.Every)
	if k < 0 {
		return false, r.At
	}
	if from := k*r.Every + r.At; t < from+r.Lasts {
		return true, from + r.Lasts
	}
	return false, (k+1)*r.Every + r.At
}

func (w *Worker) dump(t float64) {
	r := &w.in.Routine
	k := math.Floor((t - r.At) / r.Every)
	if k == w.dumped {
		return
	}
	w.dumped = k
	for i := range w.tanks {
		b := &w.tanks[i]
		gone := r.Dump * b.level
		b.level -= gone
		b.snap()
		b.n.Spilled += gone
	}
}

// outage notes where one begins and counts it where it ends.
func (w *Worker) outage(off bool, t float64) {
	same := off && w.inOff && w.off.list[w.off.i].From == w.offFrom
	if same || !off && !w.inOff {
		return
	}
	if w.inOff {
		for i := range w.tanks {
			b := &w.tanks[i]
			b.n.Outages++
			if !b.shortNow {
				b.n.Ridden++
			}
		}
		w.ends(t)
	}
	w.inOff = off
	if off {
		w.offFrom = w.off.list[w.off.i].From
		for i := range w.tanks {
			w.tanks[i].shortNow = w.dry()
		}
		w.begins()
	}
}

// closeDay counts the people of the day that ended, for all stores if the main stopped in it,
// else for those that left a tap without, and turns to the next.
func (w *Worker) closeDay(next int) {
	if w.touched {
		people := w.reader.People(w.day)
		for i := range w.tanks {
			b := &w.tanks[i]
			if w.failed || b.shortToday {
				b.n.PersonDays += people
			}
			if w.failed && !b.shortToday {
				b.n.Fine += people
			}
			b.shortToday = false
		}
	}
	w.day, w.touched, w.failed = next, false, false
}

// rest is a stretch in which nothing is drawn: stores fill or stand.
func (w *Worker) rest(n *now) {
	dt := n.to - n.from
	for i := range w.tanks {
		b := &w.tanks[i]
		b.dry = 0
		if w.idle(i, n) || w.topUp(i, n) {
			continue
		}
		w.run(i, n, flows{at: n.from, dt: dt})
	}
}

// idle says that nothing comes into a store, nothing spills and nobody looks: where nothing is
// drawn either, it stays as it is.
func (w *Worker) idle(i int, n *now) bool {
	b := &w.tanks[i]
	return (b.shut || b.level == b.usable || b.fill[n.main][0] == 0) && b.weep == 0 && !w.seen(i)
}

// hour is a stretch within one hour in which something is drawn, or would be.
func (w *Worker) hour(n *now) {
	if day := int(n.from / Day); day != w.day {
		w.closeDay(day)
	}
	w.summed, w.laid, w.timed, w.like.known = [demand.Stages]bool{}, none, none, false
	asked := w.total(n, 0)
	dt := n.to - n.from
	w.tally.Asked += of(asked, n.draws|n.lost) + n.leak*dt
	if !n.serves {
		w.touched, w.failed = true, true
		w.tally.Main += of(asked, w.lines[demand.OnMain]&^w.mains[n.main])
		w.tally.Called += dt
	}
	if w.plain(n) && of(asked, n.lost) == 0 {
		w.drawAll(n, of(asked, n.draws)+n.leak*dt)
		return
	}
	for i := range w.tanks {
		if !w.like.known || !w.likeAnother(i, n) {
			w.draw(i, n)
		}
	}
}

// plain says that nothing comes in, whatever the store, and nobody rations.
func (w *Worker) plain(n *now) bool {
	return !w.fills[n.main] && w.in.Ration[0] == 0
}

// drawAll is draw for all stores at once, where most have enough and nothing comes in.
func (w *Worker) drawAll(n *now, total float64) {
	for i := range w.tanks {
		b := &w.tanks[i]
		if b.level <= total {
			w.draw(i, n)
			continue
		}
		before := b.level
		b.level -= total
		b.snap()
		b.n.Out += total
		b.dry = 0
		if w.seen(i) {
			w.show(i, n, Span{From: n.from, To: n.to, Before: before, After: b.level, Out: total / (n.to - n.from), Lead: b.lead})
		}
	}
}

const none = -1

func (w *Worker) total(n *now, stage int) []float64 {
	t := w.totals[stage]
	if !w.summed[stage] {
		w.reader.Total(n.from, n.to, stage, t)
		w.summed[stage] = true
	}
	return t
}

// stage is how hard people ration, once they know: the main does not serve and the store is low.
func (w *Worker) stage(b *tank, n *now) int {
	switch share := b.level / b.usable; {
	case n.serves || share >= w.in.Ration[0]:
		return 0
	case share >= w.in.Ration[1]:
		return 1
	}
	return 2
}

// draw takes a stretch's draws out of one store: by their total where their order cannot
// matter, else one by one.
func (w *Worker) draw(i int, n *now) {
	b := &w.tanks[i]
	stage := 0
	if w.in.Ration[0] > 0 {
		stage = w.stage(b, n)
	}
	total, dt := w.total(n, stage), n.to-n.from
	leak, asked, lost := n.leak, of(total, n.draws), of(total, n.lost)
	if lost == 0 && w.simple(i, n, asked+leak*dt) {
		return
	}
	if b.level == 0 && b.fill[n.main][0] == 0 && !n.routine {
		b.n.Barred += lost
		w.parch(i, n, stage, asked+lost)
		return
	}
	if n.draws == 0 && n.leak == 0 {
		w.bar(i, n, stage, lost)
		return
	}
	if w.laid != stage {
		w.pieces, w.laid = w.reader.Pieces(n.from, n.to, stage, n.draws, n.lost), stage
	}
	short, before, least := b.n.Short, b.level, b.level
	for k := range w.pieces {
		if p := &w.pieces[k]; !w.glide(i, n, p, leak) {
			w.run(i, n, flows{p.From, p.To - p.From, p.Flow, leak, p.Lost})
		}
		least = min(least, b.level)
	}
	if b.n.Short > short {
		b.shortNow, b.shortToday, w.touched = true, true, true
	}
	if lost == 0 {
		w.remember(i, n, before, least, asked+leak*dt)
	}
}

// running is how long any tap is open in a stretch.
func (w *Worker) running(n *now, stage int) float64 {
	if w.timed != stage {
		w.timed, w.open = stage, w.reader.Running(n.from, n.to, stage, n.draws|n.lost)
	}
	return w.open
}

// glide takes a piece of one flow where the store stays within one band of its refill, or
// full, and all is given: what run would do, in one line. It reports false, having done
// nothing, where run must look closer.
func (w *Worker) glide(i int, n *now, p *demand.Piece, leak float64) bool {
	b := &w.tanks[i]
	if p.Lost > 0 || b.weep > 0 || b.opens > 0 {
		return false
	}
	row, want, dt := b.fill[n.main], p.Flow+leak, p.To-p.From
	if b.level == b.usable {
		if row[len(row)-1] < want {
			return false
		}
		b.n.In += want * dt
		b.n.Out += want * dt
		b.dry = 0
		if w.watch != nil {
			w.glided(i, n, p, b.level, want, want)
		}
		return true
	}
	k := b.band()
	low := 0.0
	if k > 0 {
		low = b.edges[k-1]
	}
	next := b.level + (row[k]-want)*dt
	if b.level <= low || next <= low || next >= b.edges[k] {
		return false
	}
	before := b.level
	b.level, b.dry, b.full = next, 0, false
	b.n.In += row[k] * dt
	b.n.Out += want * dt
	if w.watch != nil {
		w.glided(i, n, p, before, row[k], want)
	}
	return true
}

// glided shows such a piece to who looks.
func (w *Worker) glided(i int, n *now, p *demand.Piece, before, in, out float64) {
	if w.seen(i) && p.To > p.From {
		w.show(i, n, Span{From: p.From, To: p.To, Before: before, After: w.tanks[i].level, In: in, Out: out, Lead: w.tanks[i].lead})
	}
}

// bar is a stretch in which the store gives nothing to those who want it: all is short,
// and the store only fills.
func (w *Worker) bar(i int, n *now, stage int, lost float64) {
	b := &w.tanks[i]
	if w.idle(i, n) {
		if b.level > 0 {
			b.dry = 0
		}
	} else if !w.topUp(i, n) {
		w.run(i, n, flows{at: n.from, dt: n.to - n.from})
	}
	if lost > 0 {
		b.n.Short += lost
		b.n.Barred += lost
		b.n.Unserved += w.running(n, stage)
		b.shortNow, b.shortToday, w.touched = true, true, true
	}
}

// parch is a stretch in which a store is empty and nothing comes in: all is short.
func (w *Worker) parch(i int, n *now, stage int, asked float64) {
	b, dt := &w.tanks[i], n.to-n.from
	if n.hangs {
		b.dry += dt
		b.n.Empty += dt
		b.n.Worst = max(b.n.Worst, b.dry)
	}
	if asked > 0 {
		b.n.Short += asked
		b.n.Unserved += w.running(n, stage)
		b.shortNow, b.shortToday, w.touched = true, true, true
	}
	if w.seen(i) {
		w.show(i, n, Span{From: n.from, To: n.to, Lead: b.lead})
	}
}

// simple takes a stretch's total where the store can neither run dry, fill up nor change
// its refill within it, whatever the order of the draws.
func (w *Worker) simple(i int, n *now, total float64) bool {
	b := &w.tanks[i]
	if b.opens > 0 {
		return false
	}
	row, dt := b.fill[n.main], n.to-n.from
	low, high, q := 0.0, b.usable, row[0]
	if q > 0 {
		k := b.band()
		if k == len(b.edges) {
			return false
		}
		high, q = b.edges[k], row[k]
		if k > 0 {
			low = b.edges[k-1]
		}
	}
	if b.level-total <= low || b.level+q*dt > high {
		return false
	}
	before := b.level
	b.level += q*dt - total
	b.dry = 0
	b.n.In += q * dt
	b.n.Out += total
	if w.seen(i) {
		w.show(i, n, Span{From: n.from, To: n.to, Before: before, After: b.level, In: q, Out: total / dt, Lead: b.lead})
	}
	return true
}

// seen says that somebody looks at a store.
func (w *Worker) seen(i int) bool { return w.watch != nil && w.watch[i] != nil }

func (w *Worker) show(i int, n *now, s Span) {
	s.Main, s.Lost, s.Hangs = n.main, n.lost != 0, n.hangs && n.draws|n.lost != 0
	w.span = s
	w.watch[i].See(&w.span)
}
