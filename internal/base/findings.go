package base

import (
	"cmp"
	"slices"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// enough is how many lower stores are tried where a floor carries too little.
const enough = 3

// Findings appends the judgements read off a result to a list: the floor, where somebody
// said what it carries, and the ground under what is not raised.
func Findings(list []finding.Finding, r *Result, cat *catalogue.Catalogue, bare bool) []finding.Finding {
	if r == nil {
		return list
	}
	if r.Floor.V > 0 {
		for i := range r.Tanks {
			list = append(list, floor(r, &r.Tanks[i], cat, bare))
		}
	}
	if s := r.Stores(); !s.Deck {
		list = append(list, ground(&r.Bearing, s, bare))
	}
	return list
}

// floor judges what a full tank presses against what its floor is said to carry.
func floor(r *Result, t *Tank, cat *catalogue.Catalogue, bare bool) finding.Finding {
	f := finding.New("floor-load", t.Tag, "")
	f.Bare = bare
	f.Source, f.Calc = "statics", t.Ground.Calc.Steps[:t.Ground.Under]
	f.Against(load(t.Ground.Store), r.Floor.Quantity(), finding.AtMost, finding.MustFix)
	f.Arg("mass", quantity.Of(t.Mass))
	if f.Verdict == finding.MustFix && !bare && t == r.Stores() {
		f.Cures = lower(cat, t.Row.Key, r.Floor.V)
	}
	return f
}

// load is a pressure on ground or floor as those who build on it write it.
func load(p quantity.Pressure) quantity.Quantity { return quantity.Of(quantity.Load(p)) }

// lower are stores whose water stands low enough for a floor, the largest first, sold by the
// measure the own one is.
func lower(cat *catalogue.Catalogue, own string, carries quantity.Load) [][]job.Edit {
	var rows []catalogue.Store
	for _, row := range cat.Stores {
		if strings.HasSuffix(row.Key, "-gal") == strings.HasSuffix(own, "-gal") && quantity.StandardDensity*quantity.StandardGravity*float64(row.Overflow) < float64(carries) {
			rows = append(rows, row)
		}
	}
	slices.SortFunc(rows, func(a, b catalogue.Store) int {
		return cmp.Or(cmp.Compare(b.Nominal, a.Nominal), cmp.Compare(a.Key, b.Key))
	})
	var cures [][]job.Edit
	for _, row := range rows[:min(enough, len(rows))] {
		cures = append(cures, []job.Edit{{Op: job.Set, Path: "choices.store.row", Text: row.Key}})
	}
	return cures
}

// ground judges what the slab asks against what is presumed of the ground. Presumption is
// no test: on made or soft ground, or on a steep slope, it is never fine.
func ground(b *Bearing, t *Tank, bare bool) finding.Finding {
	f := finding.New("bearing", t.Tag, "")
	f.Bare = bare
	f.Source, f.Standing, f.Calc = b.Source, b.Standing, t.Ground.Calc.Steps
	f.Name("ground", "@ground."+b.Ground)
	f.Name("water", "@bearing."+b.Water)
	asked := load(t.Ground.Ground)
	limit := quantity.Quantity{Dim: quantity.LoadDim, SI: float64(b.Least), Basis: quantity.Assumed}
	switch doubt := b.Doubt(); {
	case !b.Told():
		f.Figure, f.Sense = asked, finding.AtMost
		f.Arg("taken", limit)
		f.Blank("place.ground")
	case doubt == "none":
		f.Figure, f.Verdict = asked, finding.LookAt
		f.Name("doubt", "@bearing.doubt."+doubt)
	default:
		f.Against(asked, limit, finding.AtMost, finding.MustFix)
		if doubt != "" && f.Verdict == finding.Fine {
			f.Verdict = finding.LookAt
			f.Name("doubt", "@bearing.doubt."+doubt)
		}
	}
	return f
}
