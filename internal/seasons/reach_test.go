package seasons

import (
	"testing"

	"tideover/internal/demand"
)

// tap is a use of 12 L/h that some supplies get to.
func taps(t *testing.T, line demand.Line, reach ...Reach) (*demand.Home, []Reach) {
	h := demand.Household{People: 1, Scale: 1}
	for i := range reach {
		u := use(24*60, 0.2, 0.05, line)
		u.Taps = i
		h.Uses = append(h.Uses, u)
	}
	return home(t, h), reach
}

// TestReach: two taps that draw 12 L/h each, one of which the store does not get to. Of an
// outage of ten hours the one is served, 120 L, and the other not, 120 L; nothing is ridden out. In
// a cut of power in which the store falls to one tap by height, that one is served.
func TestReach(t *testing.T) {
	on, off := []bool{false, true}, []bool{false, false}
	home, reach := taps(t, demand.Either, Reach{Store: true, Main: on, Calls: off}, Reach{Main: on, Calls: off})
	in := input(home, told{off: hours(100, 110)}, tanks(100, 1000))
	in.Change, in.Reach = Automatic, reach
	c := year(t, in)
	near(t, "litres from the store", c.Out*1000, 120, 8)
	near(t, "litres short", c.Short*1000, 120, 8)
	near(t, "ridden out", c.Ridden, 0, 0)

	in.Reach = []Reach{{Store: true, Dark: true, Main: on, Calls: off}, {Store: true, Main: on, Calls: off}}
	in.Supply, in.Pump.Needs = told{off: hours(100, 110), dark: hours(100, 110)}, true
	c = year(t, in)
	near(t, "in the dark, from the store", c.Out*1000, 120, 8)
	near(t, "in the dark, short", c.Short*1000, 120, 8)

	in.Reach = []Reach{{Main: on, Calls: off}, {Main: on, Calls: off}}
	in.Supply, in.Pump.Needs = told{off: hours(100, 110)}, false
	c = year(t, in)
	near(t, "a pump that lifts nothing", c.Out, 0, 0)
	near(t, "and rides out", c.Ridden, 0, 0)
}

// TestWeakMainServesSome: in a weak spell of ten hours, nobody near the valve, the tap that the
// weak main still serves has water and the other has none.
func TestWeakMainServesSome(t *testing.T) {
	home, reach := taps(t, demand.Either,
		Reach{Store: true, Main: []bool{false, true, true}, Calls: make([]bool, 3)},
		Reach{Store: true, Main: []bool{false, true, false}, Calls: make([]bool, 3)})
	in := input(home, told{weak: hours(100, 110)}, tanks(100, 1000))
	in.Mains = append(in.Mains, Main{})
	in.Weak, in.Change, in.Reach = 2, ByHand, reach
	for i := range in.Stores {
		in.Stores[i].Fill = append(in.Stores[i].Fill, make([]float64, len(in.Stores[i].Edges)))
	}
	c := year(t, in)
	near(t, "litres short", c.Short*1000, 120, 8)
}

// TestTapsCallTheStore: a tap that pulls the main down under the lock-out draws out of the store
// while the other stays on the main; where the main at rest cannot bring the changeover back,
// both draw out of the store from the first outage on, and all year.
func TestTapsCallTheStore(t *testing.T) {
	on, off := []bool{false, true}, []bool{false, false}
	home, reach := taps(t, demand.Either, Reach{Store: true, Main: on, Calls: on}, Reach{Store: true, Main: on, Calls: off})
	in := input(home, told{}, tanks(100, 1000))
	in.Change, in.Reach = Automatic, reach
	c := year(t, in)
	near(t, "one tap's litres", c.Out*1000, 8760*12, 300)
	near(t, "short", c.Short, 0, 0)

	in.Mains[1].Clings = true
	c = year(t, in)
	near(t, "both taps' litres", c.Out*1000, 8760*24, 500)

	in.Reach[0].Calls = off
	in.Supply = told{off: hours(4380, 4381)}
	c = year(t, in)
	near(t, "from the outage on", c.Out*1000, 4380*24, 400)
}
