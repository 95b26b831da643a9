package day

import (
	"fmt"
	"math"
	"slices"

	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// Places in the vector that integrates. V and W move the circuit; the rest add up.
const (
	iV      = iota // usable water in the store [m³]
	iW             // water in the vessel [m³]
	iU             // usable water in the header tank [m³]
	iIn            // through the float valves [m³]
	iOut           // out of the store [m³]
	iSpill         // over the lip [m³]
	iStreet        // from the main [m³]
	iSocket        // electrical energy [J]
	iRun           // time the pump runs [s]
	iPumped        // by the pump [m³]
	eStreet        // energy given, in m³ of water times m of head
	eStore         //
	ePump          //
	eVessel        // taken
	eMouth         // taken at mouths
	eLoss          // lost by the elements' laws
	iTaps          // then per outlet: water [m³], then time open and not served [s]
)

// flows is what the circuit does at one moment.
type flows struct {
	in, out, vessel float64 // float valves; out of the store; into the vessel
	up, down        float64 // into the header tank and out of it
	pump, speed     float64
	sensor          float64 // head the pump's controller feels; −Inf: nothing presses there
	known           bool    // it is one number
	lock            float64 // head the lock-out feels
	free            float64 // head at the vessel's point where the vessel takes no part
	tap             []float64
}

// side is one form of the circuit with the buffers to solve it.
type side struct {
	held   bool    // the vessel's point
	speed  float64 // of the pump the last time it held
	net    *hydraulics.Net
	state  *hydraulics.State
	answer *hydraulics.Answer
	work   *hydraulics.Work
}

func newSide(n *hydraulics.Net, held bool) *side {
	s := &side{held: held, speed: 0.9, net: n, state: n.NewState(), answer: n.NewAnswer(), work: n.NewWork()}
	s.work.Warm = true
	return s
}

// taking reports whether the vessel's water decides the head where it hangs.
func (m *machine) taking() bool {
	return m.p.Vessel != nil && !m.hollow && !m.still && m.pump != holding
}

// solve finds the flows at y and their rates.
func (m *machine) solve(y, dy []float64) error {
	if err := m.find(y); err != nil {
		return err
	}
	m.rates(m.last, y, dy)
	return nil
}

// find finds the flows at y.
func (m *machine) find(y []float64) error {
	s := m.side()
	m.last = s
	m.set(s, y)
	if err := m.steady(s); err != nil {
		return fmt.Errorf("day: at %.1f s: %w", m.now, err)
	}
	m.solves++
	m.read(s, y)
	return nil
}

// set writes the moment into a state.
func (m *machine) set(s *side, y []float64) {
	p, st := m.p, s.state
	copy(st.Off, p.Shut[m.setting])
	if p.Street >= 0 {
		st.Held[p.Street] = m.head
		if p.Crowd != nil {
			st.Opening[p.Main] = p.Crowd(m.head)
		}
		st.Off[p.Main] = st.Off[p.Main] || m.mainOff
	}
	level := p.Store.level(y[iV])
	for _, at := range p.Store.Surface {
		st.Held[at] = level
	}
	x := m.opening(level)
	for _, e := range p.Floats {
		st.Opening[e] = x
		st.Off[e] = st.Off[e] || x == 0
	}
	m.setHeader(st, y)
	for n := range p.Outlets {
		if m.open[n] == 0 {
			st.Off[p.Outlets[n].Element] = true
		}
	}
	if s.held {
		st.Held[p.Vessel.Point] = p.Vessel.Head(y[iW])
	}
	if p.Pump != nil {
		p.Pump.turn(st, m.pump == running, m.dry)
	} else if m.dry { // no pump to shut off: nothing leaves the empty store
		for _, e := range p.at.surface {
			st.Off[e] = true
		}
	}
}

// turn has the pumps run at full speed or stand; those without water pass none.
func (p *Pump) turn(st *hydraulics.State, full, dry bool) {
	x := 0.0
	if full {
		x = 1
	}
	p.speed(st, x)
	for _, e := range p.Spare {
		st.Opening[e] = 0
		st.Off[e] = st.Off[e] || dry
	}
	for _, e := range p.With {
		st.Off[e] = st.Off[e] || dry
	}
	st.Off[p.Element] = st.Off[p.Element] || dry
}

// speed sets that of the pumps that run.
func (p *Pump) speed(st *hydraulics.State, x float64) {
	st.Opening[p.Element] = x
	for _, e := range p.With {
		st.Opening[e] = x
	}
}

// runs reports whether an element is one of the pumps that run.
func (p *Pump) runs(e int32) bool { return e == p.Element || slices.Contains(p.With, e) }

// flow is what the pumps that run pass together.
func (p *Pump) flow(a *hydraulics.Answer) float64 {
	q := a.Flow[p.Element]
	for _, e := range p.With {
		q += a.Flow[e]
	}
	return q
}

// opening is that of the float valves at a level.
func (m *machine) opening(level float64) float64 {
	return m.p.Store.opening(level, m.feeding)
}

// opening is that of its float valves at a level; feeding: off their seats.
func (s *Store) opening(level float64, feeding bool) float64 {
	switch {
	case s.Stuck:
		return 1
	case !feeding:
		return 0
	case s.Delayed:
		return 1
	default:
		return hydraulics.FloatOpening(level, s.Shut, s.Band)
	}
}

// steady solves the circuit; a pump that holds its pressure is sought from its last speed.
func (m *machine) steady(s *side) error {
	if m.pump != holding || m.dry {
		return s.net.Solve(s.state, s.answer, s.work)
	}
	p := m.p.Pump
	u := s.speed * s.speed
	old, fold := math.NaN(), math.NaN()
	for range 8 {
		if !(u > 1e-6 && u < 1) {
			break
		}
		p.speed(s.state, math.Sqrt(u))
		if err := s.net.Solve(s.state, s.answer, s.work); err != nil {
			return err
		}
		f := s.answer.Head[p.Sensor] - p.Off
		if math.Abs(f) <= holdTol {
			s.speed = math.Sqrt(u)
			return nil
		}
		slope := p.Law.A // affinity: the head goes nearly as the square of the speed
		if d := (f - fold) / (u - old); d > 0 {
			slope = d
		}
		old, fold = u, f
		u -= f / slope
	}
	err := s.net.HoldTogether(s.state, s.answer, s.work, p.all, p.Sensor, p.Off)
	s.speed = s.state.Opening[p.Element]
	return err
}

// holdTol is how close the pump is brought to the head it holds [m].
const holdTol = 1e-7

// read takes what controllers feel out of an answer.
func (m *machine) read(s *side, y []float64) {
	p, f, a := m.p, &m.f, s.answer
	els := p.Net.Elements()
	into := func(list []int32, meets func(int32) bool) (sum float64) {
		for _, e := range list {
			if meets(els[e].To) {
				sum += a.Flow[e]
			}
			if meets(els[e].From) {
				sum -= a.Flow[e]
			}
		}
		return sum
	}
	f.in, f.vessel = 0, 0
	for _, e := range p.Floats {
		f.in += a.Flow[e]
	}
	f.out = -into(p.at.surface, p.Store.meets)
	f.up = 0
	for _, e := range p.Lifts {
		f.up += a.Flow[e]
	}
	f.down = -into(p.at.upper, p.Header.meets)
	for n := range p.Outlets {
		f.tap[n] = a.Flow[p.Outlets[n].Element]
	}
	if p.Vessel != nil {
		at := p.Vessel.Point
		f.free = a.Head[at]
		if a.Low[at] != a.High[at] {
			f.free = math.NaN() // cut off: it stands as it was
		}
		if s.held {
			f.vessel = into(p.at.vessel, func(i int32) bool { return i == at })
		}
	}
	if p.Pump != nil {
		f.pump, f.speed = p.Pump.flow(a), s.state.Opening[p.Pump.Element]
		m.feel(a, y)
	}
	if p.Lock != nil {
		f.lock = a.Head[p.Lock.Sensor]
		if m.mainOff {
			f.lock = math.Inf(-1)
		}
	}
}

// feel reads the head at the pump's controller: the vessel's where they hang together,
// otherwise that of the pipe, which is known only where water moves or something presses.
func (m *machine) feel(a *hydraulics.Answer, y []float64) {
	p, f := m.p, &m.f
	at := p.Pump.Sensor
	if m.feltByVessel() {
		f.sensor, f.known = p.Vessel.Head(y[iW]), true
		return
	}
	low, high := a.Low[at], a.High[at]
	// Cut off, it stands at most at the highest it can: a tap that is open lets the rest
	// out. Where nothing presses at all, an open tap lets all of it out.
	f.sensor, f.known = high, !math.IsInf(high, 1)
	if math.IsInf(low, -1) && math.IsInf(high, 1) && m.anyOpen() {
		f.sensor, f.known = low, true
	}
}

func (m *machine) anyOpen() bool {
	for _, n := range m.open {
		if n > 0 {
			return true
		}
	}
	return false
}

// rates fills what integrates.
func (m *machine) rates(s *side, y, dy []float64) {
	p, f, a := m.p, &m.f, s.answer
	clear(dy)
	dy[iIn], dy[iOut], dy[iW] = f.in, f.out, f.vessel
	dy[iV] = f.in - f.out
	if m.spilling && dy[iV] > 0 {
		dy[iSpill], dy[iV] = dy[iV], 0
	}
	if m.lifts() {
		dy[iU] = f.up - f.down
		if m.upper.spilling && dy[iU] > 0 {
			dy[iSpill], dy[iU] = dy[iSpill]+dy[iU], 0
		}
	}
	if p.Street >= 0 {
		dy[iStreet] = a.Flow[p.Main]
	}
	if m.booked {
		m.book(s, y, dy)
	}
	for n := range f.tap {
		dy[iTaps+n] = f.tap[n]
		if m.open[n] > 0 && !m.served[n] {
			dy[iTaps+len(f.tap)+n] = 1
		}
	}
	if m.pump != standing {
		dy[iRun] = 1
		dy[iPumped] = f.pump
		q, speed := f.pump, f.speed
		if m.dry {
			q, speed = 0, 1
		}
		pu := p.Pump
		dy[iSocket] = PowerEq.Fn([]float64{pu.Rated, pu.At, pu.Idle, q, speed})
	}
}

// book adds up the energy: what street, stores and vessel give, what every element loses by its
// own law, what the pump adds, and what leaves at mouths.
func (m *machine) book(s *side, y, dy []float64) {
	p := m.p
	dy[eStore] = m.f.out * p.Store.level(y[iV])
	if m.lifts() {
		dy[eStore] += m.f.down * p.Header.level(y[iU])
	}
	if s.held {
		dy[eVessel] = m.f.vessel * s.state.Held[p.Vessel.Point]
	}
	if p.Street >= 0 {
		dy[eStreet] = s.answer.Flow[p.Main] * m.head
	}
	points := s.net.Points()
	pump := m.p.Pump
	els := s.net.Elements()
	for e := range els {
		q := s.answer.Flow[e]
		if q == 0 {
			continue
		}
		el := &els[e]
		h, _ := el.Law.Drop(q, s.state.Opening[e])
		h += el.Opens
		if pump != nil && pump.runs(int32(e)) && s.state.Opening[e] > 0 {
			dy[ePump] -= q * h
		} else {
			dy[eLoss] += q * h
		}
		if to := el.To; el.OneWay && points[to].Held && !m.p.Store.meets(to) && !m.p.Header.meets(to) && to != m.p.Street && !m.p.isVessel(to) {
			dy[eMouth] += q * s.state.Held[to]
		}
	}
}

func (p *Plant) isVessel(point int32) bool { return p.Vessel != nil && p.Vessel.Point == point }

// joules turns m³ of water times m of head into J.
func joules(e float64) float64 { return e * circuit.Weight }
