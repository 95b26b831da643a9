package pack

import (
	"tideover/internal/catalogue"
	"tideover/internal/consent"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// aloft reports whether the store stands on something that somebody has to build or
// reckon: a stand, a roof, an upper floor.
func (p *pack) aloft() bool { return p.stored() && consent.Raised(p.Job) }

// stand is the sheet Base and place of a store that is raised: what an engineer is told and
// asked, for stand, roof and footing are theirs; and what is looked to when they have
// signed.
func (p *pack) stand(row catalogue.Store, g sitework.Base) []paper.Block {
	all := sitework.Raised(p.onGround(), p.Store.Mass, row.Diameter, row.Height)
	b := []paper.Block{p.caution("caution.structure"), p.caution("caution.height"),
		heading("base.load"), p.plain(p.loads(row, g)),
		heading("base.stand"), p.plain(p.aloftFacts(row, g, all)),
		heading("base.make"), p.ticks("base.make", []step{
			{"signed", "", true}, {"deck", "", true}, {"level", "", true}, {"links-deck", "", p.onGround() > 1},
			{"drain-high", "", true}, {"reach", "", true}, {"strap", "", true}, {"hoist", "two", true},
		}, p.baseArgs(row, g)...),
	}
	upper, more := p.headerStand()
	b = append(b, upper...)
	b = append(b, paper.Banner{Style: paper.Strong, Text: say("base.stop"), Gap: 4, Keep: true}, p.stops(g),
		paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("base.levelled"), say("base.signed"), say("base.filled"), say("blank.fitter"), say("base.engineer"), say("blank.date")}})
	return append(append(b, p.working(append(append(g.Calc.Steps[:2:2], all.Calc.Steps...), more...))...), deferral())
}

// aloftFacts are what an engineer starts from.
func (p *pack) aloftFacts(row catalogue.Store, g sitework.Base, all sitework.Load) []fact {
	j, mark := p.Job, certain(row.Certainty)
	list := []fact{
		{"base.up", p.length(j.Choices.StoreLevel.V - j.Home.Level.V), basisMarks[j.Choices.StoreLevel.Basis], say("base.up-note")},
		{"base.all", p.mass(all.Mass), mark, say("base.all-note")},
		{"base.side", p.fig(quantity.AreaDim, float64(all.Side)), mark, say("base.side-note")},
		{"base.told", sayOr("ground."+orWord(j.Place.Ground, "unknown"), j.Place.Ground), paper.Half, say("base.told-stand")},
	}
	if told := j.Access.Floor; told.V > 0 {
		holds := say("base.floor-holds")
		if g.Store > told.V {
			holds = say("base.floor-fails")
		}
		list = append(list, fact{"base.floor", p.bearing(float64(told.V)), basisMarks[told.Basis], holds})
	}
	return list
}
