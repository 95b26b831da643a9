package day

import (
	"math"
	"reflect"
	"testing"
)

// TestChained: a chained day is the plain one, within what the solver leaves open: the same
// starts, stops and changes, levels to a drop. Just when the float valve seals hangs on the last
// trickle. And it is the same twice.
func TestChained(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		h := home(t, name)
		d, err := Prepare(h.ci, h.in)
		if err != nil {
			t.Fatal(err)
		}
		d.Schedule.Chained = false
		_ = d.Run(nil)
		var judged [2]*Day
		for k := range judged {
			if judged[k], err = Prepare(h.ci, h.in); err != nil {
				t.Fatal(err)
			}
			_ = judged[k].Run(nil)
		}
		if !reflect.DeepEqual(judged[0].Result, judged[1].Result) {
			t.Errorf("%s: a second run differs", name)
		}
		a, b := d.Result, judged[0].Result
		if len(a.Starts) != len(b.Starts) || len(a.Stops) != len(b.Stops) || len(a.Changes) != len(b.Changes) || len(a.Fills) != len(b.Fills) || len(a.RanDry) != len(b.RanDry) {
			t.Fatalf("%s: what happens is not the same", name)
		}
		for i := range a.Starts {
			if math.Abs(a.Starts[i]-b.Starts[i]) > 0.01 {
				t.Errorf("%s: start %d at %.4f s, chained at %.4f s", name, i, a.Starts[i], b.Starts[i])
			}
		}
		near := func(what string, x, y, by float64) {
			if math.Abs(x-y) > by {
				t.Errorf("%s: %s %g, chained %g", name, what, x, y)
			}
		}
		near("lowest", a.Lowest, b.Lowest, 1e-7)
		near("left", d.Left(), judged[0].Left(), 1e-7)
		near("drawn", a.Drawn, b.Drawn, 1e-7)
		near("refilled", d.Refilled(), judged[0].Refilled(), 0.01*d.Refilled())
	}
}

// TestDayIsNotSearchedInVain: a home whose two pumps start at every second tap is followed without a search
// for what cannot come first: the solves of its day are counted.
func TestDayIsNotSearchedInVain(t *testing.T) {
	h := home(t, "osprey-house")
	d, err := Prepare(h.ci, h.in)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Run(nil); err != nil || d.Result == nil {
		t.Fatal(err, d.Restless)
	}
	const most = 30000
	if starts := len(d.Result.Starts); d.Result.Solves > most || starts < 500 {
		t.Errorf("%d solves for %d starts, at most %d wanted", d.Result.Solves, starts, most)
	}
}
