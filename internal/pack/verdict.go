package pack

import (
	"fmt"
	"slices"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// most is how many findings the first sheet shows: more would hide the ones that matter.
const most = 3

// verdict is the cover: will it work, what matters, what must be decided.
func (p *pack) verdict() []paper.Block {
	var b []paper.Block
	if n := p.count(finding.MustFix); n > 0 {
		b = append(b, paper.Banner{Style: paper.Must, Text: say("verdict.banner", "n", fmt.Sprint(n)), Gap: 0})
	}
	b = append(b, paper.Text{Style: paper.Lead, Text: p.works(), Gap: 4})
	b = append(b, p.headline()...)
	shown := p.matter()
	if len(shown) > 0 {
		b = append(b, heading("verdict.matter"))
		for _, f := range shown {
			b = append(b, p.told(f)...)
		}
	}
	b = append(b, paper.Text{Style: paper.Small, Gap: 3, Text: say("verdict.count",
		"must", fmt.Sprint(p.count(finding.MustFix)), "look", fmt.Sprint(p.count(finding.LookAt)),
		"unjudged", fmt.Sprint(p.count(finding.NotJudged)), "fine", fmt.Sprint(p.count(finding.Fine)))})
	b = append(b, p.gate()...)
	b = append(b, heading("verdict.decide"))
	b = append(b, p.decisions()...)
	b = append(b, paper.Fields{Labels: []string{say("blank.owner"), say("blank.fitter"), say("blank.date")}, Columns: 3, Gap: 6})
	return append(b, deferral())
}

// works is the one line: whether it works. It never says so where something that was asked
// for is not met.
func (p *pack) works() string {
	unmet := finding.Unmet(p.Findings)
	if p.Verdict != finding.LookAt || len(unmet) == 0 {
		return say("verdict.line." + p.Verdict.ID())
	}
	var names []string
	for _, f := range unmet {
		if title, _ := finding.Text(f, p.sys); len(names) < most && !slices.Contains(names, title) {
			names = append(names, title)
		}
	}
	return say("verdict.line.unmet", "what", strings.Join(names, "; "))
}

// matter returns the one to three findings that matter most.
func (p *pack) matter() []*finding.Finding {
	var list []*finding.Finding
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Verdict != finding.Fine && len(list) < most {
			list = append(list, f)
		}
	}
	return list
}

// told is one finding in full words: verdict, title, sentence, tried remedies.
func (p *pack) told(f *finding.Finding) []paper.Block {
	title, sentence := finding.Text(f, p.sys)
	style := paper.Strong
	if f.Verdict == finding.MustFix {
		style = paper.Must
	}
	b := []paper.Block{
		paper.Text{Style: style, Text: say("finding.head", "verdict", say("verdict."+f.Verdict.ID()), "title", title), Gap: 3.5, Keep: true},
		para(sentence),
	}
	for i := range f.Remedies[:min(2, len(f.Remedies))] {
		b = append(b, paper.Text{Text: p.remedy(&f.Remedies[i]), Gap: 1, Indent: 5})
	}
	return b
}

// headline is the three figures an owner asks for.
func (p *pack) headline() []paper.Block {
	var head []paper.Cell
	var below []paper.Cell
	add := func(figure, what string) {
		head = append(head, paper.Cell{Text: figure, Style: paper.Figure})
		below = append(below, paper.Cell{Text: what, Style: paper.Small})
	}
	if p.Store != nil && p.Store.Carry > 0 {
		add(p.carry())
	}
	if p.Service != nil {
		for _, r := range p.Service.Refills {
			if len(head) < 3 {
				add(p.time(r.Time), say("verdict.refill", "hours", sayOr("hours."+r.Hours, r.Hours)))
			}
		}
	}
	if len(head) == 0 {
		return nil
	}
	cols := make([]paper.Col, len(head))
	for i := range cols {
		cols[i].Share = 1
	}
	return []paper.Block{
		paper.Table{Cols: cols, Rows: [][]paper.Cell{head, below}, Gap: 4, Plain: true, Pad: 0.6},
	}
}

// carry is how long a full store lasts, and what that figure is: off the years where they
// were lived, else plain arithmetic.
func (p *pack) carry() (figure, what string) {
	if y := p.Years; y != nil {
		return p.storeFigure("carry-lived", quantity.TimeDim, y.Lasts.Median), say("verdict.carry-lived", "usable", p.volume(p.Store.Usable), "hour", clock(y.Lasts.Hour),
			"low", p.guess(quantity.TimeDim, y.Lasts.Short), "high", p.guess(quantity.TimeDim, y.Lasts.Long))
	}
	return p.storeFigure("carry-time", quantity.TimeDim, float64(p.Store.Carry)), say("verdict.carry", "usable", p.volume(p.Store.Usable))
}

// storeFigure prints a value as its finding does, with the digits its spread deserves.
func (p *pack) storeFigure(id string, dim quantity.Dim, si float64) string {
	for i := range p.Findings {
		if f := &p.Findings[i]; f.ID == id && f.Figure.Dim == dim {
			if full, has := f.Args["full"]; has { // what is judged may begin with less
				return quantity.Format(full, p.sys)
			}
			return quantity.Format(f.Figure, p.sys)
		}
	}
	return p.fig(dim, si)
}

// decisions are the open points, each with a box: answers that are still owed, and what
// somebody must live with or change.
func (p *pack) decisions() []paper.Block {
	var rows [][]paper.Cell
	add := func(text string) { rows = append(rows, []paper.Cell{{Text: text, Mark: paper.Tick}, write}) }
	if p.count(finding.MustFix) > 0 {
		add(say("decide.must"))
	}
	looks := 0
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Verdict == finding.LookAt && f.ID != "by-pass-consent" && f.ID != "signatures" {
			if looks++; looks <= most {
				title, _ := finding.Text(f, p.sys)
				add(say("decide.look", "title", title))
			}
		}
	}
	if looks > most {
		add(say("decide.rest", "n", fmt.Sprint(looks-most)))
	}
	if p.Job.Power.Battery == job.Wanted && p.pumped() {
		add(say("decide.battery"))
	}
	add(say("decide.go"))
	return []paper.Block{paper.Table{
		Cols: []paper.Col{{Share: 1}, {Width: 52}}, Head: []string{say("decide.head"), say("decide.answer")}, Rows: rows, Gap: 1.5,
	}}
}
