package pack

import (
	"fmt"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
	"tideover/internal/proof"
)

// sequence is the proven order of movements from one setting to another; nil where none
// was looked for or it could not be judged.
func (p *pack) sequence(from, to *assembly.Setting) *proof.Sequence {
	if p.Appraisal == nil || p.Proof == nil {
		return nil
	}
	for i := range p.Proof.Sequences {
		if s := &p.Proof.Sequences[i]; s.From == from.Name && s.To == to.Name && s.Judged {
			return s
		}
	}
	return nil
}

// proven lists the handles of a proven order.
func (p *pack) proven(from, to *assembly.Setting) (list []turn, ok bool) {
	s := p.sequence(from, to)
	if s == nil {
		return nil, false
	}
	for _, m := range s.Moves {
		if m.Act == proof.Turn && p.Assembly.Index(m.Tag) >= 0 {
			list = append(list, turn{m.Tag, m.To})
		}
	}
	return list, true
}

// movements says each movement from one setting to another: handles, the pump's plug, and
// the look at the taps.
func (p *pack) movements(from, to *assembly.Setting) []string {
	var list []string
	s := p.sequence(from, to)
	if s == nil {
		for _, t := range p.turns(from, to) {
			list = append(list, say("valves.move", "tag", t.tag, "to", strings.ToUpper(positionName(t.to))))
		}
		return list
	}
	for _, m := range s.Moves {
		text := upperFirst(m.Tell())
		if m.Act == proof.Turn {
			text = say("valves.move", "tag", m.Tag, "to", strings.ToUpper(positionName(m.To)))
		}
		list = append(list, text)
	}
	return list
}

// blocked says which promise no order keeps on the way, there or back.
func (p *pack) blocked(from, to *assembly.Setting) []paper.Block {
	var b []paper.Block
	for _, s := range []*proof.Sequence{p.sequence(from, to), p.sequence(to, from)} {
		if s == nil {
			continue
		}
		for i := range s.Blocks {
			b = append(b, small(s.Blocks[i].Tell()))
		}
	}
	return b
}

// cardMoves says the movements to a named setting on the owner's card.
func (p *pack) cardMoves(to *assembly.Setting) []string {
	s := p.sequence(&p.Assembly.Settings[0], to)
	if s == nil {
		return nil
	}
	var list []string
	for _, m := range s.Moves {
		if m.Act == proof.Turn {
			list = append(list, say("card.turn", "tag", m.Tag, "to", sayOr("turn."+m.To, m.To)))
		} else {
			list = append(list, m.Tell())
		}
	}
	return list
}

// numbered is one movement of a tick list.
func numbered(i int, text string) paper.Cell {
	return paper.Cell{Mark: paper.Tick, Style: paper.Small, Text: say("valves.turn", "n", fmt.Sprint(i+1), "move", text)}
}

// untried reports whether a list of movements from the normal setting or back to it was never tried: the
// proof was cut short or left out. Where one handle moves there is no order to try.
func (p *pack) untried(to *assembly.Setting) bool {
	from := &p.Assembly.Settings[0]
	return len(p.turns(from, to)) > 1 && (p.sequence(from, to) == nil || p.sequence(to, from) == nil)
}

// anyUntried reports whether a list of movements to any named setting was never tried.
func (p *pack) anyUntried() bool {
	for i := range p.Assembly.Settings {
		if i > 0 && p.untried(&p.Assembly.Settings[i]) {
			return true
		}
	}
	return false
}

// tellUntried is a caution that nobody tried the order of handles, with the pump out of the way where there is one.
func (p *pack) tellUntried() string {
	if p.pumped() {
		return say("valves.untried")
	}
	return say("valves.untried.still")
}
