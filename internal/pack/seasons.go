package pack

import (
	"fmt"

	"tideover/internal/pack/paper"
)

// seasons is the sheet of years lived through: what each size rides out, what the worst days
// look like, how old the water gets, and what all that rests on.
func (p *pack) seasons() []paper.Block {
	y := p.Years
	if y == nil {
		return []paper.Block{para(p.unlived())}
	}
	how := say("seasons.how")
	if y.Brief {
		how += " " + say("seasons.brief")
	}
	b := []paper.Block{para(how), heading("seasons.sizes"), p.sizes()}
	charts := yearsCharts(p.Job, y)
	var figures, wide []paper.Block
	for i := range charts {
		c := &charts[i]
		b = append(b, paper.Picture{Scene: *c.scene, Gap: 4, Tall: low})
		switch {
		case c.name == "store-size": // the table above has its figures
		case c.wide:
			wide = append(wide, c.figures()...)
		default:
			figures = append(figures, c.figures()...)
		}
	}
	b = append(b, heading("seasons.rests"))
	for _, line := range y.Told(p.sys) {
		b = append(b, small("· "+line))
	}
	b = append(b, heading("charts.figures"), paper.Columns{N: 2, Blocks: figures, Gap: 1.5})
	return append(append(b, wide...), deferral())
}

// unlived says why there are no years, and which figures are plain arithmetic instead.
func (p *pack) unlived() string {
	why := say("seasons.not-asked")
	if p.Unlived != nil {
		why = p.Unlived.Error()
	}
	return why + " " + say("seasons.arithmetic")
}

// sizes is the table of the sizes that were tried, the store at hand in bold.
func (p *pack) sizes() paper.Block {
	t := paper.Table{Head: []string{say("chart.size.store")}, Cols: []paper.Col{{Share: 1.5}}, Gap: 1.5, Pad: 0.5, Close: true}
	for _, id := range []string{"usable", "rides", "short", "unserved", "worst", "carry", "refill", "age", "old"} {
		t.Head, t.Cols = append(t.Head, say("seasons.col."+id)), append(t.Cols, paper.Col{Share: 1})
	}
	for _, r := range p.Years.Rows(p.sys) {
		style := paper.Small
		if r.Own {
			style = paper.SmallStrong
		}
		row := []paper.Cell{{Text: r.Name, Style: style}}
		for _, text := range r.Texts {
			row = append(row, paper.Cell{Text: text, Style: style})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// clock is a whole hour of the day.
func clock(hour int) string { return fmt.Sprintf("%02d:00", hour) }
