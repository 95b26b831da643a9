package day

import (
	"math"

	"tideover/internal/quantity"
)

// watcher is one condition of the moment that must stay above 0, and what happens when
// it no longer does.
type watcher struct {
	value  func(m *machine, y []float64) float64
	fire   func(m *machine, y []float64)
	active func(m *machine) bool
	solves bool // value needs the circuit solved at y
	felt   bool // but not where the vessel decides what the pump's controller feels
	quiet  bool // what happens changes no flow
	late   bool // it need not be found, only seen at the end of a step
}

// Hysteresis, so that what has just happened does not happen backwards at once.
const (
	smallVolume = 1e-8                          // m³
	smallFlow   = float64(quantity.Standing)    // m³/s
	smallHead   = 1e-6                          // m
	stillFlow   = float64(quantity.Unfelt)      // m³/s: a vessel that takes less stands with the pipe
	stillAgain  = float64(quantity.VesselAgain) // m³/s: the same, where the pipe has left it since the last change
	drift       = 0.05                          // m: and no longer, once the pipe has left it by so much
	wetAgain    = 0.02                          // m over the outlet, before a dry store gives again
	seal        = 1e-3                          // of the float's band
)

// usable is the share of its need below which an outlet does not serve.
const usable = 0.5

// watchers is the table of everything that can happen by itself.
var watchers = append(storeWatchers(), headerWatchers()...)

func init() {
	watchers = append(watchers, vesselWatchers()...)
	watchers = append(watchers, pumpWatchers()...)
	watchers = append(watchers, lockWatchers()...)
}

// searching reports whether a watcher's value needs the circuit solved.
func (w *watcher) searching(m *machine) bool {
	return w.solves && !(w.felt && m.feltByVessel())
}

func (m *machine) stores() bool { return len(m.p.Store.Surface) > 0 }

func (m *machine) floats() bool { return len(m.p.Floats) > 0 && !m.p.Store.Stuck }

// sealAt and openAt are the levels at which the float valve seals and opens.
func (s *Store) sealAt() float64 {
	if s.Delayed {
		return s.Shut
	}
	return s.Shut - seal*s.Band
}

func (s *Store) openAt() float64 {
	if s.Delayed {
		return s.Shut - s.Band
	}
	return s.Shut - 2*seal*s.Band
}

// usualLevel is the lowest at which a store that nothing keeps from filling stands: full, or where a
// delayed float valve has not opened yet.
func (s *Store) usualLevel() float64 {
	if s.Delayed {
		return s.openAt() + smallDepth
	}
	return s.Shut
}

// smallDepth is no more than a ripple. [m]
const smallDepth = 1e-3

func storeWatchers() []watcher {
	return []watcher{
		{ // the float valve seals
			active: func(m *machine) bool { return m.floats() && m.feeding },
			value:  func(m *machine, y []float64) float64 { return m.p.Store.volume(m.p.Store.sealAt()) - y[iV] },
			fire:   func(m *machine, y []float64) { m.feeding = false; m.log.sealed(m.now) },
		},
		{ // and opens
			active: func(m *machine) bool { return m.floats() && !m.feeding },
			value:  func(m *machine, y []float64) float64 { return y[iV] - m.p.Store.volume(m.p.Store.openAt()) },
			fire:   func(m *machine, y []float64) { m.feeding = true; m.log.opened(m.now) },
		},
		{ // it begins to close
			active: func(m *machine) bool { return m.floats() && m.feeding && !m.p.Store.Delayed && !m.inBand },
			value: func(m *machine, y []float64) float64 {
				return m.p.Store.volume(m.p.Store.Shut-m.p.Store.Band) - y[iV]
			},
			fire:  func(m *machine, y []float64) { m.inBand = true },
			quiet: true,
		},
		{ // and is full open again
			active: func(m *machine) bool { return m.floats() && m.feeding && !m.p.Store.Delayed && m.inBand },
			value: func(m *machine, y []float64) float64 {
				return y[iV] + smallVolume - m.p.Store.volume(m.p.Store.Shut-m.p.Store.Band)
			},
			fire:  func(m *machine, y []float64) { m.inBand = false },
			quiet: true,
		},
		{ // the store runs dry
			active: func(m *machine) bool { return m.stores() && !m.dry },
			value:  func(m *machine, y []float64) float64 { return y[iV] },
			fire:   func(m *machine, y []float64) { m.runDry() },
		},
		{ // and gives again
			active: func(m *machine) bool { return m.stores() && m.dry },
			value:  func(m *machine, y []float64) float64 { return m.p.Store.Area*wetAgain - y[iV] },
			fire:   func(m *machine, y []float64) { m.dry, m.dryAt, m.still = false, never, false },
		},
		{ // it runs over
			active: func(m *machine) bool { return m.stores() && !m.spilling },
			value:  func(m *machine, y []float64) float64 { return m.p.Store.volume(m.p.Store.Lip) + smallVolume - y[iV] },
			fire:   func(m *machine, y []float64) { m.spilling = true },
		},
		{ // and no longer
			active: func(m *machine) bool { return m.spilling },
			value:  func(m *machine, y []float64) float64 { return m.f.in - m.f.out + smallFlow },
			fire:   func(m *machine, y []float64) { m.spilling = false },
			solves: true,
		},
	}
}

