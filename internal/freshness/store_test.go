package freshness

import (
	"math"
	"testing"

	"pgregory.net/rapid"
	"tideover/internal/calc"
)

const day = 86400.0

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(math.Abs(want), 1e-12)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// store is what the three ways of mixing have in common, for the tests.
type store interface {
	Step(Flow, Water, Around, Decay) Drawn
}

func TestSteadyMixed(t *testing.T) {
	m := Mixed{1, Water{Age: 5 * day}}
	const q = 1 / (3 * day)
	in := Water{Age: 1 * day, Chlorine: 0.8e-3, Heat: 20}
	d := Decay{Bulk20: 0.5 / day}
	m.Water.Heat = 20
	var none *calc.Sheet
	got := m.Step(Flow{2 * day, q, q}, in, Around{Outside: 20}, d)
	near(t, "age after two days", m.Water.Age, none.Eval(MixedAgeEq, 5*day, 1*day, 1, q, 2*day), 1e-12)
	near(t, "mean age drawn", got.Mean.Age, 4*day+1*day*(1-math.Exp(-2.0/3))*1.5, 1e-9)
	m.Step(Flow{400 * day, q, q}, in, Around{Outside: 20}, d)
	near(t, "steady age", m.Water.Age, 4*day, 1e-12)
	near(t, "steady chlorine", m.Water.Chlorine, none.Eval(MixedResidualEq, 0.8e-3, 0.5/day, 3*day), 1e-12)
}

// TestHeldToTheTarget: 0.8 mg/L decaying at 0.5 a day keeps 0.2 mg/L to six days of
// turnover when mixed, 2.77 days when standing (both worked by hand).
func TestHeldToTheTarget(t *testing.T) {
	var none *calc.Sheet
	near(t, "mixed", none.Eval(MixedResidualEq, 0.8e-3, 0.5/day, 6*day), 0.2e-3, 1e-12)
	near(t, "standing", none.Eval(PlugResidualEq, 0.8e-3, 0.5/day, math.Log(4)/0.5*day), 0.2e-3, 1e-12)
}

// runge integrates the balances of a mixed store by small steps of fourth order.
func runge(v float64, w Water, f Flow, in Water, a Around, d Decay, n int) Water {
	slope := func(t float64, x [3]float64) [3]float64 {
		v := v + (f.In-f.Out)*t
		k := d.rate(20) + d.fixed()/v
		return [3]float64{
			1 - f.In/v*(x[0]-in.Age),
			f.In/v*(in.Chlorine-x[1]) - k*x[1],
			(f.In*(in.Heat-x[2]) + a.Loss/heatCap*(a.Outside-x[2])) / v,
		}
	}
	x, h := [3]float64{w.Age, w.Chlorine, w.Heat}, f.Span/float64(n)
	add := func(x, k [3]float64, h float64) [3]float64 {
		return [3]float64{x[0] + h*k[0], x[1] + h*k[1], x[2] + h*k[2]}
	}
	for i := range n {
		t := float64(i) * h
		a := slope(t, x)
		b := slope(t+h/2, add(x, a, h/2))
		c := slope(t+h/2, add(x, b, h/2))
		e := slope(t+h, add(x, c, h))
		x = add(add(add(add(x, a, h/6), b, h/3), c, h/3), e, h/6)
	}
	return Water{x[0], x[1], x[2]}
}

// TestAgainstSmallSteps holds filling, emptying, drawing while filling, the special
// ratio of one to two, and standing against an integration by small steps.
func TestAgainstSmallSteps(t *testing.T) {
	d := Decay{Bulk20: 0.5 / day, Wall: 0.02 / day, Bottom: 0.8, Sides: 4} // no energy: the same at any temperature
	for name, f := range map[string]Flow{
		"filling": {2 * 3600, 1e-4, 0}, "emptying": {6 * 3600, 0, 3e-5}, "both": {5 * 3600, 8e-5, 3e-5},
		"one to two": {4 * 3600, 3e-5, 6e-5}, "even": {20 * 3600, 4e-5, 4e-5}, "standing": {3 * day, 0, 0},
		"nearly even": {9 * 3600, 4e-5, 4e-5 * (1 + 1e-10)},
	} {
		m := Mixed{0.9, Water{2 * day, 0.5e-3, 20}}
		in, around := Water{3600, 0.8e-3, 15}, Around{30, 9}
		want := runge(m.Volume, m.Water, f, in, around, d, 4000)
		m.Step(f, in, around, d)
		near(t, name+": age", m.Water.Age, want.Age, 1e-9)
		near(t, name+": chlorine", m.Water.Chlorine, want.Chlorine, 1e-8)
		near(t, name+": temperature", m.Water.Heat, want.Heat, 1e-9)
	}
}

