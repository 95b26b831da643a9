package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/power"
	"tideover/internal/quantity"
)

// ask is one thing the electrician is asked for.
type ask struct {
	id     string
	figure string
	mark   paper.Mark
	on     bool
}

// electric is the sheet that goes to the electrician: what the pump takes, what guards
// it, what an inverter would have to carry. The wiring itself is theirs.
func (p *pack) electric() []paper.Block {
	pump, made := p.pump()
	if pump == nil {
		return []paper.Block{para(say("electric.none")), deferral()}
	}
	b := []paper.Block{para(say("electric.how", "pump", p.tags(assembly.Pump), "words", made.Words)), p.caution("caution.power")}
	e := p.Power
	if e == nil || e.Motor == nil && e.Lacks == "power.voltage" {
		b = append(b, para(say("electric.unknown")))
		return append(b, deferral())
	}
	if e.Motor == nil {
		b = append(b, para(say("electric.plate-first")))
	}
	b = append(b, p.asks("electric.circuit", p.circuit(e))...)
	b = append(b, p.asks("electric.guard", p.guards())...)
	if p.Job.Power.Battery == job.Wanted || p.Job.Power.Battery == job.Yes {
		b = append(b, p.asks("electric.inverter", p.inverter(e))...)
	}
	sums := e.Calc
	b = append(b, small(say("electric.marks")), paper.Fields{Columns: 3, Gap: 3, Labels: []string{
		say("electric.plate"), say("electric.breaker"), say("electric.rcd-fitted"),
		say("electric.name"), say("electric.certificate"), say("blank.date"),
	}})
	return append(append(b, p.working(sums)...), deferral())
}

// pump is the pump part and its catalogue row, or nil.
func (p *pack) pump() (*assembly.Part, catalogue.Pump) {
	for _, i := range p.Assembly.Of(assembly.Pump) {
		if row, ok := p.Assembly.Parts[i].Row.(catalogue.Pump); ok {
			return &p.Assembly.Parts[i], row
		}
	}
	return nil, catalogue.Pump{}
}

// several reports whether pumps stand side by side.
func (p *pack) several() bool { return len(p.Assembly.Sets) > 1 }

// soft reports whether a speed control starts the pump.

func (p *pack) circuit(e *power.Result) []ask {
	volts, together := quantity.Of(e.Volts.V), e.Together > 1
	mark := basisMarks[e.Volts.Basis]
	list := []ask{
		{"electric.volts", quantity.Format(volts, p.sys), mark, !p.several()},
		{"electric.volts-each", quantity.Format(volts, p.sys), mark, p.several()},
	}
	from := paper.Hollow
	if e.Plate.V > 0 {
		from = basisMarks[e.Plate.Basis]
	}
	if m := e.Motor; m != nil {
		list = append(list,
			ask{"electric.running", p.range2(quantity.CurrentDim, float64(m.Least), float64(m.Running)), from, true},
			ask{"electric.starting", p.upTo(quantity.CurrentDim, float64(m.Starting)), from, true},
			ask{"electric.cable", p.about(quantity.CurrentDim, float64(m.Circuit)), from, true},
			ask{"electric.all", p.about(quantity.CurrentDim, float64(m.All)), from, together},
			ask{"electric.last-start", p.upTo(quantity.CurrentDim, float64(m.LastStart)), from, together},
			ask{"electric.feed", p.about(quantity.CurrentDim, float64(m.Feed)), from, together})
	} else {
		list = append(list, ask{"electric.unjudged", say("verdict.not-judged"), paper.NoMark, true})
	}
	return append(list,
		ask{"electric.one-at-once", p.tags(assembly.Pump), paper.NoMark, p.several() && !together},
		ask{"electric.take-turns", p.tags(assembly.Pump), paper.NoMark, p.several()})
}

