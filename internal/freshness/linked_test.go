package freshness

import (
	"math"
	"testing"
)

// TestFarTankStands: while as much comes as goes the far tank's water only ages, second by second, and
// the near one is a stirred vessel of its own volume (MixedAgeEq).
func TestFarTankStands(t *testing.T) {
	const q, volume, hours = 1e-5, 2.0, 200.0
	l := NewLinked(2, volume, Water{Age: 3600, Heat: 15})
	for range 200 {
		l.Step(Flow{3600, q, q}, Water{Heat: 15}, Around{Outside: 15}, Decay{})
	}
	if got, want := l.Far.Water.Age, 3600+hours*3600; math.Abs(got-want) > 1e-6*want {
		t.Errorf("far tank %g s old, want %g", got, want)
	}
	if got, want := l.Near.Water.Age, MixedAgeEq.Fn([]float64{3600, 0, volume / 2, q, hours * 3600}); math.Abs(got-want) > 1e-6*want {
		t.Errorf("near tank %g s old, want %g", got, want)
	}
}

// TestFarTankBreathes: no water and no age is lost or made over any flows: what the tanks hold, times
// its age, grows by what they hold each second, and falls by what is drawn times its age
// (Danckwerts). Two linked tanks are older at the tap, one litre in many, than one stirred tank.
func TestFarTankBreathes(t *testing.T) {
	l := NewLinked(3, 1.5, Water{Heat: 15})
	m := Mixed{Volume: 1.5, Water: Water{Heat: 15}}
	held, drawn, grown := 0.0, 0.0, 0.0
	steps := []Flow{{7200, 0, 3e-5}, {3600, 9e-5, 1e-5}, {86400, 1e-5, 1e-5}, {1800, 0, 1e-4}, {1800, 1e-4, 0}}
	for range 40 {
		for _, f := range steps {
			before := l.Volume()
			near, far := l.Step(f, Water{Heat: 15}, Around{Outside: 15}, Decay{})
			m.Step(f, Water{Heat: 15}, Around{Outside: 15}, Decay{})
			if math.Abs(l.Volume()-m.Volume) > 1e-9 || math.Abs(near.Volume+far.Volume-f.Out*f.Span) > 1e-12 {
				t.Fatalf("water is lost: %g and %g", l.Volume(), m.Volume)
			}
			grown += (before + l.Volume()) / 2 * f.Span
			drawn += near.Volume*near.Mean.Age + far.Volume*far.Mean.Age
		}
	}
	held = l.Near.Volume*l.Near.Water.Age + l.Far.Volume*l.Far.Water.Age
	if math.Abs(held+drawn-grown) > 1e-6*grown {
		t.Errorf("held %g and drawn %g, grown %g m³s", held, drawn, grown)
	}
	if !(l.Far.Water.Age > l.Near.Water.Age && l.Far.Water.Age > m.Water.Age) {
		t.Errorf("far %g, near %g, stirred %g s", l.Far.Water.Age, l.Near.Water.Age, m.Water.Age)
	}
}
