package hydraulics

import "math"

// Pump is a centrifugal pump from suction to delivery:
//
//	H = s² A − s B q − C q²,  h = −H
//
// A [m] at no flow, B [s/m²] and C [s²/m⁵] not negative and not both nothing, s the
// speed ratio (affinity laws). Past run-out it goes on falling and becomes a loss.
// Running backward it is as stiff as a shut non-return valve: a running pump is treated
// as one-way by the solver, and a real one has its own non-return valve beside it.
// At speed 0 it blocks, unless it was given a passage to free-wheel through.
// Source: affinity laws as in Karassik et al., Pump Handbook, 4th ed. 2008.
type Pump struct {
	A, B, C float64
	passage *Fixed // nil: blocks when it stands
}

// NewPump fits the curve through shut-off (0, h0) and two more points (q1, h1) and
// (q2, h2), 0 < q1 < q2, falling heads. passage is the flow factor [m³/s at 1 bar] of
// the pump standing still and free-wheeling, or 0 when it then blocks.
//
// A curve that rises anywhere (A droop at shut-off allows two duties) is refused.
func NewPump(part string, h0, q1, h1, q2, h2, passage float64) (*Pump, error) {
	g := guard{part: part}
	g.want("shut-off head", h0, h0 > 0 && h0 <= 1000, "above 0 and to 1000 m")
	g.want("first flow", q1, q1 > 1e-9 && q1 <= 10, "above 0 and to 10 m³/s")
	g.want("second flow", q2, q2 > q1 && q2 <= 10, "above the first flow and to 10 m³/s")
	g.want("first head", h1, h1 < h0, "below the shut-off head")
	g.want("second head", h2, h2 < h1, "below the first head")
	if err := g.fail(); err != nil {
		return nil, err
	}
	// Drops below shut-off over flow: d = B + C q at both flows.
	d1, d2 := (h0-h1)/q1, (h0-h2)/q2
	c := (d2 - d1) / (q2 - q1)
	b := d1 - c*q1
	g.want("curve: B of H = A − B q − C q²", b, b >= 0, "0 or more (the curve rises from shut-off)")
	g.want("curve: C of H = A − B q − C q²", c, c >= 0, "0 or more (the curve flattens and would rise again)")
	return finishPump(part, &g, &Pump{A: h0, B: b, C: c}, passage)
}

// NewPumpCurve makes a pump from its coefficients.
func NewPumpCurve(part string, a, b, c, passage float64) (*Pump, error) {
	g := guard{part: part}
	g.want("A", a, a > 0 && a <= 1000, "above 0 and to 1000 m")
	g.want("B", b, b >= 0, "0 or more")
	g.want("C", c, c >= 0 && b+c > 0, "0 or more, and not nothing with B")
	return finishPump(part, &g, &Pump{A: a, B: b, C: c}, passage)
}

func finishPump(part string, g *guard, p *Pump, passage float64) (*Pump, error) {
	if err := g.fail(); err != nil {
		return nil, err
	}
	if passage != 0 {
		law, err := NewFixed(part, passage)
		if err != nil {
			return nil, err
		}
		p.passage = law
	}
	return p, nil
}

// Drop is minus the head added [m] and its slope [s/m²] at flow q [m³/s], speed s.
func (p *Pump) Drop(q, s float64) (h, dh float64) {
	if s <= 0 && p.passage != nil {
		return p.passage.Drop(q, 1)
	}
	if q < 0 {
		return -s*s*p.A + Reverse*q, Reverse
	}
	// B alone would vanish with s, and C q² is flat at zero: round both off there.
	l := newQuadratic(s*p.B, p.C)
	h, dh = l.drop(q)
	return h - s*s*p.A, dh
}

// Head is the head added at flow q ≥ 0 and speed s [m].
func (p *Pump) Head(q, s float64) float64 { return s*s*p.A - s*p.B*q - p.C*q*q }

// ShutOff is the head added at no flow and speed s [m].
func (p *Pump) ShutOff(s float64) float64 { return s * s * p.A }

// RunOut is the flow at which the pump adds nothing more at speed s [m³/s].
func (p *Pump) RunOut(s float64) float64 {
	return 2 * s * p.A / (p.B + math.Sqrt(p.B*p.B+4*p.A*p.C))
}

// Closes reports whether the pump at speed s passes nothing.
func (p *Pump) Closes(s float64) bool { return s <= 0 && p.passage == nil }

func (p *Pump) typical() float64 { return 0.5 * p.RunOut(1) }
