package proof

import (
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
	copy(w.ever.Opening, s.ever.Opening)
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
	if !w.lifted(o) || o.pumping() != circuit.Holding {
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

// lifted reports whether a pump that runs is live.
func (w *water) lifted(o *oracle) bool {
	for _, i := range w.s.in.Circuit.Pumps() {
		if e := w.s.in.Circuit.ElementOf(i); w.alive[e] == w.stamp && o.runs(e) {
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
	back := !r.oneWay && !(r.pump && o.runs(e))
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
