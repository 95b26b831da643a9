package pack

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/base"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// base is the sheet of whoever makes the place for the store: what it weighs, what the
// ground must carry, how level it is, and when to stop and ask an engineer.
func (p *pack) base() []paper.Block {
	if p.Base == nil {
		return []paper.Block{para(say("base.none")), deferral()}
	}
	t := p.Base.Stores()
	if t.Deck {
		return p.stand(t)
	}
	b := []paper.Block{p.caution("caution.structure"), heading("base.load"), p.plain(append(p.loads(t), p.floorFact(t)...)),
		heading("base.ground"), p.plain(p.ground(t)), heading("base.make"), p.ticks("base.make", []step{
			{"dig", "", true}, {"slab", "", true}, {"cure", "", true}, {"level", "", true}, {"links", "", t.Count > 1},
			{"drain", "", true}, {"shade", "", true}, {"wind", "", true}, {"set", "two", true},
		}, p.baseArgs(t)...),
	}
	upper, more := p.headerStand()
	b = append(b, upper...)
	b = append(b, paper.Banner{Style: paper.Strong, Text: say("base.stop"), Gap: 4, Keep: true}, p.stops())
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("base.levelled"), say("base.thumb"), say("base.poured"), say("blank.fitter"), say("base.engineer"), say("blank.date")}})
	return append(append(b, p.working(append(t.Ground.Calc.Steps, more...))...), deferral())
}

// fact is a label, its figure and where it is from.
type fact struct {
	id, figure string
	mark       paper.Mark
	note       string
}

func (p *pack) loads(t *base.Tank) []fact {
	mark := certain(t.Row.Certainty)
	return []fact{
		{"base.count", fmt.Sprint(t.Count), paper.NoMark, t.Row.Words},
		{"base.mass", p.mass(t.Mass), mark, say("base.mass-note")},
		{"base.size", say("base.round", "diameter", p.length(t.Row.Diameter), "height", p.length(t.Row.Height)), mark, say("base.size-note")},
		{"base.area", p.fig(quantity.AreaDim, float64(t.Ground.Footprint)), mark, say("base.area-note")},
		{"base.under", p.bearing(t.Ground.Store), mark, say("base.under-note")},
	}
}

// floorFact is what a floor is said to carry, where somebody said it, and what was found.
func (p *pack) floorFact(t *base.Tank) []fact {
	told := p.Base.Floor
	if told.V <= 0 {
		return nil
	}
	holds := say("base.floor-holds")
	if f := p.found("floor-load", t.Tag, ""); f != nil && f.Verdict != finding.Fine {
		holds = say("base.floor-fails")
	}
	return []fact{{"base.floor", p.fig(quantity.LoadDim, float64(told.V)), basisMarks[told.Basis], holds}}
}

func (p *pack) ground(t *base.Tank) []fact {
	g, b := &t.Ground, &p.Base.Bearing
	list := []fact{
		{"base.told", say("ground." + b.Ground), paper.Half, say("base.told-note")},
		{"base.slope", p.fig(quantity.RatioDim, float64(b.Slope)), basisMarks[p.Job.Place.Slope.Basis], say("base.slope-note")},
		{"base.slab", say("base.slab-figure", "long", p.length(g.Length), "wide", p.length(g.Width), "thick", p.length(g.Thickness)), paper.Hollow, say("base.slab-note")},
		{"base.concrete", p.volume(g.Concrete), paper.Hollow, say("base.concrete-note")},
		{"base.soil", p.bearing(g.Ground), paper.NoMark, say("base.soil-note")},
	}
	id, figure := "", p.bearing(b.Least)
	switch f := p.found("bearing", t.Tag, ""); {
	case b.Least <= 0:
		id, figure = "base.bearing-none", say("base.no-figure")
	case !b.Told():
		id = "base.bearing-untold"
	case f == nil || f.Verdict == finding.MustFix:
		id = "base.bearing-fails"
	case b.Doubt() != "":
		id = "base.bearing-doubt"
	default:
		id = "base.bearing-holds"
	}
	return append(list, fact{"base.bearing", figure, certain(b.Mark), say(id) + " " + say("bearing."+b.Water)})
}

