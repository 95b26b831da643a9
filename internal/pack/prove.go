package pack

import (
	"math"
	"strings"

	"tideover/internal/calc"
	"tideover/internal/commission"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/service"
)

// pressure is the pressure test of the new pipe, to the local rules.
func (p *pack) pressureTest() []paper.Block {
	if p.HandOver == nil || p.HandOver.Test == nil {
		return []paper.Block{para(say("test.none")), p.caution("caution.pressure"), deferral()}
	}
	t := p.HandOver.Test
	why := "test.why"
	switch {
	case t.Multiple == 0:
		why = "test.why-fixed"
	case t.Least:
		why = "test.why-least"
	}
	b := []paper.Block{
		paper.Text{Style: paper.Figure, Text: say("test.at", "pressure", p.pressure(t.At), "time", p.time(t.Hold))},
		para(say(why, "pressure", p.pressure(t.At), "multiple", number(t.Multiple), "highest", p.pressure(t.Highest), "where", t.Where,
			"source", p.ruled(t.Source, t.Standing))),
		p.caution("caution.pressure"), heading("test.off"), p.shutOff(t), heading("test.sections"), small(say("test.sections-how")), p.testSections(t), small(say("test.tie")), heading("test.steps"),
	}
	b = append(b, p.testSteps(t), heading("test.readings"), p.readings(t))
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("test.gauge"), say("test.water"), say("test.air"), say("blank.fitter"), say("blank.second"), say("blank.date")}})
	return append(append(b, p.working(t.Calc)...), deferral())
}

// shutOff lists what is shut off, taken out or plugged before the pressure goes up: what
// no test may reach, and any part rated for less.
func (p *pack) shutOff(t *commission.Test) paper.Table {
	var rows [][]paper.Cell
	for _, o := range t.Off {
		part := &p.Assembly.Parts[p.Assembly.Index(o.Tag)]
		rows = append(rows, []paper.Cell{{Mark: paper.Tick, Text: o.Tag, Style: paper.Strong}, cell(shortName(part)),
			cell(say("test.off."+o.Why, "rating", p.pressure(o.Rating), "body", p.pressure(o.Body())))})
	}
	rows = append(rows, []paper.Cell{{Mark: paper.Tick, Text: p.stop(), Style: paper.Strong}, cell(say("test.off.main-what")), cell(say("test.off.main"))})
	return paper.Table{Cols: []paper.Col{{Width: 24}, {Share: 1}, {Share: 1.3}}, Rows: rows, Gap: 0.7, Pad: 0.3}
}

// testSections lists what is pumped by itself: a non-return valve parts the line.
func (p *pack) testSections(t *commission.Test) paper.Table {
	var rows [][]paper.Cell
	for _, s := range t.Sections {
		from := say("test.section.end")
		if s.From != "" {
			from = s.From
		}
		rows = append(rows, []paper.Cell{{Mark: paper.Tick, Text: strings.Join(s.Runs, ", "), Style: paper.Strong}, cell(from),
			cell(tagsOr(s.Open)), cell(tagsOr(s.Shut)), cell(tagsOr(s.Held)), cell(tagsOr(s.Passes))})
	}
	return paper.Table{Cols: []paper.Col{{Share: 1.2}, {Share: 1}, {Share: 1}, {Share: 1}, {Share: 1}, {Share: 1}}, Gap: 0.7, Pad: 0.3, Close: true,
		Head: []string{say("test.section.runs"), say("test.section.from"), say("test.section.open"), say("test.section.shut"), say("test.section.held"), say("test.section.passes")}, Rows: rows}
}

// tagsOr is a list of tags, or the word for none.
func tagsOr(tags []string) string {
	if len(tags) == 0 {
		return say("test.section.no-part")
	}
	return strings.Join(tags, ", ")
}

func (p *pack) testSteps(t *commission.Test) paper.Table {
	var list []step
	for _, s := range p.hands().Pressure(t.Sections[0], t.Plastic).Steps {
		list = append(list, step{s.ID, string(s.Who), true})
	}
	return p.ticks("test.step", list, "pressure", p.pressure(t.At), "hold", p.time(t.Hold), "third", p.pressure(t.At/3),
		"stretch", p.time(commission.StretchTime), "still", p.time(commission.StretchHold),
		"scale", say("band", "low", p.guess(quantity.PressureDim, 1.5*float64(t.At)), "high", p.guess(quantity.PressureDim, 2*float64(t.At))))
}