func (p *pack) guards() []ask {
	control := p.Job.Choices.Control
	if control == "" {
		control = "pressure-switch"
	}
	lock, level, alarm := p.tagsAs(assembly.AsLockOut), p.tagsAs(assembly.AsLevelSwitch), p.tagsAs(assembly.AsLevelAlarm)
	dry := ""
	if p.Store != nil && level != "" {
		dry = level + ": " + say("electric.extra-low", "voltage", p.fig(quantity.VoltageDim, 24)) + "; " + say("electric.low-float", "cover", p.fig(quantity.LengthDim, float64(p.Store.Cover)))
	}
	return []ask{
		{"electric.rcd." + control, say("electric.rcd"), paper.NoMark, true},
		{"electric.isolator", "", paper.NoMark, true},
		{"electric.dry", dry, paper.NoMark, dry != ""},
		{"electric.dry-none", "", paper.NoMark, p.stored() && level == ""},
		{"electric.alarm", alarm + ": " + say("electric.extra-low", "voltage", p.fig(quantity.VoltageDim, 24)), paper.NoMark, alarm != ""},
		{"electric.inlet", p.bar(), paper.NoMark, !p.stored()},
		{"electric.run-time", "", paper.NoMark, p.stored()},
		{"electric.lock", lock, paper.NoMark, p.lockOut() != ""},
		{"electric.outdoors", say("electric.splash"), paper.NoMark, true},
		{"electric.earth", "", paper.NoMark, true},
		{"electric.generator", "", paper.NoMark, true},
	}
}

// inverter is what a battery's inverter has to carry, and how big a battery one cut asks.
func (p *pack) inverter(e *power.Result) []ask {
	var rows []ask
	if m := e.Motor; m != nil {
		rows = append(rows, ask{"electric.carries", p.voltAmps(m.Carries), paper.Hollow, true},
			ask{"electric.surges", p.voltAmps(m.Surges), paper.Hollow, true})
	} else {
		rows = append(rows, ask{"electric.inverter-unjudged", say("verdict.not-judged"), paper.NoMark, true})
	}
	return append(rows,
		ask{"electric.sine", "", paper.NoMark, true},
		ask{"electric.battery", say("electric.batteries",
			"lead", p.range2(quantity.EnergyDim, e.Lead.Least, e.Lead.Most), "lithium", p.range2(quantity.EnergyDim, e.Lithium.Least, e.Lithium.Most)), paper.Hollow, e.Lead.Most > 0},
		ask{"electric.island", "", paper.NoMark, true}, ask{"electric.place", "", paper.NoMark, true})
}

// asks is one table of things asked for, with boxes to tick.
func (p *pack) asks(title string, list []ask) []paper.Block {
	var longest quantity.Time
	if p.Power != nil {
		longest = p.Power.Cut
	}
	var rows [][]paper.Cell
	for _, a := range list {
		if a.on {
			rows = append(rows, []paper.Cell{tick, cell(say(a.id, "cut", p.time(longest), "share", p.ratio(power.CableShare),
				"voltage", p.fig(quantity.VoltageDim, 24))), {Text: a.figure, Style: paper.Strong, Mark: a.mark}})
		}
	}
	return []paper.Block{heading(title), paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 46}}, Rows: rows, Gap: 0.7, Pad: 0.45}}
}

// about prints a rough figure with two digits.
func (p *pack) about(dim quantity.Dim, si float64) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Half: 0.08 * si, Basis: quantity.Assumed}, p.sys)
}

// upTo prints a rough upper end.
func (p *pack) upTo(dim quantity.Dim, si float64) string {
	return say("up-to", "high", p.about(dim, si))
}

func (p *pack) range2(dim quantity.Dim, low, high float64) string {
	return say("band", "low", p.about(dim, low), "high", p.about(dim, high))
}

// voltAmps prints apparent power: the same number as watts, named as electricians do.
func (p *pack) voltAmps(w quantity.Power) string {
	number, unit := quantity.Shown(quantity.Quantity{Dim: quantity.PowerDim, SI: float64(w), Half: 0.05 * float64(w), Basis: quantity.Assumed}, quantity.Metric)
	return number + " " + strings.Replace(unit, "W", "VA", 1)
}

// working keeps a sheet's sums for the appendix and says on the sheet where they stand.
func (p *pack) working(steps []calc.Step) []paper.Block {
	if len(steps) == 0 {
		return nil
	}
	p.sums = append(p.sums, sum{p.making, steps})
	return []paper.Block{small(say("working"))}
}

// sum is the calculation behind the figures of one sheet.
type sum struct {
	sheet string
	steps []calc.Step
}

// unfoldSums are the calculations of the other sheets, each under its sheet's name.
func (p *pack) unfoldSums() []paper.Block {
	var list []paper.Block
	for _, s := range p.sums {
		list = append(list, paper.Text{Style: paper.Strong, Text: say("sheet." + s.sheet + ".name"), Gap: 3, Keep: true})
		list = append(list, p.steps(s.steps)...)
	}
	if len(list) == 0 {
		return nil
	}
	return []paper.Block{heading("findings.sums"), paper.Columns{N: 2, Blocks: list, Gap: 1}}
}
