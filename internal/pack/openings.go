package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
)

// openings is how each part that upkeep opens is shut off and let off first: the same acts
// that were replayed.
func (p *pack) openings() []paper.Block {
	t := paper.Table{Gap: 1, Pad: 0.4, Cols: []paper.Col{{Width: 24}, {Share: 1}, {Share: 1}},
		Head: []string{say("upkeep.open.part"), say("upkeep.open.shut"), say("upkeep.open.let-off")}}
	for _, l := range p.hands().Openings() {
		s := l.Steps[0]
		part := p.Assembly.Parts[s.Acts[0].Part].Tag
		row := []paper.Cell{strong(part), cell(say("upkeep.open.none")), cell(say("upkeep.open.nothing"))}
		switch s.ID {
		case "valve":
			row[1] = cell(say("upkeep.open.own", "valve", p.Assembly.Parts[s.Acts[1].Part].Tag))
		case "do":
			row[1], row[2] = p.letOff(s)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []paper.Block{heading("upkeep.open"), small(say("upkeep.open.how", "pump-first", p.ofPump("upkeep.open.pump-first"), "pump-last", p.ofPump("upkeep.open.pump-last"))), t}
}

// letOff reads off a step which handles are shut and where the pressure is let off before the
// part shows zero.
func (p *pack) letOff(s procedure.Step) (shut, at paper.Cell) {
	var handles, mouths []string
	for _, a := range s.Acts[1:] {
		if a.Do == procedure.SeeZero {
			break
		}
		if a.Do != procedure.Handle {
			continue
		}
		switch part := &p.Assembly.Parts[a.Part]; {
		case part.Kind == assembly.FloatValve:
			mouths = append(mouths, part.Tag+" "+say("upkeep.open.held"))
		case part.Kind == assembly.Outlet || part.Kind == assembly.Drain:
			mouths = append(mouths, part.Tag)
		default:
			handles = append(handles, part.Tag)
		}
	}
	return cell(tagsOr(handles)), cell(strings.Join(mouths, ", "))
}

// onStoreTurns are the handles that turn the home to the store for a while.
func (p *pack) onStoreTurns() string {
	var list []string
	for _, a := range p.hands().Routine() {
		if a.Do == procedure.Handle {
			list = append(list, p.turned(a))
		}
	}
	if len(list) == 0 {
		return upperFirst(say("commission.as-usual"))
	}
	return upperFirst(strings.Join(list, ", "))
}
