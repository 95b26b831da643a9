package assembly

import (
	"tideover/internal/job"
	"tideover/internal/words"
)

// What planning a store that feeds the home by its height starts from. Judgement, each; the
// check has the last word.
const (
	FirstFall   = 2.5 // m of water from the store's outlet down to the highest tap, to begin with
	GroundStand = 6.0 // m a stand on the ground may be high: above that it is a tower
	RoofStand   = 3.0 // m more that a stand on a roof may add
	LiftStep    = 0.5 // m the store is lifted at a time
)

// raised lays a store that stands above the home, on a roof or a stand, and feeds it by its
// height alone: no pump, and water in a power cut. The main lifts the water up there by
// itself, through the float valve. No pipe leads from stored water to the main: a way from
// the main to the taps would make one, and its non-return valve would take more head than
// the tank has to give. For the same reason none stands in the way down.
//
// Outlets that the job keeps on the main have a leg of their own, as in a split home.
func raised(b *build) {
	stays, rest := b.kept()
	if len(stays) == 0 {
		l := supply(b, 0)
		l.role = Feed
		feed(l, 0)
	} else {
		in := supply(b, 1)
		feed(in.on(Feed, in.tee(AsFeedTee)), 1)
		b.mainLeg(in, stays)
	}
	l := stores(b)
	b.alarm(b.a.Of(Store)[0], "choices.store.alarm", b.job.Choices.Alarm)
	b.drop(l, "entry")
	homeOf(l, 0, rest)
	b.settings(fallsSettings(len(stays) > 0)...)
}

// drop lays the way down from a raised surface to the home, with a valve at its foot.
func (b *build) drop(l *line, entry string) {
	l.role = Boost
	l.run(AsDropRun, "pipework.store-to-home", b.job.Pipework.Outdoors, b.job.Pipework.Drop.V, b.hand(), b.bends(), map[string]int{entry: 1})
	l.role = HomeRole
	l.ball(AsHomeValve)
}

// fallsSettings are those of a home fed by height alone; split where some taps are on the main.
func fallsSettings(split bool) []turned {
	first, off := "on-store", moves{AsServiceStop: shut, AsFeedValve: shut, AsHomeValve: shut, AsStoreValve: shut}
	notice := moves{AsFeedValve: shut}
	if split {
		first = "normal"
		off[AsMainLegValve], notice[AsMainLegValve] = shut, shut
	}
	return []turned{
		{first, nil},
		{"store-isolated", moves{AsStoreValve: shut, AsHomeValve: shut, AsFeedValve: shut}},
		{"boil-notice", notice},
		{"away", moves{AsServiceStop: shut, AsHomeValve: shut}},
		{"off", off},
	}
}

// kept parts the outlets that the job keeps on the main from the rest. Hot water comes from
// the store, where the heater hangs.
func (b *build) kept() (stays, rest []job.Outlet) {
	for _, o := range b.job.Outlets {
		switch {
		case o.From != main:
			rest = append(rest, o)
		case o.Water == "hot" && b.job.Home.Heater != "none":
			b.fault("outlets."+o.Tag+".from", "assembly.kitchen-hot", words.Args{"tag": o.Tag})
		default:
			stays = append(stays, o)
		}
	}
	if len(rest) == 0 && len(stays) > 0 {
		b.fault("choices.arrangement", "assembly.kitchen-all", nil)
	}
	return stays, rest
}
