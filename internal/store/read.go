package store

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
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
	in.Margin = circuit.OverflowMargin(p)
	in.Daily = quantity.Volume(float64(j.Home.People.V) * float64(j.Home.Use.V) * circuit.StoreShare(a))
	for _, s := range circuit.Spells(j) {
		in.Spells = append(in.Spells, Spell{s.PerYear, s.Least, s.Most, s.When})
	}
	in.Through = !mainServes(a)
	in.Weak = weakHours(j, a)
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
// is weak: the peak hours, when the main then presses less on the lock-out's sensor than
// the pressure below which it allows the pump. Zero for a hand changeover.
func weakHours(j *job.Job, a *assembly.Assembly) quantity.Time {
	from, ok1 := clock(j.Supply.PeakFrom)
	to, ok2 := clock(j.Supply.PeakTo)
	if !ok1 || !ok2 {
		return 0
	}
	if c := a.LockOut(); c != nil {
		z := float64(a.Parts[c.Senses.Part].Ports[c.Senses.Port].Z) - float64(j.Supply.Gauge.V)
		felt := float64(j.Supply.PeakRes.V) - quantity.StandardDensity*quantity.StandardGravity*z
		if felt < float64(c.On) {
			return quantity.Time(math.Mod(float64(to-from+Day), float64(Day)))
		}
	}
	return 0
}

// clock reads "17:30" as seconds from midnight.
func clock(s string) (quantity.Time, bool) {
	if len(s) != 5 || s[2] != ':' {
		return 0, false
	}
	digit := func(i int) (int, bool) { d := int(s[i]) - '0'; return d, d >= 0 && d <= 9 }
	h1, a := digit(0)
	h2, b := digit(1)
	m1, c := digit(3)
	m2, d := digit(4)
	h, m := 10*h1+h2, 10*m1+m2
	if !a || !b || !c || !d || h > 24 || m > 59 {
		return 0, false
	}
	return quantity.Time(h*3600 + m*60), true
}
