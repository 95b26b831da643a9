package assembly

// CutOut is the kind of control that stops a booster when the pressure at its inlet falls:
// it lets the pump run from On up, and bars it below Off.
const CutOut = "cut-out"

// inLine lays a booster on the service itself, with no store: it lifts the main's own
// water, as far as a low-pressure cut-out at its inlet lets it. A non-return valve round
// the pump lets the main through by itself when the pump stands. Where it is not allowed
// the findings say so; it gives no water while the main gives none.
func inLine(b *build) {
	c, w := &b.job.Choices, &b.job.Pipework
	in := service(b, 0)
	round := in.on(BypassBy, in.tee("part.by-pass-tee"))
	in.role = Boost
	in.ball("part.inlet-valve")
	in.run("part.inlet-run", "pipework.store-to-pump", w.Outdoors, w.ToPump.V, c.PumpLevel.V, b.bends(), map[string]int{"tee-run": 2, "tee-branch": b.parted()})
	sensor := in.on(Boost, in.tee("part.cut-out-tee"))
	lift(in, map[string]int{"tee-branch": 1}, "part.boost-run", b.hand())
	if !(c.LockLow.V > 0 && c.LockHigh.V > c.LockLow.V) {
		b.fault("choices.lock-out.high", "assembly.cut-out", nil)
	}
	b.control(sensor, CutOut, "part.cut-out", b.a.PumpTags(), c.LockHigh.V, c.LockLow.V)

	round.drain("part.by-pass-drain")
	round.check("part.by-pass-check")
	round.role = HomeRole
	b.meet(in.at, round.tee("part.by-pass-join"))
	home(round, 1)
	b.settings(
		turned{"normal", nil},
		turned{"pump-out", moves{"part.inlet-valve": shut, "part.pump-valve": shut}},
		turned{"away", moves{"part.service-stop": shut, "part.pump-valve": shut}},
		turned{"off", moves{"part.service-stop": shut, "part.inlet-valve": shut, "part.pump-valve": shut}},
	)
}
