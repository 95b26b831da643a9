package appraise

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"tideover/internal/consent"
	"tideover/internal/day"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/workers"
)

// offered is how many remedies of one finding are held to the whole job and offered.
const offered = 3

// Tried is a job as edits would leave it, judged like the job itself: the one place where an
// edit is made to see what comes of it.
type Tried struct {
	In Input // the job with the edits
	*Appraisal
}

// Try makes edits on the file's bytes and runs every analysis. The error says why the edits
// cannot be made, or the home not be laid out.
func Try(in Input, edits ...job.Edit) (*Tried, error) {
	if in.Doc == nil {
		return nil, errNoFile
	}
	doc, _, err := in.Doc.Apply(edits...)
	if err != nil {
		return nil, err
	}
	next := in
	next.Doc, next.Job = doc, doc.Job
	a, err := Quick(next)
	if err != nil {
		return nil, err
	}
	return &Tried{next, a}, nil
}

// Prove gives what the named settings of the tried job come to. The error is the context's.
func (t *Tried) Prove(ctx context.Context) ([]finding.Finding, error) {
	return prove(ctx, t.In, t.Appraisal, NamedProof, nil)
}

// Live adds the day of the tried job.
func (t *Tried) Live() error {
	if t.circuit == nil {
		return nil
	}
	lived, err := day.Analyse(t.circuit, day.Read(t.In.Job, t.Assembly, t.In.Profile))
	if err != nil {
		return err
	}
	t.Findings = append(t.Findings, day.Findings(lived, t.Assembly)...)
	return nil
}

var errNoFile = fmt.Errorf("appraise: edits are tried on a job file, and there is none")

// whole holds the remedies found to the whole job: taps, day and promises with the edits made.
// What gets worse is named, the worst first; a remedy that leaves something to fix that was not
// there before is none. base has its day and its promises by now.
func (r *reruns) whole(ctx context.Context, in Input) error {
	in.base, in.starts, in.room = nil, nil, nil
	var list [][]job.Edit
	number := map[string]int{}
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		f.Remedies = f.Remedies[:min(len(f.Remedies), offered)]
		for _, m := range f.Remedies {
			if key := fmt.Sprintf("%q", m.Edits); number[key] == 0 {
				list = append(list, m.Edits)
				number[key] = len(list)
			}
		}
	}
	tried := make([]*Tried, len(list))
	err := workers.Each(ctx, len(list), nil, func(i int) {
		t, err := Try(in, list[i]...)
		if err != nil || ctx.Err() != nil {
			return
		}
		if firstFelt(pathsOf(list[i])) < keeping { // else day and promises are the same
			if in.Proof > NoProof {
				var promises []finding.Finding
				promises, err = t.Prove(ctx)
				t.Findings = append(t.Findings, beside(t.Findings, promises)...)
			}
			if err == nil {
				err = t.Live()
			}
		}
		if err == nil {
			tried[i] = t
		}
	})
	if err != nil {
		return err
	}
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		var kept []finding.Remedy
		for _, m := range f.Remedies {
			if t := tried[number[fmt.Sprintf("%q", m.Edits)]-1]; t != nil && r.base.held(&m, t) {
				kept = append(kept, m)
			}
		}
		f.Remedies = kept
	}
	return nil
}

// pathsOf are the fields that edits change.
func pathsOf(edits []job.Edit) []string {
	paths := make([]string, len(edits))
	for i, e := range edits {
		paths[i] = e.Path
	}
	return paths
}

// held fills in what the whole job says of a remedy; false where it puts something in need of
// fixing that was not.
func (a *Appraisal) held(m *finding.Remedy, t *Tried) bool {
	old := make(map[key]finding.Verdict, len(a.Findings))
	for i := range a.Findings {
		old[keyOf(&a.Findings[i])] = a.Findings[i].Verdict
	}
	var harm []*finding.Finding
	for i := range t.Findings {
		g := &t.Findings[i]
		was, had := old[keyOf(g)]
		if !had {
			was = finding.Fine
		}
		if g.ID == "signatures" || !worse(was, g.Verdict) { // who signs is told by name
			continue
		}
		if g.Verdict == finding.MustFix {
			return false
		}
		harm = append(harm, g)
	}
	slices.SortStableFunc(harm, func(x, y *finding.Finding) int { return cmp.Compare(x.Rank, y.Rank) })
	m.Worse = nil
	for _, g := range harm {
		m.Worse = append(m.Worse, g.Key())
	}
	m.Needs = a.needs(m.Edits, t)
	if len(t.Assembly.Of("store")) > 0 {
		m.Open = []string{"years"}
	}
	return true
}

// needs are what a remedy takes beside parts: who must sign that need not before, a device that is
// tested and drained, somebody who does a routine. Ids of messages "needs.<id>".
func (a *Appraisal) needs(edits []job.Edit, t *Tried) (list []string) {
	before := consent.Ask(a.Job, a.Assembly)
	for _, s := range consent.Ask(t.In.Job, t.Assembly) {
		waits := func(x consent.Signature) bool { return x.Who == s.Who && x.State == s.State }
		if (s.State == consent.Owed || s.State == consent.Refused) && !slices.ContainsFunc(before, waits) {
			list = append(list, string(s.Who))
		}
	}
	for _, e := range edits {
		switch {
		case e.Path == "choices.backflow" && strings.HasPrefix(e.Text, "reduced-pressure"):
			list = append(list, "tested-device")
		case e.Path == "choices.store.exercise":
			list = append(list, "routine")
		case strings.HasSuffix(e.Path, ".level") && consent.Carried(t.In.Job, t.Assembly) && !slices.Contains(list, "engineer"):
			list = append(list, "engineer")
		}
	}
	return list
}

// Leave reports whether a remedy waits for somebody's leave or work before it may be taken: it is
// then for reading, not for one press.
func Leave(m *finding.Remedy) bool {
	return slices.ContainsFunc(m.Needs, func(id string) bool { return id != "routine" })
}
