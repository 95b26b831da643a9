package pack

import (
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// badWater is how a store full of bad water is made good, with the home joined and the feed
// shut: emptied and cleaned first, dosed after.
func (p *pack) badWater() []paper.Block {
	if !p.stored() {
		return []paper.Block{para(say("bad-water.none")), deferral()}
	}
	l := p.hands().BadWater()
	b := []paper.Block{paper.Banner{Style: paper.Strong, Text: say("disinfect.nobody"), Gap: 0}, para(say("bad-water.how")),
		p.caution("caution.chlorine"), p.caution("caution.drown")}
	var rows [][]paper.Cell
	for _, s := range l.Steps {
		args := append(p.stepArgs(), p.actArgs(s)...)
		id := l.ID + "." + s.ID
		if p.Disinfect != nil {
			args = append(args, p.doseArgs(p.Disinfect)...)
			if s.ID == "hold" && p.Disinfect.Regime.Least == 0 {
				id += "-any"
			}
		} else {
			args = append(args, "dose-told", p.fig(quantity.DoseDim, 0.05), "hold", p.time(3600), "least", p.fig(quantity.DoseDim, 0.03))
			if s.ID == "dose" {
				id += "-none"
			}
		}
		rows = append(rows, []paper.Cell{tick, cell(say(id, args...))})
	}
	b = append(b, paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}}, Rows: rows, Gap: 2, Pad: 0.5},
		small(say("disinfect.strips", p.handFigures()...)),
		paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("disinfect.start"), say("disinfect.end"), say("disinfect.strip-last"), say("blank.name"), say("blank.date"), say("disinfect.sample")}})
	return append(b, deferral())
}
