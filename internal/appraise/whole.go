package appraise

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

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
	next, err := in.With(edits...)
	if err != nil {
		return nil, err
	}
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

// Live adds the day of the tried job, run for its verdicts. Where it is run on the same as one of
// known, that one's result serves; what was run is returned, or nil.
func (t *Tried) Live(known ...*day.Day) (*day.Day, error) { return t.live(false, known...) }

// live runs the day for its figures too where plain.
func (t *Tried) live(plain bool, known ...*day.Day) (*day.Day, error) {
	if t.circuit == nil {
		return nil, nil
	}
	lived, err := day.Prepare(t.circuit, day.Read(t.In.Job, t.Assembly, t.In.Profile))
	if lived != nil {
		if i := slices.IndexFunc(known, func(d *day.Day) bool { return d != nil && lived.Same(d) }); i >= 0 {
			lived.Result, lived.Restless = known[i].Result, known[i].Restless
		} else if plain {
			err = lived.Run(t.In.ended)
		} else {
			err = lived.Judge(t.In.ended)
		}
	}
	if err != nil {
		return nil, err
	}
	t.Findings = append(t.Findings, day.Findings(lived, t.Assembly)...)
	return lived, nil
}

// whole holds the remedies found to the whole job: taps, day and promises with the edits made.
// What gets worse is named, the worst first; a remedy that leaves something to fix that was not
// there before is none. base has its day and its promises by now.
func (r *reruns) whole(ctx context.Context, in Input) error {
	b := newBench(in, r)
	err := workers.Each(ctx, len(b.list), nil, func(i int) { b.tried[i] = b.try(ctx, b.list[i]) })
	if err != nil {
		return err
	}
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		if promised(f) {
			continue // its cures were held when they were found
		}
		var kept []finding.Remedy
		for _, m := range f.Remedies {
			if t := b.tried[b.number[fmt.Sprintf("%q", m.Edits)]-1]; t != nil {
				b.past.hold(&m, t)
				kept = append(kept, m)
			}
		}
		f.Remedies = kept
	}
	return nil
}

// bench tries remedies one by one on the whole job. What a remedy does not touch is not worked
// out again: the taps were when it was found, and a day that is run on the same is the same.
type bench struct {
	*reruns
	in    Input
	plain bool // nothing is shared, for comparison

	list   [][]job.Edit
	number map[string]int // of a try, from 1, by its edits
	tried  []*Tried       // per try; nil where it is none
	past   *past

	mu   sync.Mutex
	days []*day.Day // run so far
}

func newBench(in Input, r *reruns) *bench {
	in.base, in.starts, in.room = nil, nil, nil
	b := &bench{reruns: r, in: in, plain: in.plain, number: map[string]int{}, days: []*day.Day{r.base.Day}, past: pastOf(r.base)}
	for i := range r.base.Findings {
		f := &r.base.Findings[i]
		if promised(f) {
			continue
		}
		f.Remedies = f.Remedies[:min(len(f.Remedies), offered)]
		for _, m := range f.Remedies {
			if key := fmt.Sprintf("%q", m.Edits); b.number[key] == 0 {
				b.list = append(b.list, m.Edits)
				b.number[key] = len(b.list)
			}
		}
	}
	b.tried = make([]*Tried, len(b.list))
	return b
}

// try judges the whole job with edits made; nil where they cannot be made, something cannot be
// judged, or something is then to fix that was not. It stops at the first of these.
func (b *bench) try(ctx context.Context, edits []job.Edit) *Tried {
	t, err := b.taps(edits)
	if err != nil || ctx.Err() != nil || len(b.past.breaks(t)) > 0 {
		return nil
	}
	if firstFelt(pathsOf(edits)) >= keeping { // day and promises are the same
		return t
	}
	if b.in.Proof > NoProof {
		promises, err := t.Prove(ctx)
		if err != nil {
			return nil
		}
		t.Findings = append(t.Findings, beside(t.Findings, promises)...)
		if len(b.past.breaks(t)) > 0 {
			return nil
		}
	}
	lived, err := t.live(b.plain, b.known()...)
	if err != nil || len(b.past.breaks(t)) > 0 {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.days = append(b.days, lived)
	return t
}

// taps makes the edits on the file's bytes and takes what was evaluated when the remedy was found.
func (b *bench) taps(edits []job.Edit) (*Tried, error) {
	if b.plain {
		return Try(b.in, edits...)
	}
	next, err := b.in.With(edits...)
	if err != nil {
		return nil, err
	}
	own := *b.after[b.reruns.number[fmt.Sprintf("%q", edits)]-1] // another finding may read what it found
	a := &own
	a.Doc, a.Job, a.Findings = next.Doc, next.Job, slices.Clone(a.Findings)
	if err := a.follow(next); err != nil {
		return nil, err
	}
	finding.Order(a.Findings)
	return &Tried{next, a}, nil
}

// known are the days run so far.
func (b *bench) known() []*day.Day {
	if b.plain {
		return nil
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.days[:len(b.days):len(b.days)]
}

// promised reports whether a finding is a promise's.
func promised(f *finding.Finding) bool { return strings.HasPrefix(f.ID, "promise-") }

// pathsOf are the fields that edits change.
func pathsOf(edits []job.Edit) []string {
	paths := make([]string, len(edits))
	for i, e := range edits {
		paths[i] = e.Path
	}
	return paths
}

// needs are what a remedy takes beside parts: who must sign that need not before, a device that is
// tested and drained, somebody who does a routine. Ids of messages "needs.<id>".
func (a *Appraisal) needs(edits []job.Edit, t *Tried) (list []string) {
	before := consent.Ask(a.Job, a.Assembly, t.In.Profile)
	for _, s := range consent.Ask(t.In.Job, t.Assembly, t.In.Profile) {
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
