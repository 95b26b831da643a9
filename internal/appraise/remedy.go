package appraise

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/workers"
)

// asked reports of each finding of the base run whether its remedies are asked for: all, or those
// of the foremost.
func (r *reruns) asked(most int) []bool {
	asked := make([]bool, r.known.count)
	list := slices.Clone(r.base.Findings)
	finding.Order(list)
	if most > 0 {
		list = list[:finding.Foremost(list, most)]
	}
	for i := range list {
		if k, ours := r.known.at[keyOf(&list[i])]; ours {
			asked[k] = true
		}
	}
	return asked
}

// suggested lists the edits that findings suggest, of those asked for: those that several suggest
// once.
func suggested(list []finding.Finding, asked []bool) (tries [][]job.Edit, number map[string]int) {
	number = map[string]int{} // of a try; only looked up
	for i := range asked {
		if !asked[i] {
			continue
		}
		for _, edits := range list[i].Cures {
			if key := fmt.Sprintf("%q", edits); number[key] == 0 {
				tries = append(tries, edits)
				number[key] = len(tries)
			}
		}
	}
	return tries, number
}

// offer tries the cures of the findings whose remedies are asked for, and offers what holds.
func (r *reruns) offer(ctx context.Context, in Input) error {
	if in.Doc == nil { // nothing to make an edit in
		return nil
	}
	asked := r.asked(in.Foremost)
	var tries [][]job.Edit
	tries, r.number = suggested(r.base.Findings, asked)
	r.after = make([]*Appraisal, len(tries))
	from := in.after(r.base)
	if in.Foremost > 0 {
		if err := r.first(ctx, in, tries, asked); err != nil {
			return err
		}
		return r.pairs(ctx, in, asked)
	}
	if err := workers.Each(ctx, len(tries), nil, func(i int) { r.after[i] = attempt(from, tries[i]) }); err != nil {
		return err
	}
	r.remedies(asked)
	if err := r.whole(ctx, in); err != nil {
		return err
	}
	return r.pairs(ctx, in, asked)
}

// first looks for one remedy of each finding asked for: its cures are tried in their order until one
// holds. How many then were not tried is noted.
func (r *reruns) first(ctx context.Context, in Input, tries [][]job.Edit, asked []bool) error {
	from, b := in.after(r.base), newBench(in, r)
	b.tried = make([]*Tried, len(tries))
	made, held := make([]sync.Once, len(tries)), make([]sync.Once, len(tries))
	return workers.Each(ctx, len(asked), nil, func(i int) {
		if !asked[i] {
			return
		}
		f := &r.base.Findings[i]
		for k, left := 0, offered; k < len(f.Cures) && left > 0; k++ {
			edits := f.Cures[k]
			n := r.number[fmt.Sprintf("%q", edits)] - 1
			made[n].Do(func() { r.after[n] = attempt(from, edits) })
			m := r.helps(i, edits)
			if m == nil {
				continue
			}
			left--
			held[n].Do(func() { b.tried[n] = b.try(ctx, edits) })
			if t := b.tried[n]; t != nil {
				b.past.hold(m, t)
				f.Remedies, f.Untried = []finding.Remedy{*m}, len(f.Cures)-k-1
				return
			}
		}
	})
}

// helps is the remedy that a cure of finding i is, by the taps; nil where it cannot be made or does
// not clear it.
func (r *reruns) helps(i int, edits []job.Edit) *finding.Remedy {
	tried := r.after[r.number[fmt.Sprintf("%q", edits)]-1]
	if tried == nil {
		return nil
	}
	m := r.cures(i, edits, tried.Findings)
	if f := &r.base.Findings[i]; m != nil && f.Tried > 0 {
		narrow(f, m)
	}
	return m
}

// remedies keeps of the cures tried those that clear their finding: its verdict becomes
// fine, or it no longer arises. What a cure makes worse is named.
func (r *reruns) remedies(asked []bool) {
	for i := range asked {
		if !asked[i] {
			continue
		}
		f := &r.base.Findings[i]
		for _, edits := range f.Cures {
			if m := r.helps(i, edits); m != nil {
				f.Remedies = append(f.Remedies, *m)
			}
		}
	}
}

// attempt makes a cure and evaluates the home then; nil when it cannot be made.
func attempt(in Input, edits []job.Edit) *Appraisal {
	in, err := in.glimpse(edits)
	if err != nil {
		return nil
	}
	a, err := evaluate(in, false)
	if err != nil {
		return nil
	}
	return a
}

// cures judges what a cure made of finding i; nil when it does not clear it. What else got worse is for
// the whole job to say.
func (r *reruns) cures(i int, edits []job.Edit, list []finding.Finding) *finding.Remedy {
	f := &r.base.Findings[i]
	now := r.known.read(list)[i]
	if now.arose && now.verdict != finding.Fine {
		return nil
	}
	m := &finding.Remedy{Edits: edits, Told: told(r.rows, edits), Verdict: finding.Fine}
	if now.arose {
		m.Figure = f.Figure
		m.Figure.SI, m.Figure.Half = now.figure, 0
	}
	return m
}

// told is what each edit sets, in words, where that is a row of the catalogue.
func told(rows *catalogue.Catalogue, edits []job.Edit) []string {
	list := make([]string, len(edits))
	for i, e := range edits {
		if f, ok := job.FieldFor(e.Path); ok && e.Op == job.Set && f.Table != "" {
			list[i], _ = rows.Words(f.Table, e.Text)
		}
	}
	return list
}

// worse reports whether a verdict is worse than before.
func worse(old, now finding.Verdict) bool { return badness(now) > badness(old) }

func badness(v finding.Verdict) int {
	return [...]int{finding.Fine: 0, finding.NotJudged: 1, finding.LookAt: 2, finding.MustFix: 3}[v]
}