func (m *machine) runDry() {
	m.dry, m.still = true, false
	if !m.lifts() { // else the taps live on what the header tank holds
		m.log.dry(m.now)
	}
	if m.pump != standing {
		m.dryAt = m.now + m.p.Pump.DryStop
	}
}

func vesselWatchers() []watcher {
	return []watcher{
		{ // the vessel gives its last water
			active: func(m *machine) bool { return m.p.Vessel != nil && !m.hollow && m.pump != holding },
			value: func(m *machine, y []float64) float64 {
				switch {
				case y[iW] > 1e-12:
					return y[iW]
				case m.f.vessel < 0:
					return -1
				}
				return 1
			},
			fire:   func(m *machine, y []float64) { m.hollow, m.still = true, false },
			solves: true,
		},
		{ // the pipe presses more than its charge
			active: func(m *machine) bool { return m.p.Vessel != nil && m.hollow },
			value: func(m *machine, y []float64) float64 {
				if math.IsNaN(m.f.free) {
					return 1
				}
				return m.p.Vessel.Head(0) + smallHead - m.f.free
			},
			fire:   func(m *machine, y []float64) { m.hollow = false },
			solves: true,
		},
		{ // it comes to rest with the pipe
			active: func(m *machine) bool { return m.taking() },
			value:  func(m *machine, y []float64) float64 { return math.Abs(m.f.vessel) - m.rest() },
			fire:   func(m *machine, y []float64) { m.still = true },
			solves: true,
			late:   true,
		},
		{ // and is left behind
			active: func(m *machine) bool { return m.p.Vessel != nil && m.still && !m.hollow },
			value: func(m *machine, y []float64) float64 {
				if math.IsNaN(m.f.free) {
					return 1
				}
				return drift - math.Abs(m.f.free-m.p.Vessel.Head(y[iW]))
			},
			fire:   func(m *machine, y []float64) { m.still, m.left = false, true },
			solves: true,
			late:   true,
		},
	}
}

// rest is the flow below which the vessel stands with the pipe.
func (m *machine) rest() float64 {
	if m.left {
		return stillAgain
	}
	return stillFlow
}

// may reports whether anything keeps the pump from starting.
func (m *machine) may() bool { return m.p.Pump != nil && m.power && m.allowed && !m.stopped }

// over is how far the head at the pump's controller stands above a head, or with up below
// it; 1 where nobody can say.
func (m *machine) over(y []float64, head float64, up bool) float64 {
	felt := m.f.sensor
	switch {
	case m.feltByVessel():
		felt = m.p.Vessel.Head(y[iW])
	case !m.f.known:
		return 1
	}
	if up {
		return head - felt
	}
	return felt - head
}

// feltByVessel reports whether the pump's controller feels the vessel's own pressure: they
// hang together and there is water in it.
func (m *machine) feltByVessel() bool {
	v := m.p.Vessel
	return v != nil && !m.hollow && v.Point == m.p.Pump.Sensor && m.pump != holding
}

