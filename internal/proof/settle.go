package proof

import (
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Settle finds states of the controls that stay in a case: those it names if they stay,
// else the first that do, the ordinary ones tried first. It is false where none stays, for
// the controls hunt; the case then comes back as it was.
func (s *Space) Settle(c Case) (Case, bool) {
	if s.stays(c) {
		return c, true
	}
	n := len(s.Hands)
	for _, lock := range ordered(s.first[n+vLock], s.normal[n+vLock]) {
		for _, pump := range ordered(s.first[n+vPump], s.normal[n+vPump]) {
			d := c
			d.Control = Control{Pump: circuit.Pumping(pump), Lock: circuit.LockState(lock)}
			if s.stays(d) {
				return d, true
			}
		}
	}
	return c, false
}

// stays reports whether the controls stay in the states a case names.
func (s *Space) stays(c Case) bool { return s.one(c).steady() }

// ordered lists the values of a set of bits, those that are ordinary first.
func ordered(set, usual uint8) []int {
	var list []int
	for _, among := range [2]uint8{set & usual, set &^ usual} {
		for k := range 8 {
			if among>>k&1 != 0 {
				list = append(list, k)
			}
		}
	}
	return list
}

// Choice is one thing about a case that the world decides, with the values this assembly
// can meet; the ordinary one is Usual.
type Choice struct {
	Name   string // "main", "power"…: as in a case's text
	Values []string
	Usual  string
}

// Choices lists what the world decides, in the order of a case's text. What has one value
// only, and the states of the controls, are left out.
func (s *Space) Choices() []Choice {
	var list []Choice
	n := len(s.Hands)
	for v, w := range caseWords {
		if v == vPump || v == vLock {
			continue
		}
		c := Choice{Name: w.name}
		for k, value := range w.values {
			if s.first[n+v]>>k&1 != 0 {
				c.Values = append(c.Values, value)
			}
			if s.normal[n+v]>>k&1 != 0 {
				c.Usual = value
			}
		}
		if len(c.Values) > 1 {
			list = append(list, c)
		}
	}
	return list
}

// OfCase reports whether an answer is about its case alone: not about the assembly once for
// all, nor about what some other setting might do.
func (a *Answer) OfCase() bool { return a.About.Spread == EveryCase || a.About.Spread == NamedOnly }

// TellAnswer says what a broken promise comes to in its case.
func (s *Space) TellAnswer(c Case, a *Answer, sys quantity.System) string {
	r := Report{Space: s}
	return r.Tell(a.About, &Counterexample{Case: c, Judgement: a.Judgement}, sys)
}

// Once reports whether an answer is about the assembly once for all, whatever the case.
func (a *Answer) Once() bool { return a.About.Spread == OnceForAll }

// ID is the outcome's stable name.
func (o Outcome) ID() string {
	return [...]string{Silent: "silent", Kept: "kept", Broken: "broken", Unjudged: "unjudged"}[o]
}

// Pulls reports whether a movement pulls the pump's plug, Puts whether it puts it back.
func (m *Movement) Pulls() bool { return m.Act == PullPlug }

// Puts reports whether a movement puts the pump's plug back.
func (m *Movement) Puts() bool { return m.Act == PutPlug }
