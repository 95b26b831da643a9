package proof

import (
	"tideover/internal/circuit"
)

// Several pumps side by side have a controller that changes them about and passes over one
// that gives no water: it does not start, a valve of its own is shut, or its non-return
// valve has stuck shut. One that feels neither flow nor power, a bare pressure switch, lets
// the next one start as the pressure falls on but does not stop the first, which then runs
// dry or against a shut line. A pump with both its valves shut has been taken out of
// service and its own switch with it.
//
// Which of a set leads makes no difference to what can happen, for they are alike and stand
// alike: the first is taken to, and every valve and every failure is tried on each.

// onePump is one pump of a set, as the judgement of cases needs it.
type onePump struct {
	valves  [2]int   // hands
	noStart []uint64 // mishaps in which it does not start
	shut    []uint64 // in which its non-return valve lets nothing through
}

// readPumps reads the pumps of a set; none where there is one pump.
func (s *Space) readPumps() {
	hand := map[int]int{}
	for h := range s.Hands {
		hand[s.Hands[h].Part] = h
	}
	for _, own := range s.in.Assembly.Sets {
		p := onePump{valves: [2]int{hand[own.Valves[0]], hand[own.Valves[1]]}}
		for k := range s.Mishaps {
			m := &s.Mishaps[k]
			switch {
			case m.Upset == circuit.OnePumpNeverRuns && hasInt(m.Parts, own.Pump):
				s.set(&p.noStart, k+1)
			case hasInt(m.Parts, own.Check) && (m.ID == "check-stuck-shut" || m.ID == "check-reversed"):
				s.set(&p.shut, k+1)
			}
		}
		s.pumps = append(s.pumps, p)
	}
}

// runs asks whether a pump, an element, runs.
func (o *oracle) runs(e int32) bool {
	return o.pumping() != circuit.Standing && o.onDuty(o.s.rules[e].which)
}

// running lists the elements of the pumps that run.
func (o *oracle) running() []int32 {
	var list []int32
	for _, i := range o.s.in.Circuit.Pumps() {
		if e := o.s.in.Circuit.ElementOf(i); o.runs(e) {
			list = append(list, e)
		}
	}
	return list
}

// onDuty asks whether pump k of a set runs when the pump is asked for.
func (o *oracle) onDuty(k int) bool {
	if len(o.s.pumps) == 0 {
		return true
	}
	if o.dead(k) {
		return false
	}
	if o.gives(k) {
		return o.s.in.Assembly.Together > 1 || !o.anyGives(k)
	}
	if !o.s.in.feelsDry() && !o.takenOut(k) {
		return true
	}
	if o.anyGives(len(o.s.pumps)) {
		return false
	}
	for j := range k { // none gives: the first that starts runs for nothing
		if !o.dead(j) {
			return false
		}
	}
	return true
}

func (o *oracle) dead(k int) bool { return o.had(o.s.pumps[k].noStart) }

// gives asks whether pump k of a set, running, gives water.
func (o *oracle) gives(k int) bool {
	p := &o.s.pumps[k]
	return !o.dead(k) && o.valveOpen(p.valves[0]) && o.valveOpen(p.valves[1]) && !o.had(p.shut)
}

// anyGives asks whether one of the pumps before n gives water.
func (o *oracle) anyGives(n int) bool {
	for j := range n {
		if o.gives(j) {
			return true
		}
	}
	return false
}

func (o *oracle) takenOut(k int) bool {
	p := &o.s.pumps[k]
	return !o.valveOpen(p.valves[0]) && !o.valveOpen(p.valves[1])
}

func (o *oracle) valveOpen(h int) bool { return o.turnedTo(h, 1<<o.s.Hands[h].at("open")) }

// allDead asks whether no pump of a set starts.
func (o *oracle) allDead() bool {
	for k := range o.s.pumps {
		if !o.dead(k) {
			return false
		}
	}
	return len(o.s.pumps) > 0
}
