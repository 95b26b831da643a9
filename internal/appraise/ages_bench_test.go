package appraise

import (
	"context"
	"testing"

	"tideover/internal/seasons"
)

// BenchmarkAges follows the water of all sizes of the examples on one core.
func BenchmarkAges(b *testing.B) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		b.Run(name, func(b *testing.B) {
			h := ready(b, name)
			w, err := seasons.NewWorker(h.Input)
			if err != nil {
				b.Fatal(err)
			}
			g := seasons.NewGather(h.Input, seasons.Ask{Measure: seasons.RideThrough, Store: h.Own, Half: 1, Least: 2, Most: 2})
			for k := range 2 {
				t, err := w.Chunk(context.Background(), uint32(k), nil, 0)
				if err != nil {
					b.Fatal(err)
				}
				g.Add(k, t)
			}
			answer, k := g.Answer(), 0
			b.ReportAllocs()
			for b.Loop() {
				if _, err := h.Follow(context.Background(), h.Input, answer, nil, k); err != nil {
					b.Fatal(err)
				}
				k++
			}
			b.ReportMetric(float64(k)/b.Elapsed().Seconds(), "futures/s")
		})
	}
}
