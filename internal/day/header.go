package day

import (
	"math"

	"tideover/internal/hydraulics"
)

// tank is what changes by jumps about a header tank.
type tank struct {
	feeding  bool // its float valve is off its seat
	inBand   bool // and partly shut
	spilling bool
	dry      bool // it gives nothing
}

// lifts reports whether there is a header tank to lift to.
func (m *machine) lifts() bool { return len(m.p.Header.Surface) > 0 }

// upper is the usable water of the header tank at a level [m³]; 0 without one.
func (p *Plant) upper(level float64) float64 {
	if len(p.Header.Surface) == 0 {
		return 0
	}
	return math.Max(0, p.Header.volume(level))
}

// beginHeader starts a day with the header tank full.
func (m *machine) beginHeader(y []float64) {
	if m.lifts() {
		y[iU] = m.p.Header.volume(m.p.Header.Shut)
		m.upper.inBand = !m.p.Header.Delayed
	}
}

// setHeader writes the header tank into a state: the height of its water, how far its float
// valve stands open, and that an empty one lets nothing out.
func (m *machine) setHeader(st *hydraulics.State, y []float64) {
	h := &m.p.Header
	if !m.lifts() {
		return
	}
	level := h.level(y[iU])
	for _, at := range h.Surface {
		st.Held[at] = level
	}
	x := h.opening(level, m.upper.feeding)
	for _, e := range m.p.Lifts {
		st.Opening[e] = x
		st.Off[e] = st.Off[e] || x == 0
	}
	if m.upper.dry {
		for _, e := range m.p.at.upper {
			st.Off[e] = true
		}
	}
}

// headerFloats reports whether the header's float valve moves.
func (m *machine) headerFloats() bool { return len(m.p.Lifts) > 0 && !m.p.Header.Stuck }

// headerWatchers are those of the store, for the tank above: see storeWatchers.
func headerWatchers() []watcher {
	full := func(m *machine) float64 { return m.p.Header.volume(m.p.Header.Shut - m.p.Header.Band) }
	return []watcher{
		{ // the float valve seals
			active: func(m *machine) bool { return m.headerFloats() && m.upper.feeding },
			value:  func(m *machine, y []float64) float64 { return m.p.Header.volume(m.p.Header.sealAt()) - y[iU] },
			fire:   func(m *machine, y []float64) { m.upper.feeding = false },
		},
		{ // and opens
			active: func(m *machine) bool { return m.headerFloats() && !m.upper.feeding },
			value:  func(m *machine, y []float64) float64 { return y[iU] - m.p.Header.volume(m.p.Header.openAt()) },
			fire:   func(m *machine, y []float64) { m.upper.feeding = true },
		},
		{ // it begins to close
			active: func(m *machine) bool {
				return m.headerFloats() && m.upper.feeding && !m.p.Header.Delayed && !m.upper.inBand
			},
			value: func(m *machine, y []float64) float64 { return full(m) - y[iU] },
			fire:  func(m *machine, y []float64) { m.upper.inBand = true },
			quiet: true,
		},
		{ // and is full open again
			active: func(m *machine) bool {
				return m.headerFloats() && m.upper.feeding && !m.p.Header.Delayed && m.upper.inBand
			},
			value: func(m *machine, y []float64) float64 { return y[iU] + smallVolume - full(m) },
			fire:  func(m *machine, y []float64) { m.upper.inBand = false },
			quiet: true,
		},
		{ // the tank runs dry
			active: func(m *machine) bool { return m.lifts() && !m.upper.dry },
			value:  func(m *machine, y []float64) float64 { return y[iU] },
			fire: func(m *machine, y []float64) {
				m.upper.dry = true
				m.log.dry(m.now)
			},
		},
		{ // and gives again
			active: func(m *machine) bool { return m.lifts() && m.upper.dry },
			value:  func(m *machine, y []float64) float64 { return m.p.Header.Area*wetAgain - y[iU] },
			fire:   func(m *machine, y []float64) { m.upper.dry = false },
		},
		{ // it runs over
			active: func(m *machine) bool { return m.lifts() && !m.upper.spilling },
			value: func(m *machine, y []float64) float64 {
				return m.p.Header.volume(m.p.Header.Lip) + smallVolume - y[iU]
			},
			fire: func(m *machine, y []float64) { m.upper.spilling = true },
		},
		{ // and no longer
			active: func(m *machine) bool { return m.upper.spilling },
			value:  func(m *machine, y []float64) float64 { return m.f.up - m.f.down + smallFlow },
			fire:   func(m *machine, y []float64) { m.upper.spilling = false },
			solves: true,
		},
	}
}
