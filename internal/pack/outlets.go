package pack

import (
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/service"
)

// outlets shows what each tap gets in each normal case, alone and with others open,
// against what it needs. What is measured stands on the sheet of the hand-over.
func (p *pack) outlets() []paper.Block {
	b := []paper.Block{para(say("outlets.how"))}
	if p.Service == nil {
		return b
	}
	for i := range p.Service.Modes {
		m := &p.Service.Modes[i]
		b = append(b, paper.Text{Style: paper.Heading, Text: upperFirst(sayOr("mode."+m.ID, m.ID)), Gap: 6, Keep: true})
		if m.Same != "" {
			b = append(b, para(say("outlets.same", "mode", sayOr("mode."+m.Same, m.Same))))
			continue
		}
		b = append(b, paper.Text{Style: paper.Small, Text: p.modeNote(m), Gap: 1, Keep: true})
		var rows [][]paper.Cell
		for j := range m.Alone {
			rows = append(rows, p.drawRow(m, &m.Alone[j]))
		}
		b = append(b, paper.Table{
			Cols: []paper.Col{{Share: 1}, {Width: 22, Right: true}, {Width: 19, Right: true}, {Width: 22, Right: true}, {Width: 19, Right: true}, {Width: 22, Right: true}},
			Head: []string{say("outlets.outlet"), say("outlets.alone"), say("outlets.at"), say("outlets.together"), say("outlets.at"), say("outlets.needs")},
			Rows: rows, Gap: 1, Pad: 0.7,
		})
	}
	return append(b, small(say("outlets.marks")))
}

// modeNote says under what conditions a case is reckoned.
func (p *pack) modeNote(m *service.Mode) string {
	power, main := say("outlets.power-on"), say("outlets.main-off")
	if !m.Power {
		power = say("outlets.power-off")
	}
	if m.Main > 0 {
		main = say("outlets.main-at", "pressure", p.pressure(m.Main))
	}
	return say("outlets.case", "setting", settingName(m.Setting), "main", main, "power", power, "demand", p.flow(m.Demand))
}

func (p *pack) drawRow(m *service.Mode, d *service.Draw) []paper.Cell {
	flow, name := p.drawn("outlet-flow", m.ID, d)
	row := []paper.Cell{name, {Text: flow, Style: paper.Strong}, cell(p.at(m.ID, d)), cell("–"), cell(""), cell(p.flow(d.Need))}
	for j := range m.Together {
		if t := &m.Together[j]; t.Outlet == d.Outlet {
			text, _ := p.drawn("outlet-together", m.ID, t)
			row[3], row[4] = cell(text), cell(p.at("", t))
		}
	}
	return row
}

// at is the pressure at a tap that runs; a dry one has none worth printing.
func (p *pack) at(mode string, d *service.Draw) string {
	if !d.Certified || d.Flow <= 0 {
		return "–"
	}
	if f := p.found("outlet-pressure", d.Outlet, mode); f != nil && f.Figure.Dim == quantity.PressureDim {
		return quantity.Format(f.Figure, p.sys)
	}
	return p.pressure(d.Pressure)
}

// drawn prints a flow as its finding does and the outlet's name with the verdict on it.
func (p *pack) drawn(id, mode string, d *service.Draw) (string, paper.Cell) {
	name := strong(p.outletName(d.Outlet))
	f := p.found(id, d.Outlet, mode)
	switch {
	case !d.Certified:
		return say("verdict.not-judged"), name
	case f == nil:
		return p.flow(d.Flow), name
	}
	if f.Verdict == finding.MustFix || f.Verdict == finding.LookAt {
		name.Text = say("outlets.short", "outlet", p.outletName(d.Outlet), "verdict", say("verdict."+f.Verdict.ID()))
	}
	if f.Figure.Dim == quantity.FlowDim {
		return quantity.Format(f.Figure, p.sys), name
	}
	return p.flow(d.Flow), name
}
