package pack

import (
	"tideover/internal/disinfect"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// disinfect is the dose for this store and this bottle, and how to use it safely.
func (p *pack) disinfect() []paper.Block {
	d := p.Disinfect
	if d == nil && !p.stored() {
		return []paper.Block{para(say("disinfect.bare")), deferral()}
	}
	if d == nil {
		return []paper.Block{para(say("disinfect.none")), deferral()}
	}
	b := []paper.Block{
		paper.Banner{Style: paper.Strong, Text: say("disinfect.nobody"), Gap: 0},
		paper.Text{Style: paper.Figure, Text: p.toPour(d, "headline"), Gap: 4, Keep: true},
		para(p.product(d)),
		para(say("disinfect.age."+d.AgeState, "dose", p.dose(d.Regime.Dose), "bought", d.Bottle.Bought, "age", p.time(d.Age), "left", p.ratio(d.Left), "label", p.atLabel(d), "warm", p.fig(quantity.TemperatureDim, 25))),
		para(say("disinfect.into", "dose", p.dose(d.Regime.Dose), "water", p.volume(d.Water),
			"store", p.volume(d.Store), "pipes", p.volume(d.Pipes), "chlorine", p.mass(d.Chlorine))),
		p.caution("caution.chlorine"),
		p.caution("caution.drown"),
		para(say("disinfect.strips", p.handFigures()...)),
	}
	b = append(b, p.disinfectSteps(d)...)
	b = append(b, heading("disinfect.readings"),
		paper.Fields{Columns: 3, Gap: 1.5, Labels: []string{
			say("disinfect.start"), say("disinfect.strip-start", "dose", p.dose(d.Regime.Dose)), say("disinfect.outlets"),
			say("disinfect.end"), p.stripEnd(d), say("disinfect.strip-last"),
			say("blank.name"), say("blank.date"), say("disinfect.sample"),
		}},
		small(p.regimeFrom(d)),
		small(say("disinfect.density")))
	b = append(b, p.working(d.Calc)...)
	return append(b, deferral())
}

// toPour is what to pour, under the headline or in the step; where the bottle is refused it
// says of which bottle instead.
func (p *pack) toPour(d *disinfect.Dose, where string) string {
	if d.AgeState == disinfect.AgeOld {
		return say("disinfect.fresh."+where, "strength", p.ratio(d.Bottle.Strength), "product", p.measureOut(d))
	}
	return p.measureOut(d)
}

// regimeFrom says whose dose and time it is, what else the same clause allows, and who need
// not do it there.
func (p *pack) regimeFrom(d *disinfect.Dose) string {
	text := say("disinfect.regime", "dose", p.dose(d.Regime.Dose), "hold", p.time(d.Regime.Hold), "source", p.ruled(d.Regime.Source, d.Regime.Standing))
	if dose, hold := p.Profile.Rule("disinfect-alt-dose"), p.Profile.Rule("disinfect-alt-time"); dose.Set && hold.Set {
		text += " " + say("disinfect.alternative", "dose", p.dose(quantity.Dose(dose.Value)), "hold", p.time(quantity.Time(hold.Value)))
	}
	if exempt := p.Profile.Rule("disinfect-exempt"); exempt.Set {
		text += " " + say("disinfect.exempt."+exempt.Text, "source", p.ruled(exempt.Cited()))
	}
	return text
}

// stripEnd names the reading at the end; without a figure, some chlorine must show.
func (p *pack) stripEnd(d *disinfect.Dose) string {
	if d.Regime.Least == 0 {
		return say("disinfect.strip-end.any")
	}
	return say("disinfect.strip-end", "least", p.dose(d.Regime.Least))
}

// measureOut is the one figure: what to pour or weigh.
func (p *pack) measureOut(d *disinfect.Dose) string {
	if d.Granules {
		return say("disinfect.weigh", "mass", p.mass(d.Product))
	}
	return say("disinfect.pour", "volume", p.volume(d.Liquid), "mass", p.mass(d.Product))
}

func (p *pack) atLabel(d *disinfect.Dose) string {
	if d.Granules {
		return p.mass(d.LabelMass)
	}
	return p.volume(d.LabelLiquid)
}

// product names the bottle as its label does.
func (p *pack) product(d *disinfect.Dose) string {
	id := "disinfect.liquid"
	if d.Granules {
		id = "disinfect.granules"
	}
	return say(id, "strength", p.ratio(d.Bottle.Strength), "convention", say("disinfect."+d.Bottle.Convention))
}

// disinfectSteps are what is dosed before the tie-in, and what is wiped at it.
func (p *pack) disinfectSteps(d *disinfect.Dose) []paper.Block {
	var b []paper.Block
	for _, l := range p.hands().Disinfect() {
		b = append(b, heading(l.ID))
		var rows [][]paper.Cell
		for _, s := range l.Steps {
			args := append(append(p.stepArgs(), p.actArgs(s)...), p.doseArgs(d)...)
			id := l.ID + "." + s.ID
			if s.ID == "test" && d.Regime.Least == 0 {
				id = l.ID + ".test-any"
			}
			rows = append(rows, []paper.Cell{tick, cell(say(id, args...))})
		}
		b = append(b, paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}}, Rows: rows, Gap: 1, Pad: 0.5})
	}
	return b
}

// doseArgs are the figures of a dose in a step.
func (p *pack) doseArgs(d *disinfect.Dose) []string {
	return []string{
		"product", p.toPour(d, "step"), "hold", p.time(d.Regime.Hold), "dose", p.dose(d.Regime.Dose), "least", p.dose(d.Regime.Least),
		"thiosulphate", p.mass(d.Thiosulphate), "ascorbic", p.mass(d.Ascorbic), "water", p.volume(d.Water),
		"swab-product", p.swabProduct(d), "litre", p.volume(swabBucket),
	}
}

// swabBucket is the water one line of the swabbing solution is told for. [m³]
const swabBucket = quantity.Volume(0.001)

func (p *pack) swabProduct(d *disinfect.Dose) string {
	liquid, mass := d.Swab(swabBucket)
	if d.Granules {
		return p.mass(mass)
	}
	return p.volume(liquid)
}

// drinkable is what the strip may show at most after the last flush; where the profile leaves
// it blank, no more than the main brings.
func (p *pack) drinkable() string {
	rule := p.Profile.Rule("flush-residual")
	if !rule.Set {
		return p.dose(0)
	}
	return p.dose(quantity.Dose(rule.Value))
}
