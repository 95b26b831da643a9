package seasons

import (
	"math"
	"testing"

	"tideover/internal/stream"
)

// TestNextHolds: one future more lies in the range read off n of them as often as is claimed,
// whatever their law: nine of ten, not less and hardly more.
func TestNextHolds(t *testing.T) {
	for name, law := range map[string]func(s *stream.Stream) float64{
		"even": func(s *stream.Stream) float64 { return s.Uniform() }, "skew": func(s *stream.Stream) float64 { return math.Exp(3 * s.Normal()) }} {
		for _, n := range []int{19, 60, 128} {
			const runs = 6000
			held := 0.0
			for k := range runs {
				s := stream.Of(stream.Key{Seed: 17, Home: uint32(k), Year: uint32(n)})
				list := make([]Pair, n)
				for i := range list {
					list[i] = Pair{2 * law(&s), 2}
				}
				r, seen := next(list, leftOut)
				if x := law(&s); seen == n && r.Low <= x && x <= r.High {
					held++
				}
			}
			k := math.Max(1, math.Floor(0.04*float64(n+1)+1e-9))
			want := 1 - 2*k/float64(n+1)
			if se := math.Sqrt(want * (1 - want) / runs); math.Abs(held/runs-want) > 4*se || n >= 24 && want < 0.92 {
				t.Errorf("%s, %d futures: held %.3f, want %.3f", name, n, held/runs, want)
			}
		}
	}
}

// TestNextOfNothing: futures that saw nothing say nothing.
func TestNextOfNothing(t *testing.T) {
	if r, n := next([]Pair{{0, 0}, {0, 0}}, leftOut); n != 0 || r != (Range{}) {
		t.Errorf("%v of %d", r, n)
	}
	if r, n := next([]Pair{{0, 0}, {3, 4}}, leftOut); n != 1 || r != (Range{0.75, 0.75}) {
		t.Errorf("%v of %d", r, n)
	}
}

// TestMixtureLiesBetweenItsParts: whatever the parts, what all futures say lies between what the
// parts of them say.
func TestMixtureLiesBetweenItsParts(t *testing.T) {
	for k := range 300 {
		s := stream.Of(stream.Key{Seed: 5, Home: uint32(k)})
		list := make([]Pair, 64)
		part := make([]int, len(list))
		for i := range list {
			den := math.Floor(30 * s.Uniform())
			list[i] = Pair{math.Floor(den * s.Uniform()), den}
			part[i] = int(3 * s.Uniform())
		}
		for m := range Measures {
			all := Among(m, list, func(int) bool { return true })
			low, high := math.Inf(1), math.Inf(-1)
			for p := range 3 {
				if e := Among(m, list, func(f int) bool { return part[f] == p }); e.N > 0 {
					low, high = math.Min(low, e.Value), math.Max(high, e.Value)
				}
			}
			if all.Value < low-1e-12 || all.Value > high+1e-12 {
				t.Fatalf("measure %d: %g of all, %g to %g of the parts", m, all.Value, low, high)
			}
		}
	}
}
