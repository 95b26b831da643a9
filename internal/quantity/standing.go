package quantity

// The flows below which water counts as standing [m³/s]: the one table, so that a part is
// not drawn as moving and told as standing. Each stands for another question.
//
//	floor of the solver    1e-13  below it a figure is rounding (hydraulics, floorFlow)
//	Standing               1e-9   0.6 mL in ten minutes: told, drawn and judged as standing
//	VesselAgain            1e-7   6 mL in a minute: a vessel the pipe has just left stands with it again
//	Unfelt                 1e-6   60 mL in a minute: no controller feels it, a vessel stands with the pipe
//
// Standing is small because it is also what a broken promise is told from a kept one by: a
// litre in two weeks that runs back into the main is a way back into the main. It is far
// above what a solve leaves of nothing (massTol of hydraulics). Source: judgement.
const (
	Standing    Flow = 1e-9
	VesselAgain Flow = 1e-7
	Unfelt      Flow = 1e-6
)

// Moves reports whether a flow either way counts as moving; what is no number does not.
func (q Flow) Moves() bool { return q > Standing || q < -Standing }
