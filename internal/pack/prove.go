package pack

import (
	"math"
	"slices"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/disinfect"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/sitework"
)

// pressure is the pressure test of the new pipe, to the local rules.
func (p *pack) pressureTest() []paper.Block {
	multiple, time := p.Profile.Rule("test-multiple"), p.Profile.Rule("test-time")
	highest, where := p.highest()
	if !multiple.Set || !time.Set || highest <= 0 {
		return []paper.Block{para(say("test.none")), p.caution("caution.pressure"), deferral()}
	}
	at, work := sitework.Test(multiple.Value, highest, quantity.Pressure(p.Profile.Rule("test-least").Value))
	b := []paper.Block{
		paper.Text{Style: paper.Figure, Text: say("test.at", "pressure", p.pressure(at), "time", p.time(quantity.Time(time.Value)))},
		para(say("test.why", "multiple", number(multiple.Value), "highest", p.pressure(highest), "where", where,
			"source", p.citation(multiple.Source))),
		p.caution("caution.pressure"), heading("test.off"), p.shutOff(at), heading("test.steps"),
	}
	b = append(b, p.testSteps(at, quantity.Time(time.Value)), heading("test.readings"), p.readings(at, quantity.Time(time.Value)))
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("test.gauge"), say("test.water"), say("test.air"), say("blank.fitter"), say("blank.second"), say("blank.date")}})
	return append(append(b, p.working(work.Steps)...), deferral())
}

// highest is the highest pressure any new pipe sees in use, and what makes it.
func (p *pack) highest() (quantity.Pressure, string) {
	high, where := quantity.Pressure(0), ""
	if p.Service == nil {
		return 0, ""
	}
	for i := range p.Service.Rests {
		r := &p.Service.Rests[i]
		k := p.Assembly.Index(r.Part)
		if k < 0 || p.Assembly.Parts[k].Kept {
			continue
		}
		if v := max(r.High, r.Working); !math.IsInf(float64(v), 0) && v > high {
			high, where = v, r.Part
		}
	}
	return high, where
}

// shutOff lists what is shut off, taken out or plugged before the pressure goes up: what
// no test may reach, and any part rated for less.
func (p *pack) shutOff(at quantity.Pressure) paper.Table {
	kinds := map[assembly.Kind]string{assembly.Pump: "pump", assembly.Vessel: "vessel", assembly.Heater: "heater",
		assembly.FloatValve: "float", assembly.Switch: "control", assembly.Meter: "old", assembly.Main: ""}
	weak := map[string]quantity.Pressure{}
	if p.Service != nil {
		for _, r := range p.Service.Rests {
			if r.Rated && r.Rating < at {
				weak[r.Part] = r.Rating
			}
		}
	}
	var rows [][]paper.Cell
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		why := kinds[part.Kind]
		rating, low := weak[part.Tag]
		switch {
		case part.Kind == assembly.Outlet || part.Kept && part.Kind != assembly.Heater, why == "" && !low:
			continue
		case low:
			why = "weak"
		}
		rows = append(rows, []paper.Cell{{Mark: paper.Tick, Text: part.Tag, Style: paper.Strong}, cell(shortName(part)),
			cell(say("test.off."+why, "rating", p.pressure(rating)))})
	}
	rows = append(rows, []paper.Cell{{Mark: paper.Tick, Text: p.stop(), Style: paper.Strong}, cell(say("test.off.main-what")), cell(say("test.off.main"))})
	return paper.Table{Cols: []paper.Col{{Width: 24}, {Share: 1}, {Share: 1.3}}, Rows: rows, Gap: 1, Pad: 0.7}
}

// plastic reports whether new pipe stretches under pressure: plastic without a metal core.
func (p *pack) plastic() bool {
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		family := strings.ToUpper(part.Size.Family)
		if part.Kind == assembly.Run && !part.Kept && (strings.HasPrefix(family, "P")) {
			return true
		}
	}
	return false
}

func (p *pack) testSteps(at quantity.Pressure, hold quantity.Time) paper.Table {
	soft := p.plastic()
	return p.ticks("test.step", []step{
		{"see", "", true}, {"fill", "", true}, {"wait", "", true}, {"pump", "two", true},
		{"stretch", "", soft}, {"hold", "", true}, {"third", "", soft}, {"walk", "two", true}, {"down", "", true}, {"fails", "", true},
	}, "pressure", p.pressure(at), "hold", p.time(hold), "third", p.pressure(at/3),
		"stretch", p.time(sitework.StretchTime), "still", p.time(sitework.StretchHold),
		"scale", say("band", "low", p.guess(quantity.PressureDim, 1.5*float64(at)), "high", p.guess(quantity.PressureDim, 2*float64(at))))
}

// readings is a row of boxes: time and pressure through the test.
func (p *pack) readings(at quantity.Pressure, hold quantity.Time) paper.Table {
	minutes := []float64{0, 10, 30, 60}
	if m := float64(hold) / 60; m > 60 {
		minutes = append(minutes, m)
	}
	cols, head := []paper.Col{{Width: 38}}, []string{say("test.when")}
	row, clock := []paper.Cell{strong(say("test.pressure"))}, []paper.Cell{strong(say("test.clock"))}
	for _, m := range minutes {
		cols, head = append(cols, paper.Col{Share: 1}), append(head, say("test.after", "time", p.time(quantity.Time(60*m))))
		row, clock = append(row, write), append(clock, write)
	}
	t := paper.Table{Cols: cols, Head: head, Rows: [][]paper.Cell{clock, row}, Gap: 1, Whole: true}
	if p.plastic() {
		third := []paper.Cell{strong(say("test.third", "pressure", p.pressure(at/3)))}
		for range minutes {
			third = append(third, write)
		}
		t.Rows = append(t.Rows, third)
	}
	return t
}

