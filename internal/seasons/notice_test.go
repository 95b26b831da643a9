package seasons

import (
	"testing"

	"tideover/internal/demand"
)

// TestNotice: the main is off for ten hours, and for 30 more under a notice: 40 h of 12 L/h come
// out of the store, which starts filling only then. An interruption under the notice joins it. A WC
// that runs on the main meanwhile draws nothing of the store but in the ten hours.
func TestNotice(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(100, 110)}, tanks(100, 1000))
	in.Change, in.Notice = Automatic, 30*Hour
	c := year(t, in)
	near(t, "litres from the store", c.Out*1000, 40*12, 15)
	near(t, "outages", c.Outages, 1, 0)
	near(t, "ridden out", c.Ridden, 1, 0)

	in.Stores = tanks(100, 300) // 25 h
	c = year(t, in)
	near(t, "litres short", c.Short*1000, 40*12-300, 15)
	near(t, "ridden out", c.Ridden, 0, 0)

	in.Supply = told{off: append(hours(100, 110), hours(120, 125)...)}
	in.Stores = tanks(100, 1000)
	c = year(t, in)
	near(t, "joined: outages", c.Outages, 1, 0)
	near(t, "joined: litres", c.Out*1000, 55*12, 20)

	in.OnMain = []string{in.Home.Uses[0].Key}
	c = year(t, in)
	near(t, "WC on the main: litres", c.Out*1000, 15*12, 10)

	// One that begins in the last hours of the year lives on into the next.
	in.OnMain, in.Supply = nil, told{off: append(hours(8755, 8758), hours(8770, 8771)...)}
	in.Years = 2
	y := chunk(t, worker(t, in), 1).Stores[0]
	near(t, "over the new year: outages", y.Outages, 1, 0)
	near(t, "over the new year: litres", y.Out*1000, (8771-8755+30)*12, 25)
}
