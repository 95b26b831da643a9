package hydraulics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestWaveSpeed: wave speeds of common pipes, computed independently of this code; and
// the rise in bar per m/s.
func TestWaveSpeed(t *testing.T) {
	const mm, gpa = 1e-3, 1e9
	for _, c := range []struct {
		name              string
		outside, wall     float64
		modulus, poisson  float64
		want, bar         float64
		tolerance, tolBar float64
	}{
		{"copper 15 x 0.7", 15, 0.7, 120, 0.34, 1276, 12.7, 1, 0.05},
		{"copper 22 x 0.9", 22, 0.9, 120, 0.34, 1254, 12.5, 1, 0.05},
		{"galvanised 3/4", 26.9, 2.6, 207, 0.30, 1414, 14.1, 2, 0.05},
		{"PVC-U 25 x 1.9", 25, 1.9, 3.0, 0.40, 485, 4.8, 1, 0.06},
		{"CPVC 3/4", 22.225, 2.032, 2.9, 0.38, 515, 5.1, 1, 0.05},
		{"PE100 25 x 2.3", 25, 2.3, 1.0, 0.46, 321, 3.2, 1.5, 0.05},
		{"PP-R 25 x 4.2", 25, 4.2, 0.8, 0.42, 372, 3.7, 1, 0.05},
		{"PE-X 16 x 2.2", 16, 2.2, 0.6, 0.46, 299, 3.0, 1, 0.05},
	} {
		w := Wall{(c.outside - 2*c.wall) * mm, c.wall * mm, c.modulus * gpa, c.poisson}
		got, err := WaveSpeed(c.name, w, 998.2)
		if err != nil || math.Abs(got-c.want) > c.tolerance {
			t.Errorf("%s: wave speed %.2f m/s (%v), want %g", c.name, got, err, c.want)
		}
		h, err := Surge(got, 1, 1e3, 0)
		if bar := h * 998.2 * Gravity / 1e5; err != nil || math.Abs(bar-c.bar) > c.tolBar {
			t.Errorf("%s: %.3f bar per m/s (%v), want %g", c.name, bar, err, c.bar)
		}
	}
}

// TestWaveSpeedLimits: a rigid wall leaves the speed of sound in water; a thin wall goes
// over into the form for thin walls.
func TestWaveSpeedLimits(t *testing.T) {
	sound := math.Sqrt(Bulk / 1000)
	if got, _ := WaveSpeed("", Wall{0.02, 0.02, 1e13, 0.3}, 1000); math.Abs(got-sound) > 1e-3*sound {
		t.Errorf("rigid: %g m/s, want %g", got, sound)
	}
	d, e, mod, nu := 1.0, 1e-5, 2e11, 0.3
	thin := sound / math.Sqrt(1+Bulk*d/(mod*e)*(1-nu*nu))
	if got, _ := WaveSpeed("", Wall{d, e, mod, nu}, 1000); math.Abs(got-thin) > 1e-4*thin {
		t.Errorf("thin: %g m/s, want %g", got, thin)
	}
}

// TestSurge: 1250 m/s, 25 m, 1.5 m/s: Joukowsky 191.197 m at once, Michaud 76.479 m in
// 0.1 s (computed independently; a method-of-characteristics grid agrees).
func TestSurge(t *testing.T) {
	for _, c := range []struct{ stop, want float64 }{{0, 191.197}, {0.04, 191.197}, {0.1, 76.479}} {
		if got, err := Surge(1250, 1.5, 25, c.stop); err != nil || math.Abs(got-c.want) > 5e-4 {
			t.Errorf("stopped in %g s: %.4f m (%v), want %g", c.stop, got, err, c.want)
		}
	}
	for _, bad := range [][4]float64{{0, 1, 1, 1}, {1e3, -1, 1, 1}, {1e3, math.NaN(), 1, 1}, {1e3, 1, 1, math.Inf(1)}} {
		if _, err := Surge(bad[0], bad[1], bad[2], bad[3]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if _, err := WaveSpeed("R1", Wall{0.02, 0, 1e9, 0.3}, 1000); err == nil {
		t.Error("a pipe without a wall was taken")
	}
}

// TestSurgeNeverAboveJoukowsky: continuous where the wave just comes back, never above
// Joukowsky, and no higher for a slower closure.
func TestSurgeNeverAboveJoukowsky(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(200, 1480).Draw(t, "a")
		v := rapid.Float64Range(0, 6).Draw(t, "v")
		l := rapid.Float64Range(0.1, 300).Draw(t, "l")
		stop := rapid.Float64Range(0, 5).Draw(t, "stop")
		first, _ := Surge(a, v, l, stop)
		later, _ := Surge(a, v, l, stop+rapid.Float64Range(0, 5).Draw(t, "more"))
		if most := a * v / Gravity; first > most*(1+1e-12) || later > first*(1+1e-12) {
			t.Fatalf("%g, then %g of %g m", first, later, most)
		}
	})
}