func pumpWatchers() []watcher {
	return []watcher{
		{ // it starts
			active: func(m *machine) bool { return m.pump == standing && m.may() },
			value:  func(m *machine, y []float64) float64 { return m.over(y, m.p.Pump.On, false) },
			fire:   func(m *machine, y []float64) { m.start() },
			solves: true,
			felt:   true,
		},
		{ // a switch stops it
			active: func(m *machine) bool { return m.pump == running && m.p.Pump.Kind == Switch },
			value:  func(m *machine, y []float64) float64 { return m.over(y, m.p.Pump.Off, true) },
			fire:   func(m *machine, y []float64) { m.stop() },
			solves: true,
			felt:   true,
		},
		{ // it has reached the pressure it holds
			active: func(m *machine) bool { return m.pump == running && m.p.Pump.Kind == Speed && !m.dry },
			value:  func(m *machine, y []float64) float64 { return m.over(y, m.p.Pump.Off, true) },
			fire:   func(m *machine, y []float64) { m.pump, m.still = holding, false },
			solves: true,
			felt:   true,
		},
		{ // and falls short of it
			active: func(m *machine) bool { return m.pump == holding },
			value: func(m *machine, y []float64) float64 {
				if m.dry {
					return -1
				}
				return m.f.sensor - m.p.Pump.Off + 1e2*holdTol
			},
			fire:   func(m *machine, y []float64) { m.pump, m.still, m.sleepAt = running, false, never },
			solves: true,
		},
		{ // nobody draws
			active: func(m *machine) bool { return m.sleepy() && m.sleepAt == never },
			value:  func(m *machine, y []float64) float64 { return m.f.pump - m.p.Pump.Still },
			fire:   func(m *machine, y []float64) { m.sleepAt = m.now + m.p.Pump.RunOn },
			solves: true,
			quiet:  true,
		},
		{ // and somebody does
			active: func(m *machine) bool { return m.sleepy() && m.sleepAt < never },
			value:  func(m *machine, y []float64) float64 { return m.p.Pump.Still + smallFlow - m.f.pump },
			fire:   func(m *machine, y []float64) { m.sleepAt = never },
			solves: true,
			quiet:  true,
		},
	}
}

// sleepy reports whether the pump stops for want of flow: a flow control that runs, a
// speed control at its pressure.
func (m *machine) sleepy() bool {
	return !m.dry && (m.pump == running && m.p.Pump.Kind == Flow || m.pump == holding)
}

func lockWatchers() []watcher {
	return []watcher{
		{ // the main weakens
			active: func(m *machine) bool { return m.p.Lock != nil && !m.allowed && m.lockAt == never },
			value:  func(m *machine, y []float64) float64 { return m.f.lock - m.p.Lock.On },
			fire:   func(m *machine, y []float64) { m.lockAt = m.now + m.p.Lock.Wait },
			solves: true,
			quiet:  true,
		},
		{ // and recovers before the time is up
			active: func(m *machine) bool { return m.p.Lock != nil && !m.allowed && m.lockAt < never },
			value:  func(m *machine, y []float64) float64 { return m.p.Lock.On + smallHead - m.f.lock },
			fire:   func(m *machine, y []float64) { m.lockAt = never },
			solves: true,
			quiet:  true,
		},
		{ // the main is strong again
			active: func(m *machine) bool { return m.p.Lock != nil && m.allowed && m.lockAt == never },
			value:  func(m *machine, y []float64) float64 { return m.p.Lock.Off - m.f.lock },
			fire:   func(m *machine, y []float64) { m.lockAt = m.now + m.p.Lock.Hold },
			solves: true,
			quiet:  true,
		},
		{ // and weakens before the time is up
			active: func(m *machine) bool { return m.p.Lock != nil && m.allowed && m.lockAt < never },
			value:  func(m *machine, y []float64) float64 { return m.f.lock - m.p.Lock.Off + smallHead },
			fire:   func(m *machine, y []float64) { m.lockAt = never },
			solves: true,
			quiet:  true,
		},
	}
}

// service is how far an open outlet is from changing between served and not; at once
// both of every outlet.
func (m *machine) service(n int) float64 {
	d := m.f.tap[n] - usable*m.p.Outlets[n].Need
	if m.served[n] {
		return d
	}
	return smallFlow - d
}
