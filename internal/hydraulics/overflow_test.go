package hydraulics

import (
	"math"
	"testing"
)

// most is critical flow found apart from its condition: of all depths, the one at which
// a head E passes most, q = A √(2 g (E − y)/losses) (Belanger's principle). The section
// is summed up from strips.
func most(bore, e, losses float64) float64 {
	best := 0.0
	const strips = 20000
	area := 0.0
	for i := range strips {
		y := bore * (float64(i) + 0.5) / strips
		area += 2 * math.Sqrt(y*(bore-y)) * bore / strips
		depth := bore * float64(i+1) / strips
		if depth < e {
			best = math.Max(best, area*math.Sqrt(2*Gravity*(e-depth)/losses))
		}
	}
	return best
}

// Figures of practice (computed from critical depth, free fall), printed digits.
func TestOverflowFigures(t *testing.T) {
	tests := []struct{ bore, head, want, tol float64 }{ // m, m, L/s
		{0.019, 0.0225, 0.1, 0.1}, {0.025, 0.030, 0.19, 0.005}, {0.046, 0.040, 0.51, 0.005}, {0.046, 0.050, 0.74, 0.005}, {0.068, 0.050, 1.0, 0.05},
	}
	for _, test := range tests {
		o := must(NewOverflow("overflow", test.bore, 0, 1))
		got := o.Flow(test.head) * 1000
		if math.Abs(got-test.want) > test.tol {
			t.Errorf("%g mm at %g mm: %.3f L/s, want %g", test.bore*1e3, test.head*1e3, got, test.want)
		}
		if other := most(test.bore, test.head, 1) * 1000; math.Abs(got-other) > 1e-4*other {
			t.Errorf("%g mm at %g mm: %.6f L/s, greatest of all depths %.6f", test.bore*1e3, test.head*1e3, got, other)
		}
	}
}

// Half of a 40 % mesh blocked: f = 0.2, K_s = (1/0.124 − 1)² = 49.9, worked by hand.
func TestOverflowScreen(t *testing.T) {
	o := must(NewOverflow("overflow", 0.046, 0.5, 0.2))
	if math.Abs(o.Screen-49.907) > 0.01 {
		t.Errorf("K_s = %g, want 49.9", o.Screen)
	}
	clear := must(NewOverflow("overflow", 0.046, 0.5, 1))
	if q, free := o.Flow(0.04), clear.Flow(0.04); !(q > 0 && q < free/2) {
		t.Errorf("half blocked %g m³/s, clear %g", q, free)
	}
}

func TestOverflowRisesAndInverts(t *testing.T) {
	for _, open := range []float64{1, 0.4, 0.2} {
		o := must(NewOverflow("overflow", 0.046, 0.5, open))
		last := 0.0
		for k := -90; k <= 20; k++ {
			e := math.Pow(10, float64(k)/15)
			q := o.Flow(e)
			if !(q > last) {
				t.Errorf("open %g at %g m: %g after %g", open, e, q, last)
			}
			if back := o.Head(q); math.Abs(back-e) > 1e-9*e {
				t.Errorf("open %g: Head(Flow(%g)) = %g", open, e, back)
			}
			last = q
		}
		for k := -120; k <= 0; k += 5 { // twelve decades of flow
			q := math.Pow(10, float64(k)/10)
			if back := o.Flow(o.Head(q)); math.Abs(back-q) > 1e-9*q {
				t.Errorf("open %g: Flow(Head(%g)) = %g", open, q, back)
			}
		}
		if o.Flow(0) != 0 || o.Flow(-1) != 0 || o.Head(0) != 0 {
			t.Error("below its bottom it passes something")
		}
	}
}

// A published drawdown: 30/50 psi switch, charge 28 psi, 85 US gal give a factor of 0.295
// and 25.1 gal (14.7 psi of air).
func TestVesselDrawdown(t *testing.T) {
	const psi, air = 6894.757, 14.7
	v := must(NewVessel("vessel", 85, (28+air)*psi))
	got := v.Water((50+air)*psi) - v.Water((30+air)*psi)
	if math.Abs(got-25.1) > 0.05 {
		t.Errorf("%g gal, published 25.1", got)
	}
}

func TestVesselInverts(t *testing.T) {
	v := must(NewVessel("vessel", 0.024, 2.5e5))
	for _, p := range []float64{2.5e5, 2.500001e5, 3e5, 1e6, 1e7} {
		if got := v.Pressure(v.Water(p)); math.Abs(got-p) > 1e-9*p {
			t.Errorf("Pressure(Water(%g)) = %g", p, got)
		}
	}
	for k := -120; k < 0; k += 5 {
		w := v.Volume * math.Pow(10, float64(k)/10)
		if got := v.Water(v.Pressure(w)); math.Abs(got-w) > 1e-9*w+1e-16*v.Volume {
			t.Errorf("Water(Pressure(%g)) = %g", w, got)
		}
	}
	if v.Water(1e5) != 0 || !math.IsInf(v.Pressure(v.Volume), 1) {
		t.Error("empty below its charge, endless when there is no air left")
	}
	// 100 L heater, 10 to 60 °C, into 8 L charged to 3 bar abs. holding nothing: 1.68 L.
	small := must(NewVessel("vessel", 0.008, 3e5))
	if got, want := small.Pressure(Swell(0.1, 10, 60)), 3e5*8/(8-1.678); math.Abs(got-want) > 1e-3*want {
		t.Errorf("swollen to %g Pa, want %g", got, want)
	}
}
