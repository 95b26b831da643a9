package day

import (
	"errors"
	"fmt"
	"math"
)

var errLost = errors.New("no step small enough keeps the error asked for")

// ErrRestless is a plant that never comes to rest at one moment: a pressure switch
// without a vessel, say.
var ErrRestless = errors.New("controls switch without end at one moment")

// ErrTooMuch is a day of more events than are kept: a pump that starts every few seconds, say.
var ErrTooMuch = errors.New("controls switch too often to follow the day to its end")

// ByEvents runs a day by events: between two of them levels and the vessel integrate with
// error control; what happens by itself is found where it happens, to rounding.
func ByEvents(p *Plant, s *Schedule) (*Result, error) { return byEvents(p, s, nil) }

// byEvents gives up with what ended says, asked at every event; nil: nothing ends it.
func byEvents(p *Plant, s *Schedule, ended func() error) (*Result, error) {
	r, err := newRun(p, s)
	if err == nil {
		err = r.all(ended)
	}
	if err != nil {
		return nil, err
	}
	return r.result(), nil
}

// all runs to the end.
func (r *run) all(ended func() error) error {
	for !r.ended {
		if ended != nil {
			if err := ended(); err != nil {
				return err
			}
		}
		if r.log.full() {
			return fmt.Errorf("day: at %.1f s: %w", r.m.now, ErrTooMuch)
		}
		if err := r.stretch(); err != nil {
			return err
		}
	}
	return nil
}

// run is a day under way.
type run struct {
	p     *Plant
	s     *Schedule
	m     *machine
	y     []float64
	dy    []float64
	turns []turn
	next  int // of turns
	st    *strides
	ended bool
	log   *record
	zero  []float64 // the vector at the start
	was   []float64 // values of the conditions at the start of a step
	ends  flows     // at its end

	moments int // events at this second, to catch controls that never rest
	second  float64
}

func newRun(p *Plant, s *Schedule) (*run, error) {
	turns, err := s.turns(p)
	if err != nil {
		return nil, err
	}
	log := newRecord(p, s)
	r := &run{p: p, s: s, m: newMachine(p, s, log), turns: turns, log: log, second: -1}
	r.y = r.m.begin(s)
	r.zero = append([]float64(nil), r.y...)
	if log.low = s.Level; r.m.feeding {
		log.opened(0)
	}
	r.dy = make([]float64, len(r.y))
	r.st = newStrides(len(r.y), s.Loose)
	r.was = make([]float64, len(watchers)+len(p.Outlets))
	return r, nil
}

// stretch makes the changes due now, lets the controls settle, and integrates to the next
// event.
func (r *run) stretch() error {
	r.change()
	if r.ended {
		return r.settle()
	}
	if err := r.settle(); err != nil {
		return err
	}
	r.log.keep(r.m, r.y)
	limit := math.Min(r.turns[r.next].at, r.m.due())
	r.st.grown = 0
	for r.m.now < limit {
		fired, err := r.advance(limit)
		if err != nil || fired {
			return err
		}
	}
	return nil
}

// change makes every change that is due.
func (r *run) change() {
	r.m.ring()
	for r.next < len(r.turns) && r.turns[r.next].at <= r.m.now {
		if t := r.turns[r.next]; t.kind == ending {
			r.ended = true
		} else {
			r.m.turn(t, r.s)
		}
		r.next++
	}
	if r.s.Refilled && r.log.refilled() {
		r.ended = true
	}
}

// settle solves the circuit and lets everything that must happen at once happen.
func (r *run) settle() error {
	if err := r.m.solve(r.y, r.dy); err != nil {
		return err
	}
	for range 100 {
		w, fire := r.first()
		if fire == nil {
			return nil
		}
		fire()
		if w != nil && w.quiet || w == nil {
			r.m.rates(r.m.last, r.y, r.dy)
			continue
		}
		if err := r.m.solve(r.y, r.dy); err != nil {
			return err
		}
	}
	return fmt.Errorf("day: at %.1f s: %w", r.m.now, ErrRestless)
}

// first returns the first thing that must happen now, or nil.
func (r *run) first() (*watcher, func()) {
	for i := range watchers {
		if w := &watchers[i]; w.active(r.m) && w.value(r.m, r.y) <= 0 {
			return w, func() { w.fire(r.m, r.y) }
		}
	}
	for n := range r.p.Outlets {
		if r.m.open[n] > 0 && r.m.service(n) <= 0 {
			return nil, func() { r.m.served[n] = !r.m.served[n] }
		}
	}
	return nil, nil
}

// advance integrates towards the limit, or to the first thing that happens by itself,
// which it makes happen.
func (r *run) advance(limit float64) (fired bool, err error) {
	m, st := r.m, r.st
	from := m.now
	h := math.Min(limit-from, r.reach())
	r.note()
	m.quick(true)
	defer m.quick(false)
	copy(st.k[0], r.dy)
	ok := false
	if st.grown == 0 || h < 3*st.grown {
		if ok, err = st.straight(m, r.y, h); !ok && st.grown == 0 {
			st.grown = 6 * st.guess
		}
	}
	if err == nil && !ok {
		err = st.curved(m, r.y, math.Min(h, st.grown))
	}
	if err != nil {
		return false, err
	}
	theta, fire, err := r.earliest()
	if err != nil {
		return false, err
	}
	m.now = from + theta*st.h
	if limit-m.now < 1e-9 {
		m.now = limit
	}
	if theta == 1 {
		copy(r.y, st.y1)
		copy(r.dy, st.k[3])
	} else {
		st.at(r.y, theta, st.trial)
		copy(r.y, st.trial)
	}
	if fire == nil {
		return false, nil
	}
	r.log.lower(r.y)
	fire()
	return true, r.rests()
}