// TestOneStepOrMany: cutting a span in pieces changes nothing.
func TestOneStepOrMany(t *testing.T) {
	f, in := Flow{8 * 3600, 6e-5, 2e-5}, Water{600, 0.6e-3, 18}
	d := Decay{Bulk20: 0.5 / day, Wall: 0.01 / day, Bottom: 0.8}
	one, many := Mixed{0.4, Water{day, 0.1e-3, 25}}, Mixed{0.4, Water{day, 0.1e-3, 25}}
	whole := one.Step(f, in, Around{30, 8}, d)
	age := 0.0
	for range 16 {
		part := many.Step(Flow{f.Span / 16, f.In, f.Out}, in, Around{30, 8}, d)
		age += part.Mean.Age / 16
	}
	near(t, "volume", many.Volume, one.Volume, 1e-12)
	near(t, "age", many.Water.Age, one.Water.Age, 1e-12)
	near(t, "temperature", many.Water.Heat, one.Water.Heat, 1e-12)
	near(t, "chlorine", many.Water.Chlorine, one.Water.Chlorine, 1e-9)
	near(t, "mean age drawn", age, whole.Mean.Age, 1e-9)
}

// TestFillAndDraw: a store filled to the top at once each day and drawn down evenly by a
// third has, over a cycle, a mean age at its outlet of V/ΔV − ½ days.
func TestFillAndDraw(t *testing.T) {
	m := Mixed{0.9, Water{}}
	mean := 0.0
	for range 200 {
		mean = m.Step(Flow{day, 0, 0.3 / day}, Water{}, Around{}, Decay{}).Mean.Age
		m.Step(Flow{1e-3, 300, 0}, Water{}, Around{}, Decay{})
	}
	near(t, "mean age", mean, 2.5*day, 1e-6)
}

func TestPlug(t *testing.T) {
	p := NewPlug(1, Water{Heat: 20})
	const q = 1 / (2 * day)
	d := Decay{Bulk20: 0.5 / day}
	in := Water{Age: 3600, Chlorine: 0.8e-3, Heat: 20}
	for range 40 {
		p.Step(Flow{0.25 * day, q, q}, in, Around{20, 0}, d)
	}
	got := p.Step(Flow{0.5 * day, q, q}, in, Around{20, 0}, d)
	near(t, "age at the outlet", got.Mean.Age, 2*day+3600, 1e-9)
	near(t, "chlorine at the outlet", got.Mean.Chlorine, 0.8e-3*math.Exp(-1), 1e-9)
	near(t, "mean age inside", p.Mean().Age, day+3600, 1e-9)
	near(t, "mean chlorine inside", p.Mean().Chlorine, 0.8e-3*(1-math.Exp(-1)), 1e-9)
	near(t, "oldest", p.Oldest(), 2*day+3600, 1e-9)
	// No flow for a day, then a draw of half: the outlet has all aged by that day.
	p.Step(Flow{day, 0, 0}, in, Around{20, 0}, d)
	got = p.Step(Flow{3600, 0, 0.5 / 3600.0}, in, Around{20, 0}, d)
	near(t, "first drawn", got.First.Age, 3*day+3600, 1e-9)
	near(t, "last drawn", got.Last.Age, 2*day+2*3600, 1e-9)
	if n := len(p.line); n > 10 {
		t.Errorf("%d parcels of one steady flow", n)
	}
}

// TestSeriesStep: after a step of the inflow the outlet of n compartments follows the
// law of Erlang, 1 − Σ (nt/τ)^i/i! e^(−nt/τ) (chlorine without decay as the tracer), and
// the age at the outlet settles at τ.
func TestSeriesStep(t *testing.T) {
	const n, tau = 4, 2 * day
	s := NewSeries(n, 1, Water{})
	in := Water{Chlorine: 1e-3}
	for _, f := range []Flow{{0.7 * tau, 1 / tau, 1 / tau}} {
		s.Step(f, in, Around{}, Decay{})
	}
	x, sum, term := n*0.7, 0.0, 1.0
	for i := range n {
		sum += term
		term *= x / float64(i+1)
	}
	near(t, "tracer", s.Parts[n-1].Water.Chlorine, 1e-3*(1-sum*math.Exp(-x)), 1e-3)
	got := s.Step(Flow{30 * tau, 1 / tau, 1 / tau}, in, Around{}, Decay{})
	near(t, "age", got.Last.Age, tau, 1e-9)
	near(t, "mean age inside", s.Mean().Age, tau*(n+1)/(2*n), 1e-9)
	s.Step(Flow{3600, 0, 0.5 / 3600.0}, in, Around{}, Decay{})
	near(t, "volume", s.Volume(), 0.5, 1e-9)
}

// TestOneCompartmentIsMixed: and many come near to plug flow.
func TestOneCompartmentIsMixed(t *testing.T) {
	f, in, d := Flow{5 * 3600, 4e-5, 2e-5}, Water{0, 1e-3, 10}, UsualDecay
	m, s := Mixed{0.5, Water{day, 0, 20}}, NewSeries(1, 0.5, Water{day, 0, 20})
	a, b := m.Step(f, in, Around{25, 5}, d), s.Step(f, in, Around{25, 5}, d)
	if a != b {
		t.Errorf("mixed %+v, one compartment %+v", a, b)
	}
}

