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

// shownMode is the normal case a setting is drawn in, or nil: the first with water
// running at the simultaneous draw-off.
func (p *pack) shownMode(setting string) *service.Mode {
	if p.Service == nil {
		return nil
	}
	for i := range p.Service.Modes {
		m := &p.Service.Modes[i]
		for j := range m.Together {
			if m.Setting == setting && m.Together[j].Flow > 0 && m.Together[j].Certified {
				return m
			}
		}
	}
	return nil
}

// standing says for each part what water it carries at the simultaneous draw-off: the
// sum of the outlets whose walk from the source passes it. What no walk passes stands
// still.
func (p *pack) standing(m *service.Mode) map[string]drawing.Standing {
	parts := map[string]drawing.Standing{}
	for i := range p.Assembly.Parts {
		parts[p.Assembly.Parts[i].Tag] = drawing.Standing{Water: drawing.StandsThere}
	}
	for i := range m.Together {
		d := &m.Together[i]
		if d.Flow > 0 && d.Certified {
			p.carry(d, parts)
		}
	}
	for _, s := range m.Velocity {
		if st, passed := parts[s.Run]; passed && st.Flow > 0 {
			st.Speed = s.Velocity
			parts[s.Run] = st
		}
	}
	return parts
}

// carry adds one outlet's water to every part its walk passes, once each.
func (p *pack) carry(d *service.Draw, parts map[string]drawing.Standing) {
	water := drawing.FromMain
	passed := map[string]bool{}
	for _, step := range d.Calc {
		i := p.Assembly.Index(step.Part)
		if step.Key != "" || i < 0 || passed[step.Part] {
			continue
		}
		passed[step.Part] = true
		if p.Assembly.Parts[i].Kind == assembly.Store {
			water = drawing.FromStore
		}
		parts[step.Part] = drawing.Standing{Water: water, Flow: parts[step.Part].Flow + d.Flow}
	}
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
		drawn, key := apart(p.schematic(normal))
		sheets := pieces(drawn, 250)
		for i, piece := range sheets {
			note := small(text)
			if i > 0 {
				note = small(say("system.joins"))
			}
			b = append(b, paper.Turned{Blocks: []paper.Block{note, piece}})
		}
		b = append(b, heading("system.key"))
		b = append(b, paper.Picture{Scene: *reset(key.Items), Gap: 1})
	}
	b = append(b, p.parts()...)
	return append(b, deferral())
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
