package pack

import (
	"fmt"
	"reflect"
	"strings"

	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// entry is one field of the survey as it stands.
type entry struct {
	field job.Field
	label string
	text  string
	basis quantity.Basis
	from  string // source key of an assumed value
}

// survey shows every field of the job with its value, its basis and room to write what
// is seen on site.
func (p *pack) survey() []paper.Block {
	b := []paper.Block{
		paper.Table{Plain: true, Cols: []paper.Col{{Share: 1}, {Share: 1}, {Share: 1.2}}, Rows: [][]paper.Cell{{
			{Text: say("survey.measured"), Mark: paper.Full, Style: paper.Small},
			{Text: say("survey.stated"), Mark: paper.Half, Style: paper.Small},
			{Text: say("survey.assumed"), Mark: paper.Hollow, Style: paper.Small},
		}}},
		small(say("survey.how")),
	}
	all := p.entries()
	for _, section := range job.Sections() {
		var rows [][]paper.Cell
		for _, e := range all {
			if e.field.Section == section {
				rows = append(rows, e.row())
			}
		}
		if len(rows) > 0 {
			b = append(b, paper.Text{Style: paper.Heading, Text: sayOr("section."+section, section), Gap: 6, Keep: true}, paper.Table{
				Cols: []paper.Col{{Share: 1.15}, {Share: 0.9}, {Share: 0.9}, {Width: 26}},
				Head: []string{say("survey.what"), say("survey.value"), say("survey.from"), say("survey.seen")},
				Rows: rows, Gap: 1, Pad: 0.7,
			})
		}
	}
	return b
}

func (e entry) row() []paper.Cell {
	marks := map[quantity.Basis]paper.Mark{quantity.Measured: paper.Full, quantity.Stated: paper.Half, quantity.Assumed: paper.Hollow}
	from := say("basis." + [...]string{"assumed", "stated", "measured", "derived"}[e.basis])
	if e.basis == quantity.Assumed && e.from != "" {
		from += ": " + p0(e.from)
	}
	return []paper.Cell{cell(e.label), {Text: e.text, Style: paper.Strong, Mark: marks[e.basis]}, {Text: from, Style: paper.Small}, write}
}

// p0 says where an assumed value is from: a source's sentence, or the field it follows.
func p0(from string) string {
	if f, ok := job.FieldFor(from); ok {
		return say("survey.as", "field", f.Label())
	}
	return sayOr("source."+from, from)
}

// entries walks the job by its tags, in the order of the field table; lists in the
// order of their items.
func (p *pack) entries() []entry {
	values := map[string][]entry{}
	var paths []string
	add := func(star, tag string, v reflect.Value) {
		f, ok := job.FieldFor(star)
		if !ok {
			return
		}
		e := p.entry(f, v)
		if e.label = f.Label(); tag != "" {
			e.label = tag + ": " + lowerFirst(e.label)
		}
		if _, seen := values[star]; !seen {
			paths = append(paths, star)
		}
		values[star] = append(values[star], e)
	}
	leaves(reflect.ValueOf(*p.Job), "", add)
	var all []entry
	done := map[string]bool{}
	for _, f := range job.Fields() {
		if head, _, list := strings.Cut(f.Path, ".*."); list {
			if !done[head] {
				done[head] = true
				all = append(all, byItem(values, head)...)
			}
			continue
		}
		all = append(all, values[f.Path]...)
	}
	return all
}

// byItem returns a list's entries item by item.
func byItem(values map[string][]entry, head string) []entry {
	var stars []string
	for _, f := range job.Fields() {
		if strings.HasPrefix(f.Path, head+".*.") && len(values[f.Path]) > 0 {
			stars = append(stars, f.Path)
		}
	}
	var all []entry
	for i := 0; len(stars) > 0 && i < len(values[stars[0]]); i++ {
		for _, s := range stars {
			all = append(all, values[s][i])
		}
	}
	return all
}

// leaves calls see for each tagged leaf; tag is the item's for leaves of lists.
func leaves(v reflect.Value, tag string, see func(star, tag string, v reflect.Value)) {
	t := v.Type()
	for i := range t.NumField() {
		if !t.Field(i).IsExported() {
			continue
		}
		path, f := t.Field(i).Tag.Get("job"), v.Field(i)
		_, isField := job.FieldFor(path)
		switch {
		case path != "" && isField:
			see(path, tag, f)
		case f.Kind() == reflect.Struct:
			leaves(f, tag, see)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct:
			for j := range f.Len() {
				item := f.Index(j)
				name := ""
				if n := item.FieldByName("Tag"); n.IsValid() {
					name = n.String()
				}
				leaves(item, name, see)
			}
		}
	}
}

// entry reads one leaf: a value with a basis, or a word.
func (p *pack) entry(f job.Field, v reflect.Value) entry {
	e := entry{field: f, basis: quantity.Stated}
	if v.Kind() == reflect.Struct && v.FieldByName("Half").IsValid() {
		q := quantity.Quantity{
			Dim: f.Dim, SI: v.FieldByName("V").Float(), Half: v.FieldByName("Half").Float(),
			Basis: quantity.Basis(v.FieldByName("Basis").Uint()),
		}
		e.basis, e.from = q.Basis, v.FieldByName("From").String()
		e.text = quantity.FormatSpread(q, p.sys)
		return e
	}
	switch x := v.Interface().(type) {
	case quantity.Size:
		e.text = x.String()
	case []job.Spell:
		e.text = spells(x)
	case []job.Slot:
		e.text = slots(x)
	case string:
		e.text = oneLine(x)
	default:
		e.text = fmt.Sprint(x)
	}
	if e.text == "" || e.text == "unknown" {
		e.basis, e.from = quantity.Assumed, f.From
		if e.text == "" {
			e.text = say("survey.blank")
		}
	}
	return e
}

func spells(list []job.Spell) string {
	var parts []string
	for _, s := range list {
		parts = append(parts, oneLine(s.From))
	}
	return strings.Join(parts, "; ")
}

// slots writes a timetable as a job file does, one slot after another.
func slots(list []job.Slot) string {
	days := strings.Fields(say("survey.days"))
	at := func(m int) string { return fmt.Sprintf("%s %02d:%02d", days[m/1440%7], m/60%24, m%60) }
	var parts []string
	for _, s := range list {
		parts = append(parts, at(s.From)+"–"+at(s.To))
	}
	return strings.Join(parts, ", ")
}

func lowerFirst(text string) string {
	if len(text) > 1 && text[1] >= 'a' && text[1] <= 'z' {
		return strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
