package freshness

import (
	"math/rand/v2"
	"testing"
)

// TestBoth: a store followed at two speeds is two stores followed at one, bit for bit, with chlorine and
// without.
func TestBoth(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 1))
	usual, quick := UsualDecay, UsualDecay
	quick.Bulk20 *= 3
	for _, chlorine := range []float64{0, 0.5e-3} {
		both := Both{Mixed: Mixed{1, Water{Heat: 12}}}
		one, other := both.Mixed, both.Mixed
		drawn := 0
		for n := range 2000 {
			f := Flow{Span: 3600 * rng.Float64(), Out: 1e-4 * rng.Float64() * float64(n%2), In: 1e-4 * rng.Float64() * float64(n%3)}
			if both.Volume < 0.5 {
				f.Out = 0
			}
			in, around := Water{Chlorine: chlorine, Heat: 10 + 10*rng.Float64()}, Around{Outside: 30 * rng.Float64(), Loss: 5}
			want, quickly := one.Step(f, in, around, usual), other.Step(f, in, around, quick)
			if n%5 == 0 {
				both.Pass(f, in, around, usual, quick)
			} else if got, mean := both.Step(f, in, around, usual, quick); got != want || mean != quickly.Mean.Chlorine {
				t.Fatalf("span %d: %v and %g at the second speed, by themselves %v and %g", n, got, mean, want, quickly.Mean.Chlorine)
			}
			if both.Mixed != one || both.Quick != other.Water.Chlorine {
				t.Fatalf("span %d: %v with %g, by themselves %v and %v", n, both.Mixed, both.Quick, one, other)
			}
			if want.Volume > 0 {
				drawn++
			}
		}
		if drawn < 500 {
			t.Errorf("%d spans in which something was drawn", drawn)
		}
	}
}
