package circuit

import "tideover/internal/hydraulics"

// Upset is what a mishap does to what decides, holds or measures: the pipework itself
// stays as it is, and the case has to follow.
type Upset uint8

// The upsets.
const (
	NoUpset          Upset = iota
	PumpAlwaysRuns         // the controller is stuck on: the pump runs while there is power
	PumpNeverRuns          // the controller is stuck off, or the pump does not start
	OnePumpNeverRuns       // one pump of a set does not start: the others are left
	LockAlwaysLets         // the lock-out is stuck: the pump is always allowed
	LockAlwaysBars         // the lock-out is stuck: the pump is never allowed
	LevelReadsWater        // the level switch always says that there is water
	LevelReadsEmpty        // the level switch always says that there is none
	VesselFlat             // the vessel has lost its charge and gives no water back
	VesselShutOff          // the vessel is valved off: it feels nothing
	ReliefBlocked          // the heater's relief valve does not open
	TapLeftOpen            // a tap was left open while nothing came: it runs when water does
	OverflowBlocked        // the overflow carries nothing
	VentBlocked            // the vent lets no air in: the overflow alone does
	ScreensBlocked         // the screens of vent and overflow are choked
)

// Leak is a passage that counts while the element it stands beside is off.
type Leak struct{ Element, Beside int32 }

// Turned is an element that stands at an opening whatever the setting.
type Turned struct {
	Element int32
	Opening float64
}

// Air is the way air takes into an open mouth: Off by default, to be opened together with
// the mouth.
type Air struct {
	Part         int
	Mouth, Entry int32 // the element water leaves by; the element air comes in by
}

// Mishap is one thing broken or mis-set that the assembly can have, or several that one
// cause breaks at once. Strike puts it into a state; Upset says what else follows.
type Mishap struct {
	ID    string // message "mishap.<ID>", with {tag} and, for swapped tags, {other}
	Tag   string // of the part; "" when it strikes several
	Other string // of the second part whose label was swapped
	Parts []int  // struck

	Swap  bool     // Parts[0] and Parts[1] wear each other's tag: hands turn the one for the other
	Upset Upset    //
	Opens []int32  // elements that pass, whatever else
	Shuts []int32  // elements that pass nothing
	Leaks []Leak   // small passages beside elements that ought to be shut
	Turns []Turned // elements that stand part open
	Sinks float64  // the store's surface presses this much less while water is drawn from it [m]
	Upper bool     // it is the header tank's surface that Sinks lowers

	surface []int32 // the points that Sinks lowers
}

// Strike changes a state, written for a sound home, into one with the mishap. Extra
// elements that are no part of it stay as they are. It allocates nothing.
func (m *Mishap) Strike(s *hydraulics.State) {
	for _, l := range m.Leaks {
		if s.Off[l.Beside] {
			s.Off[l.Element] = false
		}
	}
	for _, e := range m.Shuts {
		s.Off[e] = true
	}
	for _, e := range m.Opens {
		s.Off[e] = false
	}
	for _, at := range m.surface {
		s.Held[at] -= m.Sinks
	}
	for _, t := range m.Turns {
		s.Off[t.Element] = false
		s.Opening[t.Element] = t.Opening
	}
}

// Key identifies the mishap across runs of the same assembly.
func (m *Mishap) Key() string {
	key := m.ID
	if m.Tag != "" {
		key += " " + m.Tag
	}
	if m.Other != "" {
		key += " " + m.Other
	}
	return key
}

// Breathe opens, in a state, the way of air into every mouth that stands open, so that a
// main that sucks finds the air an open tap lets in. Without it an open tap is a way out
// only.
func (c *Circuit) Breathe(s *hydraulics.State) {
	for _, a := range c.Airs {
		s.Off[a.Entry] = s.Off[a.Mouth]
	}
}

// MishapOf returns the index of the mishap with the key, or −1.
func (c *Circuit) MishapOf(key string) int {
	for i := range c.Mishaps {
		if c.Mishaps[i].Key() == key {
			return i
		}
	}
	return -1
}

// StreetElement returns the element that joins the public main to the home, or −1: its
// flow is positive into the home.
func (c *Circuit) StreetElement() int32 {
	if c.street < 0 {
		return -1
	}
	return c.touching[c.street][0]
}
