package interview

import (
	"context"
	"slices"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/words"
)

// rounds is how often the choices are put right before the answers are said to fight.
const rounds = 24

// settle checks the job and puts its choices right: of what the findings themselves and
// the interview's own ladders suggest, the first is taken that leaves fewer things to fix.
// It ends with a job in which nothing must be fixed, or a Conflict.
func (v *Interview) settle(ctx context.Context, f *facts, p *plan, doc *job.Doc, d *Draft) error {
	profile := v.rows.Profiles[doc.Job.Profile]
	if name := assembly.Propose(doc.Job, &profile); name != p.arrangement {
		edits := []job.Edit{{Op: job.Set, Path: "choices.arrangement", Text: name}}
		if joined, _, err := doc.Apply(edits...); err == nil && v.improve(ctx, f, p, joined, d) == nil {
			d.Changed = append(edits, d.Changed...)
			return nil
		}
		d.Changed = nil // the joined arrangement does not settle: the safest does, or says why not
	}
	return v.improve(ctx, f, p, doc, d)
}

// improve is settle for one arrangement.
func (v *Interview) improve(ctx context.Context, f *facts, p *plan, doc *job.Doc, d *Draft) error {
	at, err := v.judge(ctx, doc)
	if err != nil {
		return err
	}
	for range rounds {
		if len(at.must) == 0 {
			break
		}
		next, edits, err := v.better(ctx, f, p, doc, at)
		if err != nil {
			return err
		}
		if next == nil {
			return v.stuck(at)
		}
		d.Changed = append(d.Changed, edits...)
		doc, at = next.doc, next
	}
	if len(at.must) > 0 {
		return v.stuck(at)
	}
	d.Source, d.Appraisal = doc.Bytes(), at.a
	return nil
}

// judged is a job with what must be fixed in it.
type judged struct {
	doc  *job.Doc
	a    *appraise.Appraisal
	must []*finding.Finding
}

// judge appraises a job, and proves its named settings where nothing else must be fixed:
// the look that decides is the one "check" takes.
func (v *Interview) judge(ctx context.Context, doc *job.Doc) (*judged, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	in, err := appraise.NewInput(v.rows, doc)
	if err != nil {
		return nil, err
	}
	a, err := appraise.Quick(in)
	if err != nil {
		return nil, err
	}
	j := &judged{doc: doc, a: a, must: mustFix(a.Findings)}
	if len(j.must) > 0 {
		return j, nil
	}
	proved, err := appraise.Prove(ctx, in, appraise.NamedProof, nil)
	if err != nil {
		return nil, err
	}
	j.must = mustFix(proved.Findings)
	return j, nil
}

func mustFix(list []finding.Finding) []*finding.Finding {
	var must []*finding.Finding
	for i := range list {
		if list[i].Verdict == finding.MustFix {
			must = append(must, &list[i])
		}
	}
	return must
}

// better returns the first change that leaves fewer things to fix, or nil.
func (v *Interview) better(ctx context.Context, f *facts, p *plan, doc *job.Doc, at *judged) (*judged, []job.Edit, error) {
	var tried [][]job.Edit
	for _, must := range at.must {
		for _, edits := range append(slices.Clone(must.Cures), v.ladder(f, p, doc, must)...) {
			if slices.ContainsFunc(tried, func(t []job.Edit) bool { return slices.Equal(t, edits) }) {
				continue
			}
			tried = append(tried, edits)
			next, _, err := doc.Apply(edits...)
			if err != nil {
				continue // a change this job does not take
			}
			after, err := v.judge(ctx, next)
			if err != nil {
				if ctx.Err() != nil {
					return nil, nil, err
				}
				continue // a design that cannot be laid out
			}
			if worth(at) > worth(after) {
				return after, edits, nil
			}
		}
	}
	return nil, nil, nil
}

// worth is how far a job is from having nothing to fix: by count, then by rank.
func worth(j *judged) int {
	sum := 0
	for _, m := range j.must {
		sum += 10 + 9 - min(m.Rank, 9)
	}
	return sum
}

// ladder are the interview's own next steps for a finding: a stronger pump, a wider pipe,
// another float valve, a better exercise of the store.
func (v *Interview) ladder(f *facts, p *plan, doc *job.Doc, must *finding.Finding) [][]job.Edit {
	set := func(path, text string) []job.Edit { return []job.Edit{{Op: job.Set, Path: path, Text: text}} }
	var list [][]job.Edit
	add := func(e []job.Edit) { list = append(list, e) }
	switch must.ID {
	case "outlet-flow", "outlet-peak", "pump-start", "pump-stop", "outlet-pressure":
		for _, pump := range p.pumps {
			add(set("choices.pump.row", pump.Key))
		}
		for _, wider := range []string{"PE100-SDR11 40", "PE100-SDR11 50", "copper-L 1-1/4"} {
			add(set("pipework.outdoors", wider))
		}
		for _, wider := range []string{"multilayer 32", "copper-L 1"} {
			add(set("pipework.indoors", wider))
		}
	case "refill", "rest-pressure", "promise-overflow":
		for _, key := range v.rows.Keys("floats") {
			add(set("choices.float", key))
		}
	case "turnover":
		for _, every := range []string{"14 d", "7 d", "4 d"} {
			add(set("choices.store.exercise", every))
		}
	}
	return list
}

// answersOf are the questions behind the fields that move a finding.
var answersOf = map[string][]string{
	"vented-heater-boosted":  {"heater"},
	"promise-heater-boosted": {"heater"},
	"heater-rating":          {"heater", "pressure"},
	"outlet-flow":            {"storeys", "pressure", "bathrooms"},
	"outlet-peak":            {"pressure", "worst-hours"},
	"pump-start":             {"storeys"},
	"pump-stop":              {"storeys"},
	"rest-pressure":          {"pressure", "rise"},
	"refill":                 {"pressure", "rise", "place"},
	"turnover":               {"people", "longest"},
	"by-pass-consent":        {"joint"},
	"backflow-device":        {"joint", "profile"},
}

// stuck says which answers make a design without anything to fix impossible.
func (v *Interview) stuck(at *judged) error {
	worst := at.must[0]
	questions := answersOf[worst.ID]
	if len(questions) == 0 {
		questions = []string{"pressure", "storeys", "place"}
	}
	title, sentence := finding.Text(worst, at.doc.Job.System())
	return &Conflict{Fight: questions, ID: "ask.conflict.stuck",
		Args: words.Args{"answers": v.names(questions...), "title": title, "sentence": sentence}}
}
