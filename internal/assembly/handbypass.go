package assembly

// handByPass lays the hand changeover of two valves: the by-pass valve lets the main to
// the home, the pump's valve the store, and each leg has its non-return valve. The one in
// the by-pass stands between the feed's tee and the home, so that with both valves open
// stored water reaches neither the main nor, round the by-pass, the float valve.
func handByPass(b *build) {
	b.a.Joined = true
	in := service(b, 1)
	feed(in.on(Feed, in.tee("part.feed-tee")), 1)
	pumped := boost(b, map[string]int{"tee-branch": 1})

	in.role = BypassBy
	in.ball("part.by-pass-main")
	in.drain("part.by-pass-drain")
	in.check("part.by-pass-check")
	in.role = HomeRole
	b.meet(pumped.at, in.tee("part.changeover-tee"))
	home(in, 1)
	onMain := moves{"part.by-pass-main": open, "part.pump-valve": shut}
	b.settings(
		turned{"on-main", onMain},
		turned{"on-store", nil},
		turned{"store-isolated", onMain.with(moves{"part.store-valve": shut, "part.feed-valve": shut})},
		turned{"pump-out", onMain.with(moves{"part.store-valve": shut})},
		turned{"boil-notice", moves{"part.feed-valve": shut}},
		turned{"away", onMain.with(moves{"part.service-stop": shut})},
		turned{"off", moves{"part.service-stop": shut, "part.feed-valve": shut, "part.pump-valve": shut}},
	)
}
