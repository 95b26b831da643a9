package pack

import (
	"tideover/internal/base"
	"tideover/internal/consent"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// aloft reports whether the store stands on something that somebody has to build or
// reckon: a stand, a roof, an upper floor.
func (p *pack) aloft() bool { return p.stored() && consent.Raised(p.Job) }

// stand is the sheet Base and place of a store that is raised: what an engineer is told and
// asked, for stand, roof and footing are theirs; and what is looked to when they have
// signed.
func (p *pack) stand(t *base.Tank) []paper.Block {
	b := []paper.Block{p.caution("caution.structure"), p.caution("caution.height"),
		heading("base.load"), p.plain(p.loads(t)),
		heading("base.stand"), p.plain(p.aloftFacts(t)),
		heading("base.make"), p.ticks("base.make", []step{
			{"signed", "", true}, {"deck", "", true}, {"level", "", true}, {"links-deck", "", t.Count > 1},
			{"drain-high", "", true}, {"reach", "", true}, {"strap", "", true}, {"hoist", "two", true},
		}, p.baseArgs(t)...),
	}
	upper, more := p.headerStand()
	b = append(b, upper...)
	b = append(b, paper.Banner{Style: paper.Strong, Text: say("base.stop"), Gap: 4, Keep: true}, p.stops(),
		paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("base.levelled"), say("base.signed"), say("base.filled"), say("blank.fitter"), say("base.engineer"), say("blank.date")}})
	return append(append(b, p.working(append(append(t.Ground.Calc.Steps[:t.Ground.Under:t.Ground.Under], t.Raised.Calc.Steps...), more...))...), deferral())
}

// aloftFacts are what an engineer starts from.
func (p *pack) aloftFacts(t *base.Tank) []fact {
	j, mark := p.Job, certain(t.Row.Certainty)
	list := []fact{
		{"base.up", p.length(j.Choices.StoreLevel.V - j.Home.Level.V), basisMarks[j.Choices.StoreLevel.Basis], say("base.up-note")},
		{"base.all", p.mass(t.Raised.Mass), mark, say("base.all-note")},
		{"base.side", p.fig(quantity.AreaDim, float64(t.Raised.Side)), mark, say("base.side-note")},
		{"base.told", say("ground." + p.Base.Bearing.Ground), paper.Half, say("base.told-stand")},
	}
	return append(list, p.floorFact(t)...)
}