// TestProperties: on any trace, the three stores keep the same volume; nothing is older
// than the time since the beginning and what it brought; mixed water is never older at
// the mean outlet, over all that was drawn and is left, than mass allows; and never is
// there more chlorine than came.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		mixed := &Mixed{1, Water{day, 0.3e-3, 20}}
		series := NewSeries(3, 1, Water{day, 0.3e-3, 20})
		plug := NewPlug(1, Water{day, 0.3e-3, 20})
		volume := 1.0
		var gone, came [3]float64
		clock := 0.0
		for range rapid.IntRange(1, 25).Draw(r, "spans") {
			span := rapid.Float64Range(1, day).Draw(r, "span")
			in := rapid.SampledFrom([]float64{0, 0, 0.2, 0.7}).Draw(r, "in") / span
			out := rapid.Float64Range(0, 0.9).Draw(r, "out") * (volume - 0.02 + in*span*0.5) / span
			if volume+(in-out)*span < 0.01 || volume+in*span > 3 {
				continue
			}
			w := Water{Age: 0, Chlorine: rapid.Float64Range(0, 1e-3).Draw(r, "chlorine"), Heat: 20}
			clock += span
			volume += (in - out) * span
			for i, s := range []store{mixed, series, plug} {
				d := s.Step(Flow{span, in, out}, w, Around{25, 5}, UsualDecay)
				gone[i] += d.Volume * d.Mean.Chlorine
				came[i] += in * span * w.Chlorine
				for _, x := range []Water{d.First, d.Last, d.Mean} {
					if !(x.Age <= (clock+day)*(1+1e-9) && x.Age >= -1e-6 && x.Chlorine >= 0 && x.Chlorine <= 1e-3*(1+1e-9)) {
						r.Fatalf("store %d: drew %+v at %g", i, x, clock)
					}
				}
			}
			left := []float64{mixed.Volume * mixed.Water.Chlorine, series.Volume() * series.Mean().Chlorine, plug.Volume * plug.Mean().Chlorine}
			for i, l := range left {
				if gone[i]+l > (came[i]+0.3e-3)*(1+2e-3) {
					r.Fatalf("store %d: %g of chlorine out of %g", i, gone[i]+l, came[i]+0.3e-3)
				}
			}
			if math.Abs(mixed.Volume-volume)+math.Abs(series.Volume()-volume)+math.Abs(plug.Volume-volume) > 1e-9 {
				r.Fatal("volumes part")
			}
		}
	})
}

// TestMixedNeverYoungerInside: with the same flows, water that leaves in the order it
// came leaves the store younger inside: at the outlet it is the oldest.
func TestMixedNeverYoungerInside(t *testing.T) {
	m, p := &Mixed{1, Water{}}, NewPlug(1, Water{})
	for range 60 {
		for _, f := range []Flow{{4 * 3600, 5e-5, 1e-5}, {20 * 3600, 0, 0.576 / 72000}} {
			m.Step(f, Water{}, Around{}, Decay{})
			p.Step(f, Water{}, Around{}, Decay{})
			if m.Water.Age < p.Mean().Age-1e-6 {
				t.Fatalf("mixed %g, in order %g", m.Water.Age, p.Mean().Age)
			}
		}
	}
}

func TestBoundedParcels(t *testing.T) {
	p := NewPlug(1, Water{})
	for i := range 20_000 {
		p.Step(Flow{60, float64(i%3) * 1e-7, 1e-7}, Water{Chlorine: float64(i%7) * 1e-4}, Around{20, 1}, UsualDecay)
	}
	if len(p.line) > mostParcels {
		t.Errorf("%d parcels", len(p.line))
	}
}

func TestRefuses(t *testing.T) {
	for name, f := range map[string]Flow{"emptied": {3600, 0, 1}, "backwards": {-1, 0, 0}, "NaN": {math.NaN(), 0, 0}, "negative": {1, -1, 0}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s was taken", name)
				}
			}()
			(&Mixed{Volume: 1}).Step(f, Water{}, Around{}, Decay{})
		}()
	}
}

func BenchmarkStep(b *testing.B) {
	for name, s := range map[string]store{"mixed": &Mixed{1, Water{Heat: 20}}, "series-4": NewSeries(4, 1, Water{Heat: 20}), "plug": NewPlug(1, Water{Heat: 20})} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Step(Flow{3600, 2e-5, 0}, Water{Heat: 15}, Around{20, 5}, UsualDecay)
				s.Step(Flow{7200, 0, 1e-5}, Water{Heat: 15}, Around{20, 5}, UsualDecay)
			}
		})
	}
}
