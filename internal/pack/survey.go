package pack

import (
	"fmt"
	"reflect"
	"slices"
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
// is seen on site. What an assumption rests on stands once, at the end, by its letter.
func (p *pack) survey() []paper.Block {
	b := []paper.Block{
		paper.Table{Plain: true, Cols: []paper.Col{{Share: 1}, {Share: 1}, {Share: 1.2}}, Rows: [][]paper.Cell{{
			{Text: say("survey.measured"), Mark: paper.Full, Style: paper.Small},
			{Text: say("survey.stated"), Mark: paper.Half, Style: paper.Small},
			{Text: say("survey.assumed"), Mark: paper.Hollow, Style: paper.Small},
		}}},
		small(say("survey.how")),
	}
	all, lists := p.entries()
	var letters footnotes
	var columns []paper.Block
	for _, section := range job.Sections() {
		var rows [][]paper.Cell
		for _, e := range all {
			if e.field.Section == section && e.field.Path != "notes" {
				rows = append(rows, e.row(&letters))
			}
		}
		if len(rows) > 0 {
			columns = append(columns, paper.Text{Style: paper.Strong, Text: sayOr("section."+section, section), Gap: 3.5, Keep: true}, paper.Table{
				Cols: []paper.Col{{Share: 1.1}, {Share: 0.9}, {Width: 15}},
				Rows: rows, Pad: 0.3, Close: true,
			})
		}
	}
	b = append(b, paper.Columns{N: 2, Blocks: columns, Gap: 2}, small(letters.text()))
	for _, l := range lists {
		b = append(b, l...)
	}
	if notes := strings.TrimSpace(p.Job.Notes); notes != "" {
		b = append(b, heading("survey.notes"), para(notes))
	}
	return b
}

var basisMarks = map[quantity.Basis]paper.Mark{quantity.Measured: paper.Full, quantity.Stated: paper.Half, quantity.Assumed: paper.Hollow}

// footnotes gives each text a letter, in the order they come up.
type footnotes []string

// letter is the mark of a text: a, b, … z, aa, ab…
func (f *footnotes) letter(text string) string {
	i := slices.Index(*f, text)
	if i < 0 {
		i = len(*f)
		*f = append(*f, text)
	}
	letter := string(rune('a' + i%26))
	if i >= 26 {
		letter = string(rune('a'+i/26-1)) + letter
	}
	return letter
}

// text is all of them in one line.
func (f *footnotes) text() string {
	var parts []string
	for _, text := range *f {
		parts = append(parts, say("survey.note", "letter", f.letter(text), "text", text))
	}
	return strings.Join(parts, "  ")
}

func (e entry) row(letters *footnotes) []paper.Cell {
	text := e.text
	if e.basis == quantity.Assumed && e.from != "" {
		text += " [" + letters.letter(assumedFrom(e.from)) + "]"
	}
	row := []paper.Cell{{Text: e.label, Style: paper.Small}, {Text: text, Style: paper.SmallStrong, Mark: basisMarks[e.basis]}, write}
	if !e.onSite() {
		row[2] = paper.Cell{}
	}
	return row
}

// onSite reports whether the field is something a person can look at or measure there.
func (e entry) onSite() bool {
	switch e.field.Shape {
	case job.Quantity, job.Row, job.Size, job.Choice:
		return strings.Contains(e.field.Path, ".") && e.field.Section != "hand-over" && !strings.HasPrefix(e.field.Path, "choices.")
	}
	return false
}

// assumedFrom says where an assumed value is from: a source's sentence, or the field it
// follows.
func assumedFrom(from string) string {
	if f, ok := job.FieldFor(from); ok {
		return say("survey.as", "field", f.Label())
	}
	return sayOr("source."+from, from)
}

// entries walks the job by its tags, in the order of the field table. Lists come apart,
// each as a table with one row for each item.
func (p *pack) entries() (single []entry, lists [][]paper.Block) {
	values := map[string][]entry{}
	tags := map[string][]string{}
	leaves(reflect.ValueOf(*p.Job), "", func(star, tag string, v reflect.Value) {
		f, ok := job.FieldFor(star)
		if !ok || f.Shape == job.Reserved || f.Idle(p.Assembly.Arrangement) && !p.written(f.Path) {
			return
		}
		e := p.entry(f, place(star, tag), v)
		e.label = f.Label()
		values[star] = append(values[star], e)
		if head, _, list := strings.Cut(star, ".*."); list && len(values[star]) > len(tags[head]) {
			tags[head] = append(tags[head], tag)
		}
	})
	done := map[string]bool{}
	for _, f := range job.Fields() {
		head, _, list := strings.Cut(f.Path, ".*.")
		switch {
		case !list:
			single = append(single, values[f.Path]...)
		case !done[head] && len(tags[head]) > 0:
			done[head] = true
			lists = append(lists, listTable(head, tags[head], values))
		}
	}
	return single, lists
}

// written reports whether the job's file gives a value.
func (p *pack) written(path string) bool { return p.Doc != nil && p.Doc.Given(path) }

// listTable shows a list of the job: a row for each item, a column for each field.
func listTable(head string, tags []string, values map[string][]entry) []paper.Block {
	t := paper.Table{Cols: []paper.Col{{Share: 1}}, Head: []string{say("survey.item")}, Gap: 1, Pad: 0.3}
	for _, tag := range tags {
		t.Rows = append(t.Rows, []paper.Cell{{Text: tag, Style: paper.SmallStrong}})
	}
	for _, f := range job.Fields() {
		list := values[f.Path]
		if !strings.HasPrefix(f.Path, head+".*.") || len(list) != len(tags) || f.Path == "outlets.*.from" && unwritten(list) {
			continue // which water an outlet draws is asked of few homes
		}
		t.Cols, t.Head = append(t.Cols, paper.Col{Share: share(f.Shape)}), append(t.Head, list[0].label)
		for i, e := range list {
			t.Rows[i] = append(t.Rows[i], paper.Cell{Text: e.text, Mark: basisMarks[e.basis], Style: paper.Small})
		}
	}
	t.Cols, t.Head = append(t.Cols, paper.Col{Width: 20}), append(t.Head, say("survey.seen"))
	for i := range t.Rows {
		t.Rows[i] = append(t.Rows[i], write)
	}
	return []paper.Block{paper.Text{Style: paper.Heading, Text: sayOr("survey.list."+head, head), Gap: 6, Keep: true}, t}
}

// unwritten reports whether nobody has written anything in a column.
func unwritten(list []entry) bool {
	for _, e := range list {
		if e.basis != quantity.Assumed {
			return false
		}
	}
	return true
}

// share is how much room a list's column needs.
func share(s job.Shape) float64 {
	switch s {
	case job.Size, job.Text, job.File:
		return 1.3
	case job.Row:
		return 1.45
	}
	return 1
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

// place is a path with its item's tag.
func place(star, tag string) string { return strings.Replace(star, "*", tag, 1) }

// entry reads one leaf: a value with a basis, or a word, which is stated when the file
// gives it.
func (p *pack) entry(f job.Field, path string, v reflect.Value) entry {
	e := entry{field: f, basis: quantity.Stated}
	if v.Kind() == reflect.Struct && v.FieldByName("Half").IsValid() {
		q := quantity.Quantity{
			Dim: f.Dim, SI: v.FieldByName("V").Float(), Half: v.FieldByName("Half").Float(),
			Basis: quantity.Basis(v.FieldByName("Basis").Uint()),
		}
		e.basis, e.from = q.Basis, v.FieldByName("From").String()
		e.text = quantity.FormatSpread(q, p.sys)
		if q.SI == 0 && q.Basis == quantity.Assumed && (e.from == "" || e.from == "assumed-none") {
			e.text = "–" // nothing is there: a nought would look measured
		}
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
	if e.text == "" || e.text == "unknown" || p.Doc != nil && !p.Doc.Given(path) {
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
