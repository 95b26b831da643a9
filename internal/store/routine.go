package store

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// routine says what the routine that a job asks for comes to: what it draws each time, and what
// is wrong with it.
func routine(list []finding.Finding, r *Result, c Context) []finding.Finding {
	if !(c.Job.Choices.Exercise.V > 0) {
		return list
	}
	f := finding.New("routine", storeTag(c.Assembly), "")
	every, lasts := c.Job.Choices.Exercise.V, c.Job.Choices.ExerciseFor.V
	f.Figure = finding.Of(quantity.VolumeDim, float64(r.Each))
	f.Arg("every", quantity.Quantity{Dim: quantity.TimeDim, SI: float64(every), Basis: quantity.Stated})
	f.Arg("lasts", quantity.Quantity{Dim: quantity.TimeDim, SI: float64(lasts), Basis: quantity.Stated})
	f.Arg("usable", finding.Of(quantity.VolumeDim, float64(r.Usable)))
	f.Verdict = finding.Fine
	why := ""
	switch {
	case r.Routine.Every == 0:
		why = "@routine.nothing"
	case r.Each >= r.Usable:
		why = "@routine.dry"
	case c.Job.Choices.ExerciseFor.Basis == quantity.Assumed:
		why = "@routine.length"
	}
	if why != "" {
		f.Verdict = finding.LookAt
		f.Name("why", why)
	}
	return append(list, f)
}

// What a routine may come to that is worth trying: judgement. It leaves the store a reserve, and
// nobody turns handles more often than every four days for long.
const most = 0.8 // of the usable water each time

var (
	everies = [...]float64{28, 14, 7, 4} // d
	lengths = [...]quantity.Time{24, 48} // h
)

// routines are the routines that keep the water as fresh as it is to be, those that have the
// home on the store the least part of the time first, then those that come the least often.
func routines(r *Result, c Context, freshest quantity.Time) [][]job.Edit {
	if !circuit.CanTurn(c.Assembly) {
		return nil
	}
	use := float64(r.Daily) / float64(Day)
	usable, without := float64(r.Usable), r.without()
	var list []circuit.Routine
	for _, days := range everies {
		for _, hours := range lengths {
			x := circuit.Routine{Every: quantity.Time(days) * Day, Lasts: hours * 3600}
			flow := without + exerciseEq.Fn([]float64{use, float64(x.Lasts), usable, float64(x.Every), without})
			if use*float64(x.Lasts) <= most*usable && float64(r.Usable+r.Dead)/flow <= float64(freshest) {
				list = append(list, x)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b circuit.Routine) int {
		return cmp.Compare(a.Lasts/a.Every, b.Lasts/b.Every)
	})
	var cures [][]job.Edit
	for _, x := range list[:min(2, len(list))] {
		cures = append(cures, []job.Edit{
			set("choices.store.exercise", strconv.FormatFloat(float64(x.Every/Day), 'g', -1, 64)+" d"),
			set("choices.store.exercise-for", strconv.FormatFloat(float64(x.Lasts/3600), 'g', -1, 64)+" h")})
	}
	return cures
}

// without is the mean draw from the store without the routine [m³/s].
func (r *Result) without() float64 {
	use, all := float64(r.Daily)/float64(Day), float64(r.Through)/float64(Day)
	if r.Routine.Every == 0 {
		return all
	}
	own := float64(r.Each) / float64(r.Routine.Every)
	return math.Max(all-own, 0) / (1 - own/use)
}

// smaller are stores that hold so little that their water is as fresh as it is to be: one
// fewer, and the two largest of the table that do.
func smaller(r *Result, c Context, freshest quantity.Time) [][]job.Edit {
	var cures [][]job.Edit
	n := int(c.Job.Choices.Stores.V)
	if n > 1 {
		cures = append(cures, []job.Edit{set("choices.store.count", itoa(n-1))})
	}
	if c.Rows == nil || c.Assembly.Arrangement == "free" {
		return cures
	}
	holds := float64(r.Through) / float64(Day) * float64(freshest)
	var fit []catalogue.Store
	for _, key := range c.Rows.Keys("stores") {
		if row := c.Rows.Stores[key]; catalogue.SoldIn(key, c.Job.System()) && float64(row.Overflow)*float64(row.Floor()) <= holds {
			fit = append(fit, row)
		}
	}
	slices.SortStableFunc(fit, func(a, b catalogue.Store) int { return cmp.Compare(b.Nominal, a.Nominal) })
	for _, row := range fit[:min(2, len(fit))] {
		edits := []job.Edit{set("choices.store.row", row.Key)}
		if n > 1 {
			edits = append(edits, set("choices.store.count", "1"))
		}
		cures = append(cures, edits)
	}
	return cures
}
