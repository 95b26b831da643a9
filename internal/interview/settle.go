package interview

import (
	"context"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/mend"
	"tideover/internal/words"
)

// settle checks the job and puts its choices right, in the joined arrangement first where
// rules and supplier both allow one. It ends with a job in which nothing must be fixed, or
// a Conflict.
func (v *Interview) settle(ctx context.Context, p *plan, doc *job.Doc, d *Draft) error {
	profile := v.rows.Profiles[doc.Job.Profile]
	if name := assembly.Propose(doc.Job, &profile); name != p.arrangement && p.arrangement != assembly.Raised {
		edits := []job.Edit{{Op: job.Set, Path: "choices.arrangement", Text: name}}
		if joined, _, err := doc.Apply(edits...); err == nil && v.improve(ctx, p, joined, d) == nil {
			d.Changed = append(edits, d.Changed...)
			return nil
		}
	} // the joined arrangement does not settle: the safest does, or says why not
	return v.improve(ctx, p, doc, d)
}

// improve is settle for one arrangement.
func (v *Interview) improve(ctx context.Context, p *plan, doc *job.Doc, d *Draft) error {
	m, err := mend.Mend(ctx, v.rows, doc, func(doc *job.Doc, must *finding.Finding) [][]job.Edit { return v.ladder(p, doc, must) })
	switch {
	case err != nil:
		return err
	case len(m.Must) > 0:
		return v.stuck(m)
	}
	d.Source, d.Appraisal, d.Changed = m.Doc.Bytes(), m.Appraisal, m.Edits
	return nil
}

// ladder are the interview's own next steps for a finding: a stronger pump, a wider pipe,
// another float valve; a raised store stands higher.
func (v *Interview) ladder(p *plan, doc *job.Doc, must *finding.Finding) [][]job.Edit {
	var list [][]job.Edit
	try := func(path string, texts ...string) {
		for _, text := range texts {
			list = append(list, []job.Edit{{Op: job.Set, Path: path, Text: text}})
		}
	}
	switch must.ID {
	case "outlet-flow", "outlet-peak", "pump-start", "pump-stop", "outlet-pressure":
		for _, pump := range p.pumps {
			try("choices.pump.row", pump.Key)
		}
		if p.arrangement == assembly.Raised {
			list = append(list, p.higher(float64(doc.Job.Choices.StoreLevel.V))...)
		}
		list = append(list, mend.Wider(v.rows, doc)...)
	case "refill", "rest-pressure", "promise-overflow":
		try("choices.float", v.rows.Keys("floats")...)
	}
	return list
}

// answersOf are the questions behind the fields that move a finding.
var answersOf = map[string][]string{
	"vented-heater-boosted":  {"heater", "pump"},
	"promise-heater-boosted": {"heater", "pump"},
	"heater-rating":          {"heater", "pump", "pressure"},
	"outlet-flow":            {"storeys", "pressure", "bathrooms"},
	"outlet-peak":            {"pressure", "worst-hours"},
	"pump-start":             {"storeys"},
	"pump-stop":              {"storeys"},
	"rest-pressure":          {"pressure", "rise"},
	"refill":                 {"pressure", "rise", "place"},
	"turnover":               {"people", "longest"},
	"by-pass-consent":        {"joint"},
	"backflow-device":        {"joint", "profile"},
	"air-gap":                {"pressure", "profile"},
	"promise-overflow":       {"pressure", "profile"},
}

// stuck says which answers make a design without anything to fix impossible.
func (v *Interview) stuck(m *mend.Mended) error {
	worst := m.Must[0]
	questions := answersOf[worst.ID]
	if len(questions) == 0 {
		questions = []string{"pressure", "storeys", "place"}
	}
	id := "ask.conflict.stuck"
	if questions[0] == "heater" { // often only because nobody has looked at it
		id = "ask.conflict.heater"
	}
	title, sentence := finding.Text(worst, m.Doc.Job.System())
	return &Conflict{Fight: questions, ID: id,
		Args: words.Args{"answers": v.names(questions...), "title": title, "sentence": sentence}}
}
