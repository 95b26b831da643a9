package hydraulics

import "math"

// PumpKind is how a pump lifts water, which decides the shape of its curve.
type PumpKind uint8

// The kinds of pump a home is given.
const (
	Jet        PumpKind = iota // self-priming, an ejector in the casing
	Multistage                 // several centrifugal stages, and plain centrifugal ones
	Peripheral                 // a regenerative wheel: steep and nearly straight
)

// prior is what is known of a pump of a kind before anybody measures it.
type prior struct {
	low, likely, high float64 // share β of the linear part in the fall of the curve
	idle              float64 // power at shut-off over power at the best point
	best              float64 // flow of the best point over greatest flow
}

// priors holds what the reference curves of generic small pumps give (four jets of 0.37 to
// 1.1 kW: β 0.45 to 0.63; four multistage ones of 0.55 to 1.1 kW: 0.12 to 0.30; peripheral
// ones "near-linear"). idle and best are trade knowledge, rounded: all of them are
// assumptions until a gauge and a bucket say otherwise.
func (k PumpKind) prior() (prior, bool) {
	switch k {
	case Jet:
		return prior{low: 0.45, likely: 0.55, high: 0.63, idle: 0.75, best: 0.45}, true
	case Multistage:
		return prior{low: 0.12, likely: 0.20, high: 0.30, idle: 0.55, best: 0.6}, true
	case Peripheral:
		return prior{low: 0.80, likely: 0.90, high: 1.00, idle: 1.6, best: 0.5}, true
	}
	return prior{}, false
}

// PumpBand is a pump known by its nameplate only: its likely curve and the two between
// which it lies.
type PumpBand struct {
	Low, Likely, High *Pump
	Kind              PumpKind
	// Wear is the factor on heads and flows that a reading asked for beside the shape:
	// 1 when the nameplate and the reading agree.
	Wear float64
}

// NewNameplatePump makes the curves of a pump of which the nameplate gives the greatest
// head h0 [m] and the greatest flow qmax [m³/s], which it never gives at once:
//
//	H = h0 (1 − β t − (1 − β) t²),  t = q/qmax
//
// β is the share of the straight part, from the kind: likely, and for the band its
// greatest (Low, the lower curve) and least (High). passage as in NewPump. Strictly
// falling for every β of 0 to 1.
// Source: three-point quadratic; β fitted to reference curves of small pumps (see prior).
// Assumed: the greatest flow belongs to no head; if it was read at some head, the pump
// gives more than its band at large flows.
func NewNameplatePump(part string, k PumpKind, h0, qmax, passage float64) (PumpBand, error) {
	p, known := k.prior()
	g := guard{part: part}
	g.want("kind of pump", float64(k), known, "jet, multistage or peripheral (0 to 2)")
	wantNameplate(&g, h0, qmax)
	if err := g.fail(); err != nil {
		return PumpBand{}, err
	}
	b := PumpBand{Kind: k, Wear: 1}
	var err error
	for _, c := range []struct {
		to   **Pump
		beta float64
	}{{&b.Low, p.high}, {&b.Likely, p.likely}, {&b.High, p.low}} {
		if *c.to, err = shaped(part, h0, qmax, c.beta, passage); err != nil {
			return PumpBand{}, err
		}
	}
	return b, nil
}

func wantNameplate(g *guard, h0, qmax float64) {
	g.want("greatest head", h0, h0 > 0 && h0 <= 1000, "above 0 and to 1000 m")
	g.want("greatest flow", qmax, qmax > 1e-9 && qmax <= 10, "above 0 and to 10 m³/s")
}

// shaped is the curve of a share β of straight fall.
func shaped(part string, h0, qmax, beta, passage float64) (*Pump, error) {
	return NewPumpCurve(part, h0, h0*beta/qmax, h0*(1-beta)/(qmax*qmax), passage)
}

// Corrected is the pump of a nameplate after one reading with a gauge and a bucket: head h
// [m] added at flow q [m³/s], at full speed. A reading inside the band settles the shape β
//
//	β = (1 − t² − h/h0)/(t − t²),  t = q/qmax
//
// and the nameplate stands. One outside means that the nameplate does not: the shape
// stays at the band's nearer edge and heads and flows are scaled, h0 by w² and qmax by w,
// so that the curve runs through the reading. A pump less than half or more than 1.3
// times its nameplate's (w) is refused: the reading or the nameplate is another pump's.
// All three curves of the answer are the corrected one.
// Source: the affinity laws for w, taken as what wear or a wrong plate amounts to.
func (b PumpBand) Corrected(part string, q, h float64) (PumpBand, error) {
	g := guard{part: part}
	if b.Likely == nil {
		g.want("nameplate", math.NaN(), false, "a pump made by NewNameplatePump")
		return PumpBand{}, g.fail()
	}
	h0, qmax := b.Likely.A, b.Likely.RunOut(1)
	g.want("flow read", q, q > 0 && q < 1.3*qmax, "above 0 and below 1.3 times the nameplate's greatest flow")
	g.want("head read", h, h > 0 && h < 1.7*h0, "above 0 and below 1.7 times the nameplate's greatest head")
	if err := g.fail(); err != nil {
		return PumpBand{}, err
	}
	near, inside := b.Likely, false
	switch {
	case h > b.High.Head(q, 1):
		near = b.High
	case h < b.Low.Head(q, 1):
		near = b.Low
	default:
		inside = true
	}
	var p *Pump
	var err error
	wear := 1.0
	if inside {
		t := q / qmax
		beta := (1 - t*t - h/h0) / (t - t*t)
		p, err = b.like(part, h0, h0*beta/qmax, h0*(1-beta)/(qmax*qmax))
	} else {
		// h = w² A − w B q − C q²: the greater root in w.
		wear = (near.B*q + math.Sqrt(near.B*near.B*q*q+4*near.A*(h+near.C*q*q))) / (2 * near.A)
		g.want("reading over nameplate", wear, wear >= 0.5 && wear <= 1.3, "0.5 to 1.3")
		if err := g.fail(); err != nil {
			return PumpBand{}, err
		}
		p, err = b.like(part, wear*wear*near.A, wear*near.B, near.C)
	}
	return PumpBand{Low: p, Likely: p, High: p, Kind: b.Kind, Wear: wear}, err
}

// like makes a curve with the passage of the band's pump.
func (b PumpBand) like(part string, A, B, C float64) (*Pump, error) {
	p, err := NewPumpCurve(part, A, math.Max(B, 0), math.Max(C, 0), 0)
	if err == nil {
		p.passage = b.Likely.passage
	}
	return p, err
}
