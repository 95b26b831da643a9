package appraise

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/seasons"
	"tideover/internal/years"
)

// ready is an example put into the run.
func ready(b testing.TB, name string, edits ...job.Edit) *years.Home {
	b.Helper()
	doc, _, err := demo.Doc(b, name).Apply(edits...)
	if err != nil {
		b.Fatal(err)
	}
	cat, _ := demo.Rows(b, doc.Job.Profile)
	in, err := NewInput(cat, doc)
	if err != nil {
		b.Fatal(err)
	}
	return made(b, in)
}

// made is a home put into the run.
func made(b testing.TB, in Input) *years.Home {
	b.Helper()
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
	if _, err := layOut(in, a, false); err != nil {
		b.Fatal(err)
	}
	ci, err := circuit.New(a.Assembly, in.figures())
	if err != nil {
		b.Fatal(err)
	}
	h, err := years.Make(in.Job, a.Assembly, ci, in.Catalogue, in.Profile, Logs{}, gets(in, a.Assembly, ci))
	if err != nil {
		b.Fatal(err)
	}
	return h
}

// livedYears is how many years a future takes, those counted and the one before them.
func livedYears(in *seasons.Input) float64 { return float64(in.Years + in.Warm) }

// BenchmarkYears lives the examples' own jobs on one core, all sizes at once.
func BenchmarkYears(b *testing.B) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		b.Run(name, func(b *testing.B) {
			h := ready(b, name)
			w, err := seasons.NewWorker(h.Input)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			k := uint32(0)
			for b.Loop() {
				if _, err := w.Chunk(context.Background(), k, nil, 0); err != nil {
					b.Fatal(err)
				}
				k++
			}
			b.ReportMetric(float64(k)*livedYears(h.Input)/b.Elapsed().Seconds(), "home-years/s")
		})
	}
}

// BenchmarkYearsOnTwo lives the same futures of Kestrel Rise with one worker and with two, turn
// by turn so that whatever else the machine does falls on both, and tells how many times
// as fast two are.
func BenchmarkYearsOnTwo(b *testing.B) {
	if runtime.GOMAXPROCS(0) < 2 {
		b.Skip("one core")
	}
	h := ready(b, "kestrel-rise")
	live := func(workers int) time.Duration {
		const futures = 24
		var wait sync.WaitGroup
		var next atomic.Uint32 // future; whoever is free takes it, as in a run
		begun := time.Now()
		for range workers {
			wait.Go(func() {
				w, err := seasons.NewWorker(h.Input)
				for k := next.Add(1) - 1; k < futures && err == nil; k = next.Add(1) - 1 {
					_, err = w.Chunk(context.Background(), k, nil, 0)
				}
				if err != nil {
					b.Error(err)
				}
			})
		}
		wait.Wait()
		return time.Since(begun)
	}
	one, two := time.Hour, time.Hour // the least of each: what the machine can do when left alone
	for b.Loop() {
		one, two = min(one, live(1)), min(two, live(2))
	}
	b.ReportMetric(one.Seconds()/two.Seconds(), "times-as-fast")
}
