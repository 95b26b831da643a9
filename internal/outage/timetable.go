package outage

import "math"

// Slot is a time with supply within a cycle, in seconds from its start.
type Slot struct{ From, To float64 }

// Timetable is a supply by the clock: on in the slots of a cycle (a week, or two days,
// or two weeks), off between them. Slots are in order and apart.
type Timetable struct {
	Cycle float64 // s
	On    []Slot
}

// off appends the times without supply that begin in [from, to), first the one whose
// beginning lies earliest. No slot at all: the supply is off for ever, which is no
// timetable and appends nothing.
func (t *Timetable) off(dst []Spell, from, to float64) []Spell {
	if len(t.On) == 0 {
		return dst
	}
	for round := math.Floor(from/t.Cycle) - 1; round*t.Cycle < to; round++ {
		base := round * t.Cycle
		for i, s := range t.On {
			next := base + t.Cycle + t.On[0].From
			if i+1 < len(t.On) {
				next = base + t.On[i+1].From
			}
			if begin := base + s.To; begin >= from && begin < to && next > begin {
				dst = append(dst, Spell{begin, next})
			}
		}
	}
	return dst
}

// Share is the part of the time the timetable gives water.
func (t *Timetable) Share() float64 {
	on := 0.0
	for _, s := range t.On {
		on += s.To - s.From
	}
	return on / t.Cycle
}
