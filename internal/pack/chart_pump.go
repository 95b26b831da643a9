package pack

import (
	"fmt"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/service"
)

// pumpCharts shows where the pump works: its curve, the pipework's, the controller's swing.
func (p *pack) pumpCharts() []chart {
	c := p.Service.Curves
	if c == nil {
		return nil
	}
	m := p.Service.Mode(c.Mode)
	if m == nil || m.Duty == nil {
		return nil
	}
	d := m.Duty
	duty := say("charts.pump.duty", "flow", p.flow(d.Flow), "head", p.head(float64(d.Head)))
	pic := drawing.PumpChart{
		Title: p.pumpTitle(m, duty), Note: p.modeNote(m) + " " + say("charts.pump.note", "open", strings.Join(c.Open, ", ")), Units: p.sys,
		Full: points(c.Pump), Slowed: points(c.Slowed), Circuit: points(c.Circuit), Start: points(c.Start), Stop: points(c.Stop),
		Duty:     drawing.Point{X: float64(d.Flow), Y: float64(d.Head)},
		FullName: say("charts.pump.full", "pump", p.atWork(d)), CircuitName: say("charts.pump.circuit"), DutyName: say("charts.pump.here", "duty", duty),
		SlowedName: say("charts.pump.slowed", "speed", p.ratio(quantity.Ratio(d.Speed))),
	}
	if s := p.Service.Swing; s != nil {
		pic.StartName = say("charts.pump.start", "control", s.Control, "pressure", p.pressure(s.Low))
		stop := "charts.pump.stop"
		if p.holds(s.Control) {
			stop = "charts.pump.hold"
		}
		pic.StopName = say(stop, "control", s.Control, "pressure", p.pressure(s.High))
	}
	return []chart{{name: "pump", scene: pic.Scene(), rows: pic.Table(), wide: true}}
}

// pumpTitle says whether the pump has enough for the taps the local rules open at once.
func (p *pack) pumpTitle(m *service.Mode, duty string) string {
	short := 0
	for i := range m.Together {
		f := p.found("outlet-together", m.Together[i].Outlet, m.ID)
		if f != nil && f.Verdict != finding.Fine {
			short++
		}
	}
	if short == 0 {
		return say("charts.pump.title", "pump", p.atWork(m.Duty), "duty", duty, "n", fmt.Sprint(len(m.Together)))
	}
	return say("charts.pump.title-short", "pump", p.atWork(m.Duty), "duty", duty, "short", fmt.Sprint(short), "n", fmt.Sprint(len(m.Together)))
}

// atWork names the pumps that run together: "P1", or "P1 with P2".
func (p *pack) atWork(d *service.Duty) string {
	var tags []string
	for _, i := range p.Assembly.Of(assembly.Pump)[:d.Pumps] {
		tags = append(tags, p.Assembly.Parts[i].Tag)
	}
	return strings.Join(tags, " "+say("charts.pump.with")+" ")
}

// holds reports whether a control keeps its upper pressure rather than stopping there.
func (p *pack) holds(tag string) bool {
	for i := range p.Assembly.Controls {
		if c := &p.Assembly.Controls[i]; c.Tag == tag && c.Kind == assembly.SpeedControl {
			return true
		}
	}
	return false
}

func points(curve []service.CurvePoint) []drawing.Point {
	var list []drawing.Point
	for _, v := range curve {
		list = append(list, drawing.Point{X: float64(v.Flow), Y: float64(v.Head)})
	}
	return list
}
