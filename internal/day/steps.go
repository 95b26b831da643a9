package day

import "math"

// oneSecond is the step of BySteps [s].
const oneSecond = 1.0

// BySteps runs a day at one-second steps, as an independent check of ByEvents: no error
// control, no search for when something happens; what has happened is seen at the end of
// its second. A store moves by the flows at the beginning of the second; a vessel, which
// may be quick, by those at its end (backward Euler). Controls and circuit are the same.
func BySteps(p *Plant, s *Schedule) (*Result, error) {
	r, err := newRun(p, s)
	if err != nil {
		return nil, err
	}
	var before mark
	for {
		r.change()
		if err := r.settle(); err != nil {
			return nil, err
		}
		if r.ended {
			return r.result(), nil
		}
		if now := r.mark(); now != before {
			before = now
			r.log.keep(r.m, r.y)
		}
		r.log.lower(r.y)
		if err := r.tick(); err != nil {
			return nil, err
		}
	}
}

// mark is what makes a second worth keeping when it changes.
type mark struct {
	next                               int
	pump                               pumping
	allowed, feeding, dry, over, still bool
	upper                              tank
}

func (r *run) mark() mark {
	m := r.m
	return mark{r.next, m.pump, m.allowed, m.feeding, m.dry, m.spilling, m.still, m.upper}
}

// tick moves one second on, or over all the seconds in which nothing moves.
func (r *run) tick() error {
	m := r.m
	h := oneSecond
	if due := math.Min(r.turns[r.next].at, m.due()); still(r.dy) {
		h = math.Max(oneSecond, oneSecond*math.Ceil((due-m.now)/oneSecond))
	}
	if m.taking() && r.dy[iW] != 0 {
		if err := r.backward(h); err != nil {
			return err
		}
	}
	for i := range r.y {
		r.y[i] += h * r.dy[i]
	}
	m.now += h
	return nil
}

// backward finds the rates with the vessel at the end of the step: those of the circuit
// at the very water the step leads to.
func (r *run) backward(h float64) error {
	w0, w := r.y[iW], r.y[iW]
	f := h * r.dy[iW] // at w: w0 + h q(w) − w
	old, fold := math.NaN(), math.NaN()
	for range 20 {
		if math.Abs(f) < 1e-10 {
			break
		}
		slope := -1.0
		if d := (f - fold) / (w - old); d < 0 {
			slope = d
		}
		old, fold = w, f
		w = math.Max(0, math.Min(w-f/slope, 0.9*r.p.Vessel.Volume+0.1*w))
		r.y[iW] = w
		err := r.m.solve(r.y, r.dy)
		r.y[iW] = w0
		if err != nil {
			return err
		}
		f = w0 + h*r.dy[iW] - w
	}
	return nil
}
