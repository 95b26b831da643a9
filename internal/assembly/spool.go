package assembly

// Emergency is the setting a removable spool is kept for: the one in which it is in.
const Emergency = "emergency"

// spool lays all water through the store, and beside it a way straight from the main with
// a piece missing: the spool lies by, its ends capped, until pump or store fail. A hand
// can fit it, and can leave it in, so the way has a valve before it and a non-return valve
// behind.
func spool(b *build) {
	in := supply(b, 1)
	feed(in.on(Feed, in.tee(AsFeedTee)), 1)
	pumped := boost(b, map[string]int{"tee-branch": 1})

	in.role = BypassBy
	in.ball(AsSpoolValve)
	in.spool()
	in.drain(AsSpoolDrain)
	in.check(AsByPassCheck)
	in.role = HomeRole
	b.meet(pumped.at, in.tee(AsChangeoverTee))
	home(in, 1)
	b.settings(
		turned{"on-store", nil},
		turned{"store-isolated", moves{AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"pump-out", moves{AsStoreValve: shut, AsPumpValve: shut}},
		turned{Emergency, moves{AsSpool: fitted, AsSpoolValve: open, AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"boil-notice", moves{AsFeedValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}

// spool adds a piece of pipe that lies by until somebody fits it.
func (l *line) spool() int {
	row := l.b.ofThread("spool", l)
	return l.put(Part{Kind: Spool, Purpose: AsSpool, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out"),
		Ways: []Way{{Position: fitted, A: 0, B: 1}}}, 1)
}

// Spooled reports whether a removable spool can join stored water and the main.
func (a *Assembly) Spooled() bool { return len(a.Of(Spool)) > 0 }
