package assembly

// inLine lays a booster on the service itself, with no store: it lifts the main's own
// water, as far as a low-pressure cut-out at its inlet lets it. A non-return valve round
// the pump lets the main through by itself when the pump stands. Where it is not allowed
// the findings say so; it gives no water while the main gives none.
func inLine(b *build) {
	c, w := &b.job.Choices, &b.job.Pipework
	in := service(b, 0)
	round := in.on(BypassBy, in.tee(AsByPassTee))
	in.role = Boost
	in.ball(AsInletValve)
	in.run(AsInletRun, "pipework.store-to-pump", w.Outdoors, w.ToPump.V, c.PumpLevel.V, b.bends(), map[string]int{"tee-run": 2, "tee-branch": b.parted()})
	sensor := in.on(Boost, in.tee(AsCutOutTee))
	lift(in, map[string]int{"tee-branch": 1}, AsBoostRun, b.hand())
	if !(c.LockLow.V > 0 && c.LockHigh.V > c.LockLow.V) {
		b.fault("choices.lock-out.high", "assembly.cut-out", nil)
	}
	b.control(sensor, CutOut, AsCutOut, b.a.PumpTags(), c.LockHigh.V, c.LockLow.V)

	round.drain(AsByPassDrain)
	round.check(AsByPassCheck)
	round.role = HomeRole
	b.meet(in.at, round.tee(AsByPassJoin))
	home(round, 1)
	b.settings(
		turned{"normal", nil},
		turned{"pump-out", moves{AsInletValve: shut, AsPumpValve: shut}},
		turned{"away", moves{AsServiceStop: shut, AsPumpValve: shut}},
		turned{"off", moves{AsServiceStop: shut, AsInletValve: shut, AsPumpValve: shut}},
	)
}
