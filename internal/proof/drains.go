package proof

import "tideover/internal/assembly"

// A home has about as many drains, flush taps and test taps as valves. Each is shut in daily
// life, stands where water can be seen to run from it, and is opened for a job by itself.
// Every set of them with every position of everything else would be as many times more cases
// as there are sets; so they are covered in three passes:
//
//	one at a time   every setting in which at most one drain stands otherwise than usual, and
//	                the named settings that open several, as a drain-down before a frost does.
//	                Only these are counted.
//	near            of each named setting with several open, every setting one movement away:
//	                what one wrong hand does while the home is drained.
//	together        every set of open drains with every position of everything else, of each
//	                promise that the passes before left kept always.
//
// That is as much as every set of drains for every promise tells. A setting with several
// drains open that no card names can only take a promise from kept always to kept while hands
// obey the card: where one drain at a time did so already, or a named setting, or a failure
// in one, there is nothing left for it to change. The orders of hand movements judge each
// standing with several drains open by itself (planner.harm).
//
// Which sets matter is asked by the promise: what goes by ways alone never asks for a drain,
// for it is a way out and nothing lies behind it; what goes by a flow asks first for the flow
// with the drains tight, see tight.go.

// togetherMost is the most boxes the third pass of a promise takes: an assumption, some seconds.
const togetherMost = 100_000

// readDrains notes which hands are drains and which named settings move several.
func (s *Space) readDrains() {
	s.drains, s.crowd, s.drain = nil, 0, make([]bool, len(s.Hands))
	for h := range s.Hands {
		s.Hands[h].Normal = s.Named[0].Position[h]
		if s.in.Assembly.Parts[s.Hands[h].Part].Kind == assembly.Drain {
			s.drain[h] = true
			s.drains = append(s.drains, h)
		}
	}
	for n := range min(len(s.Named), 64) {
		if s.crowded(s.Named[n].Position) {
			s.crowd |= 1 << n
		}
	}
}

// isDrain reports whether a variable is the position of a drain.
func (s *Space) isDrain(v int) bool { return v < len(s.drain) && s.drain[v] }

// crowded reports whether more than one drain stands otherwise than usual.
func (s *Space) crowded(at []uint8) bool {
	n := 0
	for _, h := range s.drains {
		if at[h] != s.Hands[h].Normal {
			n++
		}
	}
	return n > 1
}

// strayed reports whether some drain is known to stand otherwise than usual.
func (o *oracle) strayed() bool {
	for _, h := range o.s.drains {
		if o.open[h]&o.s.normal[h] == 0 {
			return true
		}
	}
	return false
}

// bound is the one position a hand is left with by what was asked so far: of a drain while
// they are tried one at a time, of any hand one movement away from a named setting.
func (o *oracle) bound(v int) (position uint8, is bool) {
	switch {
	case o.cards || v >= len(o.s.Hands):
	case o.near > 0:
		at := o.s.Named[o.near-1].Position
		for h := range at {
			if o.open[h]>>at[h]&1 == 0 {
				return 1 << at[v], true
			}
		}
	case o.s.drain[v] && !o.together && o.strayed():
		return o.s.normal[v], true
	}
	return 0, false
}

// drainWays is in how many ways the drains stand in the box.
func (o *oracle) drainWays() uint64 {
	n := uint64(1)
	for _, h := range o.s.drains {
		switch d := o.open[h]; {
		case d&o.s.normal[h] == 0:
			return 1
		case d&(d-1) != 0:
			n++
		}
	}
	return n
}

// standings is the number of ways all hands can stand; as many as 64 bits hold when it is
// more.
func (s *Space) standings() uint64 {
	n := uint64(1)
	for h := range s.Hands {
		n = times(n, uint64(len(s.Hands[h].Positions)))
	}
	return n
}
