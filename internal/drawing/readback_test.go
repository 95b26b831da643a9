package drawing

import (
	"encoding/xml"
	"io"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// drawn is what a reader of the SVG file finds for one tag.
type drawn struct {
	classes, titles []string
	chevrons        [][]float64
}

// readBack reads an SVG file as a stranger would: groups by their data-tag.
func readBack(t *testing.T, text string) map[string]*drawn {
	t.Helper()
	found := map[string]*drawn{}
	of := func(tag string) *drawn {
		if found[tag] == nil {
			found[tag] = &drawn{}
		}
		return found[tag]
	}
	var stack []string
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			tag := at["data-tag"]
			if tag == "" && len(stack) > 0 {
				tag = stack[len(stack)-1]
			}
			stack = append(stack, tag)
			if e.Name.Local == "g" && at["data-tag"] != "" {
				of(tag).classes = append(of(tag).classes, at["class"])
			}
			if strings.HasPrefix(at["class"], "chevron") && tag != "" {
				of(tag).chevrons = append(of(tag).chevrons, numbers(t, at["points"]))
			}
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if tag := stack; len(tag) > 0 && tag[len(tag)-1] != "" {
				of(tag[len(tag)-1]).titles = append(of(tag[len(tag)-1]).titles, string(e))
			}
		}
	}
}

func numbers(t *testing.T, text string) []float64 {
	t.Helper()
	var list []float64
	for _, f := range strings.Fields(text) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, v)
	}
	return list
}

// TestReadBack holds the file to its view: every tag is there, hand-turned parts carry
// and say their position, runs their water, and arrows point the way the flow's sign says.
func TestReadBack(t *testing.T) {
	for _, c := range shown {
		a, j := example(t, c.job, c.arrangement)
		v := staged(a, c.setting, j.Name, c.onMain, c.units)
		forward := readBack(t, render(t, Schematic(a, v), Screen))
		backward := readBack(t, render(t, Schematic(a, against(v)), Screen))
		for i := range a.Parts {
			p := &a.Parts[i]
			got := forward[p.Tag]
			if got == nil {
				t.Errorf("%s: %s is not drawn", c.name, p.Tag)
				continue
			}
			checkPart(t, c.name, &v, p, got, backward[p.Tag])
		}
	}
}

// against is the view with every flow turned round.
func against(v View) View {
	parts := map[string]Standing{}
	for tag, s := range v.Parts {
		s.Flow = -s.Flow
		parts[tag] = s
	}
	v.Parts = parts
	return v
}

func checkPart(t *testing.T, where string, v *View, p *assembly.Part, got, turned *drawn) {
	t.Helper()
	want := string(p.Kind)
	at := v.position(p)
	if at != "" {
		want += " " + at
	}
	if p.Kind == assembly.Run {
		want = "run " + v.Parts[p.Tag].Water.String()
	}
	if !has(got.classes, want) {
		t.Errorf("%s: %s has classes %q, want %q", where, p.Tag, got.classes, want)
	}
	if at != "" && !strings.Contains(strings.Join(got.titles, "|"), words.Say("position."+at, nil)) {
		t.Errorf("%s: %s does not say that it is %s: %q", where, p.Tag, at, got.titles)
	}
	if p.Kind != assembly.Run {
		return
	}
	if moves := v.Parts[p.Tag].Flow != 0; moves != (len(got.chevrons) > 0) {
		t.Errorf("%s: run %s moves %v but has %d chevrons", where, p.Tag, moves, len(got.chevrons))
	}
	for i := range min(len(got.chevrons), len(turned.chevrons)) {
		if a, b := points(got.chevrons[i]), points(turned.chevrons[i]); a*b >= 0 {
			t.Errorf("%s: run %s points the same way when its flow is turned round", where, p.Tag)
		}
	}
	if p.Purpose == assembly.AsFeedRun && len(got.chevrons) > 0 && points(got.chevrons[0]) >= 0 {
		t.Errorf("%s: the feed does not run back to the store", where)
	}
	if p.Purpose == assembly.AsOutletRun && len(got.chevrons) > 0 && points(got.chevrons[0]) <= 0 {
		t.Errorf("%s: %s does not run to its outlet", where, p.Tag)
	}
}

// points is the direction of a chevron along the line it lies on: positive to the right
// or down.
func points(c []float64) float64 {
	return (c[2] - c[0]) + (c[2] - c[4]) + (c[3] - c[1]) + (c[3] - c[5])
}

func has(list []string, want string) bool {
	for _, s := range list {
		if s == want {
			return true
		}
	}
	return false
}

// TestSameLayout lays two settings of one home over one another: every tag stands in
// the same place.
func TestSameLayout(t *testing.T) {
	a, j := example(t, "kestrel-rise", "")
	one := Schematic(a, staged(a, "normal", j.Name, true, quantity.Metric))
	two := Schematic(a, staged(a, "on-store", j.Name, false, quantity.Metric))
	places := func(s *Scene) map[string][4]float64 {
		m := map[string][4]float64{}
		things, _ := layoutOf(s)
		for _, x := range things {
			if x.what == "tag" {
				m[x.owner] = x.box
			}
		}
		return m
	}
	p, q := places(one), places(two)
	if len(p) < 30 || len(p) != len(q) {
		t.Fatalf("%d and %d tags", len(p), len(q))
	}
	for tag, box := range p {
		if q[tag] != box {
			t.Errorf("%s stands at %v, in the other setting at %v", tag, box, q[tag])
		}
	}
}

func TestTable(t *testing.T) {
	a, j := example(t, "juniper-flat", "")
	v := staged(a, "on-store", j.Name, false, quantity.US)
	table := Table(a, v)
	if len(table) != len(a.Parts)+1 {
		t.Fatalf("%d rows for %d parts", len(table), len(a.Parts))
	}
	for _, row := range table {
		if len(row) != 4 {
			t.Fatalf("row %q", row)
		}
		for _, cell := range row {
			if strings.Contains(cell, "‹") {
				t.Errorf("row %q lacks words", row)
			}
		}
		if row[0] == "W1" && (!strings.HasPrefix(row[2], "store") || !strings.Contains(row[3], "N3")) {
			t.Errorf("W1 is told as %q", row)
		}
	}
	if d := Schematic(a, v).Desc; strings.Contains(d, "‹") || !strings.Contains(d, "W1 is store.") || !strings.Contains(d, "T2 to S1 by way of V3, U1, R2, F1.") {
		t.Errorf("desc %q", d)
	}
}

// TestWordsAndClasses walks every text and class of every example drawing.
func TestWordsAndClasses(t *testing.T) {
	for _, c := range shown {
		a, j := example(t, c.job, c.arrangement)
		v := staged(a, c.setting, j.Name, c.onMain, c.units)
		for _, s := range []*Scene{Schematic(a, v), Key(a, v, 175)} {
			s.Walk(func(it *Item) {
				if strings.Contains(it.Text+it.Title, "‹") {
					t.Errorf("%s: no words for %s%s", c.name, it.Text, it.Title)
				}
				if _, ok := Style(it.Class); !ok && it.Kind != Group {
					t.Errorf("%s: class %q stands in no table", c.name, it.Class)
				}
			})
		}
	}
}
