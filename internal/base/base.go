// Package base works out what the stores ask of what they stand on, and judges whether it
// is there: the ground by what is presumed of the kind that was found, a floor by what it
// is said to carry.
//
// Stage: an analysis. It takes a job's answers, the tables and the mass of a full store,
// and gives a Result; a second function reads findings off it. It never sees another
// analysis: what a store weighs is handed in.
//
// Left out: the stress in a slab, its settlement, wind on an empty store. Stands, roofs and
// decks are an engineer's: here stands only what the engineer starts from.
package base

import (
	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// Unknown ground is taken as this until somebody has looked at it, as the field table says.
const untold = "soft-clay"

// Inputs is what the analysis needs beside job and tables.
type Inputs struct {
	Mass   quantity.Mass  // of one store, full, with its shell
	Header quantity.Mass  // of a header tank, full; 0 none
	Raised bool           // the stores stand on a stand, a roof or an upper floor
	Local  catalogue.Rule // what the local rules presume of any ground
}

// Tank is what one kind of tank asks of what carries it.
type Tank struct {
	Tag    string // of the first
	Count  int
	Row    catalogue.Store
	Mass   quantity.Mass // of one, full
	Ground sitework.Base // on a slab
	Raised sitework.Load // on a deck
	Deck   bool          // it stands on something that somebody has to reckon
}

// Bearing is what the ground is presumed to carry.
type Bearing struct {
	Ground   string            // as told; "unknown"
	Taken    string            // key of the row it is taken as
	Least    quantity.Pressure // presumed; 0: nothing is, an engineer is asked
	Halved   bool              // for water that stands within one width of the base
	Water    string            // id of what was made of that: "halved" as told, "feared" where nobody looked, "dry", "any" where it changes nothing
	Slope    quantity.Ratio
	Steep    float64 // slope from which on an engineer is asked
	Source   string
	Standing string // what the source is to the place, of a profile's figure
	Mark     catalogue.Certainty
}

// Result is what the stores ask, and what is there.
type Result struct {
	Tanks   []Tank // the stores, then a header tank
	Bearing Bearing
	Floor   quantity.Val[quantity.Load] // what a floor is said to carry; 0 not told
}

// Stores are the tanks the main fills.
func (r *Result) Stores() *Tank { return &r.Tanks[0] }

// Header is the header tank, or nil.
func (r *Result) Header() *Tank {
	if len(r.Tanks) < 2 {
		return nil
	}
	return &r.Tanks[1]
}

// Analyse works out what the tanks of an assembly ask of the ground. It returns nil where
// there is no store, or nobody knows what it weighs.
func Analyse(j *job.Job, a *assembly.Assembly, cat *catalogue.Catalogue, in Inputs) *Result {
	r := &Result{Floor: j.Access.Floor, Bearing: presumed(j, cat, in.Local)}
	var header []Tank
	for _, i := range a.Of(assembly.Store) {
		part := &a.Parts[i]
		row, known := part.Row.(catalogue.Store)
		switch {
		case !known || row.Diameter <= 0:
		case i == a.Header():
			header = append(header, tank(part.Tag, row, 1, in.Header, true))
		case len(r.Tanks) > 0:
			r.Tanks[0].Count += max(1, part.Count)
		default:
			r.Tanks = append(r.Tanks, Tank{Tag: part.Tag, Row: row, Count: max(1, part.Count)})
		}
	}
	if len(r.Tanks) == 0 || in.Mass <= 0 {
		return nil
	}
	s := &r.Tanks[0]
	*s = tank(s.Tag, s.Row, s.Count, in.Mass, in.Raised)
	if in.Header > 0 {
		r.Tanks = append(r.Tanks, header...)
	}
	return r
}

func tank(tag string, row catalogue.Store, count int, mass quantity.Mass, deck bool) Tank {
	t := Tank{Tag: tag, Count: count, Row: row, Mass: mass, Deck: deck}
	if mass > 0 {
		t.Ground = sitework.Ground(count, row.Diameter, row.Nominal, mass)
		t.Raised = sitework.Raised(count, mass, row.Diameter, row.Height)
	}
	return t
}

// presumed looks up what the ground that was found is presumed to carry. Where nobody told
// of water in the ground it is feared to be there. A figure of the reader's own profile goes
// before the table where it is less, and any profile's does where nobody looked.
func presumed(j *job.Job, cat *catalogue.Catalogue, local catalogue.Rule) Bearing {
	b := Bearing{Ground: j.Place.Ground, Taken: j.Place.Ground, Slope: j.Place.Slope.V, Steep: assume.Steep.In(j.Assumed)}
	if b.Ground == "" || b.Ground == "unknown" {
		b.Ground, b.Taken = "unknown", untold
	}
	row := cat.Soils[b.Taken]
	b.Least, b.Source, b.Mark = row.Least, row.Source, row.Certainty
	if own := local.Standing == catalogue.Told || !b.Told(); local.Set && own && local.Value < float64(b.Least) {
		b.Least, b.Mark = quantity.Pressure(local.Value), local.Certainty
		b.Source, b.Standing = local.Cited()
	}
	switch water := j.Place.HighWater; {
	case !row.Halved:
		b.Water = "any"
	case water == job.No:
		b.Water = "dry"
	case water == job.Yes:
		b.Least, b.Halved, b.Water = b.Least/2, true, "halved"
	default:
		b.Least, b.Halved, b.Water = b.Least/2, true, "feared"
	}
	return b
}

// Told reports whether somebody said what the ground is.
func (b *Bearing) Told() bool { return b.Ground != "unknown" }

// Doubt is the id of the reason for which no figure may be presumed or trusted alone:
// "none", "soft", "slope", or "" where there is none.
func (b *Bearing) Doubt() string {
	switch {
	case b.Least <= 0:
		return "none"
	case b.Taken == "soft-clay":
		return "soft"
	case float64(b.Slope) > b.Steep:
		return "slope"
	}
	return ""
}
