package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
)

// schematic is the drawing of the assembly in one of its settings.
func (p *pack) schematic(setting string) drawing.Scene {
	return drawing.Scene{Title: settingName(setting), Width: 160, Height: 90}
}

// system shows what is built: the schematic of the normal setting, its legend, and the
// list of tagged parts.
func (p *pack) system() []paper.Block {
	var b []paper.Block
	if len(p.Assembly.Settings) > 0 {
		normal := p.Assembly.Settings[0].Name
		b = append(b, para(say("system.shown", "setting", settingName(normal))),
			paper.Picture{Scene: p.schematic(normal), Gap: 3})
	}
	b = append(b, legend()...)
	b = append(b, heading("system.parts"))
	var rows [][]paper.Cell
	for i := range p.Assembly.Parts {
		part := &p.Assembly.Parts[i]
		outlet := part.Kind == assembly.Outlet || part.Name == "part.outlet-run"
		if part.Tag == "" || part.Kind == assembly.Tee || outlet && part.Kept {
			continue // tees come with their pipes; the home's own pipes stand on the survey
		}
		rows = append(rows, p.partRow(part))
	}
	b = append(b, paper.Table{
		Cols: []paper.Col{{Width: 24}, {Share: 1}, {Share: 1}, {Width: 28}, {Width: 20, Right: true}},
		Head: []string{say("valves.tag"), say("valves.what"), say("system.made"), say("system.size"), say("system.long")},
		Rows: rows, Gap: 1, Pad: 0.6,
	})
	return append(b, deferral())
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

// legend explains the lines and the valves in words and in the drawing's own ink.
func legend() []paper.Block {
	const w, h = 175.0, 13.0
	var items []drawing.Item
	line := func(x float64, id string, classes ...string) {
		for _, c := range classes {
			items = append(items, drawing.DrawLine(c, x, 4, x+16, 4))
		}
		items = append(items, drawing.DrawText("note", 2.8, drawing.Start, x, 10.5, say(id)))
	}
	line(2, "legend.main", "pipe main")
	line(38, "legend.stored", "pipe stored", "core stored")
	line(74, "legend.still", "pipe still")
	line(110, "legend.dry", "pipe dry")
	bow := func(x float64, class, id string) {
		items = append(items, drawing.DrawArea(class, x, 2.2, x, 5.8, x+6, 2.2, x+6, 5.8),
			drawing.DrawText("note", 2.8, drawing.Start, x, 10.5, say(id)))
	}
	bow(140, "symbol", "legend.open")
	bow(158, "symbol solid", "legend.shut")
	return []paper.Block{paper.Picture{Scene: drawing.Scene{Width: w, Height: h, Items: items}, Gap: 3}}
}
