package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/finding"
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
		for i, piece := range pieces(drawn, p.size.Height-40) {
			note := small(text)
			if i > 0 {
				note = small(say("system.joins"))
			}
			b = append(b, paper.Turned{Blocks: []paper.Block{note, piece}})
		}
		b = append(b, heading("system.key"))
		b = append(b, paper.Picture{Scene: *reset(key.Items), Gap: 1, Small: true})
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
		outlet := part.Kind == assembly.Outlet || part.Purpose == assembly.AsOutletRun
		if part.Tag != "" && part.Kind != assembly.Tee && !(outlet && part.Kept) {
			rows = append(rows, p.partRow(part))
		}
	}
	return []paper.Block{heading("system.parts"), paper.Table{
		Cols: []paper.Col{{Width: 12}, {Share: 1.15}, {Share: 1.2}, {Width: 30}, {Width: 13, Right: true}},
		Head: []string{say("valves.tag"), say("valves.what"), say("system.made"), say("system.size"), say("system.long")},
		Rows: rows, Gap: 1, Pad: 0.25, Close: true,
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
	return []paper.Cell{{Text: part.Tag, Style: paper.SmallStrong}, {Text: partName(part), Style: paper.Small}, {Text: made, Style: paper.Small},
		{Text: part.Size.String(), Style: paper.Small}, {Text: long, Style: paper.Small}}
}

// What stands round the drawing of the short form on its page: margins, the sheet's head
// and its note; the head of the table; one handle. [mm]
const (
	planRound = 75.0
	planHead  = 18.0
	planRow   = 5.4
	planDraft = 14.0 // the word that it is a draft
	planLeast = 60.0 // of the drawing: with more handles the table goes on overleaf
)

// plan is the short form: the drawing of the normal setting and where each handle stands,
// on one page turned on its side.
func (p *pack) plan() []paper.Block {
	if len(p.Assembly.Settings) == 0 {
		return []paper.Block{para(say("valves.none"))}
	}
	drawn, _ := apart(p.schematic(p.Assembly.Settings[0].Name))
	box := extent(drawn.Items)
	hands, _ := p.hand()
	tall := max(planLeast, p.size.Width-planRound-planHead-planRow*float64(len(hands)))
	if p.count(finding.MustFix) > 0 {
		tall = max(planLeast, tall-planDraft)
	}
	picture := paper.Picture{Scene: *drawn, Grow: 1.4, Tall: tall, Gap: 1,
		Part: [4]float64{box[0] - white, box[1] - white, box[2] + white, box[3] + white}}
	blocks := []paper.Block{picture}
	if table, ok := p.positions(paper.Small, 0.3); ok {
		table.Gap = 2
		blocks = append(blocks, table)
	}
	return []paper.Block{paper.Turned{Blocks: append(blocks, small(say("plan.how")))}}
}
