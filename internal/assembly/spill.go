package assembly

import (
	"math"
	"strconv"

	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Spill is how a store lets off what it cannot hold. Its height is the row's Overflow: the
// bottom of the pipe's bore, or the sill of the slot, above the base.
type Spill struct {
	By     string          // "pipe", "slot", "none"; "" nobody has looked
	Bore   quantity.Length // of the pipe; 0 not known
	Slot   quantity.Length // width of a slot under the lid, open to the air; 0 not known
	Screen string          // "across", "wide", "none"; "" nobody has looked
	Mark   string          // bore or width as the fitter marks it: "46 mm", "2.07 in"; "" not known
}

// Marked writes a height or a bore as it is marked on a tank, and as a job file takes it:
// whole millimetres, or hundredths of an inch.
func Marked(l quantity.Length, sys quantity.System) string {
	if sys == quantity.US {
		return strconv.FormatFloat(math.Round(float64(l)/inch*100)/100, 'f', -1, 64) + " in"
	}
	return strconv.FormatFloat(math.Round(float64(l)*1000), 'f', -1, 64) + " mm"
}

// inch is one, in metres.
const inch = 0.0254

// marked gives a spill the mark of its width.
func (b *build) marked(s Spill) Spill {
	if width := max(s.Bore, s.Slot); width > 0 {
		s.Mark = Marked(width, b.job.System())
	}
	return s
}

// spill is how the store lets off what it cannot hold, as the job says. A catalogue row
// knows what such tanks come drilled for, not what is drilled into this one.
func (b *build) spill() Spill {
	c := &b.job.Choices
	s := Spill{By: seen(c.Spill), Bore: c.Overflow.V, Screen: seen(c.Screen)}
	if s.By == "slot" {
		s.Bore, s.Slot = 0, c.Slot.V
	}
	if s.By == "none" {
		s.Bore = 0
	}
	return b.marked(s)
}

// headerSpill is spill for a header tank: a pipe, where it has any.
func (b *build) headerSpill() Spill {
	return b.marked(Spill{By: "pipe", Bore: b.job.Choices.HeaderOver.V, Screen: seen(b.job.Choices.Screen)})
}

// seen is an answer that somebody gave; "" for one that nobody could.
func seen(answer string) string {
	if answer == "unknown" {
		return ""
	}
	return answer
}

// made is a tank as it stands after the fitter: overflow and float valve at the heights the
// job gives, where it gives them.
func (b *build) made(row catalogue.Store) catalogue.Store {
	c := &b.job.Choices
	if c.Mouth.V > 0 {
		row.Inlet = c.Mouth.V
	}
	return b.drilled(row, "choices.store.overflow-height", c.OverHeight.V)
}

// headerMade is made for the header tank.
func (b *build) headerMade(row catalogue.Store) catalogue.Store {
	return b.drilled(row, "choices.header.overflow-height", b.job.Choices.HeaderLip.V)
}

// drilled puts the overflow at a height. Water must stand over the outlet, and air between
// the overflow and the float valve's mouth, which hangs under the lid.
func (b *build) drilled(row catalogue.Store, path string, lip quantity.Length) catalogue.Store {
	if lip > 0 {
		row.Overflow = lip
	}
	switch {
	case row.Key == "": // missing; said already
	case row.Inlet > row.Height:
		b.fault("choices.store.mouth-height", "assembly.mouth-over-lid", words.Args{"lid": b.shown(row.Height)})
	case !(row.Outlet < row.Overflow && row.Overflow < row.Inlet):
		b.fault(path, "assembly.overflow-height", words.Args{"outlet": b.shown(row.Outlet), "mouth": b.shown(row.Inlet)})
	}
	return row
}

// shown writes a length in the job's units.
func (b *build) shown(l quantity.Length) string {
	return quantity.Format(quantity.Of(l), b.job.System())
}
