package appraise

import (
	"context"
	"math"
	"slices"

	"tideover/internal/assume"
	"tideover/internal/day"
	"tideover/internal/finding"
	"tideover/internal/workers"
)

// Rests is an assumption and what hangs on it in one job.
type Rests struct {
	*assume.Assumption
	Told  bool    // a field that takes its place is told
	Years bool    // only the years use it: see Years
	Felt  bool    // some figure moves with it
	Turns []Turn  // verdicts that are others at an end of its range, the worst first
	Moves float64 // the most that a figure moves at an end, as a share of its limit
}

// Turn is a verdict that an end of an assumption's range turns.
type Turn struct {
	Finding *finding.Finding // as it is
	At      float64          // the end [SI]
	To      finding.Verdict
	Gone    bool // the finding no longer arises
}

// Assumptions moves every assumption to the ends of its range, one by one, and tells what comes
// of it in taps, store, base and day of a job: those first that turn a verdict, then those that
// move a figure most. What only the years use is told and not moved.
func Assumptions(ctx context.Context, in Input) ([]Rests, error) {
	now, today, err := assumed(in, nil)
	if err != nil {
		return nil, err
	}
	list := make([]Rests, len(assume.All()))
	err = workers.Each(ctx, len(list), nil, func(i int) {
		a := assume.All()[i]
		r := &list[i]
		*r = Rests{Assumption: a, Years: slices.Equal(a.Use, []string{"years"})}
		for _, path := range a.Settles {
			r.Told = r.Told || in.Doc != nil && in.Doc.Given(path)
		}
		if r.Told || r.Years {
			return
		}
		for _, end := range a.Ends() {
			if then, _, err := assumed(in, assume.Values{a.Key: end}, today); err == nil {
				r.compare(now.Findings, then.Findings, end)
			}
		}
		slices.SortStableFunc(r.Turns, func(a, b Turn) int { return weight(b) - weight(a) })
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, func(a, b Rests) int {
		switch {
		case len(a.Turns) != len(b.Turns):
			return len(b.Turns) - len(a.Turns)
		case a.Moves > b.Moves:
			return -1
		case a.Moves < b.Moves:
			return 1
		}
		return 0
	})
	return list, nil
}

// Resting returns an appraisal with what hangs on each assumption; the appraisal itself stays as it
// is: others may be reading it.
func (a *Appraisal) Resting(ctx context.Context, in Input) (*Appraisal, error) {
	list, err := Assumptions(ctx, in)
	if err != nil {
		return nil, err
	}
	with := *a
	with.Rests = list
	return &with, nil
}

// weight orders turns: what becomes something to fix before what becomes something to look at.
func weight(t Turn) int { return badness(t.To)*4 - badness(t.Finding.Verdict) }

// assumed judges a job with assumptions moved, and gives its day; where that is run on the same as
// a known one, the known one serves.
func assumed(in Input, moved assume.Values, known ...*day.Day) (*Tried, *day.Day, error) {
	j := *in.Job
	j.Assumed = moved
	in.Job = &j
	a, err := Quick(in)
	if err != nil {
		return nil, nil, err
	}
	t := &Tried{in, a}
	lived, err := t.live(true, known...)
	return t, lived, err
}

// compare adds what an end of the range does to findings.
func (r *Rests) compare(now, then []finding.Finding, end float64) {
	at := make(map[string]*finding.Finding, len(then))
	for i := range then {
		at[then[i].Key()] = &then[i]
	}
	for i := range now {
		f := &now[i]
		g := at[f.Key()]
		switch {
		case g == nil:
			r.Turns = append(r.Turns, Turn{Finding: f, At: end, Gone: true})
		case g.Verdict != f.Verdict:
			r.Turns = append(r.Turns, Turn{Finding: f, At: end, To: g.Verdict})
		}
		if g == nil || g.Figure == f.Figure && g.Limit == f.Limit {
			continue
		}
		r.Felt = true
		if by := math.Abs(g.Figure.SI-f.Figure.SI) / math.Abs(f.Limit.SI); f.Limit.SI != 0 && !math.IsInf(by, 0) && !math.IsNaN(by) {
			r.Moves = math.Max(r.Moves, by)
		}
	}
}
