package proof

import (
	"context"
	"math/rand/v2"
	"runtime"
	"testing"
)

// BenchmarkKestrel proves every promise over all cases of Kestrel Rise with no and with one
// mishap. The target is 5 s on two cores, under 200 MB.
func BenchmarkKestrel(b *testing.B) {
	in := laid(b, "kestrel-rise", "", nil)
	var rep *Report
	for b.Loop() {
		var err error
		if rep, err = Prove(context.Background(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(rep.Cases), "cases")
	b.ReportMetric(float64(rep.Boxes), "boxes")
	b.ReportMetric(float64(rep.Solves), "solves")
	b.ReportMetric(float64(rep.Distinct), "circuits")
	b.ReportMetric(float64(m.Sys)/1e6, "MB-of-the-system")
}

// BenchmarkPromise proves each promise by itself.
func BenchmarkPromise(b *testing.B) {
	for _, p := range Promises() {
		b.Run(p.About().ID, func(b *testing.B) {
			in := laid(b, "kestrel-rise", "", nil)
			in.Promises = []Promise{p}
			var rep *Report
			for b.Loop() {
				var err error
				if rep, err = Prove(context.Background(), in, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(rep.Boxes), "boxes")
			b.ReportMetric(float64(rep.Solves), "solves")
			b.ReportMetric(float64(rep.Distinct), "circuits")
		})
	}
}

// BenchmarkPairs proves every pair of mishaps of which neither alone breaks the promise.
func BenchmarkPairs(b *testing.B) {
	in := laid(b, "kestrel-rise", "", nil)
	in.Pairs = true
	var rep *Report
	for b.Loop() {
		var err error
		if rep, err = Prove(context.Background(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(rep.Pairs), "pairs-of-a-promise")
	b.ReportMetric(float64(rep.Boxes), "boxes")
}

// BenchmarkFirstBroken is the time until the first broken case is told. The target is 0.3 s.
func BenchmarkFirstBroken(b *testing.B) {
	in := laid(b, "kestrel-rise", "", nil)
	for b.Loop() {
		ctx, cancel := context.WithCancel(context.Background())
		_, _ = Prove(ctx, in, func(p Progress) {
			if p.Broken != nil {
				cancel()
			}
		})
		cancel()
	}
}

// BenchmarkPlain judges the same promises case by case by plain solving, on a subset: 200
// cases drawn at random, the same each time. Divided by 200 and multiplied by the number
// of cases it is what the boxes save.
func BenchmarkPlain(b *testing.B) {
	in := laid(b, "kestrel-rise", "", nil)
	in.Promises = Promises()
	s, err := NewSpace(&in)
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(41, 4))
	start := newOracle(s, false, s.all, 0).start
	list := make([]Case, 200)
	for k := range list {
		list[k] = drawn(s, start, r)
	}
	newBrute := newBrutes(s)
	for b.Loop() {
		for _, c := range list {
			o := newBrute(c)
			for _, p := range in.Promises {
				if p.About().Spread == EveryCase {
					(&walk{o: o, p: p, about: p.About(), view: &View{o}}).judge()
				}
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/200, "ns/case")
}
