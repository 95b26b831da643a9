package assembly

import (
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// header lays a store on the ground whose pump lifts the water to a header tank above the
// home; from there it falls to the taps by its height. The header's own float valve takes
// what the pump brings: while it is shut the pump's controller stops the pump. Water comes
// from the taps for as long as the header holds some, power or no power. No pipe leads from
// stored water to the main.
func header(b *build) {
	l := supply(b, 0)
	l.role = Feed
	feed(l, 0)
	up := boostTo(b, nil, AsRiseRun, b.headerMouth())
	b.fill(up)
	home := b.upper()
	b.drop(home, "entry")
	homeOf(home, 0, b.job.Outlets)
	b.settings(
		turned{"on-store", nil},
		turned{"store-isolated", moves{AsFeedValve: shut, AsStoreValve: shut, AsPumpValve: shut, AsHeaderValve: shut, AsHomeValve: shut}},
		turned{"pump-out", moves{AsStoreValve: shut, AsPumpValve: shut}},
		turned{"header-out", moves{AsPumpValve: shut, AsHeaderValve: shut, AsHomeValve: shut}},
		turned{"boil-notice", moves{AsFeedValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut, AsHomeValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsPumpValve: shut, AsHomeValve: shut, AsStoreValve: shut, AsHeaderValve: shut}},
	)
}

func (b *build) headerRow() catalogue.Store {
	return b.headerMade(got[catalogue.Store](b, "choices.header.row")(b.rows.Store(b.job.Choices.HeaderRow)))
}

// headerMouth is the height at which water falls into the header tank.
func (b *build) headerMouth() quantity.Length {
	return b.job.Choices.HeaderLevel.V + b.headerRow().Inlet
}

// fill ends the line in the header's float valve; its mouth ends in the air above the tank.
func (b *build) fill(l *line) {
	row := got[catalogue.Float](b, "choices.header.float")(b.rows.Float(b.job.Choices.HeaderFloat))
	i := l.put(Part{Kind: FloatValve, Purpose: AsHeaderFloat, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "mouth")}, 1)
	b.port(End{i, 1}).End = "open"
}

// upper lays the header tank with its drain, alarm and outlet valve, and returns the line that
// leads down from it.
func (b *build) upper() *line {
	row := b.headerRow()
	z := b.job.Choices.HeaderLevel.V + row.Outlet
	part := Part{Kind: Store, Purpose: AsHeaderStore, Role: Storage, Row: row, Size: row.Size, Count: 1, Spill: b.headerSpill(),
		Ports: threaded(row.Size, "outlet", "drain")}
	for i := range part.Ports {
		part.Ports[i].Z = z
	}
	at := b.add(part)
	tap := &line{b: b, role: Storage, at: End{at, 1}, z: z}
	tap.drainOn(AsHeaderDrain, "drain-1")
	b.alarm(at, "choices.header.alarm", b.job.Choices.HeaderAlarm)
	l := &line{b: b, role: Storage, at: End{at, 0}, z: z}
	l.ball(AsHeaderValve)
	return l
}

// Header returns the index of the header tank: the second store of an assembly, which the
// pump fills; −1 where there is none.
func (a *Assembly) Header() int {
	at := a.Of(Store)
	if len(at) < 2 {
		return -1
	}
	return at[1]
}

// PumpServes reports whether pipes lead from a pump on to an outlet, valves open, not
// through a store: a pump that only fills a header tank serves none.
func (a *Assembly) PumpServes() bool {
	for _, i := range a.Of(Pump) {
		if a.any(a.flood(i, nil, true), Outlet) {
			return true
		}
	}
	return false
}

// Fills returns the store that lies under a float valve's mouth, −1 for none: float valves
// and stores pair in their order.
func (a *Assembly) Fills(float int) int {
	stores := a.Of(Store)
	for k, f := range a.Of(FloatValve) {
		if f == float && len(stores) > 0 {
			return stores[min(k, len(stores)-1)]
		}
	}
	return -1
}
