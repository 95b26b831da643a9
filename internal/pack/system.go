package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
	"tideover/internal/service"
)

// schematic is the drawing of the assembly in one of its settings, with the water as it
// moves at the simultaneous draw-off of the first normal case in that setting.
func (p *pack) schematic(setting string) *drawing.Scene {
	v := drawing.View{Job: oneLine(p.Job.Name), Setting: setting, Units: p.sys}
	if s := p.Assembly.Setting(setting); s != nil {
		v.Positions = s.Positions
	}
	if m := p.shownMode(setting); m != nil {
		v.Parts = p.standing(m)
	}
	return drawing.Schematic(p.Assembly, v)
}

// shownMode is the normal case a setting is drawn in, or nil.
func (p *pack) shownMode(setting string) *service.Mode {
	if p.Service == nil {
		return nil
	}
	for i := range p.Service.Modes {
		if m := &p.Service.Modes[i]; m.Setting == setting && len(m.Velocity) > 0 {
			return m
		}
	}
	return nil
}

// standing says for each part what water it carries: that of its leg, where a run of the
// leg has flow; a part of a leg without flow stands still.
func (p *pack) standing(m *service.Mode) map[string]drawing.Standing {
	legs := map[assembly.Role]drawing.Standing{}
	runs := map[string]drawing.Standing{}
	for _, s := range m.Velocity {
		i := p.Assembly.Index(s.Run)
		if i < 0 || s.Flow == 0 {
			continue
		}
		st := drawing.Standing{Water: p.water(m, p.Assembly.Parts[i].Role), Flow: s.Flow, Speed: s.Velocity}
		runs[s.Run] = st
		if old := legs[p.Assembly.Parts[i].Role]; st.Flow > old.Flow {
			legs[p.Assembly.Parts[i].Role] = st
		}
	}
	parts := map[string]drawing.Standing{}
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		st, moving := runs[part.Tag]
		if !moving && part.Kind != assembly.Run && part.Role != assembly.HomeRole {
			st, moving = legs[part.Role]
		}
		if !moving {
			st = drawing.Standing{Water: drawing.StandsThere}
		}
		parts[part.Tag] = st
	}
	return parts
}

// water says whose water a moving leg carries.
func (p *pack) water(m *service.Mode, r assembly.Role) drawing.Water {
	switch {
	case r == assembly.Boost || r == assembly.Storage, r == assembly.HomeRole && m.Pumped:
		return drawing.FromStore
	}
	return drawing.FromMain
}

// system shows what is built: the schematic of the normal setting with its legend, and
// the list of tagged parts.
func (p *pack) system() []paper.Block {
	var b []paper.Block
	if len(p.Assembly.Settings) > 0 {
		normal := p.Assembly.Settings[0].Name
		text := say("system.shown", "setting", settingName(normal))
		if m := p.shownMode(normal); m != nil {
			text += " " + say("system.drawn", "mode", sayOr("mode."+m.ID, m.ID), "demand", p.flow(m.Demand))
		}
		b = append(b, para(text))
		drawn, key := apart(p.schematic(normal))
		b = append(b, pieces(key, 1.15, false)...)
		b = append(b, p.parts()...)
		b = append(b, deferral())
		return append(b, pieces(drawn, 1.6, true)...)
	}
	return append(p.parts(), deferral())
}

// parts lists what carries a tag. Tees come with their pipes; the home's own pipes stand
// on the survey.
func (p *pack) parts() []paper.Block {
	var rows [][]paper.Cell
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		outlet := part.Kind == assembly.Outlet || part.Name == "part.outlet-run"
		if part.Tag != "" && part.Kind != assembly.Tee && !(outlet && part.Kept) {
			rows = append(rows, p.partRow(part))
		}
	}
	return []paper.Block{heading("system.parts"), paper.Table{
		Cols: []paper.Col{{Width: 14}, {Share: 1.1}, {Share: 1.2}, {Width: 30}, {Width: 14, Right: true}},
		Head: []string{say("valves.tag"), say("valves.what"), say("system.made"), say("system.size"), say("system.long")},
		Rows: rows, Gap: 1, Pad: 0.6,
	}}
}

func (p *pack) partRow(part *assembly.Part) []paper.Cell {
	made, long := "", ""
	if part.Row != nil {
		made = part.Row.Ref().Words
	}
	if part.Kept {
		made = strings.TrimSpace(made + " " + say("system.kept"))
	}
	if part.Length > 0 {
		long = p.length(part.Length)
	}
	return []paper.Cell{strong(part.Tag), cell(partName(part)), cell(made), cell(part.Size.String()), cell(long)}
}
