package hydraulics

import (
	"fmt"
	"math"
)

// Lift is a source of head in place of a pump whose curve droops: it adds what its state
// says and hardly less at more flow, so that it is a law like any other; where on the
// pump's own curve it may stand is found around the solve (Duties).
//
//	h = r q − top x,  r = 10 s/m² (a centimetre at 1 L/s)
//
// x in 0 to 1. Strictly increasing, C1. An element with it must be one-way.
type Lift struct{ top float64 }

const liftSlope = 10

// Drop is minus the head added [m] and its slope [s/m²].
func (l *Lift) Drop(q, x float64) (h, dh float64) { return liftSlope*q - l.top*x, liftSlope }

// Droop is a pump curve that rises from shut-off before it falls:
//
//	H = A + B q − C q²,  B ≥ 0, C > 0
//
// A [m], B [s/m²], C [s²/m⁵], at full speed, q ≥ 0. Where it meets the circuit it may do
// so twice, and which duty the pump takes then depends on how it was started.
// Source: three-point quadratic; Karassik et al., Pump Handbook, 4th ed. 2008, on
// unstable curves.
type Droop struct{ A, B, C float64 }

// NewDroop makes the curve through shut-off (0, h0) and two more points; h1 may lie above
// h0. The curve must fall in the end, and NewPump is to be used where it falls all along.
func NewDroop(part string, h0, q1, h1, q2, h2 float64) (Droop, error) {
	g := guard{part: part}
	g.want("shut-off head", h0, h0 > 0 && h0 <= 1000, "above 0 and to 1000 m")
	g.want("first flow", q1, q1 > 1e-9 && q1 <= 10, "above 0 and to 10 m³/s")
	g.want("second flow", q2, q2 > q1 && q2 <= 10, "above the first flow and to 10 m³/s")
	g.want("first head", h1, h1 > 0 && h1 <= 1000, "above 0 and to 1000 m")
	g.want("second head", h2, h2 < h1 && h2 < h0, "below both other heads")
	if err := g.fail(); err != nil {
		return Droop{}, err
	}
	r1, r2 := (h1-h0)/q1, (h2-h0)/q2
	c := (r1 - r2) / (q2 - q1)
	b := r1 + c*q1
	g.want("curve: C of H = A + B q − C q²", c, c > 0, "above 0 (the curve must fall in the end)")
	g.want("curve: B of H = A + B q − C q²", b, b >= 0, "0 or more (this curve falls all along: it does not droop)")
	return Droop{h0, b, c}, g.fail()
}

// Head is the head added at flow q ≥ 0 [m].
func (d Droop) Head(q float64) float64 { return d.A + q*(d.B-d.C*q) }

// Top is the greatest head the curve reaches, and the flow there.
func (d Droop) Top() (h, q float64) { q = d.B / (2 * d.C); return d.Head(q), q }

// NewLift makes the element of a pump with a drooping curve.
func (d Droop) NewLift(part string, from, to int32) Element {
	top, _ := d.Top()
	return Element{Name: part, From: from, To: to, Law: &Lift{1.1*top + 1}, OneWay: true}
}

// span is the least and greatest head of the curve between two flows.
func (d Droop) span(q1, q2 float64) (least, most float64) {
	h1, h2 := d.Head(q1), d.Head(q2)
	least, most = math.Min(h1, h2), math.Max(h1, h2)
	if top, at := d.Top(); q1 < at && at < q2 {
		most = top
	}
	return least, most
}

// duty is one setting of a Lift tried.
type duty struct{ x, q, added float64 }

// Duties finds every duty at which a pump with a drooping curve, its element made by
// NewLift, can stand in the state s. With one, a is the solved state and the status
// Converged or Still. With more, a.Status is NotUnique and the error a *Several that
// names the pump and gives the flows; a then is not to be used.
//
// The head a circuit takes never falls with the flow put into it. Between two settings
// tried both it and the curve are therefore bounded, and a stretch where the bounds do
// not meet holds no duty; what is left is halved until the curve falls all along it (one
// duty at most) or it is a millionth of the whole. Two duties closer than that, where
// curve and circuit touch, may count as one or none.
func (n *Net) Duties(s *State, a *Answer, w *Work, element int32, d Droop) error {
	lift, is := (*Lift)(nil), false
	if element >= 0 && int(element) < len(n.elements) {
		lift, is = n.elements[element].Law.(*Lift)
	}
	if !is {
		a.Status = NotSolved
		return fmt.Errorf("hydraulics: element %d has no lift to set: make it with NewLift", element)
	}
	f := &finder{n: n, s: s, a: a, w: w, e: element, d: d, lift: lift}
	lo, hi := f.try(0), f.try(1)
	f.search(lo, hi)
	if f.err == nil && len(f.found) == 1 {
		f.try(f.found[0].x)
	}
	name := n.elements[element].Name
	switch {
	case f.err != nil:
		return fmt.Errorf("hydraulics: %s: duties: %w", name, f.err)
	case len(f.found) == 0:
		a.Status = OutOfSteps
		return fmt.Errorf("hydraulics: %s: no duty found on its curve", name)
	case len(f.found) > 1:
		a.Status = NotUnique
		e := &Several{Parts: []string{name}, Why: "its curve rises from shut-off and meets the pipework more than once"}
		for _, u := range f.found {
			e.Duties = append(e.Duties, u.q)
		}
		return e
	}
	return nil
}

type finder struct {
	n     *Net
	s     *State
	a     *Answer
	w     *Work
	e     int32
	d     Droop
	lift  *Lift
	found []duty
	err   error
}

// try solves at setting x.
func (f *finder) try(x float64) duty {
	if f.err != nil {
		return duty{}
	}
	f.s.Opening[f.e] = x
	f.err = f.n.Solve(f.s, f.a, f.w)
	q := f.a.Flow[f.e]
	return duty{x, q, f.lift.top*x - liftSlope*q}
}

// over is how far a duty lies above the curve [m].
func (f *finder) over(u duty) float64 { return u.added - f.d.Head(u.q) }

// search finds the duties between two settings, lower first.
func (f *finder) search(lo, hi duty) {
	least, most := f.d.span(lo.q, hi.q)
	if f.err != nil || lo.added > most || hi.added < least {
		return
	}
	_, top := f.d.Top()
	below, above := f.over(lo) < 0, f.over(hi) >= 0
	if lo.q >= top && !(below && above) {
		return // falling all along, and no crossing
	}
	if lo.q >= top || hi.x-lo.x < 1e-6 {
		if below == above {
			f.found = append(f.found, f.halve(lo, hi))
		}
		return
	}
	mid := f.try((lo.x + hi.x) / 2)
	f.search(lo, mid)
	f.search(mid, hi)
}

// halve closes in on a crossing.
func (f *finder) halve(lo, hi duty) duty {
	below := f.over(lo) < 0
	for range 60 {
		mid := f.try((lo.x + hi.x) / 2)
		if f.err != nil || mid.x == lo.x || mid.x == hi.x {
			break
		}
		if (f.over(mid) < 0) == below {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
