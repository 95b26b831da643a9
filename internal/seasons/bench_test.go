package seasons

import (
	"context"
	"runtime"
	"sync"
	"testing"
	"time"

	"tideover/internal/demand"
)

// kestrel is a rationed town: five people, suppers at which the main is below the
// lock-out, two interruptions a week.
func kestrel(b testing.TB, sizes int) *Input {
	var litres []float64
	for k := range sizes {
		litres = append(litres, 3000*float64(k+1)/float64(sizes))
	}
	in := input(family(b, 5, demand.Either), renewal{up: 70 * Hour, down: 15 * Hour}, tanks(400, litres...))
	in.Mains = append(in.Mains, Main{Head: 8})
	for i := range in.Stores {
		in.Stores[i].Fill = append(in.Stores[i].Fill, []float64{0})
	}
	for h := range in.Week {
		if h%24 >= 17 && h%24 < 20 {
			in.Week[h] = 2
		}
	}
	return in
}

// juniper is a town with a dozen main breaks a year and a hand changeover: three people, one store.
func juniper(b testing.TB) *Input {
	in := input(family(b, 3, demand.Either), renewal{up: 720 * Hour, down: 7 * Hour}, tanks(600, 1000))
	in.Change = ByHand
	for m := range in.Hand.There {
		h := m / 60
		in.Hand.There[m] = h%24 >= 18 && h%24 < 23 || h%24 >= 6 && h%24 < 8
	}
	in.Hand.Least, in.Hand.Most = 300, 1800
	return in
}

func bench(b *testing.B, in *Input) {
	w := worker(b, in)
	b.ReportAllocs()
	k := uint32(0)
	for b.Loop() {
		chunk(b, w, k)
		k++
	}
	b.ReportMetric(float64(k)*float64(in.Years)/b.Elapsed().Seconds(), "home-years/s")
}

func BenchmarkKestrel(b *testing.B)       { bench(b, kestrel(b, 1)) }
func BenchmarkKestrelTwenty(b *testing.B) { bench(b, kestrel(b, 20)) }
func BenchmarkJuniper(b *testing.B)       { bench(b, juniper(b)) }

// BenchmarkSizes lives the same future with one store and with twenty, turn by turn, and tells how
// many times as long twenty take: of suppers and interruptions, and with half the water drawn
// through the store, when every hour is lived. The one is as large as the largest of the twenty.
func BenchmarkSizes(b *testing.B) {
	for _, c := range []struct {
		name string
		make func(sizes int) *Input
	}{
		{"suppers", func(sizes int) *Input { return kestrel(b, sizes) }},
		{"through", func(sizes int) *Input {
			in := kestrel(b, sizes)
			for i := range in.Home.Uses {
				if i%2 == 1 {
					in.Home.Uses[i].Line = demand.OnStore
				}
			}
			return in
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			one, twenty := worker(b, c.make(1)), worker(b, c.make(20))
			live := func(w *Worker) time.Duration {
				begun := time.Now()
				chunk(b, w, 1)
				return time.Since(begun)
			}
			single, all := time.Hour, time.Hour // the least of each: what the machine can do when left alone
			for b.Loop() {
				single, all = min(single, live(one)), min(all, live(twenty))
			}
			b.ReportMetric(all.Seconds()/single.Seconds(), "times-as-long")
			b.ReportMetric(10/all.Seconds(), "home-years/s-of-twenty")
		})
	}
}

// BenchmarkThrough is all water through the store: every hour is lived.
func BenchmarkThrough(b *testing.B) {
	in := input(family(b, 5, demand.OnStore), renewal{up: 70 * Hour, down: 15 * Hour}, tanks(400, 1500))
	in.Change = Never
	bench(b, in)
}

// noSuppers is Kestrel's interruptions alone, which the plain balance can do as well.
func noSuppers(b testing.TB) *Input {
	return input(family(b, 5, demand.Either), renewal{up: 70 * Hour, down: 15 * Hour}, tanks(400, 3000))
}

// BenchmarkEvents and BenchmarkHourly do the same years, by events and by the plain balance.
func BenchmarkEvents(b *testing.B) { bench(b, noSuppers(b)) }

// BenchmarkHourly: see BenchmarkEvents.
func BenchmarkHourly(b *testing.B) {
	in := noSuppers(b)
	for k := uint32(0); b.Loop(); k++ {
		hourly(in, k, 0)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "home-years/s")
}

// BenchmarkWorkers shares Kestrel's futures among as many workers as there are processors.
func BenchmarkWorkers(b *testing.B) {
	in := kestrel(b, 1)
	n := runtime.GOMAXPROCS(0)
	per := (b.N + n - 1) / n
	var wait sync.WaitGroup
	b.ResetTimer()
	for k := range n {
		wait.Go(func() {
			w, err := NewWorker(in)
			if err != nil {
				b.Error(err)
				return
			}
			for i := range per {
				if _, err := w.Chunk(context.Background(), uint32(k*per+i), nil, 0); err != nil {
					b.Error(err)
				}
			}
		})
	}
	wait.Wait()
	b.ReportMetric(float64(n*per*in.Years)/b.Elapsed().Seconds(), "home-years/s")
}
