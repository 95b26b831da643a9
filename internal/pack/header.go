package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// lifted reports whether the pump lifts to a header tank.
func (p *pack) lifted() bool { return p.Assembly.Header() >= 0 }

// headerOnly reports whether the taps live on a header tank alone: no pump presses on them.
func (p *pack) headerOnly() bool { return p.lifted() && !p.Assembly.PumpServes() }

// headerTag is the tag of the header tank, or "".
func (p *pack) headerTag() string {
	if h := p.Assembly.Header(); h >= 0 {
		return p.Assembly.Parts[h].Tag
	}
	return ""
}

// low are the tags of a kind but for the header tank and its float valve: what belongs to
// the store below.
func (p *pack) low(k assembly.Kind) string { return p.tagsBut(k, false) }

// headerFloat is the tag of the header tank's float valve, or "".
func (p *pack) headerFloat() string {
	if !p.lifted() {
		return ""
	}
	return p.tagsBut(assembly.FloatValve, true)
}

func (p *pack) tagsBut(k assembly.Kind, upper bool) string {
	h := p.Assembly.Header()
	var list []string
	for _, i := range p.Assembly.Of(k) {
		if at := i; k == assembly.FloatValve {
			at = p.Assembly.Fills(i)
			if (h >= 0 && at == h) == upper {
				list = append(list, p.Assembly.Parts[i].Tag)
			}
		} else if (i == h) == upper {
			list = append(list, p.Assembly.Parts[at].Tag)
		}
	}
	return strings.Join(list, ", ")
}

// onGround is how many tanks stand below a header tank; all of them without one.
func (p *pack) onGround() int {
	if p.lifted() {
		return p.stores() - 1
	}
	return p.stores()
}

// headerStand is what an engineer is told of a header tank, under the base of the store.
func (p *pack) headerStand() ([]paper.Block, []calc.Step) {
	h := p.Assembly.Header()
	if h < 0 {
		return nil, nil
	}
	row, ok := p.Assembly.Parts[h].Row.(catalogue.Store)
	if !ok || p.Store == nil || p.Store.HeaderMass <= 0 {
		return nil, nil
	}
	j, mark := p.Job, certain(row.Certainty)
	g := sitework.Ground(row.Diameter, row.Nominal, p.Store.HeaderMass)
	all := sitework.Raised(1, p.Store.HeaderMass, row.Diameter, row.Height)
	facts := []fact{
		{"base.up", p.length(j.Choices.HeaderLevel.V - j.Home.Level.V), basisMarks[j.Choices.HeaderLevel.Basis], say("base.up-note")},
		{"base.mass", p.mass(p.Store.HeaderMass), mark, say("base.all-note")},
		{"base.size", say("base.round", "diameter", p.length(row.Diameter), "height", p.length(row.Height)), mark, say("base.size-note")},
		{"base.under", p.bearing(float64(g.Store)), mark, say("base.under-deck")},
		{"base.side", p.fig(quantity.AreaDim, float64(all.Side)), mark, say("base.side-note")},
	}
	b := []paper.Block{heading("base.header"), p.caution("caution.height"), p.plain(facts),
		p.ticks("base.make", []step{{"signed", "", true}, {"deck", "", true}, {"drain-high", "", true}, {"reach", "", true}, {"strap", "", true}, {"hoist", "two", true}},
			"mass", p.mass(row.Mass), "stores", p.headerTag())}
	return b, append(g.Calc.Steps[:2:2], all.Calc.Steps...)
}
