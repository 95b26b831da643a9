package assembly

import (
	"tideover/internal/job"
	"tideover/internal/words"
)

// kitchenOnMain lays the home split in two: what is drunk from stays on the main, by a leg
// of its own behind a non-return valve, and the rest draws from the store. No pipe leads
// from stored water to the main, and what hangs on the main lives on in a power cut.
func kitchenOnMain(b *build) {
	stays, rest := b.split()
	in := supply(b, 1)
	feed(in.on(Feed, in.tee(AsFeedTee)), 1)
	b.mainLeg(in, stays)
	homeOf(boost(b, nil), 0, rest)
	b.settings(
		turned{"normal", nil},
		turned{"store-isolated", moves{AsStoreValve: shut, AsPumpValve: shut, AsFeedValve: shut}},
		turned{"pump-out", moves{AsStoreValve: shut, AsPumpValve: shut}},
		turned{"boil-notice", moves{AsFeedValve: shut, AsMainLegValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsFeedValve: shut, AsMainLegValve: shut, AsPumpValve: shut, AsStoreValve: shut}},
	)
}

// mainLeg lays the leg of what stays on the main, behind its non-return valve.
func (b *build) mainLeg(in *line, stays []job.Outlet) {
	in.role = MainLeg
	in.ball(AsMainLegValve)
	in.drain(AsMainLegDrain)
	in.check(AsMainLegCheck)
	in.role = HomeRole
	in.cock(AsHomeDrain)
	in.run(AsKitchenRun, "pipework.changeover-to-header", b.job.Pipework.Indoors, b.job.Pipework.Header.V, b.hand(), b.bends(), map[string]int{"tee-run": 2})
	b.onMain(in, stays)
}

// onMain lays the outlets that stay on the main: one on the pipe itself, more from a header.
func (b *build) onMain(l *line, stays []job.Outlet) {
	if len(stays) == 1 {
		b.outlet(l, stays[0])
		return
	}
	head := l.header(AsHeader, len(stays))
	for i, o := range stays {
		b.outlet(l.on(HomeRole, End{head, i + 1}), o)
	}
}

// split parts the outlets that stay on the main from those that draw from the store: as
// the job says of each, else the kitchen's on the main. Hot water comes from the store's
// side, where the heater hangs.
func (b *build) split() (stays, rest []job.Outlet) {
	hot := b.job.Home.Heater != "none"
	for _, o := range b.job.Outlets {
		heated := hot && o.Water == "hot"
		switch {
		case heated && o.From == main:
			b.fault("outlets."+o.Tag+".from", "assembly.kitchen-hot", words.Args{"tag": o.Tag})
		case o.From == main, o.From == "" && o.Kind == "kitchen" && !heated:
			stays = append(stays, o)
		default:
			rest = append(rest, o)
		}
	}
	switch {
	case len(b.job.Outlets) == 0:
		b.fault("outlets", "assembly.no-outlets", nil)
	case len(stays) == 0:
		b.fault("choices.arrangement", "assembly.kitchen-none", nil)
	case len(rest) == 0:
		b.fault("choices.arrangement", "assembly.kitchen-all", nil)
	}
	return stays, rest
}
