package freshness

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// MixedAgeEq is the age of a mixed store through which water flows steadily.
var MixedAgeEq = calc.Register(calc.Equation{
	Key: "age-mixed", Title: "Age of the water in a mixed store", Section: section,
	Formula: "A = A_in + τ + (A_0 − A_in − τ) exp(−t/τ), τ = V/q",
	Result:  calc.Symbol{Name: "A", Meaning: "mean age of the water", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "A_0", Meaning: "age at the beginning", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "A_in", Meaning: "age arriving", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "V", Meaning: "water in the store", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "q", Meaning: "flow through it", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "t", Meaning: "time since", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "flow in equals flow out, above 0; the engine solves filling and emptying the same way, with ∫ dt/V for t/V",
	Source: "mass balance of a stirred vessel with age as the mass (Danckwerts 1953, Chem. Eng. Sci. 2(1))",
	Fn: func(a []float64) float64 {
		tau := a[2] / a[3]
		return a[1] + tau + (a[0]-a[1]-tau)*math.Exp(-a[4]/tau)
	},
})

// Mixed is a store whose water is one.
type Mixed struct {
	Volume float64 // m³, with what lies below the outlet
	Water  Water
}

// Step lives through a span: in is the water arriving. Age and temperature are exact for
// any steady flows; chlorine is exact while nothing chlorinated arrives or the level
// stays, and by Gauss's rule to 1e-9 otherwise. Temperature within the span enters the
// decay by its mean.
func (m *Mixed) Step(f Flow, in Water, around Around, d Decay) Drawn {
	p, was, heat := m.pass(f, in, around)
	c := chlorinated(p, f, was.Chlorine, in.Chlorine, heat, d)
	m.Water.Chlorine = c.left(p.t)
	return m.drawn(p, f, was, in, Water{Chlorine: c.chlorine(f, m.Water.Chlorine), Heat: heat})
}

// drawn is what left over a path, with its mean but for the age.
func (m *Mixed) drawn(p path, f Flow, was, in, mean Water) Drawn {
	out := Drawn{Volume: f.Out * f.Span, First: was, Last: m.Water}
	if out.Volume > 0 {
		mean.Age = m.meanAge(p, f, was, in)
		out.Mean = mean
	}
	return out
}

// pass takes the store to the end of a span but for its chlorine: the path of its volume, what its
// water was before, and how warm on the mean.
func (m *Mixed) pass(f Flow, in Water, around Around) (path, Water, float64) {
	p := f.from(m.Volume)
	was := m.Water
	theta := p.theta(p.t)
	age := in.Age + (was.Age-in.Age)*math.Exp(-f.In*theta) + p.v1*theta*gap((2*f.In-f.Out)*theta)
	last, heat := warm(p, f.In, was.Heat, in.Heat, around)
	m.Water = Water{Age: age, Heat: last}
	m.Volume = p.v1
	return p, was, heat
}

// chlorinated is the course of the chlorine along a path. Where there is none, how fast it goes is
// not asked.
func chlorinated(p path, f Flow, was, came, heat float64, d Decay) course {
	if was == 0 && came == 0 {
		return course{}
	}
	return course{p, f.In, was, came, d.rate(heat), d.fixed()}
}

// chlorine is the mean in what was drawn; end is what is left at the end.
func (c course) chlorine(f Flow, end float64) float64 {
	if !(f.Out*f.Span > 0) {
		return 0
	}
	return c.mean(end)
}

// course is how chlorine goes over a span.
type course struct {
	path
	in          float64 // m³/s
	was, came   float64 // kg/m³
	rate, fixed float64 // 1/s, m³/s
}

// left is the chlorine at a time of the span.
func (c course) left(t float64) float64 {
	sum := 0.0
	if c.was > 0 {
		sum = c.was * math.Exp(-(c.in+c.fixed)*c.theta(t)-c.rate*t)
	}
	if c.came > 0 && c.in > 0 {
		sum += c.in * c.came * arrived(c.path, t, c.in+c.fixed, c.rate)
	}
	return sum
}

// mean is the mean of left over the span, by Simpson's rule in pieces in which little
// changes; over a span in which next to nothing does, of its two ends (to a hundred-thousandth). end is what is
// left at the end.
func (c course) mean(end float64) float64 {
	if c.was == 0 && c.came*c.in == 0 {
		return 0
	}
	turned, filled := (c.in+c.fixed)*c.theta(c.t)+c.rate*c.t, math.Abs(math.Log(c.v1/c.v0))
	if turned+filled < little {
		return (c.was + end) / 2
	}
	pieces := 1 + math.Floor(2*turned+4*filled)
	sum, h := 0.0, c.t/pieces
	a := c.left(0)
	for i := range int(pieces) {
		t := float64(i) * h
		b := c.left(t + h)
		sum += a + 4*c.left(t+h/2) + b
		a = b
	}
	return sum / (6 * pieces)
}

// little is a change over a span so small that simpler rules do.
const little = 0.01

// meanAge follows from the balance of age: what was there, came and grew, less what is
// there now. A draw too small for that difference takes the middle of its two ends.
func (m *Mixed) meanAge(p path, f Flow, was, in Water) float64 {
	if f.Out*f.Span < 1e-6*p.v0 {
		return (was.Age + m.Water.Age) / 2
	}
	return (p.v0*was.Age - p.v1*m.Water.Age + p.content() + f.In*f.Span*in.Age) / (f.Out * f.Span)
}

// Two-panel abscissas and weights of Gauss's rule of five points.
// Source: Abramowitz & Stegun 1964, table 25.4.
var (
	gaussX = [...]float64{0, 0.538469310105683, -0.538469310105683, 0.906179845938664, -0.906179845938664}
	gaussW = [...]float64{0.568888888888889, 0.478628670499366, 0.478628670499366, 0.236926885056189, 0.236926885056189}
)

// arrived is ∫ exp(−q(θ_t − θ_s) − k(t − s))/V(s) ds over [0, t]: what is left at t, for
// each unit of concentration and flow that arrived since 0.
func arrived(p path, t, q, k float64) float64 {
	if p.r == 0 {
		return t / p.v0 * gap(q*t/p.v0+k*t)
	}
	end, sum := p.theta(t), 0.0
	change := q*end + k*t + math.Abs(math.Log1p(p.r*t/p.v0))
	if change < little { // Gauss's rule of two points: to change⁵/4320
		for _, x := range [...]float64{1 / math.Sqrt(3), -1 / math.Sqrt(3)} {
			s := (1 + x) * t / 2
			sum += t / 2 * math.Exp(-q*(end-p.theta(s))-k*(t-s)) / (p.v0 + p.r*s)
		}
		return sum
	}
	panels := math.Max(1, math.Ceil(change))
	for n := range int(panels) {
		half := t / panels / 2
		for i, x := range gaussX {
			s := (float64(2*n+1) + x) * half
			sum += half * gaussW[i] * math.Exp(-q*(end-p.theta(s))-k*(t-s)) / (p.v0 + p.r*s)
		}
	}
	return sum
}
