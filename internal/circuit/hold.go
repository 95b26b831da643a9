package circuit

// Solve finds the steady state of a case. A case the numerics cannot certify comes with
// an error and must not be used; the Solver itself stays usable.
//
// A pump that holds runs at the speed that makes the asked pressure where its controller
// feels it; at full speed where even that falls short; and stands where the pressure is
// there without it.
func (s *Solver) Solve(k *Case) error {
	switch control := s.C.ControlOf(); {
	case k.Pump == Standing || len(s.C.pumps) == 0 || k.Dry:
		return s.SolveAt(k, 0)
	case k.Pump == Running || control == nil:
		return s.SolveAt(k, 1)
	default:
		if err := s.ended(); err != nil {
			return err
		}
		s.C.State(k, s.State)
		part, port := control.Senses.Part, control.Senses.Port
		head := HeadOf(k.Hold, s.C.Assembly.Parts[part].Ports[port].Z)
		pumps := s.C.atWork[k.Setting]
		if s.near > 0 {
			s.C.speed(s.State, k.Setting, s.near)
		}
		err := s.C.Net.HoldTogether(s.State, s.Answer, s.work, pumps, s.C.point[part][port], head)
		s.Speed = s.State.Opening[pumps[0]]
		return err
	}
}

// SolveAt solves a case with the pump at a given speed, 0..1, whatever its controller
// would do.
func (s *Solver) SolveAt(k *Case, speed float64) error {
	if err := s.ended(); err != nil {
		return err
	}
	s.C.State(k, s.State)
	s.Speed = speed
	s.C.speed(s.State, k.Setting, speed)
	return s.C.Net.Solve(s.State, s.Answer, s.work)
}
