package store

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

const (
	// Day and Year are in seconds; a year is 365.25 days.
	Day  quantity.Time = 86400
	Year quantity.Time = 365.25 * 86400

	density = 1000.0 // kg/m³, rounded up from 999.8 (water at 5 °C): loads
)

// Spell is one kind of interruption: how often a year and how long.
type Spell struct {
	PerYear     float64
	Least, Most quantity.Time
	When        string // as told: "dry season", or ""
}

// Inputs is what the arithmetic needs: bare figures, SI.
type Inputs struct {
	Count    int             // stores side by side
	Diameter quantity.Length // inside
	Overflow quantity.Length // base to the overflow's lip
	Outlet   quantity.Length // base to the outlet's centre
	Shell    quantity.Mass   // of one empty store
	Margin   quantity.Length // the float valve is shut this far below the overflow's lip
	Cover    quantity.Length // nothing more is drawn from so far above the outlet's centre on

	Sold quantity.Volume // what all of them, and the header tank, are sold as

	Header Tank // a header tank above; zero without one

	Daily   quantity.Volume // what is used in a day of what the store serves
	Spells  []Spell
	Row     *site.Row       // interruptions that find the store less than full and are the hardest; nil: the longest is
	Notice  quantity.Time   // of that, how long a boil-water notice keeps the home on the store
	Through bool            // all water passes through the store
	Weak    quantity.Time   // a day's hours in which the store serves because the main is weak
	Routine circuit.Routine // running the home on the store on purpose; zero never
}

// Tank is a header tank's bare figures.
type Tank struct {
	Diameter, Overflow, Outlet quantity.Length
	Shell                      quantity.Mass
}

// Work is the record behind a Result: one sheet for each figure.
type Work struct{ Carry, Turnover calc.Sheet }

// Analyse does the arithmetic of the store. Work may be nil: then nothing is recorded.
//
// The figures are averages of what the householder told: no rationing, no day shape, no
// chance. They are shown as plain arithmetic.
func Analyse(in Inputs, w *Work) *Result {
	var carry, turn *calc.Sheet
	if w != nil {
		carry, turn = &w.Carry, &w.Turnover
	}
	empty := in.Outlet + in.Cover
	shut := max(empty, in.Overflow-in.Margin) // shut below that nothing can be drawn
	r := &Result{Daily: in.Daily, Cover: in.Cover, Sold: in.Sold}
	r.Usable = quantity.Volume(carry.Eval(usableEq, float64(in.Count), float64(in.Diameter), float64(shut), float64(empty)))
	r.Dead = quantity.Volume(usableEq.Fn([]float64{float64(in.Count), float64(in.Diameter), float64(empty), 0}))
	r.Mass = quantity.Mass(massEq.Fn([]float64{density, float64(in.Diameter), float64(in.Overflow), float64(in.Shell)}))
	use := float64(in.Daily) / float64(Day)
	ground := r.Usable
	if h := in.Header; h.Diameter > 0 {
		r.Header = quantity.Volume(carry.Eval(usableEq, 1, float64(h.Diameter), float64(h.Overflow-in.Margin), float64(h.Outlet)))
		r.Usable = quantity.Volume(carry.Eval(bothEq, float64(ground), float64(r.Header)))
		r.Dead += quantity.Volume(usableEq.Fn([]float64{1, float64(h.Diameter), float64(h.Outlet), 0}))
		r.HeaderMass = quantity.Mass(massEq.Fn([]float64{density, float64(h.Diameter), float64(h.Overflow), float64(h.Shell)}))
		r.HeaderCarry = quantity.Time(carryEq.Fn([]float64{float64(r.Header), use}))
	}
	r.Carry = quantity.Time(carry.Eval(carryEq, float64(r.Usable), use))
	for _, s := range in.Spells {
		r.Longest = max(r.Longest, s.Most)
	}
	r.Judged, r.Lasts, r.Begins, r.Row = r.Longest, r.Carry, r.Usable, in.Row
	if row := in.Row; row != nil {
		r.Judged, r.Begins = row.Most, row.Begins
		if row.Lost > 0 && !row.Waits {
			r.Begins = quantity.Volume(carry.Eval(beginsEq, float64(row.Lost), float64(row.Gain), float64(r.Usable)))
		}
		r.Lasts = quantity.Time(carry.Eval(carryEq, float64(r.Begins), use))
	}
	if r.Judged > 0 {
		r.Short = quantity.Volume(carry.Eval(shortEq, use, float64(r.Judged), float64(r.Begins)))
	}
	r.Fewer = r.Carry * quantity.Time(in.Count-1) / quantity.Time(in.Count)
	if r.Header > 0 && in.Count > 1 {
		r.Fewer = r.Carry - quantity.Time(float64(ground)/float64(in.Count)/use)
	}
	for _, s := range in.Spells {
		if s.Most > r.Fewer {
			r.Beyond = append(r.Beyond, s)
		}
	}
	flow := through(in, use, float64(r.Usable), turn)
	r.Through = quantity.Volume(flow * float64(Day))
	r.Turnover = quantity.Time(turn.Eval(turnoverEq, float64(r.Usable), float64(r.Dead), flow))
	r.Routine, r.Each = in.Routine, quantity.Volume(in.Routine.Draws(use, float64(r.Usable)))
	return r
}

// through returns the mean draw from the store [m³/s]; use is the home's [m³/s] and
// usable the water the store gives when full [m³]. It never exceeds the home's own use.
func through(in Inputs, use, usable float64, sheet *calc.Sheet) float64 {
	total := 0.0
	first := true
	add := func(q float64) {
		if first {
			total, first = q, false
			return
		}
		total = sheet.Eval(sumEq, total, q)
	}
	if in.Through {
		add(sheet.Eval(peakEq, use, float64(Day), float64(Day)))
	} else {
		for _, s := range in.Spells {
			if s.PerYear > 0 {
				add(sheet.Eval(spellEq, s.PerYear/float64(Year), use, float64(s.Least), float64(s.Most), usable))
			}
		}
		if in.Weak > 0 {
			add(sheet.Eval(peakEq, use, float64(in.Weak), float64(Day)))
		}
	}
	if r := in.Routine; r.Every > 0 {
		add(sheet.Eval(exerciseEq, use, float64(r.Lasts), usable, float64(r.Every), math.Min(total, use)))
	}
	return math.Min(math.Max(total, 0), use)
}
