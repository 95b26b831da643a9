package appraise

import (
	"context"
	"slices"
	"strings"

	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/proof"
	"tideover/internal/workers"
)

// Depth is how much of the proof a run tries.
type Depth uint8

// The depths. Which cases were covered stands in every finding of a proof.
const (
	NoProof    Depth = iota
	NamedProof       // the named settings, nothing failed: quick enough for every look at a job
	SoundProof       // every position of the valves with nothing failed; sequences
	FullProof        // every position of the valves, with nothing failed and with each single failure; cures; sequences
	PairsProof       // and each pair of failures in the named settings
)

// Proof is what came of trying every case.
type Proof struct {
	*proof.Report
	Depth     Depth
	Sequences []proof.Sequence        // from the normal setting to each named one and back; of a sound proof and deeper
	Cures     map[string][]proof.Cure // by promise, the cheapest first; of a full proof
	Refused   map[string]*proof.Cure  // by promise that has none: the cheapest that puts something else in need of fixing
	Replay    *proof.Replay           // of ProveCase: one case with all its figures

	input proof.Input
}

// enoughCures is how many changes that help are looked for, for each promise: the cheapest
// are tried first.
const enoughCures = 2

// Prove lays the job out and proves it, without any other analysis. tell, if not nil, hears
// of the share that is done. The error is a fault of the input, or the context's.
func Prove(ctx context.Context, in Input, depth Depth, tell func(done, total int)) (*Appraisal, error) {
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
	if _, err := layOut(in, a, false); err != nil {
		return nil, err
	}
	found, err := prove(ctx, in, a, depth, shares(tell))
	if err != nil {
		return nil, err
	}
	a.Findings = found
	cite(in, a.Findings)
	finding.Order(a.Findings)
	a.Verdict = finding.Overall(a.Findings)
	return a, nil
}

// ProveCase lays the job out and judges every promise in one case, given as its text.
func ProveCase(in Input, text string) (*Appraisal, error) {
	cases, err := NewCases(in)
	if err != nil {
		return nil, err
	}
	c, err := cases.Space.Parse(text)
	if err != nil {
		return nil, err
	}
	return &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile, Assembly: cases.Assembly,
		Proof: &Proof{Report: &proof.Report{Space: cases.Space}, Replay: cases.Space.Play(c), input: cases.input}}, nil
}

// prove tries the cases of a depth and gives the findings read off them.
func prove(ctx context.Context, in Input, a *Appraisal, depth Depth, tell func(proof.Progress)) ([]finding.Finding, error) {
	if depth == NoProof {
		return nil, nil
	}
	given, err := proofInput(in, a, depth)
	if err != nil {
		return nil, err
	}
	report, err := proof.Prove(ctx, given, tell)
	if err != nil {
		return nil, err
	}
	a.Proof = &Proof{Report: report, Depth: depth, input: given}
	if depth >= SoundProof {
		if a.Proof.Sequences, err = report.Sequences(ctx, given); err != nil {
			return nil, err
		}
	}
	if depth >= FullProof {
		base, err := a.standing(in, proof.Findings(report, proof.Reading{System: in.Job.System()}))
		if err != nil {
			return nil, err
		}
		if err := a.Proof.cure(ctx, in, base); err != nil {
			return nil, err
		}
	}
	return proof.Findings(report, proof.Reading{System: in.Job.System(), Cures: a.Proof.Cures, Refused: a.Proof.Refused}), nil
}

// proofOf proves to the depth the run asks for and returns how to wait for its findings.
// A quick proof runs beside the reruns; a full one uses all cores itself and tells of its
// progress, so it waits its turn.
func proofOf(ctx context.Context, in Input, a *Appraisal, tell func(done, total int)) func() ([]finding.Finding, error) {
	if in.Proof >= FullProof {
		return func() ([]finding.Finding, error) { return prove(ctx, in, a, in.Proof, shares(tell)) }
	}
	own := *a // the reruns read a meanwhile
	var found []finding.Finding
	var err error
	var work workers.Group
	work.Go(func() { found, err = prove(ctx, in, &own, in.Proof, nil) })
	return func() ([]finding.Finding, error) {
		work.Wait()
		a.Proof = own.Proof
		return found, err
	}
}

// shares tells of a proof's progress as the rest of a run does.
func shares(tell func(done, total int)) func(proof.Progress) {
	if tell == nil {
		return nil
	}
	return func(p proof.Progress) {
		if p.Broken == nil {
			tell(int(1000*p.Share), 1000)
		}
	}
}

