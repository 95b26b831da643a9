package procedure

import (
	"slices"

	"tideover/internal/assembly"
)

// Who does a step: the fitter alone, two people, or a licensed electrician.
type Who string

// Who.
const (
	Alone    Who = ""
	Two      Who = "two"
	Licensed Who = "licensed"
)

// Doing is what an act does.
type Doing string

// The doings. Each is told of one part, but for those that say otherwise.
const (
	Fit      Doing = "fit"      // a new part is put in its place and joined to what is there
	Cap      Doing = "cap"      // every open end is closed with a hose end (no part)
	Wire     Doing = "wire"     // the electrician's work is done (no part)
	Switch   Doing = "switch"   // the pump's isolator: To "on", or "off" and locked
	Handle   Doing = "handle"   // a handle, a drain or a tap: To its position; a float valve: "down", "free"
	HoseIn   Doing = "hose-in"  // drinking water is let into a store from a hose that ends above the water
	PressIn  Doing = "press-in" // a hand pump at the street's end of the new pipe: To "clean" or "dosed"; "off"
	Dose     Doing = "dose"     // chlorine is stirred into a store
	Prime    Doing = "prime"    // a pump's plug is open until water comes without air
	Swab     Doing = "swab"     // a part that no dosed water reaches is wiped or dipped
	Cut      Doing = "cut"      // the old pipe is cut (no part)
	Join     Doing = "join"     // new pipe and old are joined (no part)
	SeeZero  Doing = "see-zero" // nothing presses there any more
	TakeOpen Doing = "open"     // a part is opened or taken out
	PutBack  Doing = "put-back" // it is closed again
	SeeWater Doing = "see"      // water comes at a mouth: To "clean" or "dosed"
	Empty    Doing = "empty"    // a store is drained to its floor
	Heat     Doing = "heat"     // the heater's power or gas: To "on", "off" (no part)
	TestPump Doing = "test"     // a hand pump on a drain, or −1 on an end left open: To "pressed", "off"
	SeeHeld  Doing = "held"     // the gauge there stays where it is: its water gets out nowhere
	SeeDry   Doing = "dry"      // nothing comes at an open mouth
	SeeStop  Doing = "stopped"  // a pump gets no water, and must stop by itself
	SeeStill Doing = "still"    // nothing flows anywhere: the meter stands, the gauge stays
	SeeRuns  Doing = "runs"     // water comes at an open mouth, or runs through a pump
	Float    Doing = "float"    // the float of a level switch: To "low", "high", "free"
	Isolate  Doing = "isolate"  // a lockable valve of a vessel, with a drain of its own: To "shut", "open" and locked
	Look     Doing = "look"     // a part is found by its tag
	Strip    Doing = "strip"    // chlorine is read with a strip, in a store or at a running tap
	Fill     Doing = "fill"     // an empty store fills through its float valve, which hangs down
	Couple   Doing = "couple"   // the old pipe is made whole again (no part)
)

// Act is one thing hands do within a step.
type Act struct {
	Do   Doing
	Part int // −1 where no part is meant
	To   string
}

// Step is one line of a sheet: its sentence by id, who does it, and what hands do.
type Step struct {
	ID   string
	Who  Who
	Acts []Act
}

// List is a run of steps under one heading. ID is the heading's message, and the prefix of
// the steps' own.
type List struct {
	ID    string
	Steps []Step
}

// Home is an assembly as hands meet it.
type Home struct {
	a      *assembly.Assembly
	p      *plumb
	checks []CheckTest
}

// For takes an assembly. One without a setting has no procedures worth the name.
func For(a *assembly.Assembly) *Home {
	at := map[string]string{}
	if len(a.Settings) > 0 {
		at = a.Settings[0].Positions
	}
	return &Home{a, stand(a, at), Checks(a)}
}

func (h *Home) stored() bool { return len(h.a.Of(assembly.Store)) > 0 }
func (h *Home) pumped() bool { return len(h.a.Of(assembly.Pump)) > 0 }
func (h *Home) lifted() bool { return h.a.Header() >= 0 }

// as lists the parts with one of the purposes, in the order of the assembly.
func (h *Home) as(purposes ...assembly.Purpose) []int {
	var list []int
	for i := range h.a.Parts {
		if slices.Contains(purposes, h.a.Parts[i].Purpose) {
			list = append(list, i)
		}
	}
	return list
}

// where lists the new parts a question says yes to.
func (h *Home) where(yes func(i int, p *assembly.Part) bool) []int {
	var list []int
	for i := range h.a.Parts {
		if p := &h.a.Parts[i]; !p.Kept && p.Kind != assembly.Main && yes(i, p) {
			list = append(list, i)
		}
	}
	return list
}

// acts is one act on each of some parts.
func acts(do Doing, to string, parts ...int) []Act {
	var list []Act
	for _, i := range parts {
		list = append(list, Act{do, i, to})
	}
	return list
}

// alone is an act that is told of no part.
func alone(do Doing, to string) []Act { return []Act{{do, -1, to}} }

// with is the acts of several, one after the other.
func with(lists ...[]Act) []Act { return slices.Concat(lists...) }

// turned is the acts that bring the handles from one setting to another, by rank: what is
// shut first, what is opened last. Papers print the proven order where there is one.
func (h *Home) turned(from, to map[string]string) []Act {
	var list []Act
	for _, open := range []bool{false, true} {
		for i := range h.a.Parts {
			tag := h.a.Parts[i].Tag
			if at := to[tag]; at != "" && at != from[tag] && (at == "shut") != open {
				list = append(list, Act{Handle, i, at})
			}
		}
	}
	return list
}

// setting is the positions of a named setting, nil where there is none.
func (h *Home) setting(name string) map[string]string {
	if s := h.a.Setting(name); s != nil {
		return s.Positions
	}
	return nil
}

// Checks is how each non-return valve is tested, street to home.
func (h *Home) Checks() []CheckTest { return h.checks }
