package hydraulics

import "math"

// Main is what the street loses on its way to the meter, fitted from a flow test at two
// rates; the head at rest is held at the element's upstream point.
//
//	h = (a + (1 − x) s) q + b q |q|
//
// x is 1 while neighbours draw as they did in the test, and less while they draw more: of a square
// law shared with others, their flow makes the slope steeper, by s at x = 0.
//
// a [s/m²] and b [s²/m⁵] are the least-squares fit to the two sags, neither negative, so
// the law rises whatever the gauges said. Strictly increasing, C1, odd.
// Source: Lawson & Hanson 1974, Solving Least Squares Problems, ch. 23 (non-negative).
type Main struct {
	A, B   float64
	Crowd  float64 // s: how much steeper it gets at the most, while neighbours draw [s/m²]
	Misfit float64 // largest difference between a sag measured and the fit [m]
	law    quadratic
}

// NewMain fits the loss of a main from the head at rest static [m] and the heads h1, h2
// [m] at flows q1 < q2 [m³/s], all at the same gauge.
func NewMain(part string, static, q1, h1, q2, h2 float64) (*Main, error) {
	g := guard{part: part}
	g.want("head at rest", static, true, "a number")
	g.want("lower test flow", q1, q1 > 0 && q1 <= 10, "above 0 and to 10 m³/s")
	g.want("higher test flow", q2, q2 > q1 && q2 <= 10, "above the lower test flow and to 10 m³/s")
	g.want("head at the lower flow", h1, h1 <= static, "at most the head at rest")
	g.want("head at the higher flow", h2, h2 < static && h2 <= h1, "below the head at rest and at most the head at the lower flow")
	if err := g.fail(); err != nil {
		return nil, err
	}
	a, b := FitMain(q1, static-h1, q2, static-h2)
	m := newMain(a, b)
	for _, t := range [2][2]float64{{q1, static - h1}, {q2, static - h2}} {
		m.Misfit = math.Max(m.Misfit, math.Abs(a*t[0]+b*t[0]*t[0]-t[1]))
	}
	return m, nil
}

// NewMainLoss makes a main from known coefficients.
func NewMainLoss(part string, a, b float64) (*Main, error) {
	g := guard{part: part}
	g.want("a", a, a >= 0, "0 or more")
	g.want("b", b, b >= 0 && a+b > 0, "0 or more, and not nothing with a")
	if err := g.fail(); err != nil {
		return nil, err
	}
	return newMain(a, b), nil
}

// Crowded is the main with a slope that grows by up to s ≥ 0 [s/m²].
func (m *Main) Crowded(s float64) *Main {
	with := *m
	with.Crowd = s
	return &with
}

func newMain(a, b float64) *Main { return &Main{A: a, B: b, law: newQuadratic(a, b)} }

// FitMain returns a and b ≥ 0 that minimise the squared misfits of a q + b q² to the
// drops d1 at q1 and d2 at q2 (flows m³/s, drops m).
func FitMain(q1, d1, q2, d2 float64) (a, b float64) {
	b = (d2/q2 - d1/q1) / (q2 - q1)
	a = d1/q1 - b*q1
	switch {
	case a < 0: // steeper than a square: b alone
		s1, s2 := q1*q1, q2*q2
		return 0, (s1*d1 + s2*d2) / (s1*s1 + s2*s2)
	case b < 0: // flatter than a line: a alone
		return (q1*d1 + q2*d2) / (q1*q1 + q2*q2), 0
	}
	return a, b
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s].
func (m *Main) Drop(q, x float64) (h, dh float64) { return m.at(x).drop(q) }

// at is the law while neighbours draw so much.
func (m *Main) at(x float64) quadratic {
	law := m.law
	law.a += (1 - x) * m.Crowd
	return law
}

// typical is the flow that loses 2 m.
func (m *Main) typical() float64 {
	return 4 / (m.A + math.Sqrt(m.A*m.A+8*m.B))
}
