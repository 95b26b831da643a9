package circuit

import (
	"slices"

	"tideover/internal/hydraulics"
)

// Start is the answer of a case, kept to start the same case from in a circuit whose
// figures differ a little. The zero value is none.
type Start struct {
	flow, head []float64
	speed      float64
}

// Keep returns the last answer as a start; none when it was not certified.
func (s *Solver) Keep() Start {
	if !s.OK() {
		return Start{}
	}
	return Start{slices.Clone(s.Answer.Flow), slices.Clone(s.Answer.Head), s.Speed}
}

// From has the next case solved from a start. What it changes is how long that takes, and
// last bits; a start of another circuit's size is left alone.
func (s *Solver) From(t Start) {
	if len(t.flow) != len(s.Answer.Flow) || len(t.head) != len(s.Answer.Head) {
		s.near = 0
		return
	}
	copy(s.Answer.Flow, t.flow)
	copy(s.Answer.Head, t.head)
	s.Answer.Status, s.near = hydraulics.Converged, t.speed
}