// bearing prints a pressure on the ground as those who build on it do.
func (p *pack) bearing(pa quantity.Pressure) string { return p.fig(quantity.LoadDim, float64(pa)) }

// certain is the mark of a catalogue figure: checked at a source, seen quoted, or recalled.
func certain(c catalogue.Certainty) paper.Mark {
	switch c {
	case catalogue.Checked, catalogue.Worked:
		return paper.Full
	case catalogue.Secondary:
		return paper.Half
	}
	return paper.Hollow
}

// plain is a table of labels, figures and notes.
func (p *pack) plain(list []fact) paper.Table {
	var rows [][]paper.Cell
	for _, l := range list {
		rows = append(rows, []paper.Cell{cell(say(l.id)), {Text: l.figure, Style: paper.Strong, Mark: l.mark}, {Text: l.note, Style: paper.Small}})
	}
	return paper.Table{Cols: []paper.Col{{Width: 48}, {Width: 44}, {Share: 1}}, Rows: rows, Gap: 0.7, Pad: 0.4}
}

func (p *pack) baseArgs(t *base.Tank) []string {
	g := &t.Ground
	return []string{
		"long", p.length(g.Length), "wide", p.length(g.Width), "thick", p.length(g.Thickness), "over", p.length((g.Width - t.Row.Diameter) / 2),
		"dip", p.guess(quantity.LengthDim, 0.005), "edge", p.guess(quantity.LengthDim, 1),
		"bed", p.guess(quantity.LengthDim, 0.1), "warm", p.fig(quantity.TemperatureDim, 10),
		"mass", p.mass(t.Row.Mass), "stores", p.low(assembly.Store),
	}
}

// ticks is a list of boxes; a step's message is the prefix and its id.
func (p *pack) ticks(prefix string, steps []step, args ...string) paper.Table {
	var rows [][]paper.Cell
	for _, s := range steps {
		if !s.on {
			continue
		}
		who := ""
		if s.who != "" {
			who = say("build.who." + s.who)
		}
		rows = append(rows, []paper.Cell{tick, cell(say(prefix+"."+s.id, args...)), {Text: who, Style: paper.SmallStrong}})
	}
	return paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 26}}, Rows: rows, Gap: 0.7, Pad: 0.4}
}

// stops is the list of what ends the work until an engineer has looked; what the job
// already says is there stands in bold.
func (p *pack) stops() paper.Table {
	b := &p.Base.Bearing
	bad := p.found("bearing", p.Base.Stores().Tag, "")
	here := map[string]bool{
		"platform": p.aloft() || p.lifted(), "roof": p.aloft() && p.Job.Access.Place == "roof",
		"clay":  b.Ground == "soft-clay",
		"fill":  b.Ground == "made-ground",
		"slope": float64(b.Slope) > b.Steep,
		"soft":  bad != nil && bad.Verdict == finding.MustFix,
	}
	var rows [][]paper.Cell
	list := []string{"clay", "fill", "peat", "slope", "platform", "roof", "edge", "water", "soft"}
	for i := 0; i < len(list); i += 2 {
		row := make([]paper.Cell, 2)
		for side := range row {
			if i+side < len(list) {
				row[side] = p.stopCell(list[i+side], here[list[i+side]])
			}
		}
		rows = append(rows, row)
	}
	return paper.Table{Cols: []paper.Col{{Share: 1}, {Share: 1}}, Rows: rows, Gap: 1, Pad: 0.4}
}

func (p *pack) stopCell(id string, here bool) paper.Cell {
	c := paper.Cell{Text: say("base.stop."+id, "slope", p.ratio(quantity.Ratio(p.Base.Bearing.Steep)), "high", p.guess(quantity.LengthDim, 0.3)), Mark: paper.Tick}
	if here {
		c.Text, c.Style = say("base.stop.here", "what", c.Text), paper.Strong
	}
	return c
}
