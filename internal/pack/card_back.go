package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/commission"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
)

// cardBack is the other side of the owner's card: what there is time to read. Numbered
// steps, in two columns.
func (p *pack) cardBack() []paper.Block {
	var b []paper.Block
	if p.Job.Place.Frost != job.No {
		b = append(b, p.numberedList(p.hands().Frost().List)...)
		if thaw := p.hands().Thaw(); len(thaw.Steps) > 0 {
			b = append(b, p.numberedList(thaw)...)
		}
	}
	if p.pumped() {
		b = append(b, p.numberedList(p.hands().Repair())...)
	}
	b = append(b, p.numberedList(p.hands().Return())...)
	b = append(b, p.sentences("card.notices", "boil", "drink", "use", "after")...)
	if p.stored() {
		b = append(b, p.sentences("card.chlorine", "drink", "dose", "safe")...)
	}
	b = append(b, p.sentences("card.hot", "do")...)
	if p.stored() {
		b = append(b, para(say("card.drown")))
	}
	return []paper.Block{paper.Columns{N: 2, Blocks: b}, deferral()}
}

// numberedList is a list of steps to be done in their order.
func (p *pack) numberedList(l procedure.List) []paper.Block {
	b := []paper.Block{paper.Text{Style: paper.CardStrong, Text: say(l.ID), Gap: 4, Keep: true}}
	for i, s := range l.Steps {
		b = append(b, para(say("valves.turn", "n", number(float64(i+1)), "move", p.cardStep(l, s))))
	}
	return b
}

// cardStep is a step's sentence; what a drain-down leaves full is named, where anything is.
func (p *pack) cardStep(l procedure.List, s procedure.Step) string {
	if l.ID == "card.frost" && s.ID == "rest" && p.stillFull() == "" {
		return say("card.frost.rest-none")
	}
	if l.ID == "card.return" && s.ID == "open" {
		return p.awayBack()
	}
	if l.ID == "card.return" && s.ID == "through" {
		return p.runThrough(s)
	}
	if l.ID == "card.return" && s.ID == "on" && p.hands().Rests() {
		s.ID = "on-rests"
	}
	return p.stepText(l, s)
}

// runThrough says how the store's new water is run through the pump to a tap: the handles there
// before the tap, and that they go back after it.
func (p *pack) runThrough(s procedure.Step) string {
	var there []string
	for _, a := range s.Acts {
		if a.Do != procedure.Handle {
			continue
		}
		if part := &p.Assembly.Parts[a.Part]; part.Kind == assembly.Outlet {
			return say("card.return.through", append(p.handFigures(), "there", upperFirst(strings.Join(there, ", ")), "tap", part.Tag)...)
		}
		there = append(there, p.turned(a))
	}
	return ""
}

// awayBack are the handles that go back to normal from the setting for a home left alone.
func (p *pack) awayBack() string {
	away := p.Assembly.Setting("away")
	if away == nil {
		return say("card.return.stop", "stop", p.stop())
	}
	var list []string
	for _, t := range p.turns(away, &p.Assembly.Settings[0]) {
		list = append(list, say("card.turn", "tag", t.tag, "to", sayOr("turn."+t.to, t.to)))
	}
	return say("card.return.open", "turns", strings.Join(list, ", "))
}

// sentences are a heading and sentences below it.
func (p *pack) sentences(id string, parts ...string) []paper.Block {
	b := []paper.Block{paper.Text{Style: paper.CardStrong, Text: say(id), Gap: 4, Keep: true}}
	for _, part := range parts {
		b = append(b, para(say(id+"."+part, p.handFigures()...)))
	}
	return b
}

// firstWater says how much of it there is at the least; nothing where nobody knows.
func (p *pack) firstWater() string {
	v := commission.FirstWater(p.Assembly, p.Job.Assumed)
	if v <= 0 {
		return ""
	}
	return say("card.main-off.first", "litres", quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: float64(v), Half: 0.2 * float64(v), Basis: quantity.Assumed}, p.sys))
}

// cardDirty says where the first dirty water of a main that is back is let run.
func (p *pack) cardDirty() string {
	switch feed := p.hands().FeedValve(); {
	case len(p.Assembly.Of(assembly.FloatValve)) == 0:
		return ""
	case feed < 0:
		return say("card.main-off.dirty-bare")
	case p.hands().FlushAt() < 0:
		return say("card.main-off.dirty-none", "feed", p.feed())
	}
	return say("card.main-off.dirty", "feed", p.feed(), "flush-at", p.flushAt(), "first", p.firstWater())
}
