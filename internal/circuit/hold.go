package circuit

// Solve finds the steady state of a case. A case the numerics cannot certify comes with
// an error and must not be used; the Solver itself stays usable.
//
// A pump that holds runs at the speed that makes the asked pressure where its controller
// feels it; at full speed where even that falls short; and stands where the pressure is
// there without it.
func (s *Solver) Solve(k *Case) error {
	switch control := s.C.ControlOf(); {
	case k.Pump == Standing || s.C.pump < 0 || k.Dry:
		return s.SolveAt(k, 0)
	case k.Pump == Running || control == nil:
		return s.SolveAt(k, 1)
	default:
		s.C.State(k, s.State)
		part, port := control.Senses.Part, control.Senses.Port
		head := HeadOf(k.Hold, s.C.Assembly.Parts[part].Ports[port].Z)
		pump := s.C.element[s.C.pump]
		if s.near > 0 {
			s.State.Opening[pump] = s.near
		}
		err := s.C.Net.HoldPressure(s.State, s.Answer, s.work, pump, s.C.point[part][port], head)
		s.Speed = s.State.Opening[pump]
		return err
	}
}

// SolveAt solves a case with the pump at a given speed, 0..1, whatever its controller
// would do.
func (s *Solver) SolveAt(k *Case, speed float64) error {
	s.C.State(k, s.State)
	s.Speed = speed
	if s.C.pump >= 0 {
		s.State.Opening[s.C.element[s.C.pump]] = speed
	}
	return s.C.Net.Solve(s.State, s.Answer, s.work)
}
