package day

import "math"

// pumping is what the pump does.
type pumping uint8

const (
	standing pumping = iota
	running          // at full speed
	holding          // at the speed that holds its pressure
)

// never is the time of what is not due.
var never = math.Inf(1)

// machine is everything that changes by jumps, and the buffers to solve the circuit.
type machine struct {
	p                  *Plant
	freeSide, heldSide *side            // vessel's point free; held
	last               *side            // the one solved last
	sides              map[stance]*side // in a chained run, in place of the two
	booked             bool             // the energy is booked
	trusted, trying    bool             // the solver's own word is taken: in the whole run, while a step is tried

	now     float64
	setting int
	head    float64 // of the main at the street
	mainOff bool
	power   bool
	open    []int // draws on each outlet

	pump    pumping
	allowed bool // by the lock-out
	stopped bool // by the dry-run stop
	dry     bool // the store gives nothing

	feeding  bool // the float valve is off its seat
	inBand   bool // and partly shut
	spilling bool
	hollow   bool // the vessel is empty of water
	upper    tank // the header tank
	still    bool // the vessel stands with the pipe
	left     bool // the pipe has left it since the last change
	served   []bool

	sleepAt, lockAt, dryAt, retryAt float64 // timers

	f      flows
	solves int
	log    *record
}

func newMachine(p *Plant, s *Schedule, log *record) *machine {
	n := len(p.Outlets)
	m := &machine{
		p: p, booked: !s.Unbooked, trusted: s.Trusted, power: true, allowed: p.Lock == nil,
		open: make([]int, n), served: make([]bool, n), log: log,
		sleepAt: never, lockAt: never, dryAt: never, retryAt: never,
	}
	m.f.tap = make([]float64, n)
	if s.Chained && n <= mostTold {
		m.sides = map[stance]*side{}
		return m
	}
	m.freeSide = newSide(p.Net, false)
	if p.held != nil {
		m.heldSide = newSide(p.held, true)
	}
	return m
}

// begin sets the machine as a schedule starts it and returns the vector.
func (m *machine) begin(s *Schedule) []float64 {
	y := make([]float64, iTaps+2*len(m.p.Outlets))
	if len(m.p.Store.Surface) > 0 {
		y[iV] = m.p.Store.volume(s.Level)
		st := &m.p.Store
		m.feeding = s.Level < st.Shut-st.Band/2
		if st.Delayed {
			m.feeding = s.Level <= st.openAt()
		}
		m.inBand = !st.Delayed && s.Level > st.Shut-st.Band
		m.dry = s.Level <= st.Low
	}
	m.beginHeader(y)
	if m.p.Vessel != nil {
		y[iW] = m.p.Vessel.Water(s.Vessel)
		m.hollow = y[iW] == 0
	}
	if m.p.Lock != nil {
		m.allowed = s.Allowed
	}
	return y
}

// due is the first timer.
func (m *machine) due() float64 {
	return min(m.sleepAt, m.lockAt, m.dryAt, m.retryAt)
}

// ring lets every timer due by now do its work.
func (m *machine) ring() {
	if m.sleepAt <= m.now {
		m.sleepAt = never
		m.stop()
	}
	if m.lockAt <= m.now {
		m.lockAt = never
		m.allowed = !m.allowed
		m.log.change(m.now, m.allowed)
		if !m.allowed {
			m.stop()
		}
	}
	if m.dryAt <= m.now {
		m.dryAt, m.stopped, m.retryAt = never, true, m.now+m.p.Pump.Retry
		m.log.dryStop(m.now)
		m.stop()
	}
	if m.retryAt <= m.now {
		m.retryAt, m.stopped = never, false
	}
}

func (m *machine) start() {
	m.pump, m.still = running, false
	m.log.start(m.now)
	if m.dry {
		m.dryAt = m.now + m.p.Pump.DryStop
	}
}

func (m *machine) stop() {
	m.pump, m.still = standing, false
	m.sleepAt, m.dryAt = never, never
}

// turn makes one change of the world.
func (m *machine) turn(t turn, s *Schedule) {
	m.still, m.left = false, false
	switch t.kind {
	case mains:
		was := m.mainOff
		m.head, m.mainOff = s.Main[t.n].Head, s.Main[t.n].Off
		m.log.main(m.now, was, m.mainOff)
	case hands:
		m.setting = s.Hands[t.n].Setting
	case dark:
		m.power = false
		m.stop()
	case light:
		m.power = true
	case opening:
		m.open[t.n]++
		m.served[t.n] = true
	case closing:
		m.open[t.n]--
	}
}

// quick leaves the independent certificate out while steps are tried; where events are,
// every solution carries it, but in a run that trusts the solver.
func (m *machine) quick(yes bool) { m.trying = yes }
