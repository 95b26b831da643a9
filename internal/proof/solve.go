package proof

import (
	"math"

	"tideover/internal/circuit"
)

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
	street, surface, header := false, false, false
	for _, e := range list {
		x := 1.0
		if r := &o.s.rules[e]; r.turning != nil || r.half != 0 {
			x = o.opening(e)
		} else if r.pump {
			k.add(saltPump + uint64(o.pumping()))
			if x = 0; o.runs(e) {
				x = 1
			}
		}
		w.state.Opening[e] = x
		k.add(uint64(e)<<8 | uint64(x*128))
		for _, p := range [2]int32{elements[e].From, elements[e].To} {
			street = street || o.s.points[p].street
			surface = surface || o.s.points[p].surface && !o.s.points[p].upper
			header = header || o.s.points[p].upper
		}
	}
	main, level, upper := 0.0, 0.0, 0.0
	if street {
		n := o.only(len(o.s.Hands) + vMain)
		main = o.s.Mains[n]
		k.add(saltMain + uint64(n))
	}
	if surface {
		level = o.level()
		k.float(level)
	}
	if header {
		upper = o.upper()
		k.add(saltHeader)
		k.float(upper)
	}
	o.s.hold(w.state, main, level, upper)
	return k
}

// solve solves the circuit of a list of elements; its key is k.
func (o *oracle) solve(k key, list []int32) {
	w := o.w
	w.memo.met(k)
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
	var lifting []int32
	for _, i := range c.Pumps() { // one that is not on the list must not be asked about
		if e := c.ElementOf(i); !w.state.Off[e] && o.pumping() == circuit.Holding && o.runs(e) {
			lifting = append(lifting, e)
		}
	}
	if len(lifting) > 0 {
		k := c.ControlOf()
		at := c.PointOf(k.Senses.Part, k.Senses.Port)
		if w.mark[at] == w.stamp {
			z := o.s.in.Assembly.Parts[k.Senses.Part].Ports[k.Senses.Port].Z
			return c.Net.HoldTogether(w.state, w.ans, w.work, lifting, at, circuit.HeadOf(k.Off, z))
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
	case held.upper:
		z := o.upper()
		return Interval{z, z}
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
// the mishaps of this case let through beside. A stuck pump that draws on the main counts
// there as one whose controller works: what it makes stuck, the case in which it runs shows,
// and it must not be counted once more on the water before it.
func (o *oracle) rest() error {
	w := o.w
	if p := w.s.in.Circuit.Pump(); p >= 0 { // side by side they press no higher than one
		w.ever.Opening[w.s.in.Circuit.ElementOf(p)] = w.s.stops
		if o.upset(circuit.PumpAlwaysRuns) && w.s.in.Circuit.Store {
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
