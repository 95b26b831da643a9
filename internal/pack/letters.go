package pack

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/consent"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/proof"
	"tideover/internal/quantity"
)

// letterTo makes the one-page letter to somebody whose word is wanted: what is to be
// built, what it means for them, the drawing, and room for the answer.
func letterTo(who consent.Who) func(*pack) []paper.Block {
	return func(p *pack) []paper.Block {
		b := []paper.Block{
			paper.Fields{Columns: 2, Gap: 0, Labels: []string{say("letter.from"), say("letter.to")}},
			paper.Fields{Columns: 2, Gap: 1.5, Labels: []string{say("letter.place"), say("letter.reference")}, Values: []string{oneLine(p.Job.Place.Address)}},
			paper.Text{Style: paper.Strong, Text: say("letter."+string(who)+".about", "job", oneLine(p.Job.Name)), Gap: 5},
			para(say("letter." + string(who) + ".ask")),
		}
		for _, line := range p.letterLines(who) {
			b = append(b, paper.Text{Style: paper.Body, Text: "– " + line, Gap: 1, Indent: 4})
		}
		picture, _ := apart(p.schematic(p.Assembly.Settings[0].Name)) // its legend stands on the sheet System
		b = append(b, paper.Picture{Scene: *picture, Gap: 4, Tall: 105, Grow: 1.3},
			small(say("letter.drawing", "setting", settingName(p.Assembly.Settings[0].Name))))
		b = append(b, p.answer(who)...)
		return append(b, paper.Text{Style: paper.Small, Text: say("letter.limits"), Gap: 3})
	}
}

// letterLines are the facts one reader asks about.
func (p *pack) letterLines(who consent.Who) []string {
	switch who {
	case consent.Supplier:
		return p.supplierLines()
	case consent.Landlord:
		return p.landlordLines()
	}
	return p.insurerLines()
}

// supplierLines say how stored water is kept from the main, and what the home will draw.
func (p *pack) supplierLines() []string {
	lines := []string{p.storeLine()}
	dry := p.onMainAlone()
	switch {
	case p.Assembly.Joined:
		lines = append(lines, say("letter.joined", "checks", p.tags(assembly.NonReturn), "device", p.deviceWords()))
	case p.Assembly.Spooled():
		lines = append(lines, say("letter.spool", "spool", p.tags(assembly.Spool), "checks", p.tags(assembly.NonReturn), "device", p.deviceWords()))
	case !p.stored():
		lines = append(lines, say("letter.booster", "bar", p.bar(), "device", p.deviceWords()))
	case dry != "":
		lines = append(lines, say("letter.split", "outlets", dry))
	default:
		lines = append(lines, say("letter.unjoined"))
	}
	if p.Assembly.Notified(p.Profile) {
		lines = append(lines, say("letter.pumped", "flow", p.flow(p.Assembly.Draws())))
	}
	if f := p.gapFinding(); f != nil && (f.Verdict == finding.Fine || f.Verdict == finding.LookAt) {
		lines = append(lines, say("letter.gap", "gap", p.figure(f.Figure), "float", p.low(assembly.FloatValve)))
	}
	lines = append(append(lines, p.foulLine()...), p.pumpLine())
	return append(append(lines, p.fillsLine()...), p.proofLine())
}

// fillsLine says what the store takes from the main, in the first of its hours in which anything
// runs; a store that never fills takes nothing, and check says so.
func (p *pack) fillsLine() []string {
	if p.Service == nil {
		return nil
	}
	for i := range p.Service.Refills {
		if r := &p.Service.Refills[i]; r.Flow > 0 {
			return []string{say("letter.fills", "flow", p.flow(r.Flow), "hours", sayOr("hours."+r.Hours, r.Hours))}
		}
	}
	return nil
}

// pumpLine says what the pump draws from.
func (p *pack) pumpLine() string {
	switch {
	case len(p.Assembly.Of(assembly.Pump)) == 0:
		return say("letter.no-pump")
	case len(p.Assembly.Of(assembly.Store)) == 0:
		return say("letter.pump-main", "pump", p.tags(assembly.Pump))
	}
	return say("letter.pump-store", "pump", p.tags(assembly.Pump))
}

