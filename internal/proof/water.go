package proof

import (
	"math"

	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// water is one worker's buffers for following and solving water. Only the water that a
// question is about is looked at: it is followed from the part asked about through
// everything that passes to where its head is held, and held heads keep waters apart. What
// then carries nothing whatever the heads (a branch with no way on, a way that can only be
// left or only be entered) is taken off before solving; circuits alike in what is left are
// solved once.
type water struct {
	s      *Space
	memo   *memo
	mark   []uint32 // per point
	seen   []uint32 // per element
	stamp  uint32
	queue  []int32
	comp   []int32 // the elements followed
	live   []int32 // those that can carry water
	dead   []bool  // per element
	in     []int16 // per point: live elements that can bring water
	out    []int16 // that can take it
	any    []int16 // that are there
	check  []int32 // points to look at again
	state  *hydraulics.State
	ever   *hydraulics.State
	ans    *hydraulics.Answer
	work   *hydraulics.Work
	last   key  // of the circuit in ans
	have   bool // ans holds one
	fine   bool // it was certified
	solves int  // circuits solved or found solved

	flooded []uint32 // per point, going upstream
	floods  uint32
	upward  []int32

	alive  []uint32 // per element: live in the water followed last
	whole  key      // of all that was followed
	some   key      // of what is live in it
	stages [4]stage // what is known of the water followed last
}

func newWater(s *Space, m *memo) *water {
	net := s.in.Circuit.Net
	p, e := len(net.Points()), len(net.Elements())
	w := &water{s: s, memo: m, mark: make([]uint32, p), flooded: make([]uint32, p), seen: make([]uint32, e), alive: make([]uint32, e), dead: make([]bool, e),
		in: make([]int16, p), out: make([]int16, p), any: make([]int16, p),
		state: net.NewState(), ever: net.NewState(), ans: net.NewAnswer(), work: net.NewWork()}
	for k := range w.state.Off {
		w.state.Off[k], w.dead[k] = true, true
	}
	copy(w.ever.Held, s.ever.Held)
	copy(w.ever.Off, s.ever.Off)
	w.work.Quick = true
	return w
}

// stage is a step in looking at one water, good for as long as the forks before its end
// stand as they did.
type stage struct {
	done  bool
	end   int
	after box
}

// The stages: followed, stripped of what carries nothing, the keys of what is live and of
// the whole.
const (
	spreadOut = iota
	stripped
	someKey
	wholeKey
)

// reached reports whether a stage is done, and then takes the oracle to its end.
func (o *oracle) reached(n int) bool {
	st := &o.w.stages[n]
	if st.done && o.at < st.end {
		o.put(st.after)
		o.at = st.end
	}
	return st.done
}

// done closes a stage.
func (o *oracle) done(n int) {
	st := &o.w.stages[n]
	st.done, st.end = true, o.at
	st.after.open = append(st.after.open[:0], o.open...)
	st.after.failed = append(st.after.failed[:0], o.failed...)
	st.after.named = o.named
}

// undo forgets the stages that hung on fork n.
func (w *water) undo(n int) {
	for k := range w.stages {
		w.stages[k].done = w.stages[k].done && w.stages[k].end <= n
	}
}

// flow asks for the flow through a part.
func (o *oracle) flow(part int) float64 {
	if o.plainly != nil {
		return o.plainly.flow(part)
	}
	if n, known := o.recall(); known {
		return n.low
	}
	o.solved = true
	q := 0.0
	if o.followed(part) || o.followFrom(part) {
		if !o.reached(stripped) {
			o.w.strip(o)
			o.done(stripped)
		}
		if o.w.carries(part) {
			q = o.flowOf(part)
		}
	}
	o.note(note{low: q})
	return q
}

// followed reports whether the water followed last is that of the part: then all there is
// to know about it is known.
func (o *oracle) followed(part int) bool {
	w := o.w
	if !w.stages[spreadOut].done {
		return false
	}
	for _, e := range o.s.parts[part] {
		if w.seen[e] != w.stamp {
			return false
		}
	}
	return o.reached(spreadOut)
}

// followFrom follows the water of a part; false when the part passes nothing.
func (o *oracle) followFrom(part int) bool {
	w := o.w
	w.fresh()
	elements := o.s.in.Circuit.Net.Elements()
	for _, e := range o.s.parts[part] {
		w.seen[e] = w.stamp
		if o.on(e) {
			w.comp = append(w.comp, e)
			w.reach(elements[e].From)
			w.reach(elements[e].To)
		}
	}
	o.spread()
	return len(w.comp) > 0
}

// fresh forgets the water followed last.
func (w *water) fresh() {
	w.stamp++
	w.queue, w.comp = w.queue[:0], w.comp[:0]
	w.undo(-1)
}

// reach queues a free point.
func (w *water) reach(p int32) {
	if w.mark[p] != w.stamp && !w.s.points[p].held {
		w.mark[p] = w.stamp
		w.queue = append(w.queue, p)
	}
}

// spread follows the water from the points queued.
func (o *oracle) spread() {
	w := o.w
	elements := o.s.in.Circuit.Net.Elements()
	for i := 0; i < len(w.queue); i++ {
		for _, e := range o.s.in.Circuit.Touching(w.queue[i]) {
			if w.seen[e] == w.stamp {
				continue
			}
			w.seen[e] = w.stamp
			if o.on(e) {
				w.comp = append(w.comp, e)
				w.reach(elements[e].From)
				w.reach(elements[e].To)
			}
		}
	}
	o.done(spreadOut)
}

// strip leaves in live what can carry water: at every free point something must be able to
// bring it and something else to take it away.
func (w *water) strip(o *oracle) {
	elements := w.s.in.Circuit.Net.Elements()
	for _, p := range w.queue {
		w.in[p], w.out[p], w.any[p] = 0, 0, 0
	}
	for _, e := range w.comp {
		w.dead[e] = false
		w.weigh(o, e, 1)
	}
	w.check = append(w.check[:0], w.queue...)
	for len(w.check) > 0 {
		p := w.check[len(w.check)-1]
		w.check = w.check[:len(w.check)-1]
		if w.any[p] == 0 || w.in[p] > 0 && w.out[p] > 0 && w.any[p] > 1 {
			continue
		}
		for _, e := range w.s.in.Circuit.Touching(p) {
			if w.seen[e] == w.stamp && !w.dead[e] && w.inComp(e) {
				w.dead[e] = true
				w.weigh(o, e, -1)
				if u := elements[e].From + elements[e].To - p; !w.s.points[u].held {
					w.check = append(w.check, u)
				}
			}
		}
	}
	w.live = w.live[:0]
	for _, e := range w.comp {
		if !w.dead[e] {
			w.live = append(w.live, e)
			w.alive[e] = w.stamp
		}
		w.dead[e] = true
	}
	if !w.feels(o) {
		w.live = append(w.live[:0], w.comp...)
		for _, e := range w.live {
			w.alive[e] = w.stamp
		}
	}
}

// feels reports whether a pump that holds a pressure can be solved by what is live alone:
// the place where its controller feels must be on it.
func (w *water) feels(o *oracle) bool {
	c := w.s.in.Circuit
	pump := c.Pump()
	if pump < 0 || w.alive[c.ElementOf(pump)] != w.stamp || o.pumping() != circuit.Holding {
		return true
	}
	k := c.ControlOf()
	for _, e := range c.Touching(c.PointOf(k.Senses.Part, k.Senses.Port)) {
		if w.alive[e] == w.stamp {
			return true
		}
	}
	return false
}

// inComp: an element seen is in comp if and only if it passes; dead is false only for those.
func (w *water) inComp(e int32) bool { return !w.dead[e] }

// weigh adds an element to, or takes it from, what its ends can bring and take.
func (w *water) weigh(o *oracle, e int32, d int16) {
	el, r := &w.s.in.Circuit.Net.Elements()[e], &w.s.rules[e]
	back := !r.oneWay && !(r.pump && o.pumping() != circuit.Standing)
	w.any[el.From] += d
	w.any[el.To] += d
	w.out[el.From] += d
	w.in[el.To] += d
	if back {
		w.in[el.From] += d
		w.out[el.To] += d
	}
}

// carries reports whether an element of the part is live.
func (w *water) carries(part int) bool {
	for _, e := range w.s.parts[part] {
		if w.alive[e] == w.stamp {
			return true
		}
	}
	return false
}

// flowOf works out the flow through a part of the live circuit.
func (o *oracle) flowOf(part int) float64 {
	w := o.w
	k := o.keyOfLive()
	w.solves++
	if w.have && w.last == k {
		o.solved = w.fine
		return w.through(part)
	}
	if low, _, ok, known := w.memo.get(k, int32(part)); known {
		o.solved = ok
		return low
	}
	o.solve(k, w.live)
	q := w.through(part)
	o.solved = w.fine
	w.memo.put(k, int32(part), q, q, w.fine)
	return q
}

// through sums the flows of a part's elements in its own direction.
func (w *water) through(part int) float64 {
	c := w.s.in.Circuit
	ports := w.s.in.Assembly.Parts[part].Ports
	sum := 0.0
	if !w.fine {
		return 0
	}
	for _, e := range w.s.parts[part] {
		el := &c.Net.Elements()[e]
		a := c.PointOf(part, 0)
		switch {
		case len(ports) == 1 && el.To == a && w.s.rules[e].nature == airs:
			sum -= w.ans.Flow[e]
		case len(ports) == 2 && el.From == c.PointOf(part, 1) && el.To == a:
			sum -= w.ans.Flow[e]
		case len(ports) == 2 && el.From == c.PointOf(part, 1):
			// out of the side of a part: not through it
		default:
			sum += w.ans.Flow[e]
		}
	}
	return sum
}

// prepare asks for everything the circuit of these elements hangs on beside which they
// are, and returns its key. It leaves openings and held heads in the state.
func (o *oracle) prepare(list []int32) key {
	w := o.w
	elements := o.s.in.Circuit.Net.Elements()
	var k key
	street, surface := false, false
	for _, e := range list {
		x := 1.0
		if r := &o.s.rules[e]; r.turning != nil || r.half != 0 {
			x = o.opening(e)
		} else if r.pump {
			p := o.pumping()
			k.add(saltPump + uint64(p))
			if x = 0; p != circuit.Standing {
				x = 1
			}
		}
		w.state.Opening[e] = x
		k.add(uint64(e)<<8 | uint64(x*128))
		for _, p := range [2]int32{elements[e].From, elements[e].To} {
			street = street || o.s.points[p].street
			surface = surface || o.s.points[p].surface
		}
	}
	main, level := 0.0, 0.0
	if street {
		n := o.only(len(o.s.Hands) + vMain)
		main = o.s.Mains[n]
		k.add(saltMain + uint64(n))
	}
	if surface {
		level = o.level()
		k.float(level)
	}
	o.s.hold(w.state, main, level)
	return k
}

// solve solves the circuit of a list of elements; its key is k.
func (o *oracle) solve(k key, list []int32) {
	w := o.w
	o.prepare(list)
	for _, e := range list {
		w.state.Off[e] = false
	}
	err := o.solveHeld()
	for _, e := range list {
		w.state.Off[e] = true
	}
	w.last, w.have, w.fine = k, true, err == nil
}

// solveHeld solves with the pump at the speed its controller gives it.
func (o *oracle) solveHeld() error {
	w, c := o.w, o.s.in.Circuit
	pump := c.Pump()
	if pump >= 0 && !w.state.Off[c.ElementOf(pump)] && o.pumping() == circuit.Holding {
		k := c.ControlOf()
		at := c.PointOf(k.Senses.Part, k.Senses.Port)
		if w.mark[at] == w.stamp {
			z := o.s.in.Assembly.Parts[k.Senses.Part].Ports[k.Senses.Port].Z
			return c.Net.HoldPressure(w.state, w.ans, w.work, c.ElementOf(pump), at, circuit.HeadOf(k.Off, z))
		}
	}
	return c.Net.Solve(w.state, w.ans, w.work)
}

// head asks where the head at a point can stand.
func (o *oracle) head(point int32) Interval {
	if o.plainly != nil {
		return o.plainly.head(point)
	}
	if n, known := o.recall(); known {
		return Interval{n.low, n.high}
	}
	o.solved = true
	at := o.headOf(point)
	o.note(note{low: at.Low, high: at.High})
	return at
}

func (o *oracle) headOf(point int32) Interval {
	w, held := o.w, &o.s.points[point]
	switch {
	case held.street:
		h, _ := o.mainHead()
		return Interval{h, h}
	case held.surface:
		z := o.level()
		return Interval{z, z}
	case held.held:
		z := o.s.in.Circuit.Net.Points()[point].Z
		return Interval{z, z}
	}
	if !w.stages[spreadOut].done || w.mark[point] != w.stamp || !o.reached(spreadOut) {
		w.fresh()
		w.reach(point)
		o.spread()
	}
	if !o.reached(stripped) {
		w.strip(o)
		o.done(stripped)
	}
	if w.moving(point) {
		if at, runs := o.headMoving(point); runs {
			return at
		}
	}
	if !o.reached(wholeKey) {
		w.whole = o.prepare(w.comp)
		w.whole.add(saltRest)
		if o.upset(circuit.PumpAlwaysRuns) {
			w.whole.add(saltRest + 1)
		}
		o.done(wholeKey)
	}
	k := w.whole
	w.solves++
	if low, high, ok, known := w.memo.get(k, -1-point); known {
		o.solved = ok
		return Interval{low, high}
	}
	if !w.have || w.last != k {
		o.solve(k, w.comp)
		w.fine = w.fine && o.rest() == nil
	}
	low, high := w.ans.Low[point], w.ans.High[point]
	o.solved = w.fine
	w.memo.put(k, -1-point, low, high, w.fine)
	return Interval{low, high}
}

// moving reports whether a point lies on what is live: then its head is one number, and
// what is live tells it.
func (w *water) moving(point int32) bool {
	for _, e := range w.s.in.Circuit.Touching(point) {
		if w.alive[e] == w.stamp {
			return true
		}
	}
	return false
}

// headMoving is the head at a point of the live circuit. runs is false where no water
// moves there after all: between two non-return valves that both could bring some, water
// stands, and its head is an interval.
func (o *oracle) headMoving(point int32) (at Interval, runs bool) {
	w := o.w
	k := o.keyOfLive()
	w.solves++
	if !w.have || w.last != k {
		if low, high, ok, known := w.memo.get(k, -1-point); known {
			o.solved = ok
			return Interval{low, high}, true
		}
		o.solve(k, w.live)
	}
	if w.fine && !w.runs(point) {
		return Interval{}, false
	}
	w.memo.put(k, -1-point, w.ans.Head[point], w.ans.Head[point], w.fine)
	o.solved = w.fine
	return Interval{w.ans.Head[point], w.ans.Head[point]}, true
}

// runs reports whether water moves at a point in the answer.
func (w *water) runs(point int32) bool {
	for _, e := range w.s.in.Circuit.Touching(point) {
		if math.Abs(w.ans.Flow[e]) > 1e-12 {
			return true
		}
	}
	return false
}

// keyOfLive is the key of what is live in the water followed last.
func (o *oracle) keyOfLive() key {
	if !o.reached(someKey) {
		o.w.some = o.prepare(o.w.live)
		o.done(someKey)
	}
	return o.w.some
}

// rest completes the intervals of standing water: what could ever have pressed, and what
// the mishaps of this case let through beside.
func (o *oracle) rest() error {
	w := o.w
	if p := w.s.in.Circuit.Pump(); p >= 0 {
		w.ever.Opening[w.s.in.Circuit.ElementOf(p)] = w.s.stops
		if o.upset(circuit.PumpAlwaysRuns) {
			w.ever.Opening[w.s.in.Circuit.ElementOf(p)] = 1
		}
	}
	for _, e := range w.comp {
		w.state.Off[e] = false
		if w.s.rules[e].nature == never {
			w.ever.Off[e] = false
			w.ever.Opening[e] = w.state.Opening[e]
		}
	}
	err := w.s.in.Circuit.Net.Rest(w.state, w.ever, w.ans, w.work)
	for _, e := range w.comp {
		w.state.Off[e] = true
		w.ever.Off[e] = w.s.ever.Off[e]
	}
	return err
}
