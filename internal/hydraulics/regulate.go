package hydraulics

import (
	"fmt"
	"math"
	"strings"
)

// Regulator is a part that holds a head: the element of a pump or a Reducer, the point at
// which it feels the head, and the head it is set to [m above the datum].
type Regulator struct {
	Element, Point int32
	Head           float64
}

// Several says that more than one steady state is possible, and of which parts. It is the
// error that comes with the status NotUnique.
type Several struct {
	Parts  []string  // in the circuit's order
	Why    string    // for our own log; users are told by the parts' names
	Duties []float64 // flows [m³/s], where the states were told apart by one
}

// Error says it in one line.
func (e *Several) Error() string {
	return fmt.Sprintf("hydraulics: more than one steady state: %s: %s", strings.Join(e.Parts, ", "), e.Why)
}

// sweeps is how often several regulators in series are each set anew at most.
const sweeps = 60

// Regulate solves for parts that each hold a head: it finds their settings, leaves them
// in s.Opening and the solved state in a. Regulators one after the other, or on branches
// apart, settle in one way; they are set by turns until none has to move. Two that are
// both part of a ring, and not simply one behind the other on it, may settle in several
// ways: a.Status is then NotUnique and the error a *Several with their names; the
// answer is not to be used.
//
// A pump that feels a head elsewhere than at its own outlet must feed that point.
func (n *Net) Regulate(s *State, a *Answer, w *Work, list []Regulator) error {
	for _, r := range list {
		if _, err := n.checkRegulator(r); err != nil {
			a.Status = NotSolved
			return err
		}
	}
	if err := n.checkState(s); err != nil {
		a.Status = NotSolved
		return err
	}
	if names := n.rivals(s, list); names != nil {
		a.Status = NotUnique
		return &Several{Parts: names, Why: "each regulates a head that another in the same ring can change"}
	}
	if len(list) == 0 {
		return n.Solve(s, a, w)
	}
	for _, r := range list { // from flat out, so that nothing is left of an earlier case
		s.Opening[r.Element] = 1
	}
	if err := n.Solve(s, a, w); err != nil {
		return err
	}
	for range sweeps {
		moved := false
		for _, r := range list {
			if n.holds(s, a, r) {
				continue
			}
			if err := n.regulate(s, a, w, r, nil); err != nil {
				return err
			}
			moved = true
		}
		if !moved {
			return nil
		}
	}
	a.Status = OutOfSteps
	return fmt.Errorf("hydraulics: %s and others: no settings found in %d rounds", n.elements[list[0].Element].Name, sweeps)
}

func (n *Net) checkRegulator(r Regulator) (regulating, error) {
	if r.Element < 0 || int(r.Element) >= len(n.elements) {
		return nil, fmt.Errorf("hydraulics: element %d of %d cannot regulate: there is none", r.Element, len(n.elements))
	}
	el := &n.elements[r.Element]
	law, is := el.Law.(regulating)
	switch {
	case !is:
		return nil, fmt.Errorf("hydraulics: %s: has no setting: only a pump or a reducing valve can hold a head", el.Name)
	case r.Point < 0 || int(r.Point) >= len(n.points) || n.points[r.Point].Held:
		return nil, fmt.Errorf("hydraulics: %s: cannot hold a head at point %d: it must be a free one of %d", el.Name, r.Point, len(n.points))
	case math.IsNaN(r.Head) || math.IsInf(r.Head, 0):
		return nil, &Refusal{el.Name, "set head", r.Head, "a number"}
	}
	if _, pump := el.Law.(*Pump); !pump && r.Point != el.To {
		return nil, fmt.Errorf("hydraulics: %s: a reducing valve feels the head at its own outlet, not at point %d", el.Name, r.Point)
	}
	return law, nil
}

// holds reports whether a regulator is where it belongs in the answer a.
func (n *Net) holds(s *State, a *Answer, r Regulator) bool {
	over := a.Head[r.Point] - r.Head
	switch x := s.Opening[r.Element]; {
	case x >= 1:
		return over <= 2*holdTol
	case x <= 0: // it was not needed when it was set; it is still not if the head is there
		return over >= -2*holdTol
	}
	return math.Abs(over) <= 2*holdTol
}
