package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
	"tideover/internal/service"
)

// schematic is the drawing of the assembly in one of its settings, with the water as it
// moves there at the simultaneous draw-off.
func (p *pack) schematic(setting string) *drawing.Scene {
	v := drawing.View{Job: oneLine(p.Job.Name), Setting: setting, Units: p.sys}
	if s := p.Assembly.Setting(setting); s != nil {
		v.Positions = s.Positions
	}
	if d := p.waterIn(setting); d != nil {
		v.Parts = p.standing(d)
	}
	return drawing.Schematic(p.Assembly, v)
}

// waterIn is the water worked out for a setting, or nil.
func (p *pack) waterIn(setting string) *service.Drawn {
	if p.Service == nil {
		return nil
	}
	for i := range p.Service.Drawn {
		if p.Service.Drawn[i].Setting == setting {
			return &p.Service.Drawn[i]
		}
	}
	return nil
}

// standing turns what the service worked out into what a drawing shows.
func (p *pack) standing(d *service.Drawn) map[string]drawing.Standing {
	waters := [...]drawing.Water{
		service.Standstill: drawing.StandsThere, service.TheMain: drawing.FromMain, service.TheStore: drawing.FromStore,
	}
	parts := map[string]drawing.Standing{}
	for i, w := range d.Parts {
		st := drawing.Standing{Water: waters[w.Origin]}
		if w.Origin != service.Standstill {
			st.Flow, st.Speed = w.Flow, w.Speed
		}
		parts[p.Assembly.Parts[i].Tag] = st
	}
	return parts
}

// system shows what is built: the schematic of the normal setting with its legend, and
// the list of tagged parts.
func (p *pack) system() []paper.Block {
	var b []paper.Block
	if len(p.Assembly.Settings) > 0 {
		normal := p.Assembly.Settings[0].Name
		text := say("system.shown", "setting", settingName(normal))
		if d := p.waterIn(normal); d != nil && d.Mode != "" {
			text += " " + say("system.drawn", "mode", sayOr("mode."+d.Mode, d.Mode), "demand", p.flow(p.Service.Mode(d.Mode).Demand))
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
