package demand

// Shared keeps the draws of one home's hours for several readers of homes that draw alike, so
// that an hour is made once, whoever asks first. One goroutine uses all of them. It holds the
// hours since it was last cleared: clear it every year.
type Shared struct {
	at     [yearHours]kept
	pulses []pulse
}

// kept is where the draws of an hour lie.
type kept struct {
	hour     int // and 1 more; 0 none
	from, to int32
}

// Clear forgets all hours: before another home, and before another year.
func (s *Shared) Clear() {
	clear(s.at[:])
	s.pulses = s.pulses[:0]
}

// Share has a reader take its draws from those kept. All its readers are of homes alike (see
// Home.Alike) and turned to the same one.
func (r *Reader) Share(s *Shared) { r.shared = s }

// of returns the draws that begin in an hour, made by a reader if nobody asked before.
func (s *Shared) of(r *Reader, hour int) []pulse {
	k := &s.at[hour%yearHours]
	if k.hour != hour+1 {
		own, from := r.pulses, len(s.pulses)
		r.pulses = s.pulses
		r.draws(hour)
		s.pulses, r.pulses = r.pulses, own
		*k = kept{hour + 1, int32(from), int32(len(s.pulses))}
	}
	return s.pulses[k.from:k.to]
}

// Alike says that two homes draw the same in every hour, whatever line it hangs on, whatever taps and
// whatever is cut when water is rationed.
func (m *Home) Alike(o *Home) bool {
	if m.Seed != o.Seed || m.People != o.People || m.Scale != o.Scale || m.DaySpread != o.DaySpread || m.Below != o.Below || m.Above != o.Above ||
		m.Away != o.Away || m.Guests != o.Guests || m.Extra != o.Extra || len(m.Uses) != len(o.Uses) {
		return false
	}
	for i := range m.Uses {
		a, b := m.Uses[i], o.Uses[i]
		a.Line, a.Taps, a.Keep, a.Less = b.Line, b.Taps, b.Keep, b.Less
		if a != b {
			return false
		}
	}
	return true
}
