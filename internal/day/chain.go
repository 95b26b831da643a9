package day

// A chained run starts every solve from the last one in which pump, taps, valves and settings stood
// as they do, however long ago. Over a day the same few stances come back some hundred times, and
// such a start lies near, where the one before the change does not: it is quicker by a third. Flows
// are the same within the solver's tolerance and not to the last bit: figures of the day move by
// less than 1e-9 of themselves, and owe nothing to anything outside the run.

// stance is what jumps and decides which parts carry water; that of the levels is not in it.
type stance struct {
	setting                             int
	open                                uint64 // taps, as bits
	pump                                pumping
	held, off, feeding, dry, lifts, low bool
}

// mostTold is how many taps a stance tells apart.
const mostTold = 64

// side is the form of the circuit to solve, with its buffers.
func (m *machine) side() *side {
	s := m.stood()
	s.work.Quick = m.trying || m.trusted
	return s
}

// stood is the side last solved in this stance; of a run that is not chained the one of two.
func (m *machine) stood() *side {
	held := m.taking()
	if m.sides == nil {
		if held {
			return m.heldSide
		}
		return m.freeSide
	}
	k := stance{setting: m.setting, pump: m.pump, held: held, off: m.mainOff, feeding: m.feeding, dry: m.dry, lifts: m.upper.feeding, low: m.upper.dry}
	for n, draws := range m.open {
		if draws > 0 {
			k.open |= 1 << n
		}
	}
	s := m.sides[k]
	if s == nil {
		net := m.p.Net
		if held {
			net = m.p.held
		}
		s = newSide(net, held)
		s.work.Stays = true
		m.sides[k] = s
	}
	return s
}
