package store

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Context is what findings are read off against: the job, what is to be built, the
// local rules, and the record of the base run (nil in reruns).
type Context struct {
	Job      *job.Job
	Assembly *assembly.Assembly
	Profile  *catalogue.Profile
	Rows     *catalogue.Catalogue // stores to choose from; nil: no other is suggested
	Work     *Work
	Drawn    bool // one of many reruns with inputs moved: what is not judged there has no share of them
}

// Read takes the bare figures out of job, assembly and profile. ok is false when the
// assembly holds no store.
func Read(j *job.Job, a *assembly.Assembly, p *catalogue.Profile, comes *site.Inflow) (in Inputs, ok bool) {
	at := a.Of(assembly.Store)
	if len(at) == 0 {
		return in, false
	}
	for _, i := range at {
		row, is := a.Parts[i].Row.(catalogue.Store)
		if !is {
			return in, false
		}
		in.Sold += quantity.Volume(max(1, a.Parts[i].Count)) * row.Nominal
		if i == a.Header() {
			in.Header = Tank{row.Diameter, row.Overflow, row.Outlet, row.Mass}
			continue
		}
		in.Count += max(1, a.Parts[i].Count)
		in.Diameter, in.Overflow, in.Outlet = row.Diameter, row.Overflow, row.Outlet
		in.Shell = row.Mass
	}
	facts := site.Of(j, a, p)
	in.Margin, in.Cover, in.Daily = facts.Margin, facts.Cover, facts.Household.Stored
	wcs := quantity.Time(0)
	if facts.Interruptions.WCs {
		wcs = quantity.Time(site.StoredAt(a, "wc"))
	}
	in.Notice = facts.Interruptions.Notice
	for _, s := range facts.Interruptions.Kinds {
		spared := facts.Interruptions.Notice * wcs // as if it were so much shorter
		in.Spells = append(in.Spells, Spell{s.PerYear, s.Least - spared, s.Most - spared, s.When})
	}
	in.Through = !mainServes(a)
	in.Weak = weakHours(&facts.Main, a)
	if comes != nil {
		st := site.Store{Usable: usable(&in), Draws: quantity.Flow(float64(in.Daily) / float64(Day)), Through: in.Through,
			Held: facts.Main.Holds(a), Spared: facts.Interruptions.Notice * wcs,
			Waits: quantity.Volume(usableEq.Fn([]float64{float64(in.Count), float64(in.Diameter), float64(site.Waits(a)), 0}))}
		in.Row = site.Hardest(facts.Rows(st, *comes), st)
	}
	if r, ok := circuit.RoutineOf(j, a); ok {
		in.Routine = r
	}
	return in, true
}

// mainServes reports whether what the store serves can be served by the main as well,
// without passing the store.
func mainServes(a *assembly.Assembly) bool {
	sides := a.Sides()
	for _, i := range a.Of(assembly.Outlet) {
		if sides.Main[i] && sides.Store[i] {
			return true
		}
	}
	return a.Joined
}

// usable is the water of the full stores and the header tank.
func usable(in *Inputs) quantity.Volume {
	v := usableEq.Fn([]float64{float64(in.Count), float64(in.Diameter), float64(in.Overflow - in.Margin), float64(in.Outlet + in.Cover)})
	if h := in.Header; h.Diameter > 0 {
		v += usableEq.Fn([]float64{1, float64(h.Diameter), float64(h.Overflow - in.Margin), float64(h.Outlet)})
	}
	return quantity.Volume(v)
}

// Automatic reports whether the home changes over by itself: a lock-out decides.
func Automatic(a *assembly.Assembly) bool {
	return a.LockOut() != nil
}

// weakHours returns how long each day the lock-out lets the store serve because the main
// is weak: the worst hours, when the main then presses less on the lock-out's sensor than
// the pressure below which it allows the pump. Zero for a hand changeover.
func weakHours(m *site.Main, a *assembly.Assembly) quantity.Time {
	c := a.LockOut()
	if c == nil || m.Felt(m.Worst, a.Parts[c.Senses.Part].Ports[c.Senses.Port].Z) >= c.On {
		return 0
	}
	return m.WorstHours.Lasts()
}
