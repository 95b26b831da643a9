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

// keeper is a Regulator with what else is known of it.
type keeper struct {
	Regulator
	with []int32 // pumps alike that follow its speed
	fall float64 // the head held is this much less for every m³/s [s/m²]
	own  bool    // a Reducer with a set head of its own
	over bool    // a pump at every setting of which such reducers are set anew
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
	holds := make([]keeper, len(list))
	for i, r := range list {
		holds[i] = keeper{Regulator: r}
	}
	return n.together(s, a, w, holds, 1)
}

// together is Regulate for parts with followers, and for the reducers that have a set head
// of their own besides. The parts listed start at opening x, or from where they stand for 0.
func (n *Net) together(s *State, a *Answer, w *Work, list []keeper, x float64) error {
	for _, r := range list {
		if _, err := n.checkRegulator(r.Regulator); err != nil {
			a.Status = NotSolved
			return err
		}
	}
	if err := n.checkState(s); err != nil {
		a.Status = NotSolved
		return err
	}
	for _, r := range list { // from flat out, so that nothing is left of an earlier case
		if x > 0 {
			s.Opening[r.Element] = x
		}
	}
	list = n.withSets(s, list)
	if names := n.rivals(s, list); names != nil {
		a.Status = NotUnique
		return &Several{Parts: names, Why: "each regulates a head that another in the same ring can change"}
	}
	if err := n.solve(s, a, w); err != nil || len(list) == 0 {
		return err
	}
	for range sweeps {
		moved := false
		for _, r := range list {
			if n.holds(s, a, r) {
				continue
			}
			if err := n.regulate(s, a, w, r); err != nil {
				return err
			}
			moved = true
		}
		if !moved {
			return n.ending(s, a, w)
		}
	}
	a.Status = OutOfSteps
	return fmt.Errorf("hydraulics: %s and others: no settings found in %d rounds", n.elements[list[0].Element].Name, sweeps)
}

// withSets adds the reducers that have a set head of their own and pass in the state, fully
// open to start from.
func (n *Net) withSets(s *State, list []keeper) []keeper {
	for _, e := range n.sets {
		if s.Opening[e] = 1; n.passes(s, e) {
			el := &n.elements[e]
			law := el.Law.(*Reducer)
			list = append(list, keeper{Regulator: Regulator{e, el.To, law.set}, fall: law.fall, own: true})
		}
	}
	return list
}

// ending judges the state that parts with a set head of their own have settled in.
func (n *Net) ending(s *State, a *Answer, w *Work) error {
	if len(n.sets) == 0 {
		return nil
	}
	if a.Cert.Held = n.misheld(s, a); a.Cert.Held > heldTol {
		a.Status = OutOfSteps
		return fmt.Errorf("hydraulics: a pressure regulator is %.3g m off the head it is set to", a.Cert.Held)
	}
	return nil
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
func (n *Net) holds(s *State, a *Answer, r keeper) bool {
	over := a.Head[r.Point] + r.fall*a.Flow[r.Element] - r.Head
	switch x := s.Opening[r.Element]; {
	case x >= 1:
		return over <= 2*holdTol
	case x <= 0: // it was not needed when it was set; it is still not if the head is there
		return over >= -2*holdTol
	}
	return math.Abs(over) <= 2*holdTol
}
