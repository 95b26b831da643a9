package pack

import (
	"fmt"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/drawing"
	"tideover/internal/quantity"
	"tideover/internal/service"
)

// waysShown is how many outlets' ways one chart holds: the one with least to spare
// large, the next ones small.
const waysShown = 7

// wayCharts shows where the pressure goes on the way to each outlet, each open alone.
func (p *pack) wayCharts(m *service.Mode) []chart {
	draws := p.leastSpare(m)
	if len(draws) == 0 {
		return nil
	}
	shown := draws[:min(waysShown, len(draws))]
	c := drawing.WayChart{Title: p.wayTitle(m, shown[0]), Note: p.modeNote(m) + " " + say("charts.way.note"), Units: p.sys}
	if shown[0].Flow <= 0 { // those that run come first
		c.Note = p.modeNote(m) + " " + say("charts.way.note-dry")
	}
	for _, d := range shown {
		c.Ways = append(c.Ways, p.way(m, d))
	}
	first := c
	first.Ways = c.Ways[:1]
	one := chart{name: "way-" + m.ID, scene: c.Scene(), rows: first.Table(), share: []float64{1.2, 0.7, 2, 1, 1, 1}}
	if len(shown) > 1 {
		one.notes = append(one.notes, say("charts.way.others"))
	}
	if left := len(draws) - len(shown); left > 0 {
		one.notes = append(one.notes, say("charts.way.left-out", "n", fmt.Sprint(left)))
	}
	return []chart{one}
}

// leastSpare lists the outlets that were worked out: those that run, the one with the least
// to spare above its need first, then the dry ones, the
// lowest first.
func (p *pack) leastSpare(m *service.Mode) []*service.Draw {
	var list []*service.Draw
	for i := range m.Alone {
		if d := &m.Alone[i]; d.Certified && len(walkOf(d)) > 1 {
			list = append(list, d)
		}
	}
	height := func(d *service.Draw) float64 { w := walkOf(d); return w[len(w)-1].After }
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		switch {
		case a.Flow > 0 && b.Flow > 0:
			return a.Pressure-a.NeedPressure < b.Pressure-b.NeedPressure
		case a.Flow <= 0 && b.Flow <= 0:
			return height(a) < height(b)
		}
		return a.Flow > 0
	})
	return list
}

// walkOf is the walk in heads of an outlet's calculation.
func walkOf(d *service.Draw) []calc.Step {
	var list []calc.Step
	for _, st := range d.Calc {
		if st.Key == "" {
			list = append(list, st)
		}
	}
	return list
}

// way is one outlet's walk as the chart takes it. The last row, out into the air, is the
// outlet itself.
func (p *pack) way(m *service.Mode, d *service.Draw) drawing.Way {
	walk := walkOf(d)
	last := walk[len(walk)-1]
	w := drawing.Way{
		Outlet: d.Outlet, Height: last.After, Runs: d.Flow > 0,
		Need: drawing.Reading{SI: float64(d.NeedHead), Text: p.pressure(d.NeedPressure)},
		Left: drawing.Reading{SI: last.Before, Text: p.at(m.ID, d)},
	}
	for _, st := range walk[:len(walk)-1] {
		row := walkRow(st)
		s := drawing.WayStep{Part: st.Part, What: row[1].Text, Before: st.Before, After: st.After,
			Texts: [3]string{row[2].Text, row[3].Text, row[4].Text}, Stands: p.head(st.After), Takes: p.head(st.After - st.Before)}
		if st.After > st.Before {
			s.Takes = "+" + s.Takes
		}
		if i := p.Assembly.Index(st.Part); i >= 0 {
			part := &p.Assembly.Parts[i]
			s.Gradual = part.Kind == assembly.Run
			s.Height = float64(part.Ports[len(part.Ports)-1].Z)
		}
		w.Steps = append(w.Steps, s)
	}
	flow, _ := p.drawn("outlet-flow", m.ID, d)
	w.Says = say("charts.way.says", "outlet", d.Outlet, "left", w.Left.Text, "need", w.Need.Text, "flow", flow)
	if !w.Runs {
		w.Steps[0].Height = 0
		w.Says = say("charts.way.dry", "outlet", d.Outlet, "height", p.length(quantity.Length(last.After)))
	}
	return w
}

func (p *pack) head(m float64) string { return p.fig(quantity.HeadDim, m) }

// wayTitle says which part takes most of the head on the way to an outlet.
func (p *pack) wayTitle(m *service.Mode, d *service.Draw) string {
	mode := upperFirst(sayOr("mode."+m.ID, m.ID))
	walk := walkOf(d)
	if d.Flow <= 0 {
		last := walk[len(walk)-1]
		return say("charts.way.title-dry", "mode", mode, "outlet", d.Outlet,
			"stands", p.length(quantity.Length(last.Before)), "height", p.length(quantity.Length(last.After)))
	}
	most := walk[1]
	for _, st := range walk[1 : len(walk)-1] {
		if st.Before-st.After > most.Before-most.After {
			most = st
		}
	}
	part := most.Part
	if most.Note != "" {
		part += ", " + sayOr(most.Note, most.Note)
	}
	return say("charts.way.title", "mode", mode, "outlet", d.Outlet, "part", part, "takes", p.head(most.Before-most.After))
}
