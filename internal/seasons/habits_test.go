package seasons

import (
	"testing"

	"tideover/internal/demand"
)

// TestBucketsFirst: 40 L put by once in an interruption of 10 h leave 60 of 100 L, which last 5 h at
// 12 L/h; nothing is put by in the next that the store does not hold.
func TestBucketsFirst(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: append(hours(10, 20), hours(100, 110)...)}, tanks(100, 100))
	in.Habits.Buckets = 0.04
	c := year(t, in)
	near(t, "litres short", c.Short*1000, 2*12*5, 6)
	near(t, "litres out", c.Out*1000, 2*100, 1)
	if c.balance() > 1e-9 {
		t.Errorf("balance misses %g", c.balance())
	}
	in.Habits.Buckets = 0.5
	near(t, "litres short, all put by", year(t, in).Short*1000, 2*12*10, 12)
}

// TestCaughtUp: all water through the store, 1,000 L, an interruption of 100 h at 12 L/h: it lasts 83 1/3 h
// and 200 L go missing. Half of them are asked for in the 10 h after it, beside what is drawn anyway.
func TestCaughtUp(t *testing.T) {
	with := func(caught float64) Count {
		in := input(drips(t, demand.OnStore), told{off: hours(100, 200)}, tanks(100, 1000))
		in.Change = Never
		in.Habits = Habits{Caught: caught, CaughtIn: 10 * Hour}
		return year(t, in)
	}
	none, half := with(0), with(0.5)
	near(t, "litres short", none.Short*1000, 200, 20)
	near(t, "litres more that are drawn", (half.Out-none.Out)*1000, 0.5*none.Short*1000, 3)
	if half.Short != none.Short || half.balance() > 1e-9 {
		t.Errorf("short %g and %g m³, balance misses %g", half.Short, none.Short, half.balance())
	}
}

// TestTapLeftOpen: taps stand dry for 5 h, for the pump has no power; then one runs at 60 L/h for 2 h
// beside the 12 L/h that are drawn: of 1,000 L it takes 120. With power all the time none is left open,
// and where one interruption of ten has one, a tenth of many do.
func TestTapLeftOpen(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(10, 30), dark: hours(10, 15)}, tanks(100, 1000))
	in.Pump.Needs = true
	plain := year(t, in).Out
	in.Habits = Habits{Left: 0.06 / Hour, LeftFor: 2 * Hour, Forgets: 1}
	near(t, "litres more", (year(t, in).Out-plain)*1000, 120, 1)

	bright := input(drips(t, demand.Either), told{off: hours(10, 30)}, tanks(100, 1000))
	plain = year(t, bright).Out
	bright.Habits = in.Habits
	near(t, "litres more, with power", (year(t, bright).Out-plain)*1000, 0, 0)

	w, n := worker(t, in), 4000
	w.in.Habits.Forgets = 0.1
	forgot := 0
	for k := range n {
		if w.failing.count = uint32(k); w.forgets() {
			forgot++
		}
	}
	near(t, "left open of a thousand", 1000*float64(forgot)/float64(n), 100, 15)
}

// TestHabitsRefused: each figure out of range is named.
func TestHabitsRefused(t *testing.T) {
	for _, h := range []Habits{{Buckets: -1}, {Caught: 1.1, CaughtIn: 1}, {Caught: 0.5}, {Left: 1}, {LeftFor: -1}, {Forgets: 2}} {
		in := input(drips(t, demand.Either), told{}, tanks(100, 100))
		in.Habits = h
		if err := in.Check(); err == nil {
			t.Errorf("%+v is accepted", h)
		}
	}
}
