package seasons

import (
	"context"
	"math"
	"testing"

	"tideover/internal/demand"
)

// beats counts how often a store gets full, and where its level stands on the mean.
type beats struct {
	full       int
	sum, time  float64
	low        float64
	usable     float64
	at, beside float64 // level at a moment
}

func (b *beats) See(s *Span) {
	dt := s.To - s.From
	b.sum += dt * (s.Before + s.After) / 2
	b.time += dt
	b.low = math.Min(b.low, s.After)
	if s.After == b.usable && s.Before < b.usable {
		b.full++
	}
	if s.From <= b.at && b.at < s.To {
		b.beside = s.Before + (s.After-s.Before)*(b.at-s.From)/dt
	}
}

// TestPulsesByHand: 12 L/h through a store of 1000 L whose delayed float valve opens at 800 and lets in
// 100 L/h: 16 2/3 h down, 200 L at 88 L/h or 2.2727 h up: 18.939 h a pulse, 462.5 in a year, 900 L on the
// mean. With an interruption from 8 to 100 h it finds 1000 − 96 L, which are gone after 83 1/3 h
// of the 100.
func TestPulsesByHand(t *testing.T) {
	in := input(steady(t, 12/3.6e6, demand.OnStore), told{}, tanks(100, 1000))
	in.Change, in.Years, in.Warm = Never, 1, 0
	in.Stores[0].Opens = 0.8
	b := &beats{low: 1, usable: 1}
	c, err := worker(t, in).Chunk(context.Background(), 1, b, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pulses", float64(b.full), 8760/(200.0/12+200.0/88), 1)
	near(t, "hours from one to the next", PulseEq.Fn([]float64{0.2, 12 / 3.6e6, 88 / 3.6e6})/Hour, 18.939, 1e-3)
	near(t, "mean level", b.sum/b.time, 0.9, 2e-3)
	near(t, "lowest", b.low, 0.8, 1e-9)
	if e := c.Stores[0].balance(); e > 1e-9 || c.Stores[0].Short > 0 {
		t.Errorf("balance misses %g, %g m³ short", e, c.Stores[0].Short)
	}

	in.Supply = told{off: hours(8, 100)}
	b = &beats{low: 1, usable: 1, at: 100 * Hour}
	if c, err = worker(t, in).Chunk(context.Background(), 1, b, 0); err != nil {
		t.Fatal(err)
	}
	near(t, "left at the end of the interruption", b.beside, 0, 1e-6)
	near(t, "hours empty", c.Stores[0].Empty/Hour, 100-1000.0/12, 0.01)
}

// TestPulsesFoundLow: an interruption that comes just before the valve opens finds a fifth less: 800 L
// at 12 L/h last 66 2/3 h, where a valve that follows the level has kept it full for 83 1/3 h.
func TestPulsesFoundLow(t *testing.T) {
	for opens, lasts := range map[float64]float64{0.8: 800.0 / 12, 0: 1000.0 / 12} {
		in := input(steady(t, 12/3.6e6, demand.OnStore), told{off: hours(200/12.0-0.01, 200)}, tanks(100, 1000))
		in.Change, in.Years, in.Warm = Never, 1, 0
		in.Stores[0].Opens = opens
		c, err := worker(t, in).Chunk(context.Background(), 1, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hours empty", c.Stores[0].Empty/Hour, 200-200/12.0-lasts, 0.1)
	}
}

// TestPulsesThatNeverRest: a valve that opens a millionth down is one that follows the level.
func TestPulsesThatNeverRest(t *testing.T) {
	plain := town(t, 4, Automatic)
	for i := range plain.Stores {
		plain.Stores[i].Edges = []float64{1}
		for m := range plain.Stores[i].Fill {
			plain.Stores[i].Fill[m] = plain.Stores[i].Fill[m][:1]
		}
	}
	quick := *plain
	quick.Stores = append([]Store(nil), plain.Stores...)
	for i := range quick.Stores {
		quick.Stores[i].Opens = 1 - 1e-6
	}
	a, b := chunk(t, worker(t, plain), 3), chunk(t, worker(t, &quick), 3)
	for i := range a.Stores {
		x, y := &a.Stores[i], &b.Stores[i]
		near(t, "short", y.Short, x.Short, 1e-4*(1+x.Short))
		near(t, "empty", y.Empty, x.Empty, 60+1e-4*x.Empty)
		near(t, "ridden", y.Ridden, x.Ridden, 0)
		near(t, "out", y.Out, x.Out, 1e-4*(1+x.Out))
	}
}
