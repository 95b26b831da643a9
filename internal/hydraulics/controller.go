package hydraulics

import (
	"fmt"
	"math"
	"strings"
)

// Controller is a state table: something that feels a head or a flow, and in each of its
// states sets parts and stays for as long as what it feels lies within that state's
// limits. A lock-out, a pressure switch, a flow control, a level switch are such tables;
// where the limits of two states overlap it has hysteresis, and what it does depends on
// what it did before.
type Controller struct {
	Name    string
	Point   int32 // where it feels the head [m above the datum]; −1: it feels a flow
	Element int32 // the part whose flow it feels [m³/s]; read when Point is −1
	States  []ControlState
}

// ControlState is one row of the table: what is set, and the limits (both within; ±Inf
// for none) between which it stays.
type ControlState struct {
	Name      string
	Low, High float64
	Set       []Setting
}

// Setting is what a state of a controller makes of one part.
type Setting struct {
	Element int32
	Off     bool
	Opening float64 // opening or speed
}

// Consistent is one steady state of a circuit with its controllers: the row each is in,
// and the answer. It owns its answer.
type Consistent struct {
	Rows   []int // per controller
	Answer *Answer
}

// Hunting says that no combination of states stays: the controllers go on switching.
type Hunting struct {
	Parts []string // controllers that leave their state in some combination, in order
}

// Error says it in one line.
func (e *Hunting) Error() string {
	return "hydraulics: no state of the controllers stays, they hunt: " + strings.Join(e.Parts, ", ")
}

// combinations is the most combinations of controllers' states that are tried.
const combinations = 4096

// sensing is how far outside its limits a state still counts as staying, of the limit:
// what the solver's own tolerance can leave.
const sensing = 1e-9

// Settle returns every steady state that the controllers let stay, in the order of their
// rows with the last controller's changing fastest: each combination of states is set,
// solved and checked against what each controller then feels. Which of several counts,
// the worst say, is the caller's to choose; none is dropped. s is what the controllers
// leave alone and is given back as it was. With ever, the most that could have pressed
// before (see Rest), a controller that feels standing water stays if it stays at any
// head the water can stand at; without, at the head given.
//
// No combination that stays comes as a *Hunting. A combination that cannot be solved is
// an error: what is not known cannot be called inconsistent.
func (n *Net) Settle(s, ever *State, list []Controller, w *Work) ([]Consistent, error) {
	total := 1
	for i := range list {
		if err := n.checkController(&list[i]); err != nil {
			return nil, err
		}
		if total *= len(list[i].States); total > combinations {
			return nil, fmt.Errorf("hydraulics: %d controllers have more than %d states together", len(list), combinations)
		}
	}
	trial := &State{Held: s.Held, Opening: append([]float64(nil), s.Opening...), Off: append([]bool(nil), s.Off...)}
	rows, left := make([]int, len(list)), make([]bool, len(list))
	var found []Consistent
	for k := range total {
		copy(trial.Opening, s.Opening)
		copy(trial.Off, s.Off)
		for i, rest := len(list)-1, k; i >= 0; i-- {
			rows[i], rest = rest%len(list[i].States), rest/len(list[i].States)
		}
		a, err := n.combination(trial, ever, list, rows, w)
		if err != nil {
			return nil, err
		}
		if n.leaving(list, rows, a, left) == 0 {
			found = append(found, Consistent{append([]int(nil), rows...), a})
		}
	}
	if len(found) > 0 {
		return found, nil
	}
	h := &Hunting{}
	for i := range list {
		if left[i] {
			h.Parts = append(h.Parts, list[i].Name)
		}
	}
	return nil, h
}

// combination sets one row of each controller and solves.
func (n *Net) combination(s, ever *State, list []Controller, rows []int, w *Work) (*Answer, error) {
	for i := range list {
		for _, set := range list[i].States[rows[i]].Set {
			s.Off[set.Element], s.Opening[set.Element] = set.Off, set.Opening
		}
	}
	a := n.NewAnswer()
	err := n.Solve(s, a, w)
	if err == nil && ever != nil {
		err = n.Rest(s, ever, a, w)
	}
	if err != nil {
		var in []string
		for i := range list {
			in = append(in, list[i].Name+" "+list[i].States[rows[i]].Name)
		}
		return nil, fmt.Errorf("with %s: %w", strings.Join(in, ", "), err)
	}
	return a, nil
}

// leaving counts the controllers that do not stay, and marks them in left.
func (n *Net) leaving(list []Controller, rows []int, a *Answer, left []bool) int {
	count := 0
	for i := range list {
		if row := &list[i].States[rows[i]]; !row.stays(list[i].feels(a)) {
			left[i] = true
			count++
		}
	}
	return count
}

// feels is what the controller senses: an interval where it feels standing water.
func (c *Controller) feels(a *Answer) (low, high float64) {
	switch p := c.Point; {
	case p < 0:
		return a.Flow[c.Element], a.Flow[c.Element]
	case a.Low[p] < a.High[p] && math.IsInf(a.High[p], 1): // Rest has not been asked, or knows nothing
		return a.Head[p], a.Head[p]
	default:
		return a.Low[p], a.High[p]
	}
}

func (r *ControlState) stays(low, high float64) bool {
	slack := func(limit float64) float64 { return sensing * math.Max(1e-5, math.Abs(limit)) }
	over := high >= r.Low-slack(r.Low) || math.IsInf(r.Low, -1)
	under := low <= r.High+slack(r.High) || math.IsInf(r.High, 1)
	return over && under
}

// checkController refuses a table that does not fit the circuit, by name.
func (n *Net) checkController(c *Controller) error {
	switch {
	case len(c.States) == 0:
		return fmt.Errorf("hydraulics: %s: a controller must have a state", c.Name)
	case int(c.Point) >= len(n.points):
		return &Refusal{c.Name, "point felt", float64(c.Point), fmt.Sprintf("a point, 0 to %d", len(n.points)-1)}
	case c.Point < 0 && (c.Element < 0 || int(c.Element) >= len(n.elements)):
		return &Refusal{c.Name, "element felt", float64(c.Element), fmt.Sprintf("an element, 0 to %d", len(n.elements)-1)}
	}
	for i := range c.States {
		r := &c.States[i]
		if !(r.Low <= r.High) {
			return &Refusal{c.Name + " " + r.Name, "lower limit", r.Low, fmt.Sprintf("at most the upper one, %g", r.High)}
		}
		for _, set := range r.Set {
			if set.Element < 0 || int(set.Element) >= len(n.elements) {
				return &Refusal{c.Name + " " + r.Name, "element set", float64(set.Element), fmt.Sprintf("an element, 0 to %d", len(n.elements)-1)}
			}
			if !(set.Opening >= 0 && set.Opening <= 1) {
				return &Refusal{c.Name + " " + r.Name, "opening or speed", set.Opening, "0 to 1"}
			}
		}
	}
	return nil
}
