package pack

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
)

// chart is one drawing that shows why the work is as it is, with its twin as a table for
// those who cannot see it or want the figures.
type chart struct {
	name  string // of its file: "pump", "way-on-main"
	scene *drawing.Scene
	rows  [][]string
	share []float64 // of the table's columns
	notes []string  // said below the table
	wide  bool      // the table needs the whole width
}

// charts draws every chart there are results for, in the order the water goes.
func (p *pack) charts() []chart {
	if p.Service == nil {
		return nil
	}
	var list []chart
	for i := range p.Service.Modes {
		if m := &p.Service.Modes[i]; m.Same == "" {
			list = append(list, p.outletCharts(m)...)
		}
	}
	var ways []chart
	for i := range p.Service.Modes {
		if m := &p.Service.Modes[i]; m.Same == "" {
			ways = append(ways, p.wayCharts(m)...)
		}
	}
	slices.SortStableFunc(ways, func(a, b chart) int { // a low one shares a page with what stands before
		return cmp.Compare(min(a.scene.Height, 1.6*low), min(b.scene.Height, 1.6*low))
	})
	list = append(list, ways...)
	list = append(list, p.pumpCharts()...)
	list = append(list, p.fillCharts()...)
	return append(list, p.dayCharts()...)
}

// low is how tall a picture may stand on the sheet, so that two share a page [mm]; the
// walks, seven small ones on a picture, take what they need.
const low = 96

// why is the sheet of the charts, each with the finding it shows as its title; the
// figures of all of them stand together at the end.
func (p *pack) why() []paper.Block {
	charts := p.charts()
	if len(charts) == 0 {
		return []paper.Block{para(say("charts.none"))}
	}
	b := []paper.Block{para(say("charts.how"))}
	var figures, wide []paper.Block
	for i := range charts {
		c := &charts[i]
		picture := paper.Picture{Scene: *c.scene, Gap: 4}
		if c.scene.Height < 1.6*low {
			picture.Tall = low
		}
		b = append(b, picture)
		if c.wide {
			wide = append(wide, c.figures()...)
		} else {
			figures = append(figures, c.figures()...)
		}
	}
	b = append(b, heading("charts.figures"), paper.Columns{N: 2, Blocks: figures, Gap: 1.5})
	b = append(b, wide...)
	return append(b, deferral())
}

// figures are a chart's title, table and notes.
func (c *chart) figures() []paper.Block {
	b := []paper.Block{paper.Text{Text: c.scene.Title, Style: paper.SmallStrong, Gap: 3, Keep: true}, twin(c)}
	for _, text := range c.notes {
		b = append(b, small(text))
	}
	return b
}

// twin is a chart's table: first column to the left, figures to the right.
func twin(c *chart) paper.Block {
	t := paper.Table{Head: c.rows[0], Gap: 2, Pad: 0.4, Close: true}
	for i := range c.rows[0] {
		share := 1.0
		if i < len(c.share) {
			share = c.share[i]
		}
		t.Cols = append(t.Cols, paper.Col{Share: share})
	}
	for _, row := range c.rows[1:] {
		cells := make([]paper.Cell, len(row))
		for i, text := range row {
			cells[i] = paper.Cell{Text: text, Style: paper.Small}
		}
		cells[0].Style = paper.SmallStrong
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// chartFiles are the charts as SVG.
func (p *pack) chartFiles() ([]File, error) {
	var files []File
	list := p.charts()
	if p.Years != nil {
		list = append(list, yearsCharts(p.Job, p.Years)...)
	}
	for _, c := range list {
		var b bytes.Buffer
		if err := drawing.WriteSVG(&b, c.scene, drawing.Screen); err != nil {
			return nil, fmt.Errorf("pack: chart %s: %w", c.name, err)
		}
		files = append(files, File{"chart-" + c.name + ".svg", b.Bytes()})
	}
	return files, nil
}
