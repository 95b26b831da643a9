package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
)

// valves shows where every handle stands in each setting, and how to get from the
// normal setting to each other one and back.
func (p *pack) valves() []paper.Block {
	settings := p.Assembly.Settings
	var b []paper.Block
	hands, drains := p.hand()
	if len(hands) == 0 || len(settings) == 0 {
		return []paper.Block{para(say("valves.none"))}
	}
	table, _ := p.positions(paper.Body, 0)
	table.Gap = 3
	b = append(b, para(say("valves.how")), p.caution("caution.valves"), table)
	if len(drains) > 0 {
		b = append(b, para(say("valves.drains", "drains", strings.Join(drains, ", "))))
	}
	if p.anyUntried() {
		b = append(b, paper.Banner{Style: paper.SmallStrong, Text: p.tellUntried(), Gap: 2, Keep: true})
	}
	var moves []paper.Block
	for _, s := range settings[1:] {
		moves = append(moves, paper.Text{Style: paper.Strong, Text: say("valves.to", "from", settingName(settings[0].Name), "to", settingName(s.Name)), Gap: 3.5, Keep: true})
		moves = append(moves, p.moves(&settings[0], &s)...)
	}
	b = append(b, paper.Columns{N: 2, Blocks: moves, Gap: 3})
	if p.Proof != nil && len(p.Proof.Sequences) > 0 {
		if not := p.Proof.TellUnlooked(); not != "" {
			b = append(b, small(not))
		}
	}
	b = append(b, paper.Fields{Labels: []string{say("blank.turned"), say("blank.when")}, Columns: 2, Gap: 4})
	return append(b, deferral())
}

// shortSetting is a setting's name without its explanation: "by-pass", "boil-water notice".
func shortSetting(name string) string {
	short, _, _ := strings.Cut(settingName(name), ":")
	short, _, _ = strings.Cut(short, ",")
	return short
}

// positions is the table of where each handle stands in each setting; false where nothing
// is turned by hand.
func (p *pack) positions(style paper.Style, pad float64) (paper.Table, bool) {
	settings := p.Assembly.Settings
	hands, _ := p.hand()
	t := paper.Table{Cols: []paper.Col{{Width: 10}, {Share: 1}}, Head: []string{say("valves.tag"), say("valves.what")}, Pad: pad, Close: true}
	n := float64(max(1, len(settings)))
	each := max(12.5, min(30, 118/n-1.6))
	if n > 6 {
		style, t.Pad = paper.Small, max(pad, 0.5)
	}
	for _, s := range settings {
		t.Cols = append(t.Cols, paper.Col{Width: each})
		t.Head = append(t.Head, shortSetting(s.Name))
	}
	for _, part := range hands {
		row := []paper.Cell{{Text: part.Tag, Style: bolder(style)}, {Text: shortName(part), Style: style}}
		for _, s := range settings {
			at := positionCell(s.Positions[part.Tag])
			if at.Style == paper.Strong {
				at.Style = bolder(style)
			} else {
				at.Style = style
			}
			row = append(row, at)
		}
		t.Rows = append(t.Rows, row)
	}
	return t, len(t.Rows) > 0
}

func settingName(name string) string { return sayOr("setting."+name, name) }

func positionName(position string) string { return sayOr("position."+position, position) }

// positionCell says a position in words alone: marks mean other things on other sheets.
func positionCell(position string) paper.Cell {
	switch position {
	case "":
		return cell("–")
	case "shut":
		return paper.Cell{Text: strings.ToUpper(positionName(position)), Style: paper.Strong}
	case "open", "out":
		return cell(positionName(position))
	}
	return strong(positionName(position))
}

// bolder is the heavier twin of a text style.
func bolder(style paper.Style) paper.Style {
	if style == paper.Small {
		return paper.SmallStrong
	}
	return paper.Strong
}

// turn is one hand movement.
type turn struct {
	tag, to string
}

// turns lists the handles to turn from one setting to another, in the order that was
// proven; without a proof first what is shut, then three-way handles, then what is opened,
// so that the two waters are never joined through two open valves on the way.
func (p *pack) turns(from, to *assembly.Setting) []turn {
	if list, ok := p.proven(from, to); ok {
		return list
	}
	rank := func(position string) int {
		switch position {
		case "shut":
			return 0
		case "open":
			return 2
		}
		return 1
	}
	var list []turn
	hands, _ := p.hand()
	for r := range 3 {
		for _, part := range hands {
			now := to.Positions[part.Tag]
			if now != "" && now != from.Positions[part.Tag] && rank(now) == r {
				list = append(list, turn{part.Tag, now})
			}
		}
	}
	return list
}

// moves is the tick list there and back.
func (p *pack) moves(from, to *assembly.Setting) []paper.Block {
	there := p.movements(from, to)
	if len(there) == 0 {
		return []paper.Block{small(say("valves.same"))}
	}
	var rows [][]paper.Cell
	back := p.movements(to, from)
	for i := range max(len(there), len(back)) {
		row := make([]paper.Cell, 2)
		for side, list := range [][]string{there, back} {
			if i < len(list) {
				row[side] = numbered(i, list[i])
			}
		}
		rows = append(rows, row)
	}
	head := []string{say("valves.there"), say("valves.back")}
	if p.untried(to) {
		head = []string{say("valves.untried.there"), say("valves.untried.back")}
	}
	table := paper.Table{Cols: []paper.Col{{Share: 1}, {Share: 1}}, Head: head, Rows: rows, Gap: 0.5, Pad: 0.4}
	return append([]paper.Block{table}, p.blocked(from, to)...)
}
