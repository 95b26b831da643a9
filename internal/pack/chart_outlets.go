package pack

import (
	"fmt"

	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/service"
)

// outletRows is how many outlets one chart holds.
const outletRows = 18

// outletCharts shows what each outlet gets in a mode against its need.
func (p *pack) outletCharts(m *service.Mode) []chart {
	var list []chart
	for from := 0; from < len(m.Alone); from += outletRows {
		c := drawing.OutletChart{Title: p.outletTitle(m), Note: p.modeNote(m), Units: p.sys}
		for i := from; i < min(from+outletRows, len(m.Alone)); i++ {
			c.Bars = append(c.Bars, p.outletBar(m, &m.Alone[i]))
		}
		name := "outlets-" + m.ID
		if from > 0 {
			name += fmt.Sprintf("-%d", from/outletRows+1)
		}
		list = append(list, chart{name: name, scene: c.Scene(), rows: c.Table(), share: []float64{1.4, 1, 1, 1, 1}})
	}
	return list
}

func (p *pack) outletBar(m *service.Mode, d *service.Draw) drawing.OutletBar {
	b := drawing.OutletBar{Outlet: d.Outlet, Need: drawing.Reading{SI: float64(d.Need), Text: p.flow(d.Need)}}
	if d.Certified {
		text, _ := p.drawn("outlet-flow", m.ID, d)
		b.Alone = &drawing.Reading{SI: float64(d.Flow), Text: text}
	}
	if t := together(m, d.Outlet); t != nil && t.Certified {
		text, _ := p.drawn("outlet-together", m.ID, t)
		b.Together = &drawing.Reading{SI: float64(t.Flow), Text: text}
	}
	if v := p.worst(m, d.Outlet); v == finding.MustFix || v == finding.LookAt {
		b.Short = say("verdict." + v.ID())
	}
	return b
}

// together is what an outlet gets with others open, or nil where it is not among them.
func together(m *service.Mode, outlet string) *service.Draw {
	for i := range m.Together {
		if m.Together[i].Outlet == outlet {
			return &m.Together[i]
		}
	}
	return nil
}

// worst is the worst verdict on an outlet in a mode.
func (p *pack) worst(m *service.Mode, outlet string) finding.Verdict {
	worst := finding.NotJudged
	for _, id := range []string{"outlet-flow", "outlet-pressure", "outlet-together", "outlet-peak"} {
		if f := p.found(id, outlet, m.ID); f != nil {
			worst = max(worst, f.Verdict)
		}
	}
	return worst
}

// outletTitle says how many outlets fall short of their need in a mode, and which most.
func (p *pack) outletTitle(m *service.Mode) string {
	mode := upperFirst(sayOr("mode."+m.ID, m.ID))
	short, dry, unknown := map[string]bool{}, 0, 0
	var most *service.Draw
	id := ""
	for _, list := range []struct {
		id    string
		draws []service.Draw
	}{{"outlet-flow", m.Alone}, {"outlet-together", m.Together}} {
		for i := range list.draws {
			d := &list.draws[i]
			switch {
			case !d.Certified:
				unknown++
				continue
			case d.Flow >= d.Need:
				continue
			case d.Flow <= 0 && list.id == "outlet-flow":
				dry++
			}
			short[d.Outlet] = true
			if most == nil || d.Flow/d.Need < most.Flow/most.Need {
				most, id = d, list.id
			}
		}
	}
	all := fmt.Sprint(len(m.Alone))
	switch {
	case unknown > 0:
		return say("charts.outlets.unknown", "mode", mode)
	case most == nil:
		return say("charts.outlets.fine", "mode", mode)
	case dry == len(m.Alone):
		return say("charts.outlets.dry", "mode", mode)
	}
	text, _ := p.drawn(id, m.ID, most)
	return say("charts.outlets.short", "mode", mode, "n", fmt.Sprint(len(short)), "all", all,
		"outlet", most.Outlet, "flow", text, "need", p.flow(most.Need))
}