// readings is a row of boxes: time and pressure through the test.
func (p *pack) readings(test *commission.Test) paper.Table {
	minutes := []float64{0, 10, 30, 60}
	if m := float64(test.Hold) / 60; m > 60 {
		minutes = append(minutes, m)
	}
	cols, head := []paper.Col{{Width: 38}}, []string{say("test.when")}
	row, clock := []paper.Cell{strong(say("test.pressure"))}, []paper.Cell{strong(say("test.clock"))}
	for _, m := range minutes {
		cols, head = append(cols, paper.Col{Share: 1}), append(head, say("test.after", "time", p.time(quantity.Time(60*m))))
		row, clock = append(row, write), append(clock, write)
	}
	t := paper.Table{Cols: cols, Head: head, Rows: [][]paper.Cell{clock, row}, Gap: 1, Whole: true}
	if test.Plastic {
		third := []paper.Cell{strong(say("test.third", "pressure", p.pressure(test.At/3)))}
		for range minutes {
			third = append(third, write)
		}
		t.Rows = append(t.Rows, third)
	}
	return t
}

// flush says how long each outlet runs before anybody drinks from it.
func (p *pack) flush() []paper.Block {
	b := []paper.Block{para(say("flush.how", "times", number(commission.FlushTimes), "speed", p.fig(quantity.VelocityDim, commission.FlushSpeed))),
		p.caution("caution.scald")}
	for _, l := range p.hands().Flush() {
		b = append(b, heading(l.ID))
		var rows [][]paper.Cell
		for _, s := range l.Steps {
			rows = append(rows, []paper.Cell{tick, cell(say(l.ID+"."+s.ID, append(append(p.stepArgs(), p.actArgs(s)...), "times", number(commission.FlushTimes))...))})
		}
		b = append(b, paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}}, Rows: rows, Gap: 0.7, Pad: 0.4})
	}
	if p.HandOver == nil || p.HandOver.FlushIn == "" {
		return append(b, para(say("flush.none")), deferral())
	}
	b = append(b, heading("flush.outlets"), small(p.modeNote(p.Service.Mode(p.HandOver.FlushIn))))
	table, longest := p.flushTable()
	b = append(b, table, small(say("flush.clear")))
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("flush.first"), say("flush.strainers"), say("flush.meter"), say("blank.name"), say("blank.date"), say("flush.notes")}})
	return append(append(b, p.working(longest)...), deferral())
}

// flushTable lists the outlets nearest the source first and returns the sum of the one
// that takes longest, as an example to redo.
func (p *pack) flushTable() (paper.Table, []calc.Step) {
	t := paper.Table{Gap: 1, Pad: 0.7,
		Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24, Right: true}, {Width: 24}},
		Head: []string{"", say("outlets.outlet"), say("flush.pipe"), say("flush.flow"), say("flush.volume"), say("flush.time"), say("flush.done")}}
	var longest []calc.Step
	var most quantity.Time
	mode := p.Service.Mode(p.HandOver.FlushIn)
	for i := range p.HandOver.Flush {
		f := &p.HandOver.Flush[i]
		flow, name := p.drawn("outlet-flow", mode.ID, drawOf(mode, f.Outlet))
		run := p.time(roundUp(f.Time))
		if f.Dry {
			run = say("flush.dry")
		} else if f.Time > most {
			most, longest = f.Time, f.Calc
		}
		t.Rows = append(t.Rows, []paper.Cell{tick, {Text: p.outletName(f.Outlet), Style: name.Style}, cell(p.volume(f.Pipe)), cell(flow),
			cell(p.volume(f.Run)), strong(run), write})
	}
	return t, longest
}

// drawOf is what an outlet gets alone in a mode.
func drawOf(m *service.Mode, outlet string) *service.Draw {
	for i := range m.Alone {
		if m.Alone[i].Outlet == outlet {
			return &m.Alone[i]
		}
	}
	return &service.Draw{Outlet: outlet}
}

// roundUp takes a time to the next half minute: nobody flushes to the second.
func roundUp(t quantity.Time) quantity.Time { return quantity.Time(30 * math.Ceil(float64(t)/30)) }

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
