package assembly

// throughStore lays the unjoined arrangement: service, air gap, store, pump, home. No pipe
// leads from stored water to the main.
func throughStore(b *build) {
	l := supply(b, 0)
	l.role = Feed
	feed(l, 0)
	home(boost(b, nil), 0)
	b.settings(
		turned{"on-store", nil},
		turned{"store-isolated", moves{AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"pump-out", moves{AsStoreValve: shut, AsPumpValve: shut}},
		turned{"boil-notice", moves{AsFeedValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}

// mainFirst lays the automatic changeover: the main serves while it presses; a pressure
// switch on the main side locks the pump out until it does not. The main leg's non-return
// valve stands between the feed's tee and the home, so that stored water reaches neither
// the main nor the float valve. A hand by-pass goes round the main leg for servicing.
func mainFirst(b *build) {
	b.a.Joined = true
	in := supply(b, 1)
	feed(in.on(Feed, in.tee(AsFeedTee)), 1)
	pumped := boost(b, map[string]int{"tee-branch": 1})

	in.role = MainLeg
	round := in.on(BypassBy, in.tee(AsByPassTee))
	sensor := in.on(MainLeg, in.tee(AsLockOutTee))
	c := &b.job.Choices
	if !(c.LockLow.V > 0 && c.LockHigh.V > c.LockLow.V) {
		b.fault("choices.lock-out.high", "assembly.lock-out", nil)
	}
	b.control(sensor, LockOut, AsLockOut, b.a.PumpTags(), c.LockLow.V, c.LockHigh.V)
	in.ball(AsMainLegValve)
	in.drain(AsMainLegDrain)
	in.check(AsMainLegCheck)
	in.role = HomeRole
	b.meet(pumped.at, in.tee(AsChangeoverTee))
	join := in.tee(AsByPassJoin)

	round.ball(AsByPassValve)
	round.drain(AsByPassDrain)
	round.check(AsByPassCheck)
	b.meet(round.at, join)
	home(in, 2)
	b.settings(
		turned{"normal", nil},
		turned{"on-main", moves{AsPumpValve: shut}},
		turned{"on-store", moves{AsMainLegValve: shut}},
		turned{"by-pass", moves{AsMainLegValve: shut, AsPumpValve: shut, AsByPassValve: open}},
		turned{"store-isolated", moves{AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"pump-out", moves{AsStoreValve: shut, AsPumpValve: shut}},
		turned{"boil-notice", moves{AsFeedValve: shut, AsMainLegValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsMainLegValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}

// byHand lays the hand changeover: one three-way valve, with a non-return valve on the
// main leg for the time the handle stands between.
func byHand(b *build) {
	b.a.Joined = true
	in := supply(b, 1)
	feed(in.on(Feed, in.tee(AsFeedTee)), 1)
	pumped := boost(b, nil)
	in.role = MainLeg
	in.ball(AsMainLegValve)
	in.drain(AsMainLegDrain)
	in.check(AsMainLegCheck)

	in.role = HomeRole
	row := b.ofThread("three-way", in)
	w := in.put(Part{Kind: ThreeWay, Purpose: AsChangeover, Row: row, Size: row.Size, Ports: threaded(row.Size, "a", "b", "c"), Ways: threeWays()}, 2)
	b.meet(pumped.at, End{w, 1})
	home(in, 0)
	b.settings(
		turned{"on-main", moves{AsChangeover: main}},
		turned{"on-store", moves{AsChangeover: store}},
		turned{"store-isolated", moves{AsChangeover: main, AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"pump-out", moves{AsChangeover: main, AsStoreValve: shut, AsPumpValve: shut}},
		turned{"boil-notice", moves{AsChangeover: store, AsFeedValve: shut, AsMainLegValve: shut}},
		turned{"away", moves{AsChangeover: main, AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsChangeover: main, AsServiceStop: shut, AsFeedValve: shut, AsMainLegValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}

// threeWays are the ways of a three-way valve: main, store, or both while it is between.
func threeWays() []Way {
	return []Way{{"main", 0, 2}, {"store", 1, 2}, {"between", 0, 2}, {"between", 1, 2}}
}