// reach is how far a step may go: gas must be left in the vessel.
func (r *run) reach() float64 {
	h := 3600.0
	if v := r.p.Vessel; v != nil && r.dy[iW] != 0 {
		h = math.Min(h, 0.3*(v.Volume-r.y[iW])/math.Abs(r.dy[iW]))
	}
	return h
}

// rests refuses controls that do too much in one second.
func (r *run) rests() error {
	if s := math.Floor(r.m.now); s != r.second {
		r.second, r.moments = s, 0
	}
	if r.moments++; r.moments > 200 {
		return fmt.Errorf("day: at %.1f s: %w", r.m.now, ErrRestless)
	}
	return nil
}

// note keeps every condition's value at the start of a step.
func (r *run) note() {
	for i := range watchers {
		if w := &watchers[i]; w.active(r.m) {
			r.was[i] = w.value(r.m, r.y)
		}
	}
	for n := range r.p.Outlets {
		r.was[len(watchers)+n] = r.m.service(n)
	}
}

// earliest looks for what happens within the step just taken: its place, 1 for the end,
// and its deed, nil for none. The flows are those at the end of the step. What needs the circuit solved
// comes last, and is searched for only where it has happened before the earliest of the rest.
func (r *run) earliest() (float64, func(), error) {
	tap := append(r.ends.tap[:0], r.m.f.tap...)
	r.ends = r.m.f // searching for one overwrites the flows
	r.ends.tap = tap
	f := soonest{at: 1}
	for _, solves := range [2]bool{false, true} {
		for i := range watchers {
			w := &watchers[i]
			if !w.active(r.m) || w.searching(r.m) != solves || w.value(r.m, r.st.y1) > 0 {
				continue
			}
			value := func(y []float64) float64 { return w.value(r.m, y) }
			if err := r.seek(&f, value, r.was[i], solves, w.late, func() { w.fire(r.m, r.y) }); err != nil {
				return 0, nil, err
			}
		}
	}
	for n := range r.p.Outlets {
		if r.m.open[n] == 0 || r.m.service(n) > 0 {
			continue
		}
		value := func([]float64) float64 { return r.m.service(n) }
		if err := r.seek(&f, value, r.was[len(watchers)+n], true, false, func() { r.m.served[n] = !r.m.served[n] }); err != nil {
			return 0, nil, err
		}
	}
	return f.at, f.deed, nil
}

// soonest is what happens first in a step, of what was looked at: its place, 1 for the end, and its deed.
type soonest struct {
	at   float64
	deed func()
}

// seek finds where in the step a value falls to 0, and takes the deed where that is sooner.
func (r *run) seek(f *soonest, value func(y []float64) float64, flo float64, solves, late bool, deed func()) error {
	defer r.restore()
	at := 1.0
	if !late {
		if solves && f.at < 1 {
			if later, err := r.later(value, f.at); err != nil || later {
				return err
			}
		}
		var err error
		if at, err = r.root(value, flo, solves); err != nil {
			return err
		}
	}
	if at < f.at || f.deed == nil {
		f.at, f.deed = at, deed
	}
	return nil
}

// later reports whether a value is still above 0 at a place in the step.
func (r *run) later(value func(y []float64) float64, at float64) (bool, error) {
	r.st.at(r.y, at, r.st.trial)
	if err := r.m.find(r.st.trial); err != nil {
		return false, err
	}
	return value(r.st.trial) > 0, nil
}

func (r *run) restore() {
	tap := r.m.f.tap
	copy(tap, r.ends.tap)
	r.m.f = r.ends
	r.m.f.tap = tap
}

// root finds where in the step a value that is above 0 at its start falls to 0: by false
// position with the stagnant end halved (Dowell & Jarratt 1971, BIT 11:168). A value may also
// jump below 0, as that of a tap does that runs dry: where three guesses have not brought the
// bracket to an eighth, as halving would, the next is its middle.
func (r *run) root(value func(y []float64) float64, flo float64, solves bool) (float64, error) {
	lo, hi := 0.0, 1.0
	fhi := value(r.st.y1)
	small := r.st.sharp * math.Abs(flo)
	if math.IsInf(fhi, 0) || flo <= 0 {
		return 1, nil
	}
	side, wide := 0, 1.0 // the bracket three guesses ago
	for n := range 200 {
		if hi-lo < r.st.sharp/1000 {
			break
		}
		x := lo + (hi-lo)*flo/(flo-fhi)
		slow := false
		if n%3 == 2 {
			slow, wide = hi-lo > wide/8, hi-lo
		}
		if slow || !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		r.st.at(r.y, x, r.st.trial)
		if solves {
			if err := r.m.find(r.st.trial); err != nil {
				return 0, err
			}
		}
		switch f := value(r.st.trial); {
		case math.Abs(f) <= small:
			return x, nil
		case f > 0:
			if lo, flo = x, f; side > 0 {
				fhi /= 2
			}
			side = 1
		default:
			if hi, fhi = x, f; side < 0 {
				flo /= 2
			}
			side = -1
		}
	}
	return hi, nil
}
