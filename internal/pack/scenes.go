package pack

import (
	"tideover/internal/appraise"
	"tideover/internal/drawing"
)

// Chart is one chart of the pack for a page: the very scene that is printed, with its twin
// as a table.
type Chart struct {
	Name  string // as in its file's name: "pump", "way-on-main"
	Scene *drawing.Scene
	Rows  [][]string // a heading, then the figures
	Notes []string   // said below the table
}

// Charts draws every chart there are results for, in the order they are printed. The error
// is a date that is none.
func Charts(a *appraise.Appraisal) ([]Chart, error) {
	p, err := newPack(a, Options{})
	if err != nil {
		return nil, err
	}
	var list []Chart
	for _, c := range p.charts() {
		list = append(list, Chart{c.name, c.scene, c.rows, c.notes})
	}
	return list, nil
}
