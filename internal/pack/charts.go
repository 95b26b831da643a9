package pack

import (
	"bytes"
	"fmt"

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
	for i := range p.Service.Modes {
		if m := &p.Service.Modes[i]; m.Same == "" {
			list = append(list, p.wayCharts(m)...)
		}
	}
	list = append(list, p.pumpCharts()...)
	list = append(list, p.fillCharts()...)
	return append(list, p.dayCharts()...)
}

// why is the sheet of the charts: each with the finding it shows as its title, its twin
// below.
func (p *pack) why() []paper.Block {
	charts := p.charts()
	if len(charts) == 0 {
		return []paper.Block{para(say("charts.none"))}
	}
	b := []paper.Block{para(say("charts.how"))}
	for i := range charts {
		c := &charts[i]
		b = append(b, paper.Picture{Scene: *c.scene, Gap: 5}, twin(c))
		for _, text := range c.notes {
			b = append(b, small(text))
		}
	}
	return append(b, deferral())
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
	for _, c := range p.charts() {
		var b bytes.Buffer
		if err := drawing.WriteSVG(&b, c.scene, drawing.Screen); err != nil {
			return nil, fmt.Errorf("pack: chart %s: %w", c.name, err)
		}
		files = append(files, File{"chart-" + c.name + ".svg", b.Bytes()})
	}
	return files, nil
}
