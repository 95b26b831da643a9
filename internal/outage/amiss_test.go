package outage

import (
	"math"
	"slices"
	"testing"

	"tideover/internal/stream"
)

// made is a log of n interruptions, each made by its number from the end of the last.
func made(n int, one func(i int, s *stream.Stream) (gap, length float64), seed uint64) *Log {
	s := stream.Of(stream.Key{Seed: seed, Process: stream.Weather})
	l, at := &Log{}, 1.7e9
	for i := range n {
		gap, length := one(i, &s)
		l.Entries = append(l.Entries, Entry{Spell: Spell{at + gap, at + gap + length}})
		at += gap + length
	}
	l.Watched = []Spell{{1.7e9, at}}
	return l
}

func (a Against) has(id string) bool {
	return slices.Contains(a.Says, id)
}

// againstOf is what a log shows against its law.
func againstOf(t *testing.T, l *Log) *Against {
	t.Helper()
	p, _, err := l.Fitted(0)
	if err != nil {
		t.Fatal(err)
	}
	return p.Against
}

// TestAgainstIsSeldomWrong: where gaps and lengths are of the laws taken for granted, hardly one
// log in twenty speaks against them.
func TestAgainstIsSeldomWrong(t *testing.T) {
	const logs = 120
	wrong := 0
	for k := range logs {
		s := stream.Of(stream.Key{Seed: 9, Home: uint32(k)})
		up, down := PriorOf(UpPrior).Draw(&s), PriorOf(DownPrior).Draw(&s)
		l := made([]int{12, 40}[k%2], func(_ int, s *stream.Stream) (float64, float64) {
			return math.Min(up.Quantile(s.Uniform()), 10*Year), math.Max(60, math.Min(down.Quantile(s.Uniform()), 60*Day))
		}, uint64(k))
		a := againstOf(t, l)
		if a.Count == 0 {
			t.Fatalf("log %d was not looked at", k)
		}
		if len(a.Says) > 0 {
			wrong++
		}
	}
	if most := 0.05*logs + 2.6*math.Sqrt(0.05*0.95*logs); float64(wrong) > most {
		t.Errorf("%d of %d logs of the law itself speak against it", wrong, logs)
	}
}

// TestAgainstSpeaks: logs that no law of lengths one by one brings forth, and what is said of them.
func TestAgainstSpeaks(t *testing.T) {
	fair := func(s *stream.Stream, middle, spread float64) float64 { return middle * math.Exp(spread*s.Normal()) }
	for _, c := range []struct {
		id  string
		n   int
		one func(i int, s *stream.Stream) (gap, length float64)
	}{
		{"outage.amiss-runs", 40, func(i int, s *stream.Stream) (float64, float64) { // dry and wet months
			return fair(s, []float64{2, 30}[i/10%2]*Day, 0.5), fair(s, 6*Hour, 0.7)
		}},
		{"outage.amiss-oftener", 30, func(i int, s *stream.Stream) (float64, float64) {
			return fair(s, 30*Day*math.Exp(-float64(i)/10), 0.6), fair(s, 6*Hour, 0.7)
		}},
		{"outage.amiss-rarer", 30, func(i int, s *stream.Stream) (float64, float64) {
			return fair(s, 2*Day*math.Exp(float64(i)/10), 0.6), fair(s, 6*Hour, 0.7)
		}},
		{"outage.amiss-longer", 30, func(i int, s *stream.Stream) (float64, float64) {
			return fair(s, 10*Day, 0.8), fair(s, 2*Hour*math.Exp(float64(i)/12), 0.6)
		}},
		{"outage.amiss-shorter", 30, func(i int, s *stream.Stream) (float64, float64) {
			return fair(s, 10*Day, 0.8), fair(s, 24*Hour*math.Exp(-float64(i)/12), 0.6)
		}},
	} {
		found := 0
		for seed := range uint64(10) {
			if againstOf(t, made(c.n, c.one, seed)).has(c.id) {
				found++
			}
		}
		if found < 8 {
			t.Errorf("%s: said of %d logs of ten", c.id, found)
		}
	}
	by := made(12, func(i int, s *stream.Stream) (float64, float64) { return 0, 0 }, 1)
	for i := range by.Entries { // about nine in the morning
		at := 1.7e9 - math.Mod(1.7e9, Day) + float64(10*i)*Day + 9*Hour + float64(i%3)*Hour
		by.Entries[i].Spell = Spell{at, at + float64(2+i%5)*Hour}
	}
	by.Watched = []Spell{{1.7e9, by.Entries[11].To}}
	if !againstOf(t, by).has("outage.amiss-hours") {
		t.Error("twelve beginnings between nine and eleven: nothing is said")
	}
}

// TestRanksByHand: twice the ranks about their mean, equal lengths sharing theirs.
func TestRanksByHand(t *testing.T) {
	if got, want := ranks([]float64{5, 1, 5, 9}), []float64{0, -3, 0, 3}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	s := stream.Of(stream.Key{Seed: 1})
	up := []float64{1, 2, 3, 4, 5, 6, 7, 8}
	// One of 8! = 40,320 orders grows all the way: the chance is that of none of 2,000, 1/2,001.
	if o := orderOf(up, &s); o.grows > 0.003 || o.shrinks < 0.99 {
		t.Errorf("%+v", o)
	}
	// Of three different lengths six orders are alike likely; r = −2, 0, 2 in this one, Σ i·r = 4,
	// is reached by it alone; Σ r·r' = 0 is the most, and four of six reach it (middle in the middle
	// twice: 0; at an end: −4 or 0): worked out by hand below.
	count := 0.0
	for _, p := range [][]float64{{-2, 0, 2}, {-2, 2, 0}, {0, -2, 2}, {0, 2, -2}, {2, -2, 0}, {2, 0, -2}} {
		if neighbours(p) >= 0 {
			count++
		}
	}
	if o := orderOf([]float64{1, 2, 3}, &s); math.Abs(o.grows-1.0/6) > 0.03 || math.Abs(o.runs-count/6) > 0.04 {
		t.Errorf("%+v, want 1/6 and %v", o, count/6)
	}
}

// TestShortLogIsNotHeld: seven interruptions say nothing against a law.
func TestShortLogIsNotHeld(t *testing.T) {
	l := made(7, func(i int, s *stream.Stream) (float64, float64) { return float64(1+i) * Day, float64(1+i) * Hour }, 1)
	if a := againstOf(t, l); a.Count != 0 || len(a.Says) > 0 {
		t.Errorf("%+v", a)
	}
}
