package hydraulics

import "math"

// barHead is the head of 1 bar at 1000 kg/m³, the density a flow factor is defined at [m].
const barHead = 1e5 / (1000 * Gravity)

// quadratic is h = a q + b q |q| with the quadratic part made linear near zero, so that
// the slope never vanishes: below the flow z it follows b z² (t − t² + t³), t = |q|/z,
// which meets b q² with its slope at t = 1 and has slope ≥ 2/3 of b z everywhere.
// At z the drop is a tenth of a millimetre of head or less: nothing a gauge can see.
type quadratic struct{ a, b, z float64 }

// newQuadratic rounds the corner below the flow at which b q² is 0.1 mm.
func newQuadratic(a, b float64) quadratic {
	if b == 0 {
		return quadratic{a: a, z: 0}
	}
	return quadratic{a, b, math.Sqrt(1e-4 / b)}
}

func (l quadratic) drop(q float64) (h, dh float64) {
	m := math.Abs(q)
	if m >= l.z {
		h, dh = m*(l.a+l.b*m), l.a+2*l.b*m
	} else {
		t := m / l.z
		h = l.a*m + l.b*l.z*l.z*t*(1-t*(1-t))
		dh = l.a + l.b*l.z*(1-t*(2-3*t))
	}
	if q < 0 {
		h = -h
	}
	return h, dh
}

// chord is the slope from rest to a flow q > 0.
func (l quadratic) chord(q float64) float64 {
	h, _ := l.drop(q)
	return h / q
}

// Fixed is a part with one flow factor: a meter, a strainer, a non-return valve's
// passage, a filter.
//
//	h = (1 bar/(1000 kg/m³ g)) (q/Kv)²
//
// Kv [m³/s] is the flow at a drop of 1 bar. Below a drop of 0.1 mm the law turns linear
// (see quadratic). Strictly increasing, C1, odd.
// Source: IEC 60534-1:2005, flow coefficient Kv.
type Fixed struct {
	kv  float64
	law quadratic
}

// NewFixed makes a part with one flow factor kv [m³/s at 1 bar].
func NewFixed(part string, kv float64) (*Fixed, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return &Fixed{kv, newQuadratic(0, barHead/(kv*kv))}, nil
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s].
func (l *Fixed) Drop(q, _ float64) (h, dh float64) { return l.law.drop(q) }

func (l *Fixed) typical() float64 { return 0.2 * l.kv }
