package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
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
	if p.Base == nil || p.Base.Header() == nil {
		return nil, nil
	}
	t := p.Base.Header()
	j, row, mark := p.Job, &t.Row, certain(t.Row.Certainty)
	facts := append([]fact{
		{"base.up", p.length(j.Choices.HeaderLevel.V - j.Home.Level.V), basisMarks[j.Choices.HeaderLevel.Basis], say("base.up-note")},
		{"base.mass", p.mass(t.Mass), mark, say("base.all-note")},
		{"base.size", say("base.round", "diameter", p.length(row.Diameter), "height", p.length(row.Height)), mark, say("base.size-note")},
		{"base.under", p.bearing(t.Ground.Store), mark, say("base.under-deck")},
		{"base.side", p.fig(quantity.AreaDim, float64(t.Raised.Side)), mark, say("base.side-note")},
	}, p.floorFact(t)...)
	b := []paper.Block{heading("base.header"), p.caution("caution.height"), p.plain(facts),
		p.ticks("base.make", []step{{"signed", "", true}, {"deck", "", true}, {"drain-high", "", true}, {"reach", "", true}, {"strap", "", true}, {"hoist", "two", true}},
			"mass", p.mass(row.Mass), "stores", p.headerTag())}
	n := t.Ground.Under
	return b, append(t.Ground.Calc.Steps[:n:n], t.Raised.Calc.Steps...)
}
