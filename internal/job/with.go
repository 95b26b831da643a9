package job

import (
	"fmt"
	"math"
	"slices"

	"tideover/internal/quantity"
)

// System is the unit system the job is written and read in.
func (j *Job) System() quantity.System {
	sys, err := quantity.ParseSystem(j.Units)
	if err != nil {
		return quantity.Metric
	}
	return sys
}

// Clone returns a deep copy.
func (j *Job) Clone() *Job {
	c := *j
	c.Uses = slices.Clone(j.Uses)
	c.Outlets = slices.Clone(j.Outlets)
	c.Existing = slices.Clone(j.Existing)
	c.Parts = slices.Clone(j.Parts)
	c.Joins = slices.Clone(j.Joins)
	c.Added = slices.Clone(j.Added)
	c.Bought = slices.Clone(j.Bought)
	c.Photos = slices.Clone(j.Photos)
	c.Interruptions.Habit = slices.Clone(j.Interruptions.Habit)
	c.Logged = slices.Clone(j.Logged)
	c.CutsLogged = slices.Clone(j.CutsLogged)
	c.Interruptions.Timetable = slices.Clone(j.Interruptions.Timetable)
	c.Interruptions.Weak = slices.Clone(j.Interruptions.Weak)
	c.Interruptions.PowerCuts = slices.Clone(j.Interruptions.PowerCuts)
	return &c
}

// With returns a deep copy in which the quantity at path is v [SI], its half-width and
// basis unchanged. Quantities that were assumed from it (the pump's level from the
// store's) move along: the two are one guess. v may lie outside the field's limits,
// but must be finite. An unknown path, or one that is no quantity, is an error.
func (j *Job) With(path string, v float64) (*Job, error) { return j.WithAll(Shift{path, v}) }

// Shift is a quantity of a job and the value it is to have, or how far it is moved.
type Shift struct {
	Path string
	V    float64 // SI
}

// WithAll is With for several quantities, one after the other, on one copy.
func (j *Job) WithAll(shifts ...Shift) (*Job, error) {
	c := j.Clone()
	for _, s := range shifts {
		l, item, err := c.leafAt(s.Path)
		if err != nil {
			return nil, err
		}
		if math.IsNaN(s.V) || math.IsInf(s.V, 0) {
			return nil, fmt.Errorf("job: with %s: %v: a finite value is required", s.Path, s.V)
		}
		c.move(l, item, s.V)
	}
	return c, nil
}

// move sets one quantity and those assumed from it.
func (j *Job) move(l *leaf, item int, v float64) {
	l.at(j, item).Field(valV).SetFloat(v)
	for _, k := range l.kin {
		if k.at(j, -1).Field(valFrom).String() == l.path {
			f, _ := FieldFor(k.path)
			j.move(k, -1, v*f.share1())
		}
	}
}

// leafAt finds the quantity leaf of a path and the index of its list item.
func (j *Job) leafAt(path string) (*leaf, int, error) {
	l := plan()[starred(path)]
	if l == nil || l.dim == quantity.NoDim {
		return nil, 0, fmt.Errorf("job: %s is not a quantity of the format", path)
	}
	item := j.item(path)
	if l.list >= 0 && item < 0 {
		return nil, 0, fmt.Errorf("job: there is no item for %s", path)
	}
	return l, item, nil
}

// Quantity returns the quantity at path. It is false where there is no such quantity,
// and where nothing is known of it and nothing is assumed.
func (j *Job) Quantity(path string) (quantity.Quantity, bool) {
	l, item, err := j.leafAt(path)
	if err != nil {
		return quantity.Quantity{}, false
	}
	place := l.at(j, item)
	q := l.quantityAt(place)
	known := q.Basis != quantity.Assumed || place.Field(valFrom).String() != ""
	return q, known
}

// Cuts is how the power fails: what its log comes to where that was read, else what is told.
func (j *Job) Cuts() []Spell {
	if len(j.CutsLogged) > 0 {
		return j.CutsLogged
	}
	return j.Interruptions.PowerCuts
}
