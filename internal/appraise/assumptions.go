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
		*r = Rests{Assumption: a, Years: yearsOnly(a), Told: answered(in, a)}
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
	weightiestFirst(list)
	return list, nil
}

// weightiestFirst orders by how many verdicts turn, then by how far a figure moves.
func weightiestFirst(list []Rests) {
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
}

// yearsOnly reports whether nothing but the years uses an assumption.
func yearsOnly(a *assume.Assumption) bool { return slices.Equal(a.Use, []string{"years"}) }

// answered reports whether the job tells what takes the place of an assumption.
func answered(in Input, a *assume.Assumption) bool {
	return in.Doc != nil && slices.ContainsFunc(a.Settles, in.Doc.Given)
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
	k := know(now)
	after := k.read(then)
	for i := range now {
		r.feel(&now[i], after[i], end)
	}
}

// feel adds what an end of the range makes of a finding.
func (r *Rests) feel(f *finding.Finding, then outcome, end float64) {
	switch {
	case !then.arose:
		r.Turns = append(r.Turns, Turn{Finding: copied(f), At: end, Gone: true})
		return
	case then.verdict != f.Verdict:
		r.Turns = append(r.Turns, Turn{Finding: copied(f), At: end, To: then.verdict})
	}
	by := max(shift(then, then.figure, f.Figure.SI), shift(then, then.limit, f.Limit.SI))
	if by == 0 {
		return // the last bits
	}
	r.Felt = true
	if f.Sense != finding.NoLimit && f.Limit.SI != 0 {
		r.Moves = math.Max(r.Moves, by/math.Abs(f.Limit.SI))
	}
}

// copied is a finding as it is now: the list it is in is put in order later, and verdicts that
// are too close to call turn.
func copied(f *finding.Finding) *finding.Finding {
	c := *f
	return &c
}
