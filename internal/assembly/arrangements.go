package assembly

// throughStore lays the unjoined arrangement: service, air gap, store, pump, home. No pipe
// leads from stored water to the main.
func throughStore(b *build) {
	l := service(b, 0)
	l.role = Feed
	feed(l, 0)
	home(boost(b, nil), 0)
	b.settings(
		turned{"on-store", nil},
		turned{"store-isolated", moves{"part.store-valve": shut, "part.pump-valve": shut, "part.feed-valve": shut}},
		turned{"pump-out", moves{"part.store-valve": shut, "part.pump-valve": shut}},
		turned{"boil-notice", moves{"part.feed-valve": shut}},
		turned{"away", moves{"part.service-stop": shut, "part.pump-valve": shut}},
		turned{"off", moves{"part.service-stop": shut, "part.feed-valve": shut, "part.pump-valve": shut}},
	)
}

// mainFirst lays the automatic changeover: the main serves while it presses; a pressure
// switch on the main side locks the pump out until it does not. The main leg's non-return
// valve stands between the feed's tee and the home, so that stored water reaches neither
// the main nor the float valve. A hand by-pass goes round the main leg for servicing.
func mainFirst(b *build) {
	b.a.Joined = true
	in := service(b, 1)
	feed(in.on(Feed, in.tee("part.feed-tee")), 1)
	pumped := boost(b, map[string]int{"tee-branch": 1})

	in.role = MainLeg
	round := in.on(BypassBy, in.tee("part.by-pass-tee"))
	sensor := in.on(MainLeg, in.tee("part.lock-out-tee"))
	c := &b.job.Choices
	if !(c.LockLow.V > 0 && c.LockHigh.V > c.LockLow.V) {
		b.fault("choices.lock-out.high", "assembly.lock-out", nil)
	}
	b.control(sensor, "lock-out", "part.lock-out", b.a.PumpTags(), c.LockLow.V, c.LockHigh.V)
	in.ball("part.main-leg-valve")
	in.drain("part.main-leg-drain")
	in.check("part.main-leg-check")
	in.role = HomeRole
	b.meet(pumped.at, in.tee("part.changeover-tee"))
	join := in.tee("part.by-pass-join")

	round.ball("part.by-pass-valve")
	round.drain("part.by-pass-drain")
	round.check("part.by-pass-check")
	b.meet(round.at, join)
	home(in, 2)
	b.settings(
		turned{"normal", nil},
		turned{"on-main", moves{"part.pump-valve": shut}},
		turned{"on-store", moves{"part.main-leg-valve": shut}},
		turned{"by-pass", moves{"part.main-leg-valve": shut, "part.pump-valve": shut, "part.by-pass-valve": open}},
		turned{"store-isolated", moves{"part.store-valve": shut, "part.pump-valve": shut, "part.feed-valve": shut}},
		turned{"pump-out", moves{"part.store-valve": shut, "part.pump-valve": shut}},
		turned{"boil-notice", moves{"part.feed-valve": shut, "part.main-leg-valve": shut}},
		turned{"away", moves{"part.service-stop": shut, "part.pump-valve": shut}},
		turned{"off", moves{"part.service-stop": shut, "part.feed-valve": shut, "part.main-leg-valve": shut, "part.pump-valve": shut}},
	)
}

// byHand lays the hand changeover: one three-way valve, with a non-return valve on the
// main leg for the time the handle stands between.
func byHand(b *build) {
	b.a.Joined = true
	in := service(b, 1)
	feed(in.on(Feed, in.tee("part.feed-tee")), 1)
	pumped := boost(b, nil)
	in.role = MainLeg
	in.ball("part.main-leg-valve")
	in.drain("part.main-leg-drain")
	in.check("part.main-leg-check")

	in.role = HomeRole
	row := b.ofThread("three-way", in)
	w := in.put(Part{Kind: ThreeWay, Name: "part.changeover", Row: row, Size: row.Size, Ports: threaded(row.Size, "a", "b", "c"), Ways: threeWays()}, 2)
	b.meet(pumped.at, End{w, 1})
	home(in, 0)
	b.settings(
		turned{"on-main", moves{"part.changeover": main}},
		turned{"on-store", moves{"part.changeover": store}},
		turned{"store-isolated", moves{"part.changeover": main, "part.store-valve": shut, "part.pump-valve": shut, "part.feed-valve": shut}},
		turned{"pump-out", moves{"part.changeover": main, "part.store-valve": shut, "part.pump-valve": shut}},
		turned{"boil-notice", moves{"part.changeover": store, "part.feed-valve": shut, "part.main-leg-valve": shut}},
		turned{"away", moves{"part.changeover": main, "part.service-stop": shut, "part.pump-valve": shut}},
		turned{"off", moves{"part.changeover": main, "part.service-stop": shut, "part.feed-valve": shut, "part.main-leg-valve": shut, "part.pump-valve": shut}},
	)
}

// threeWays are the ways of a three-way valve: main, store, or both while it is between.
func threeWays() []Way {
	return []Way{{"main", 0, 2}, {"store", 1, 2}, {"between", 0, 2}, {"between", 1, 2}}
}
