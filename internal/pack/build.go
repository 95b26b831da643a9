package pack

import (
	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
)

// step is one line of a list of boxes.
type step struct {
	id  string
	who string // "", "two", "licensed"
	on  bool   // belongs to this job
}

// build is the order of work, the tie-in last, with cautions where the hand is.
func (p *pack) build() []paper.Block {
	tie := &p.HandOver.TieIn
	b := []paper.Block{paper.Text{Style: paper.Lead, Text: say("build.off", "time", p.time(tie.Off), "double", p.time(tie.Promise)), Gap: 0},
		para(say("build.how"))}
	for _, l := range p.hands().Build(p.facts()) {
		if l.ID == "build.tie" {
			b = append(b, paper.Banner{Style: paper.Strong, Text: say("build.no-return", "time", p.time(tie.Off), "double", p.time(tie.Promise)), Gap: 5, Keep: true})
		}
		b = append(b, p.list(l, p.hazards(l.ID))...)
		if l.ID == "build.tie" {
			b = append(b, p.list(p.hands().BackOut(), nil)...)
		}
	}
	b = append(b, paper.Fields{Labels: []string{say("build.off-at"), say("build.on-at"), say("build.leaks"), say("blank.fitter"), say("blank.second"), say("blank.date")}, Columns: 3, Gap: 5})
	return append(append(b, p.working(tie.Calc)...), deferral())
}

// hazards are the cautions of one stage of the work.
func (p *pack) hazards(stage string) []string {
	switch stage {
	case "build.base":
		return p.baseHazards()
	case "build.pipes", "build.pipes-still":
		list := []string{"caution.digging", "caution.dust"}
		if p.soldered() {
			list = append(list, "caution.flame")
		}
		return list
	case "build.power":
		return []string{"caution.power"}
	case "build.prove":
		return []string{"caution.pressure"}
	case "build.tie":
		return []string{"caution.main", "caution.hot", "caution.old-work"}
	case "build.after":
		return []string{"caution.scald"}
	}
	return nil
}

// baseHazards are the cautions of setting a store.
func (p *pack) baseHazards() []string {
	if p.aloft() || p.lifted() {
		return []string{"caution.lifting", "caution.structure", "caution.height", "caution.drown"}
	}
	return []string{"caution.digging", "caution.lifting", "caution.structure", "caution.drown"}
}

// soldered reports whether any new joint is made with a flame.
func (p *pack) soldered() bool {
	for i := range p.Assembly.Parts {
		for _, port := range p.Assembly.Parts[i].Ports {
			if port.End == "solder" && !p.Assembly.Parts[i].Kept {
				return true
			}
		}
	}
	return false
}

// headerMass is what a full header tank weighs.
func (p *pack) headerMass() string {
	if p.Store == nil || p.Store.HeaderMass <= 0 {
		return ""
	}
	return p.mass(p.Store.HeaderMass)
}

func (p *pack) stores() int {
	n := 0
	for _, i := range p.Assembly.Of(assembly.Store) {
		n += max(1, p.Assembly.Parts[i].Count)
	}
	return n
}

// bar is the cut-out at the pump's inlet and where it stops the pump, or nothing.
func (p *pack) bar() string {
	if c := p.Assembly.CutOut(); c != nil {
		return say("build.bar", "tag", c.Tag, "off", p.pressure(c.Off), "on", p.pressure(c.On))
	}
	return ""
}

// lockOut is the set points of the main-side lock-out, in a sentence, or nothing.
func (p *pack) lockOut() string {
	if c := p.Assembly.LockOut(); c != nil {
		return say("build.lock", "tag", c.Tag, "on", p.pressure(c.On), "off", p.pressure(c.Off))
	}
	return ""
}

// orWords is the tags, or the words for them where the assembly has none.
func orWords(tags, id string) string {
	if tags == "" {
		return say(id)
	}
	return tags
}
