package appraise

import (
	"fmt"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// suggested lists the edits that findings suggest: those that several suggest once.
func suggested(list []finding.Finding) (tries [][]job.Edit, number map[string]int) {
	number = map[string]int{} // of a try; only looked up
	for i := range list {
		for _, edits := range list[i].Cures {
			if key := fmt.Sprintf("%q", edits); number[key] == 0 {
				tries = append(tries, edits)
				number[key] = len(tries)
			}
		}
	}
	return tries, number
}

// remedies keeps of the cures tried those that clear their finding: its verdict becomes
// fine, or it no longer arises. What a cure makes worse is named.
func (r *reruns) remedies() {
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		for _, edits := range f.Cures {
			n := r.number[fmt.Sprintf("%q", edits)]
			if n == 0 {
				continue // a job without its file: nothing was tried
			}
			tried := r.after[n-1]
			if tried == nil {
				continue
			}
			if m := r.cures(i, edits, tried.Findings); m != nil {
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

// cures judges what a cure made of finding i and of the rest; nil when it does not clear it.
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
	for k := range list {
		g := &list[k]
		n, had := r.known.at[keyOf(g)]
		if had && worse(asWorkedOut(&r.base.Findings[n]), g.Verdict) || !had && g.Verdict != finding.Fine {
			m.Worse = append(m.Worse, g.Key())
		}
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