// flush says how long each outlet runs before anybody drinks from it.
func (p *pack) flush() []paper.Block {
	b := []paper.Block{para(say("flush.how", "times", number(sitework.FlushTimes), "speed", p.fig(quantity.VelocityDim, sitework.FlushSpeed))),
		heading("flush.before"), p.ticks("flush.step", []step{
			{"store", "", true}, {"aerators", "", true}, {"heater", "", true}, {"drain", "", true}, {"order", "", true},
		}, "store", p.tags(assembly.Store), "drain", p.named("valves.drain", assembly.AsStoreDrain))}
	m := p.flushMode()
	if m == nil {
		return append(b, para(say("flush.none")), deferral())
	}
	b = append(b, heading("flush.outlets"), small(p.modeNote(m)))
	table, longest := p.flushTable(m)
	b = append(b, table, small(say("flush.clear")))
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("flush.first"), say("flush.strainers"), say("flush.meter"), say("blank.name"), say("blank.date"), say("flush.notes")}})
	return append(append(b, p.working(longest)...), deferral())
}

// flushMode is the case the outlets are flushed in: on the store, else the first that runs.
func (p *pack) flushMode() *service.Mode {
	if p.Service == nil {
		return nil
	}
	if m := p.Service.Mode("on-store"); m != nil && m.Same == "" && len(m.Alone) > 0 {
		return m
	}
	for i := range p.Service.Modes {
		if m := &p.Service.Modes[i]; m.Same == "" && len(m.Alone) > 0 {
			return m
		}
	}
	return nil
}

// flushTable lists the outlets nearest the source first and returns the sum of the one
// that takes longest, as an example to redo.
func (p *pack) flushTable(m *service.Mode) (paper.Table, []calc.Step) {
	type row struct {
		draw  *service.Draw
		flush sitework.Flush
		pipe  quantity.Volume
		work  []calc.Step
	}
	var list []row
	for i := range m.Alone {
		d := &m.Alone[i]
		pipe, work := p.pipeTo(d)
		list = append(list, row{d, sitework.Rinse(pipe, d.Flow), pipe, work})
	}
	slices.SortStableFunc(list, func(a, b row) int { return int(math.Copysign(1, float64(a.pipe-b.pipe))) })
	t := paper.Table{Gap: 1, Pad: 0.7,
		Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24}},
		Head: []string{"", say("outlets.outlet"), say("flush.pipe"), say("flush.flow"), say("flush.volume"), say("flush.time"), say("flush.done")}}
	var longest []calc.Step
	var most quantity.Time
	for _, r := range list {
		flow, name := p.drawn("outlet-flow", m.ID, r.draw)
		run := p.time(roundUp(r.flush.Time))
		if math.IsInf(float64(r.flush.Time), 1) || !r.draw.Certified {
			run = say("flush.dry")
		} else if r.flush.Time > most {
			most, longest = r.flush.Time, append(slices.Clone(r.work), r.flush.Calc.Steps...)
		}
		t.Rows = append(t.Rows, []paper.Cell{tick, {Text: p.outletName(r.draw.Outlet), Style: name.Style}, cell(p.volume(r.pipe)), cell(flow),
			cell(p.volume(r.flush.Volume)), strong(run), write})
	}
	return t, longest
}

// roundUp takes a time to the next half minute: nobody flushes to the second.
func roundUp(t quantity.Time) quantity.Time { return quantity.Time(30 * math.Ceil(float64(t)/30)) }

// pipeTo is the water in the new and old pipes an outlet's water passes, from the store or
// the street on.
func (p *pack) pipeTo(d *service.Draw) (quantity.Volume, []calc.Step) {
	var s calc.Sheet
	total, seen := 0.0, map[string]bool{}
	for _, st := range d.Calc {
		i := p.Assembly.Index(st.Part)
		if st.Key != "" || i < 0 || seen[st.Part] {
			continue
		}
		seen[st.Part] = true
		part := &p.Assembly.Parts[i]
		if part.Kind == assembly.Store {
			total, s = 0, calc.Sheet{}
		}
		if row, ok := part.Row.(catalogue.Pipe); ok && part.Length > 0 && part.Purpose != assembly.AsServiceRun {
			total += s.Eval(disinfect.PipeVolume, float64(row.Bore), float64(part.Length))
		}
	}
	return quantity.Volume(total), s.Steps
}

// outletName is an outlet's tag; one that no letter of the face can show gets its number.
func (p *pack) outletName(tag string) string {
	if paper.Legible(tag) {
		return tag
	}
	for i := range p.Job.Outlets {
		if p.Job.Outlets[i].Tag == tag {
			return say("outlets.numbered", "n", number(float64(i+1)), "tag", tag)
		}
	}
	return tag
}
