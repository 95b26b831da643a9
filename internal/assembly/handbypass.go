package assembly

// handByPass lays the hand changeover of two valves: the by-pass valve lets the main to
// the home, the pump's valve the store, and each leg has its non-return valve. The one in
// the by-pass stands between the feed's tee and the home, so that with both valves open
// stored water reaches neither the main nor, round the by-pass, the float valve.
func handByPass(b *build) {
	b.a.Joined = true
	in := supply(b, 1)
	feed(in.on(Feed, in.tee(AsFeedTee)), 1)
	pumped := boost(b, map[string]int{"tee-branch": 1})

	in.role = BypassBy
	in.ball(AsByPassMain)
	in.drain(AsByPassDrain)
	in.check(AsByPassCheck)
	in.role = HomeRole
	b.meet(pumped.at, in.tee(AsChangeoverTee))
	home(in, 1)
	onMain := moves{AsByPassMain: open, AsPumpValve: shut}
	b.settings(
		turned{"on-main", onMain},
		turned{"on-store", nil},
		turned{"store-isolated", onMain.with(moves{AsStoreValve: shut, AsFeedValve: shut})},
		turned{"pump-out", onMain.with(moves{AsStoreValve: shut})},
		turned{"boil-notice", moves{AsFeedValve: shut}},
		turned{"away", onMain.with(moves{AsServiceStop: shut})},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}
