package circuit

import "math"

const (
	holdTol   = 1e-6 // of the head held [m]
	holdSteps = 40
)

// Solve finds the steady state of a case. A case the numerics cannot certify comes with
// an error and must not be used; the Solver itself stays usable.
//
// Holding finds the speed at which the pump makes the asked pressure where its
// controller feels it. The pressure rises with the speed, so the speed is bracketed
// between standing and full and found by false position (Illinois form: Dowell &
// Jarratt 1971, BIT 11:168). Where full speed falls short the pump runs at full speed;
// where the pressure is there without it, it stands.
func (s *Solver) Solve(k *Case) error {
	s.C.State(k, s.State)
	s.Speed = 0
	if k.Pump == Standing || s.C.pump < 0 || k.Dry {
		return s.run()
	}
	s.Speed = 1
	if k.Pump == Running {
		return s.run()
	}
	return s.hold(k)
}

// SolveAt solves a case with the pump at a given speed, 0..1, whatever its controller
// would do.
func (s *Solver) SolveAt(k *Case, speed float64) error {
	s.C.State(k, s.State)
	s.Speed = speed
	if s.C.pump >= 0 {
		s.State.Opening[s.C.element[s.C.pump]] = speed
	}
	return s.run()
}

func (s *Solver) run() error { return s.C.Net.Solve(s.State, s.Answer, s.work) }

// hold solves a case in which the pump holds a pressure.
func (s *Solver) hold(k *Case) error {
	control := s.C.ControlOf()
	if control == nil {
		return s.run()
	}
	part, port := control.Senses.Part, control.Senses.Port
	want := HeadOf(k.Hold, s.C.Assembly.Parts[part].Ports[port].Z)
	at := func(speed float64) (float64, error) {
		s.Speed = speed
		s.State.Opening[s.C.element[s.C.pump]] = speed
		err := s.run()
		return s.Head(part, port) - want, err
	}
	high, fHigh := 1.0, 0.0
	fHigh, err := at(high)
	if err != nil || fHigh <= 0 {
		return err
	}
	// Under the standing lift the pump passes nothing; begin where its head alone is short.
	low := math.Sqrt(math.Max(0, want-float64(k.Level)) / s.C.PumpLaw().A)
	if low = min(low, 0.99); low < 0.05 {
		low = 0.05
	}
	fLow, err := at(low)
	if err != nil || fLow >= 0 {
		return err
	}
	side := 0
	for range holdSteps {
		x := (low*fHigh - high*fLow) / (fHigh - fLow)
		f, err := at(x)
		switch {
		case err != nil || math.Abs(f) < holdTol:
			return err
		case f > 0:
			if high, fHigh = x, f; side == 1 {
				fLow /= 2
			}
			side = 1
		default:
			if low, fLow = x, f; side == -1 {
				fHigh /= 2
			}
			side = -1
		}
	}
	return nil
}