// proofLine says what was tried for the one promise the supplier asks about; only what
// this run proved.
func (p *pack) proofLine() string {
	if p.Proof != nil && p.Proof.Report != nil {
		for i := range p.Proof.Results {
			r := &p.Proof.Results[i]
			if r.About.ID == "main-clean" && r.Verdict != proof.NotJudged {
				return say("letter.proof", "covered", p.Proof.TellCovered(), "verdict", p.Proof.TellVerdict(r.Verdict))
			}
		}
	}
	return say("letter.unproved")
}

func (p *pack) deviceWords() string {
	for _, i := range p.Assembly.Of(assembly.NonReturn) {
		if row, ok := p.Assembly.Parts[i].Row.(catalogue.NonReturn); ok && p.Assembly.Parts[i].Role == assembly.Service {
			return say("letter.device", "tag", p.Assembly.Parts[i].Tag, "words", row.Words)
		}
	}
	return say("letter.no-device")
}

// storeLine is what is stored and what it weighs.
func (p *pack) storeLine() string {
	if p.Store == nil || p.Store.Usable <= 0 {
		return say("letter.no-store")
	}
	return say("letter.store", "n", fmt.Sprint(p.stores()), "usable", p.volume(p.Store.Usable), "tags", p.tags(assembly.Store))
}

func (p *pack) landlordLines() []string {
	lines := []string{p.storeLine()}
	if p.Base != nil {
		lines = append(lines, p.weightLines()...)
	}
	lines = append(lines, p.pumpLine())
	if len(p.Assembly.Of(assembly.Pump)) > 0 {
		lines = append(lines, say("letter.socket"))
	}
	return append(lines, say("letter.overflow"), say("letter.upkeep"), say("letter.removal"))
}

// weightLines are what floor and roof have to carry: a tank, all of them where there are more, and
// the header tank.
func (p *pack) weightLines() []string {
	t := p.Base.Stores()
	lines := []string{say("letter.weight", "mass", p.mass(t.Mass))}
	if t.Count > 1 {
		lines[0] = say("letter.weights", "mass", p.mass(t.Mass), "all", p.mass(quantity.Mass(t.Count)*t.Mass))
	}
	if h := p.Base.Header(); h != nil {
		lines = append(lines, say("letter.weight-header", "header", h.Tag, "mass", p.mass(h.Mass)))
	}
	return lines
}

func (p *pack) insurerLines() []string {
	lines := []string{p.storeLine(), say("letter.overflow")}
	if p.Assembly.Setting("away") != nil {
		lines = append(lines, say("letter.away", "turns", p.turnText("away", "valves.stop")))
	}
	return append(lines, say("letter.tested"), say("letter.electric"), say("letter.upkeep"))
}

// answer is where the reader ticks and signs.
func (p *pack) answer(who consent.Who) []paper.Block {
	boxes := []string{"agree", "conditions", "refuse", "visit"}
	if who == consent.Insurer {
		boxes = []string{"noted", "conditions", "visit"}
	}
	row := make([]paper.Cell, len(boxes))
	cols := make([]paper.Col, len(boxes))
	for i, box := range boxes {
		row[i], cols[i] = paper.Cell{Text: say("letter.box." + box), Mark: paper.Tick, Style: paper.Small}, paper.Col{Share: 1}
	}
	return []paper.Block{
		heading("letter.answer"),
		paper.Table{Cols: cols, Rows: [][]paper.Cell{row}, Plain: true},
		paper.Fields{Columns: 2, Gap: 2, Labels: []string{say("letter.box.which"), say("letter.box.number")}},
		paper.Fields{Columns: 3, Gap: 1.5, Labels: []string{say("blank.name"), say("letter.box.signature"), say("blank.date")}},
	}
}

// gate is who must sign before work starts, with room to do so.
func (p *pack) gate() []paper.Block {
	t := paper.Table{Cols: []paper.Col{{Share: 1}, {Share: 1.9}, {Width: 18}, {Width: 40}}, Gap: 1.5, Pad: 0.3,
		Head: []string{say("gate.who"), say("gate.why"), say("gate.state"), say("gate.signed")}}
	for _, s := range p.Gate {
		who := say("sign." + string(s.Who))
		if s.State == consent.Owed || s.State == consent.Refused {
			t.Rows = append(t.Rows, []paper.Cell{
				{Text: upperFirst(who), Style: paper.SmallStrong, Mark: paper.Tick}, {Text: say("sign.why." + s.Why), Style: paper.Small},
				{Text: say("sign.state." + s.State.ID()), Style: paper.Small}, write,
			})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []paper.Block{heading("gate.head"), t}
}
