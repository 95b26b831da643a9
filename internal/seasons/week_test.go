package seasons

import (
	"context"
	"testing"

	"tideover/internal/demand"
)

// TestWeekOf: each future has one of the ways instead of the usual one in all its hours, any alike,
// and the other hours as they are.
func TestWeekOf(t *testing.T) {
	in := input(steady(t, 12/3.6e6, demand.OnStore), told{}, tanks(100, 1000))
	in.Mains = []Main{{}, {Serves: true}, {Serves: true}, {Serves: true}}
	for hour := range in.Week {
		in.Week[hour] = 1
	}
	in.Week[20], in.Usual = 2, 1
	if in.WeekOf(3) != in.Week {
		t.Error("nothing instead, and the week is another")
	}
	in.Instead = []uint8{1, 3}
	seen := map[uint8]int{}
	const futures = 2000
	for k := range uint32(futures) {
		week := in.WeekOf(k)
		seen[week[0]]++
		for hour, way := range week {
			if want := week[0]; hour != 20 && way != want || hour == 20 && way != 2 {
				t.Fatalf("future %d, hour %d: way %d", k, hour, way)
			}
		}
	}
	// 2000 tosses: a standard error is 22.
	if n := seen[1]; n+seen[3] != futures || n < 900 || n > 1100 {
		t.Errorf("%v of %d", seen, futures)
	}
}

// TestInsteadByHand: a store of 1000 L that 12 L/h leave through the day is filled with 100 L/h
// on the usual main and with nothing on the one that takes its place in half of the futures: there it
// is empty for ever, and in the others full.
func TestInsteadByHand(t *testing.T) {
	in := input(steady(t, 12/3.6e6, demand.OnStore), told{}, tanks(100, 1000))
	in.Change, in.Years, in.Warm = Never, 1, 1
	in.Mains = append(in.Mains, Main{Serves: true})
	in.Stores[0].Fill = append(in.Stores[0].Fill, make([]float64, len(in.Stores[0].Fill[0])))
	weak := uint8(len(in.Mains) - 1)
	in.Usual, in.Instead = in.Week[0], []uint8{in.Week[0], weak}
	w := worker(t, in)
	both := [2]int{}
	for k := range uint32(12) {
		c, err := w.Chunk(context.Background(), k, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		want, n := 12e-3*8760, 0
		if in.WeekOf(k)[0] == weak {
			want, n = 0, 1
		}
		both[n]++
		near(t, "comes in", c.Stores[0].In, want, 1e-6)
		near(t, "is drawn", c.Stores[0].Out, want, 1e-6)
	}
	if both[0] == 0 || both[1] == 0 {
		t.Errorf("twelve futures: %v", both)
	}
}

// TestInsteadRefused: a way that is none.
func TestInsteadRefused(t *testing.T) {
	in := input(steady(t, 12/3.6e6, demand.OnStore), told{}, tanks(100, 1000))
	in.Instead = []uint8{uint8(len(in.Mains))}
	if _, err := NewWorker(in); err == nil {
		t.Error("is taken")
	}
}
