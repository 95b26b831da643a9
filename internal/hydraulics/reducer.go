package hydraulics

import "math"

// reducerSpan is the most a pressure reducer takes off [m].
const reducerSpan = 300.0

// Reducer is a pressure reducing valve: it takes off what is too much, over the loss of
// its seat fully open, and lets nothing back.
//
//	h = 300 m (1 − x) + (1 bar/(1000 kg/m³ g)) (q/Kv)²,  q ≥ 0
//
// Kv [m³/s at 1 bar] fully open; x in 0 to 1 is its state's opening: 1 fully open, 0 shut
// against up to 300 m. Which x holds its set head is found by Regulate. With nothing
// drawn the water behind it stands at the set head or above. Strictly increasing, C1.
// Source: the head taken off as the unknown, after the multiplier of Deuerlein, Simpson &
// Dempe 2009, J. Hydraul. Eng. 135(11):970.
//
// One made by NewSetReducer has its set head in itself: every solve of a circuit with it
// finds its opening, and the head it holds falls with the flow, for the spring lets off as
// the seat opens:
//
//	H(out) = set − fall q while 0 < x < 1
//
// set [m above the datum], fall [s/m²], 0 to 1e7.
type Reducer struct {
	kv        float64
	law       quadratic
	own       bool // it has a set head of its own
	set, fall float64
}

// NewSetReducer makes a pressure reducing valve that holds its own outlet at a set head less
// a fall in proportion to its flow.
func NewSetReducer(part string, from, to int32, kv, set, fall float64) (Element, error) {
	e, err := NewReducer(part, from, to, kv)
	if err != nil {
		return e, err
	}
	g := guard{part: part}
	g.want("set head", set, set >= -1e4 && set <= 1e4, "−10 000 to 10 000 m")
	g.want("fall with flow", fall, fall >= 0 && fall <= 1e7, "0 to 1e7 s/m²")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	law := e.Law.(*Reducer)
	law.own, law.set, law.fall = true, set, fall
	return e, nil
}

// Holds is the head its outlet is held at when q passes [m above the datum].
func (r *Reducer) Holds(q float64) float64 { return r.set - r.fall*math.Max(q, 0) }

// NewReducer makes a pressure reducing valve of flow factor kv fully open.
func NewReducer(part string, from, to int32, kv float64) (Element, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	law := &Reducer{kv: kv, law: newQuadratic(0, barHead/(kv*kv))}
	return Element{Name: part, From: from, To: to, Law: law, OneWay: true}, nil
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s] and opening x.
func (r *Reducer) Drop(q, x float64) (h, dh float64) {
	h, dh = r.law.drop(q)
	return h + reducerSpan*(1-x), dh
}

func (r *Reducer) typical() float64 { return 0.2 * r.kv }

// OpeningAt is the opening at which a reducer holds its set head at rest under a head of
// up: what Rest wants in its state of all that can ever have pressed, with up the greatest
// head before the valve; a valve that can fail is left at 1 there.
func (r *Reducer) OpeningAt(up, set float64) float64 {
	return 1 - math.Min(math.Max(up-set, 0), reducerSpan)/reducerSpan
}

// TakenOff is the head a reducer takes off at opening x beside its own loss [m].
func (r *Reducer) TakenOff(x float64) float64 { return reducerSpan * (1 - x) }
