package hydraulics

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"
	"time"
)

// proofCases draws states of the home as a proof over every setting would meet them: each
// hand valve open or shut, the main good to sucking, the store at some level, the pump
// running or not, some taps open. Only those in which water moves are kept: where it does
// not, there is next to nothing to solve.
func proofCases(n *Net, p homeParts, count int) []*State {
	r := rand.New(rand.NewPCG(1, 60))
	w, a := n.NewWork(), n.NewAnswer()
	var list []*State
	for len(list) < count {
		s := n.NewState()
		p.draw(r, s)
		if n.Solve(s, a, w) == nil && a.Status == Converged {
			list = append(list, s)
		}
	}
	return list
}

// draw sets everything a case can choose.
func (p homeParts) draw(r *rand.Rand, s *State) {
	for kind := range 5 {
		p.change(r, s, kind)
	}
	for _, stop := range p.stops {
		s.Off[stop] = r.IntN(4) == 0
	}
	for _, o := range p.outlets {
		s.Off[o] = r.IntN(3) > 0
	}
}

// change sets one thing anew: the main, the store and its float, the pump, a valve, a tap.
func (p homeParts) change(r *rand.Rand, s *State, kind int) {
	switch kind {
	case 0:
		s.Held[p.main] = []float64{42, 32.6, 21, 8, -1}[r.IntN(5)]
	case 1:
		s.Held[p.store] = []float64{0.8, 1.1, 1.4, 1.6}[r.IntN(4)]
		s.Opening[p.float] = []float64{1, 0.5, 0}[r.IntN(3)]
	case 2:
		s.Off[p.pump] = r.IntN(2) == 0
	case 3:
		valve := append([]int{p.bypass}, p.stops...)[r.IntN(1+len(p.stops))]
		s.Off[valve] = !s.Off[valve]
	case 4:
		o := p.outlets[r.IntN(len(p.outlets))]
		s.Off[o] = !s.Off[o]
	}
}

// chain is a walk through cases that differ in one change each.
func (p homeParts) chain(n *Net, count int) []*State {
	r := rand.New(rand.NewPCG(2, 60))
	s := n.NewState()
	p.draw(r, s)
	var list []*State
	for range count {
		p.change(r, s, r.IntN(5))
		list = append(list, &State{
			Held:    append([]float64(nil), s.Held...),
			Opening: append([]float64(nil), s.Opening...),
			Off:     append([]bool(nil), s.Off...),
		})
	}
	return list
}

// passes over a list of cases from which each case's least time is taken: what is left
// of a machine's other work.
const passes = 9

// percentiles runs solve over the cases by passes and reports the percentiles of each
// case's least time and of its steps.
func percentiles(b *testing.B, cases []*State, solve func(s *State) int) {
	b.ReportAllocs()
	least, steps := make([]float64, len(cases)), make([]int, len(cases))
	for i := range least {
		least[i] = math.Inf(1)
	}
	for _, s := range cases {
		solve(s) // lets buffers grow
	}
	b.ResetTimer()
	for range b.N {
		for range passes {
			for i, s := range cases {
				t := time.Now()
				steps[i] = solve(s)
				least[i] = math.Min(least[i], float64(time.Since(t).Nanoseconds())/1e3)
			}
		}
	}
	b.StopTimer()
	sum := 0.0
	for _, v := range least {
		sum += v
	}
	sort.Float64s(least)
	sort.Ints(steps)
	at := func(share float64) int { return int(share * float64(len(cases)-1)) }
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(sum/float64(len(cases)), "µs-mean")
	b.ReportMetric(least[at(0.5)], "µs-p50")
	b.ReportMetric(least[at(0.99)], "µs-p99")
	b.ReportMetric(float64(steps[at(0.5)]), "steps-p50")
	b.ReportMetric(float64(steps[at(0.99)]), "steps-p99")
}

// BenchmarkProof measures the proof's mix of cases on the home of sixty elements, four
// ways in one run. "certified" judges every answer by the independent certificate;
// "quick" by the residuals the solver has at hand.
func BenchmarkProof(b *testing.B) {
	n, p := newHome()
	cases, walk := proofCases(n, p, 2000), p.chain(n, 2000)
	by := func(warm, quick bool, solve func(*State, *Answer, *Work) error) func(*State) int {
		w, a := n.NewWork(), n.NewAnswer()
		w.Warm, w.Quick = warm, quick
		return func(s *State) int {
			if err := solve(s, a, w); err != nil {
				b.Fatal(err)
			}
			return a.Iterations
		}
	}
	b.Run("cold-certified", func(b *testing.B) { percentiles(b, cases, by(false, false, n.Solve)) })
	b.Run("cold-quick", func(b *testing.B) { percentiles(b, cases, by(false, true, n.Solve)) })
	b.Run("chained-certified", func(b *testing.B) { percentiles(b, walk, by(true, false, n.Solve)) })
	b.Run("chained-quick", func(b *testing.B) { percentiles(b, walk, by(true, true, n.Solve)) })
	b.Run("dense-cholesky", func(b *testing.B) {
		w, a := n.NewWork(), n.NewAnswer()
		percentiles(b, cases, func(s *State) int { _, steps := n.solveDense(s, a, w); return steps })
	})
	b.Run("heads-only", func(b *testing.B) { percentiles(b, cases, by(false, true, n.solveByHeads)) })
}
