package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/proof"
)

// mostHarms is how many counterexamples are drawn: those that matter most.
const mostHarms = 2

// proof shows what trying every case came to: a row for each promise with its verdict, its
// counts and the smallest case that breaks it, then the worst of them drawn.
func (p *pack) proof() []paper.Block {
	if p.Proof == nil || len(p.Proof.Results) == 0 {
		return []paper.Block{para(say("proof.sheet.none"))}
	}
	b := []paper.Block{para(p.Proof.TellCovered()), small(say("proof.sheet.ways")), small(p.Proof.TellWork())}
	t := paper.Table{Cols: []paper.Col{{Share: 1.4}, {Width: 24}, {Width: 31}, {Share: 2.1}}, Gap: 2, Pad: 0.5,
		Head: []string{say("proof.sheet.promise"), say("proof.sheet.verdict"), say("proof.sheet.cases"), say("proof.sheet.told")}}
	var idle []string
	for _, r := range p.ranked() {
		if r.NeverArises() {
			idle = append(idle, say("promise."+r.About.ID+".title"))
			continue
		}
		t.Rows = append(t.Rows, p.promise(r))
	}
	b = append(b, t)
	if len(idle) > 0 {
		id := "proof.sheet.idle"
		if p.Proof.Sound() {
			id += ".sound"
		}
		b = append(b, small(say(id, "list", strings.Join(idle, ", "))))
	}
	return append(append(b, deferral()), p.harms()...) // the drawings turn the sheet: nothing comes after them
}

// ranked are the results, worst verdict first, those of one verdict in their own order.
func (p *pack) ranked() []*proof.Result {
	var list []*proof.Result
	for _, v := range []finding.Verdict{finding.MustFix, finding.LookAt, finding.NotJudged, finding.Fine} {
		for i := range p.Proof.Results {
			if r := &p.Proof.Results[i]; r.Finding() == v {
				list = append(list, r)
			}
		}
	}
	return list
}

// promise is a result's row.
func (p *pack) promise(r *proof.Result) []paper.Cell {
	told := say("proof.sheet.kept")
	if lines := p.Proof.Lines(r, r.Finding(), p.sys, p.Proof.Cures[r.About.ID], p.Proof.Refused[r.About.ID]); r.Shown() != nil || r.Verdict == proof.NotJudged {
		told = strings.Join(lines, " ")
	}
	counts := say("proof.sheet.counts", "kept", proof.Grouped(r.Kept()), "broken", proof.Grouped(r.Broken()))
	return []paper.Cell{{Text: say("promise." + r.About.ID), Style: paper.Small}, {Text: p.Proof.TellVerdict(r.Verdict), Style: paper.SmallStrong, Mark: proofMarks[r.Finding()]},
		{Text: counts, Style: paper.Small}, {Text: told, Style: paper.Small}}
}

var proofMarks = map[finding.Verdict]paper.Mark{finding.MustFix: paper.Full, finding.LookAt: paper.Half, finding.Fine: paper.Hollow}

// harms draws the counterexamples that matter most.
func (p *pack) harms() []paper.Block {
	var b []paper.Block
	drawn := 0
	for _, r := range p.ranked() {
		c := r.Shown()
		if c == nil || r.Finding() == finding.Fine || drawn == mostHarms {
			continue
		}
		drawn++
		picture, _ := apart(p.harm(r, c))
		told := p.Proof.Tell(r.About, c, p.sys)
		for i, piece := range pieces(picture, p.size.Height-40) {
			note := []paper.Block{heading1(say("proof.sheet.picture", "title", say("promise."+r.About.ID+".title"), "case", told)),
				paper.Text{Style: paper.Small, Text: say("proof.sheet.harm", "case", p.Proof.Space.String(c.Case)), Gap: 1, Keep: true}}
			if i > 0 {
				note = []paper.Block{small(say("system.joins"))}
			}
			b = append(b, paper.Turned{Blocks: append(note, piece)})
		}
	}
	return b
}

func heading1(text string) paper.Text { return paper.Text{Style: paper.Strong, Text: text, Keep: true} }

// harm is the schematic of a counterexample: the valves as they stand there, what moves,
// and what does harm.
func (p *pack) harm(r *proof.Result, c *proof.Counterexample) *drawing.Scene {
	v := drawing.View{Job: oneLine(p.Job.Name), Setting: c.Named, Units: p.sys, Positions: map[string]string{}, Parts: map[string]drawing.Standing{}}
	for h, hand := range p.Proof.Space.Hands {
		v.Positions[hand.Tag] = hand.Positions[c.Case.Setting[h]]
	}
	play := p.Proof.Space.Play(c.Case)
	for i, played := range play.Parts {
		part := &p.Assembly.Parts[i]
		s := drawing.Standing{Water: drawing.StandsThere, Harm: played.Tag == c.Judgement.Where}
		if play.Solved && played.Flow.Moves() {
			s.Water, s.Flow = drawing.FromStore, played.Flow
			s.Harm = s.Harm || r.About.Kind == proof.Sign && part.Kind != assembly.Outlet && part.Purpose != assembly.AsOutletRun
		}
		v.Parts[played.Tag] = s
	}
	return drawing.Schematic(p.Assembly, v)
}
