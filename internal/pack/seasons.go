package pack

import (
	"fmt"
	"strings"

	"tideover/internal/appraise"
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
	b := []paper.Block{para(how), heading("seasons.sizes")}
	for _, t := range y.Tables(p.sys) {
		b = append(b, p.sizes(&t)...)
	}
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

// sizes is a table of the sizes that were tried, the store at hand in bold, and what its columns
// count.
func (p *pack) sizes(y *appraise.YearsTable) []paper.Block {
	t := paper.Table{Head: []string{say("chart.size.store")}, Cols: []paper.Col{{Share: 1}}, Gap: 1.5, Pad: 0.5, Close: true}
	var means []string
	for _, id := range y.Columns {
		t.Head, t.Cols = append(t.Head, say("years.col."+id)), append(t.Cols, paper.Col{Share: 1.2})
		means = append(means, say("years.counts", "column", say("years.col."+id), "what", say("years.means."+id)))
	}
	for _, r := range y.Rows {
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
	return []paper.Block{small(say("years.table." + y.ID)), t, small(strings.Join(means, " "))}
}

// clock is a whole hour of the day.
func clock(hour int) string { return fmt.Sprintf("%02d:00", hour) }
