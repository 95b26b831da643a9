package appraise

import (
	"context"
	"fmt"

	"tideover/internal/finding"
	"tideover/internal/job"
)

// remedies tries every cure a finding suggests: the edits are made on a copy of the
// job, the whole analysis runs again, and a cure is kept only if it clears the finding
// (its verdict becomes fine, or it no longer arises). What it makes worse is named. A
// cure that several findings suggest is run once.
func remedies(ctx context.Context, in Input, base *Appraisal) error {
	if in.Doc == nil {
		return nil
	}
	var tries [][]job.Edit
	number := map[string]int{} // of a try; only looked up
	for i := range base.Findings {
		for _, edits := range base.Findings[i].Cures {
			key := fmt.Sprintf("%q", edits)
			if _, known := number[key]; !known {
				number[key] = len(tries)
				tries = append(tries, edits)
			}
		}
	}
	after := make([][]finding.Finding, len(tries))
	in.starts = base.Service.Answers
	err := each(ctx, len(tries), nil, func(k int) { after[k] = attempt(in, tries[k]) })
	if err != nil {
		return err
	}
	before := outcomes(base.Findings)
	for i := range base.Findings {
		f := &base.Findings[i]
		for _, edits := range f.Cures {
			if r := cures(f, edits, before, after[number[fmt.Sprintf("%q", edits)]]); r != nil {
				f.Remedies = append(f.Remedies, *r)
			}
		}
	}
	return nil
}

// attempt makes a cure and returns the findings then; nil when it cannot be made.
func attempt(in Input, edits []job.Edit) []finding.Finding {
	tried, err := in.Doc.Trial(edits...)
	if err != nil {
		return nil
	}
	in.Doc, in.Job = nil, tried
	a, err := evaluate(in, false)
	if err != nil {
		return nil
	}
	return a.Findings
}

// cures judges what a cure made of f and of the rest; nil when it does not clear f.
func cures(f *finding.Finding, edits []job.Edit, before map[string]outcome, list []finding.Finding) *finding.Remedy {
	if list == nil {
		return nil
	}
	now, arises := outcomes(list)[f.Key()]
	if arises && now.verdict != finding.Fine {
		return nil
	}
	r := &finding.Remedy{Edits: edits, Verdict: finding.Fine}
	if arises {
		r.Figure = f.Figure
		r.Figure.SI, r.Figure.Half = now.figure, 0
	}
	for i := range list {
		g := &list[i]
		old, had := before[g.Key()]
		if worse(old.verdict, had, g.Verdict) {
			r.Worse = append(r.Worse, g.Key())
		}
	}
	return r
}

// worse reports whether a verdict is worse than before; a new finding counts when it is
// not fine.
func worse(old finding.Verdict, had bool, now finding.Verdict) bool {
	badness := [...]int{finding.Fine: 0, finding.NotJudged: 1, finding.LookAt: 2, finding.MustFix: 3}
	if !had {
		return now != finding.Fine
	}
	return badness[now] > badness[old]
}
