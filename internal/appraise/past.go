package appraise

import (
	"cmp"
	"slices"

	"tideover/internal/finding"
)

// past is what a job was found to be before a remedy.
type past struct {
	*Appraisal
	found map[key]*finding.Finding
}

func pastOf(a *Appraisal) *past {
	p := &past{a, make(map[key]*finding.Finding, len(a.Findings))}
	for i := range a.Findings {
		p.found[keyOf(&a.Findings[i])] = &a.Findings[i]
	}
	return p
}

// asWorkedOut is the verdict of a finding before its room was asked after: a tried job is judged
// so, and what was too close to call and fails with a remedy is worse.
func asWorkedOut(f *finding.Finding) finding.Verdict {
	if f.Close {
		return finding.Fine
	}
	return f.Verdict
}

// farther is the share of its limit by which a figure that misses it must miss it by more to be
// worse under the same verdict: a store that lasts a day in place of three. Judgement.
const farther = 0.25

// misses reports whether a figure misses its limit by much more than it did.
func misses(was, is *finding.Finding) bool {
	if was.Sense == finding.NoLimit || is.Sense != was.Sense || is.Limit.Dim != was.Limit.Dim || !(is.Limit.SI > 0) || !(was.Limit.SI > 0) {
		return false
	}
	then, now := was.Figure.SI/was.Limit.SI, is.Figure.SI/is.Limit.SI
	if is.Sense == finding.AtMost {
		return now-then > farther
	}
	return then-now > farther
}

// shorter reports whether a store that lasts no longer than it did in a row of interruptions lasts by
// much less from full.
func shorter(was, is *finding.Finding) bool {
	then, told := was.Args["full"]
	now, still := is.Args["full"]
	return told && still && is.Limit.SI > 0 && then.SI-now.SI > farther*is.Limit.SI
}

// worsened are the findings of a tried job that are worse than before, the worst first. What did
// not arise before was fine. Who signs is told by name, and is none of them.
func (p *past) worsened(t *Tried) []*finding.Finding {
	moved := p.moved(t)
	var list []*finding.Finding
	for i := range t.Findings {
		f := &t.Findings[i]
		if f.ID == "signatures" {
			continue
		}
		old := p.found[keyOf(f)]
		was := max(finding.Fine, moved[key{id: f.ID, mode: f.Mode}])
		if old != nil {
			was = asWorkedOut(old)
		}
		if worse(was, f.Verdict) || old != nil && f.Verdict == was && f.Verdict != finding.Fine && f.Verdict != finding.NotJudged && (misses(old, f) || shorter(old, f)) {
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
