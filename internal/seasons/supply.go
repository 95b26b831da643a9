package seasons

import "tideover/internal/outage"

// Spell is a time from one moment to another, in seconds from the start of the run.
type Spell = outage.Spell

// Outages is the supply of an outage model: interruptions, weak spells and power cuts as
// fitted, beside the hours of the week.
type Outages struct {
	Model *outage.Model
	Seed  uint64
}

// Future returns one course of it.
func (o Outages) Future(home uint32) Future { return course{o.Model.Future(o.Seed, home)} }

type course struct{ *outage.Future }

func (c course) Off(dst []Spell, year int) []Spell  { return c.Year(dst, year) }
func (c course) Weak(dst []Spell, year int) []Spell { return c.WeakYear(dst, year) }
func (c course) Dark(dst []Spell, year int) []Spell { return c.Cuts(dst, year) }
