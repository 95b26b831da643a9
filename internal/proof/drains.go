package proof

import "tideover/internal/assembly"

// Drains are tried one at a time. A home has about as many drains, flush taps and test taps
// as valves; each is shut in daily life, stands where water can be seen to run from it, and
// is opened for a job by itself. So of all the settings those are tried in which at most one
// drain stands otherwise than usual, with every position of everything else, and besides
// them the named settings that open several, as a drain-down before a frost does: there the
// handles stand as named. To try every set of open drains would cost as many times more as
// there are sets.

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
