package job

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TestTableAndStruct walks both: each leaf of the struct has one field and each field
// one leaf, of the Go type its shape needs.
func TestTableAndStruct(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Fields() {
		if seen[f.Path] {
			t.Errorf("%s stands in the table twice", f.Path)
		}
		seen[f.Path] = true
		l := plan()[f.Path]
		if l == nil {
			t.Errorf("%s is in the table but not in the struct", f.Path)
			continue
		}
		if got, want := goType(l), typeOf(f); got != want {
			t.Errorf("%s: struct holds %v, shape %v needs %v", f.Path, got, f.Shape, want)
		}
		if f.Shape == Quantity && l.dim != f.Dim {
			t.Errorf("%s: struct dimension %v, table %v", f.Path, l.dim, f.Dim)
		}
	}
	for path := range plan() {
		if !seen[path] {
			t.Errorf("%s is in the struct but not in the table", path)
		}
	}
	if n := countLeaves(reflect.TypeFor[Job]()); n != len(plan()) {
		t.Errorf("the struct has %d tagged leaves, %d paths: a tag is used twice", n, len(plan()))
	}
}

func countLeaves(t reflect.Type) int {
	n := 0
	for i := range t.NumField() {
		f := t.Field(i)
		switch {
		case f.Tag.Get("job") == "":
		case holdsLeaves(f.Type):
			n += countLeaves(f.Type)
		case f.Type.Kind() == reflect.Slice && holdsLeaves(f.Type.Elem()):
			n += countLeaves(f.Type.Elem())
		default:
			n++
		}
	}
	return n
}

func goType(l *leaf) string {
	t := reflect.TypeFor[Job]()
	if l.list >= 0 {
		t = t.Field(l.list).Type.Elem()
	}
	for _, i := range l.index {
		t = t.Field(i).Type
	}
	if l.dim != quantity.NoDim {
		return "Val"
	}
	return t.String()
}

func typeOf(f Field) string {
	switch f.Shape {
	case Quantity:
		return "Val"
	case Count:
		return "int"
	case Size:
		return "quantity.Size"
	case Spells:
		return "[]job.Spell"
	case Choice: // one whose words are all answers is an answer
		for _, w := range f.Allowed {
			if !slices.Contains([]Answer{Yes, No, Unknown, Asked, WithConsent, Wanted, Given, Refused, NotNeeded, Signed, Named, Informed}, Answer(w)) {
				return "string"
			}
		}
		return "job.Answer"
	case TimeOfDay:
		return "job.Clock"
	case DailyHours:
		return "job.Hours"
	case Slots:
		return "[]job.Slot"
	}
	return "string"
}

// TestTableIsWhole checks what every field must say: its words, its section, limits in
// the right order, and either a default with a source or none at all.
func TestTableIsWhole(t *testing.T) {
	sections := map[string]bool{}
	for _, s := range Sections() {
		sections[s] = words.Has("section." + s)
	}
	for i, f := range Fields() {
		if f.Order != i {
			t.Errorf("%s: order %d, place %d", f.Path, f.Order, i)
		}
		for _, part := range []string{"label", "hint", "why"} {
			if id := "field." + f.Path + "." + part; !words.Has(id) {
				t.Errorf("no words for %s", id)
			}
		}
		if !sections[f.Section] {
			t.Errorf("%s: section %q has no name", f.Path, f.Section)
		}
		if (f.Shape == Quantity || f.Shape == Count) && !(f.Low <= f.High) {
			t.Errorf("%s: limits %v to %v", f.Path, f.Low, f.High)
		}
		if f.Default != "" && !words.Has("source."+f.From) {
			t.Errorf("%s: its default has no source", f.Path)
		}
		if f.Required && (f.Default != "" || f.Same != "") {
			t.Errorf("%s: required and assumed", f.Path)
		}
		for _, sys := range quantity.Systems() {
			if d := f.DefaultIn(sys); d != "" {
				if _, err := f.value(d, quantity.Metric); err != nil {
					t.Errorf("%s: default %q: %v", f.Path, d, err)
				}
			}
		}
		if same, ok := FieldFor(f.Same); f.Same != "" && (!ok || same.Dim != f.Dim || same.Shape != f.Shape) {
			t.Errorf("%s cannot be assumed from %s", f.Path, f.Same)
		}
	}
}

// TestWordsHaveFields is the other way round: no words for a field that is gone.
func TestWordsHaveFields(t *testing.T) {
	for _, id := range words.IDs() {
		rest, ok := strings.CutPrefix(id, "field.")
		if !ok {
			continue
		}
		path := rest[:strings.LastIndexByte(rest, '.')]
		if _, ok := FieldFor(path); !ok {
			t.Errorf("%s is about no field", id)
		}
	}
}

func TestFieldFor(t *testing.T) {
	for path, want := range map[string]string{
		"supply.static": "supply.static", "outlets.shower-up.height": "outlets.*.height", "outlets.*.height": "outlets.*.height",
		"outlets": "", "outlets.x": "", "supply": "", "": "", "outlets.x.height.y": "", "nothing": "",
	} {
		if f, ok := FieldFor(path); ok != (want != "") || f.Path != want {
			t.Errorf("FieldFor(%q) = %q, %v", path, f.Path, ok)
		}
	}
}
