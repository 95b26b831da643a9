package pack

import (
	"strings"
	"testing"
)

// TestChartsSheet: every chart stands on the sheet with its finding as title and its
// figures below, and in the pack as a file.
func TestChartsSheet(t *testing.T) {
	for _, name := range examples {
		a := run(t, source(t, name))
		p, err := newPack(a, Options{})
		if err != nil {
			t.Fatal(err)
		}
		files := made(t, a, Options{Sheets: []string{"charts"}})
		text := squeezed(strings.Join(pages(t, files["pack.pdf"]), " "))
		list := p.charts()
		if len(list) < 5 {
			t.Errorf("%s: %d charts", name, len(list))
		}
		for _, c := range list {
			if !strings.Contains(text, squeezed(c.scene.Title)) {
				t.Errorf("%s: the sheet lacks %q", name, c.scene.Title)
			}
			for _, row := range c.rows[1:] {
				if last := row[len(row)-1]; !strings.Contains(text, squeezed(last)) {
					t.Errorf("%s: %s: the sheet lacks the figure %q", name, c.name, last)
				}
			}
			if files["chart-"+c.name+".svg"] == nil {
				t.Errorf("%s: no file of chart %s", name, c.name)
			}
			if strings.Contains(c.scene.Title+c.scene.Desc, "‹") {
				t.Errorf("%s: %s: a message is missing", name, c.name)
			}
		}
	}
}

// BenchmarkDrawings draws every chart and every schematic of Kestrel Rise.
func BenchmarkDrawings(b *testing.B) {
	a := run(b, source(b, "kestrel-rise"))
	p, err := newPack(a, Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := p.chartFiles(); err != nil {
			b.Fatal(err)
		}
		for _, s := range a.Assembly.Settings {
			p.schematic(s.Name)
		}
	}
}