// proofInput builds the circuit with everything its parts can come to.
func proofInput(in Input, a *Appraisal, depth Depth) (proof.Input, error) {
	ci, err := circuit.NewWithMishaps(a.Assembly, in.figures())
	if err != nil {
		return proof.Input{}, err
	}
	if depth < FullProof {
		ci.Mishaps = nil
	}
	return proof.Input{Assembly: a.Assembly, Circuit: ci, Job: in.Job, Profile: in.Profile, Cards: depth == NamedProof, Pairs: depth == PairsProof}, nil
}

// figures are the job's bare figures, with the tables' own uncertainties laid over them.
func (in Input) figures() circuit.Inputs {
	f := circuit.Read(in.Job)
	f.LossScale, f.PumpScale = 1+in.Factors.Losses, 1+in.Factors.Pump
	f.FloatScale, f.OutletScale = 1+in.Factors.Floats, 1+in.Factors.Outlets
	return f
}

// cure tries cures for what is not kept, and keeps those that stand the whole job: base is the
// job as it is, with its day and its promises.
func (p *Proof) cure(ctx context.Context, in Input, base *Appraisal) error {
	p.Cures, p.Refused = map[string][]proof.Cure{}, map[string]*proof.Cure{}
	if in.Doc == nil {
		return nil
	}
	single, before := p.input, pastOf(base)
	single.Pairs = false
	for i := range p.Results {
		r := &p.Results[i]
		if v := r.Finding(); v != finding.MustFix && v != finding.LookAt {
			continue
		}
		found, refused, err := proof.Cures(ctx, single, p.Report, r.About.ID, proof.Bench{Rows: in.Catalogue, Figures: in.figures(), Enough: enoughCures,
			Rebuild: in.laid, Holds: func(c *proof.Cure) error { return before.stands(ctx, in, r.About.ID, c) }})
		if err != nil {
			return err
		}
		p.Cures[r.About.ID] = found
		if refused != nil {
			p.Refused[r.About.ID] = refused
		}
	}
	return nil
}

// stands holds a cure of a promise to the whole job, and fills in what that says of it. The error
// is the context's, or that the job cannot be lived.
func (p *past) stands(ctx context.Context, in Input, promise string, c *proof.Cure) error {
	in.base, in.starts, in.room = nil, nil, nil
	in = in.Within(ctx)
	t, err := Try(in, c.Edits...)
	if err != nil {
		return err
	}
	promises, err := t.Prove(ctx)
	if err != nil {
		return err
	}
	t.Findings = append(t.Findings, promises...)
	if _, err := t.Live(p.Day); err != nil {
		return err
	}
	m := finding.Remedy{Edits: c.Edits}
	if c.Breaks = p.breaks(t); len(c.Breaks) > 0 {
		return nil
	}
	p.hold(&m, t)
	for _, key := range m.Worse {
		if id, _, _ := strings.Cut(key, "\x00"); !slices.Contains(c.Worse, strings.TrimPrefix(id, "promise-")) {
			c.Harms = append(c.Harms, key)
		}
	}
	c.Needs, c.Open = m.Needs, m.Open
	for i := range t.Findings {
		if g := &t.Findings[i]; g.ID == dangers[promise] && g.Verdict == finding.MustFix {
			c.Short = append(c.Short, g.Key())
		}
	}
	return nil
}

// standing is the job as it is, which its cures are held against: with its day and its promises.
func (a *Appraisal) standing(in Input, promises []finding.Finding) (*Appraisal, error) {
	base := *a
	if a.Service == nil { // a proof by itself
		t := &Tried{In: in}
		var err error
		if t.Appraisal, err = Quick(in); err != nil {
			return nil, err
		}
		if t.Day, err = t.Live(); err != nil {
			return nil, err
		}
		base = *t.Appraisal
	}
	base.Findings = append(slices.Clone(base.Findings), promises...)
	return &base, nil
}

// twins names the finding of another analysis that judges what a promise judges, with the
// figures of this home in it.
var twins = map[string]string{
	"promise-heater-boosted": "vented-heater-boosted",
	"promise-notice-shut":    "boil-notice",
	"promise-no-hunting":     "refill-takes-main",
}

// beside leaves out the promises whose twin already says it at least as strongly: nobody
// reads the same thing twice. The proof's own table keeps them all.
func beside(list, proved []finding.Finding) []finding.Finding {
	said := map[string]finding.Verdict{}
	for i := range list {
		said[list[i].ID] = max(said[list[i].ID], list[i].Verdict)
	}
	var kept []finding.Finding
	for _, f := range proved {
		if v := said[twins[f.ID]]; f.Verdict == finding.NotJudged || v < f.Verdict {
			kept = append(kept, f)
		}
	}
	return kept
}

// dangers names the finding of another analysis that judges the same danger as a promise: a
// cure after which it must still be fixed is not enough by itself.
var dangers = map[string]string{"main-clean": "backflow-device", "overflow": "air-gap", "heater-boosted": "vented-heater-boosted"}
