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
}

// Read takes the bare figures out of job, assembly and profile. ok is false when the
// assembly holds no store.
func Read(j *job.Job, a *assembly.Assembly, p *catalogue.Profile) (in Inputs, ok bool) {
	at := a.Of(assembly.Store)
	if len(at) == 0 {
		return in, false
	}
	for _, i := range at {
		row, is := a.Parts[i].Row.(catalogue.Store)
		if !is {
			return in, false
		}
		if i == a.Header() {
			in.Header = Tank{row.Diameter, row.Overflow, row.Outlet, row.Mass}
			continue
		}
		in.Count += max(1, a.Parts[i].Count)
		in.Diameter, in.Overflow, in.Outlet = row.Diameter, row.Overflow, row.Outlet
		in.Inlet, in.Shell = row.Inlet, row.Mass
	}
	in.Bore = feedBore(a)
	facts := site.Of(j, a, p)
	in.Margin, in.Daily = facts.Margin, facts.Household.Stored
	for _, s := range facts.Interruptions.Kinds {
		in.Spells = append(in.Spells, Spell{s.PerYear, s.Least, s.Most, s.When})
	}
	in.Through = !mainServes(a)
	in.Weak = weakHours(&facts.Main, a)
	if r, ok := circuit.RoutineOf(j, a); ok {
		in.Routine = r
	}
	if f, l := p.Rule("air-gap-factor"), p.Rule("air-gap-least"); f.Set && l.Set {
		in.GapFactor, in.GapLeast = f.Value, quantity.Length(l.Value)
	}
	return in, true
}

// feedBore returns the bore of the widest run that leads to a float valve: the cautious
// reading of "bore of the inlet".
func feedBore(a *assembly.Assembly) quantity.Length {
	bore := quantity.Length(0)
	for i := range a.Parts {
		if row, is := a.Parts[i].Row.(catalogue.Pipe); is && a.Parts[i].Role == assembly.Feed {
			bore = max(bore, row.Bore)
		}
	}
	return bore
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
