package diagnose

import (
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Result is what came of the diagnosis.
type Result struct {
	Tested   bool          // the house was tested with water running
	Expected quantity.Flow // at the house, at the pressure of its test, were all in order
	Low      quantity.Flow // the least of it, with the readings' spread
	Measured quantity.Flow
	InTheWay bool // something takes more than it should

	RestKnown bool
	RestWants quantity.Pressure // at the house's gauge, nothing running, were all in order
	RestFound quantity.Pressure
	RestShort bool // less stands there than should

	Tried []Tried // what could be in the way, the first to look at first; empty where nothing is

	Home Home
}

// Diagnose tries the survey's readings against what stands between street and house, and
// asks what the home would get straight from the main. The error is a fault of the survey,
// or a circuit that cannot be solved.
func Diagnose(j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile, fig circuit.Inputs) (*Result, error) {
	in := Read(j, chokes(j.Supply.Pipe))
	l := &line{j: j, c: c, p: p, in: in, fig: fig}
	r := &Result{Tested: in.FlowKnown, RestKnown: in.RestKnown, RestFound: in.AtRest, Measured: in.Flow}
	l.rest(r)
	if in.FlowKnown {
		if err := l.test(r); err != nil {
			return nil, err
		}
	}
	if r.InTheWay || r.RestShort {
		if err := l.try(r); err != nil {
			return nil, err
		}
	}
	return r, l.home(r)
}

// chokes reports whether a pipe is of a kind that rusts or furs up.
func chokes(s quantity.Size) bool {
	return s.Family == "galvanised" || catalogue.AsFound(s) || s.Family == "steel"
}

// rest compares the readings with nothing running: at rest no pipe loses anything.
func (l *line) rest(r *Result) {
	if !l.in.RestKnown {
		return
	}
	head := circuit.HeadOf(l.in.Static, l.in.Gauge)
	r.RestWants = circuit.PressureOf(head, l.in.Level)
	r.RestShort = float64(r.RestWants-l.in.AtRest) > apart(l.in.StaticHalf, l.in.AtRestHalf)
}

// test works out what should have run in the test at the house. Its least is with the
// gauge at the meter as far down, that at the house as far up and the pipe as long as
// their spreads allow.
func (l *line) test(r *Result) error {
	q, err := l.flow(sound)
	if err != nil {
		return err
	}
	least := *l
	least.in.Static -= l.in.StaticHalf
	least.in.Residual += l.in.ResHalf
	longer := *l.j
	longer.Supply.Length.V += longer.Supply.Length.Half
	least.j = &longer
	low, err := least.flow(sound)
	if err != nil {
		return err
	}
	r.Expected, r.Low = quantity.Flow(q), quantity.Flow(low)
	r.InTheWay = l.in.Flow+l.in.FlowHalf < r.Low
	return nil
}

// try puts each cause into the circuit.
func (l *line) try(r *Result) error {
	for _, one := range []struct {
		cause Cause
		worst float64
		at    func(x float64) degree
	}{
		{SecondStop, leastShare, func(x float64) degree { d := sound; d.valve = x; return d }},
		{Strainer, leastShare, func(x float64) degree { d := sound; d.mesh = x; return d }},
		{Shared, leastShare, drawing},
		{Pipe, leastBore, func(x float64) degree { d := sound; d.bore = x; return d }},
	} {
		t := Tried{Cause: one.cause}
		if r.InTheWay {
			x, fits, err := l.explain(one.worst, one.at)
			if err != nil {
				return err
			}
			t.Fits = fits
			if one.cause == Shared {
				t.Draws = drawing(max(x, leastShare)).draws
			} else {
				t.Share = x
			}
		}
		r.Tried = append(r.Tried, t)
	}
	r.Tried = append(r.Tried, Tried{Cause: Reducer, Fits: r.RestShort && !r.InTheWay, Holds: l.in.AtRest})
	for i := range r.Tried {
		l.stand(r, &r.Tried[i])
	}
	sort.SliceStable(r.Tried, func(a, b int) bool { return r.Tried[a].Standing < r.Tried[b].Standing })
	return nil
}

// metered reports whether there is a meter for a strainer to sit in.
func metered(j *job.Job) bool { return j.Supply.Meter != "none" }

// stand says how a cause stands after what was seen.
func (l *line) stand(r *Result, t *Tried) {
	is := func(s Standing, why string) { t.Standing, t.Why = s, why }
	in := &l.in
	switch {
	case t.Cause == SecondStop && in.SecondStop == "part-shut", t.Cause == Strainer && in.Strainer == "dirty", t.Cause == Shared && in.Shared == job.Yes:
		is(Seen, "seen")
	case t.Cause == SecondStop && in.SecondStop == "open", t.Cause == Strainer && in.Strainer == "clean", t.Cause == Shared && in.Shared == job.No:
		is(RuledOut, "looked")
	case t.Cause == Strainer && (in.Strainer == "none" || !metered(l.j)):
		is(RuledOut, "not-there")
	case t.Cause == Shared && r.RestShort:
		is(Possible, "rest-short") // a draw nobody sees lowers the pressure at rest too
	case t.Cause == Reducer && !r.RestKnown:
		is(Unlikely, "rest-unknown")
	case t.Cause == Reducer && !r.RestShort:
		is(RuledOut, "rest-full")
	case !t.Fits:
		is(RuledOut, "no-fit")
	case r.RestShort && t.Cause != Reducer && t.Cause != Shared:
		is(Unlikely, "rest-short-too") // no blockage takes anything at rest
	case t.Cause == Pipe && !in.Chokes:
		is(Unlikely, "smooth-pipe")
	case in.Neighbour == "weak" && t.Cause != Shared:
		is(Unlikely, "neighbour-weak")
	default:
		is(Possible, "open")
	}
}

// direct lays the home straight on the main, as it was found.
func (l *line) direct() (*circuit.Circuit, error) {
	a, err := assembly.Direct(l.j, l.c, l.p)
	if err != nil {
		return nil, err
	}
	return circuit.New(a, l.fig)
}
