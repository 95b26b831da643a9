package seasons

import (
	"math"
	"testing"

	"tideover/internal/demand"
)

// hourly is the plain way: a store looked at once an hour, as a spreadsheet does. The main
// counts as off in an hour when it is off at the middle of it; what is drawn in the hour
// comes out, what fills goes in, and what is below nothing was short. It is here as a check
// on the engine and as a comparator for its speed, and shows its bias on short outages.
func hourly(in *Input, home uint32, year int) (list []Count) {
	f, r := in.Supply.Future(home), demand.NewReader(in.Home)
	r.Open(home)
	for y := range year {
		f.Off(nil, y)
	}
	off := f.Off(nil, year)
	levels, uses := make([]float64, len(in.Stores)), make([]float64, len(in.Home.Uses))
	list = make([]Count, len(in.Stores))
	short := make([]bool, len(in.Stores))
	for i := range levels {
		levels[i] = in.Stores[i].Usable
	}
	k, wasOff := 0, false
	for h := range 8760 {
		t := float64(year)*Year + float64(h)*Hour
		for k < len(off) && off[k].To <= t+Hour/2 {
			k++
		}
		isOff := k < len(off) && off[k].From <= t+Hour/2
		asked := 0.0
		if isOff {
			r.Total(t, t+Hour, 0, uses)
			for _, x := range uses {
				asked += x
			}
		}
		for i := range levels {
			c, s := &list[i], &in.Stores[i]
			if isOff && !wasOff {
				short[i] = false
			}
			if isOff {
				levels[i] -= asked
			} else {
				levels[i] = math.Min(s.Usable, levels[i]+s.Fill[1][0]*Hour)
			}
			if levels[i] < 0 {
				c.Short -= levels[i]
				c.Unserved += Hour
				levels[i], short[i] = 0, true
			}
			if wasOff && !isOff {
				c.Outages++
				if !short[i] {
					c.Ridden++
				}
			}
		}
		wasOff = isOff
	}
	return list
}

// compared lives the same years both ways.
func compared(t *testing.T, down float64, litres ...float64) (exact, plain []Count) {
	in := input(family(t, 4, demand.Either), renewal{up: 120 * Hour, down: down}, tanks(300, litres...))
	in.Years = 1
	w := worker(t, in)
	exact, plain = make([]Count, len(litres)), make([]Count, len(litres))
	for k := range uint32(150) {
		y, h := chunk(t, w, k), hourly(in, k, 0)
		for i := range litres {
			exact[i].plus(&y.Stores[i])
			plain[i].plus(&h[i])
		}
	}
	return exact, plain
}

// TestAgainstHourly: on long outages the plain balance agrees within a few per cent; on short
// ones it does not see many of them, and calls whole hours unserved that were not.
func TestAgainstHourly(t *testing.T) {
	exact, plain := compared(t, 24*Hour, 300, 600)
	for i := range exact {
		near(t, "litres short, long outages, plain over exact", plain[i].Short/exact[i].Short, 1, 0.05)
		near(t, "share ridden out, long outages", plain[i].Ridden/plain[i].Outages, exact[i].Ridden/exact[i].Outages, 0.03)
		if plain[i].Unserved < 1.5*exact[i].Unserved {
			t.Errorf("hours unserved: plain %g, exact %g: a plain balance cannot know that taps are mostly shut", plain[i].Unserved, exact[i].Unserved)
		}
	}
	exact, plain = compared(t, Hour, 20)
	seen := plain[0].Outages / exact[0].Outages
	t.Logf("outages of an hour: a plain balance sees %.0f %% of them, and %.0f %% of the litres short; unserved %.1f times", 100*seen, 100*plain[0].Short/exact[0].Short, plain[0].Unserved/exact[0].Unserved)
	if seen > 0.75 {
		t.Errorf("of outages of an hour the plain balance sees %g: its bias is not shown", seen)
	}
}
