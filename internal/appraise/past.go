package appraise

import (
	"cmp"
	"slices"

	"tideover/internal/finding"
)

// past is what a job was found to be before a remedy.
type past struct {
	*Appraisal
	verdicts map[key]finding.Verdict
}

func pastOf(a *Appraisal) *past {
	p := &past{a, make(map[key]finding.Verdict, len(a.Findings))}
	for i := range a.Findings {
		p.verdicts[keyOf(&a.Findings[i])] = a.Findings[i].Verdict
	}
	return p
}

// worsened are the findings of a tried job that are worse than before, the worst first. What did
// not arise before was fine. Who signs is told by name, and is none of them.
func (p *past) worsened(t *Tried) []*finding.Finding {
	moved := p.moved(t)
	var list []*finding.Finding
	for i := range t.Findings {
		f := &t.Findings[i]
		was, had := p.verdicts[keyOf(f)]
		if !had {
			was = max(finding.Fine, moved[key{id: f.ID, mode: f.Mode}])
		}
		if f.ID != "signatures" && worse(was, f.Verdict) {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(x, y *finding.Finding) int { return cmp.Compare(x.Rank, y.Rank) })
	return list
}

// moved is, by kind and mode, the worst verdict of what was judged of one part and is now of
// another: a device that was missing at the service and, put in, is not enough.
func (p *past) moved(t *Tried) map[key]finding.Verdict {
	still := make(map[key]bool, len(t.Findings))
	for i := range t.Findings {
		still[keyOf(&t.Findings[i])] = true
	}
	gone := map[key]finding.Verdict{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if at := (key{id: f.ID, mode: f.Mode}); !still[keyOf(f)] && worse(gone[at], f.Verdict) {
			gone[at] = f.Verdict
		}
	}
	return gone
}

// breaks are the keys of what a tried job puts in need of fixing that was not: a remedy that
// does is none.
func (p *past) breaks(t *Tried) []string {
	var keys []string
	for _, f := range p.worsened(t) {
		if f.Verdict == finding.MustFix {
			keys = append(keys, f.Key())
		}
	}
	return keys
}

// hold fills in what the whole job says of a remedy: what gets worse, what it takes, what it was
// not held to.
func (p *past) hold(m *finding.Remedy, t *Tried) {
	m.Worse = nil
	for _, f := range p.worsened(t) {
		m.Worse = append(m.Worse, f.Key())
	}
	m.Needs = p.needs(m.Edits, t)
	if len(t.Assembly.Of("store")) > 0 && yearsFeel(m.Edits) {
		m.Open = []string{"years"}
	}
}
