package web

import (
	"slices"
	"testing"
	"time"
)

// BenchmarkEdit is an edit with the page it leads to, on Kestrel Rise.
func BenchmarkEdit(b *testing.B) {
	s := serve(b, "kestrel-rise")
	editing(b, s, func() {})
}

// BenchmarkEditProving is the same while every failure of the state before is being tried.
func BenchmarkEditProving(b *testing.B) {
	s := serve(b, "kestrel-rise")
	s.pages.chair.free <- struct{}{}
	d, err := s.pages.desk("kestrel-rise")
	if err != nil {
		b.Fatal(err)
	}
	editing(b, s, func() {
		for !d.proving() {
			time.Sleep(10 * time.Millisecond)
		}
		time.Sleep(100 * time.Millisecond)
	})
}

func (d *desk) proving() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.stage == last || d.stage == sound && len(d.pages.chair.free) == 0
}

func editing(b *testing.B, s *site, before func()) {
	values := []string{"3.2 bar ±0.1", "3.3 bar ±0.1"}
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		before()
		start := time.Now()
		s.lay(kestrel+"/edit", fields("survey", "supply.static", values[i%2], values[(i+1)%2]))
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
}
