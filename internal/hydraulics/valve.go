package hydraulics

import "math"

// Closer is a law that passes nothing at some openings: a shut valve, a pump that
// stands and blocks. The solver takes the element out there, exactly.
type Closer interface {
	Closes(x float64) bool
}

// Valve is a hand valve, one way of a three-way valve, or a float valve: a flow factor
// that depends on the opening.
//
//	h = (1 bar/(1000 kg/m³ g)) (q/(Kv xⁿ))²
//
// Kv [m³/s at 1 bar] fully open, x the opening 0 < x ≤ 1, n the characteristic: 1 where
// the open area goes with x (float valves, three-way plugs), 2 for hand valves, which
// puts a gate valve at half and quarter within a factor 2 of the usual table of K.
// At x = 0 it is shut. Strictly increasing, C1, odd.
// Source: IEC 60534-1:2005 for Kv; the power law is this tool's own and is an assumption.
type Valve struct {
	kv, n float64
}

// NewHandValve makes a hand valve: opening x, Kv x².
func NewHandValve(part string, kv float64) (*Valve, error) { return newValve(part, kv, 2) }

// NewWay makes one way of a three-way valve: opening x is the share of its port that
// stands open, so "between" is two ways at a half.
func NewWay(part string, kv float64) (*Valve, error) { return newValve(part, kv, 1) }

// NewFloatValve makes a float valve of which x is the opening that the level gives
// (FloatOpening). An element with it should be one-way.
func NewFloatValve(part string, kv float64) (*Valve, error) { return newValve(part, kv, 1) }

func newValve(part string, kv, n float64) (*Valve, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return &Valve{kv, n}, nil
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s] and opening x.
func (v *Valve) Drop(q, x float64) (h, dh float64) {
	s := x
	if v.n == 2 {
		s *= x
	}
	kv := v.kv * s
	b := barHead / (kv * kv)
	return quadratic{b: b, z: kv * rounding}.drop(q)
}

// rounding·Kv is the flow at a drop of 0.1 mm.
var rounding = math.Sqrt(1e-4 / barHead)

// Closes reports whether the valve is shut at x.
func (v *Valve) Closes(x float64) bool { return x <= 0 }

func (v *Valve) typical() float64 { return 0.2 * v.kv }

// FloatOpening returns the opening of a float valve, 0 to 1 [–]: fully open while the
// level is a band or more below shut, linear to nothing at shut.
//
// level, shut and band (> 0) in m, level and shut from the same mark.
// Source: geometry of a lever float; valid for direct-acting valves, not delayed-action ones.
func FloatOpening(level, shut, band float64) float64 {
	return math.Max(0, math.Min(1, (shut-level)/band))
}
