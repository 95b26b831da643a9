package job

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// vector is one file of spec/vectors: a job file and what reading it must give.
//
// The job stands in job.yaml, or in job.quoted as a quoted string where its bytes
// matter. rows lists the catalogue the reader is given, "table key" a line. faults has
// a line a fault: line:column, id, path (– for none) and, after →, the nearest name.
// values has a line a path: path = value.
type vector struct {
	name, why string
	job       []byte
	rows      map[string][]string
	archive   *txtar.Archive
}

func vectors(t testing.TB) []vector {
	t.Helper()
	paths, err := filepath.Glob("../../spec/vectors/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var list []vector
	for _, p := range paths {
		a, err := txtar.ParseFile(p)
		if err != nil {
			t.Fatal(err)
		}
		v := vector{name: p, why: string(a.Comment), archive: a}
		for _, f := range a.Files {
			switch f.Name {
			case "job.yaml":
				v.job = f.Data
			case "job.quoted":
				s, err := strconv.Unquote(strings.TrimSpace(string(f.Data)))
				if err != nil {
					t.Fatalf("%s: %v", p, err)
				}
				v.job = []byte(s)
			case "rows":
				v.rows = map[string][]string{}
				for _, line := range strings.Split(strings.TrimSpace(string(f.Data)), "\n") {
					table, key, _ := strings.Cut(line, " ")
					v.rows[table] = append(v.rows[table], key)
				}
			}
		}
		list = append(list, v)
	}
	return list
}

func (v vector) options() Options {
	if v.rows == nil {
		return Options{}
	}
	return Options{Rows: func(table, key string) (bool, string) {
		for _, k := range v.rows[table] {
			if k == key {
				return true, ""
			}
		}
		if table == "pipes" { // sizes are not what these vectors are about
			return true, ""
		}
		return false, nearest(key, v.rows[table])
	}}
}

// TestVectors reads every vector. Where a fault is expected its printed form must have
// its words, its line and a caret under it.
func TestVectors(t *testing.T) {
	list := vectors(t)
	if len(list) < 30 {
		t.Fatalf("only %d vectors", len(list))
	}
	for _, v := range list {
		doc, faults := v.options().Read("job.yaml", v.job)
		checkFaults(t, faults)
		for i := range v.archive.Files {
			f := &v.archive.Files[i]
			got := ""
			switch f.Name {
			case "faults":
				got = faultLines(faults)
				if got == "" {
					t.Errorf("%s: no fault", v.name)
				}
			case "values":
				if len(faults) > 0 {
					t.Errorf("%s: %v", v.name, faults)
					continue
				}
				got = valueLines(doc.Job, string(f.Data))
			default:
				continue
			}
			if *update {
				f.Data = []byte(got)
			}
			if string(f.Data) != got {
				t.Errorf("%s: %s\ngot\n%swant\n%s", v.name, strings.TrimSpace(v.why), got, f.Data)
			}
		}
		if *update {
			if err := os.WriteFile(v.name, txtar.Format(v.archive), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func faultLines(faults Faults) string {
	var b strings.Builder
	for _, f := range faults {
		path := f.Path
		if path == "" {
			path = "–"
		}
		fmt.Fprintf(&b, "%d:%d %s %s", f.Line, f.Column, f.ID, path)
		if f.Nearest != "" {
			b.WriteString(" → " + f.Nearest)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// valueLines prints the paths named in the lines of want, or every path when it is empty.
func valueLines(j *Job, want string) string {
	var paths []string
	for _, line := range strings.Split(strings.TrimSpace(want), "\n") {
		if p, _, _ := strings.Cut(line, " ="); p != "" {
			paths = append(paths, p)
		}
	}
	if len(paths) == 0 {
		for _, f := range Fields() {
			paths = append(paths, j.paths(f.Path)...)
		}
	}
	var b strings.Builder
	for _, p := range paths {
		fmt.Fprintf(&b, "%s = %s\n", p, valueOf(j, p))
	}
	return b.String()
}

func valueOf(j *Job, path string) string {
	l := plan()[starred(path)]
	place := l.at(j, j.item(path))
	if place.Kind() == reflect.String {
		return strconv.Quote(place.String())
	}
	switch v := place.Interface().(type) {
	case Clock:
		return strconv.Quote(v.String())
	case Hours:
		return strconv.Quote(v.String())
	}
	if l.dim == quantity.NoDim {
		return fmt.Sprintf("%+v", place.Interface())
	}
	q, known := j.Quantity(path)
	if !known {
		return "unknown"
	}
	s := fmt.Sprintf("%v ±%v %s", q.SI, q.Half, []string{"assumed", "stated", "measured", "derived"}[q.Basis])
	if from := place.Field(valFrom).String(); from != "" {
		s += " " + from
	}
	return s
}

// elsewhereTested are the faults no vector can show, with the test that does.
var elsewhereTested = map[string]string{
	"nearest": "a sentence of every fault with a nearest name",
	"too-big": "TestTooBig", "too-many": "TestTooMany", "crowded": "TestTooMany", "blank-lines": "TestBlankLines", "rule": "TestProfileRule",
}

// TestEveryFaultHasAVector: no fault without an input that gives it, none without words.
func TestEveryFaultHasAVector(t *testing.T) {
	shown := map[string]bool{}
	for _, v := range vectors(t) {
		_, faults := v.options().Read("job.yaml", v.job)
		for _, f := range faults {
			shown[f.ID] = true
		}
	}
	for _, id := range words.IDs() {
		id, ours := strings.CutPrefix(id, "fault.")
		if ours && !shown[id] && elsewhereTested[id] == "" && !strings.HasPrefix(id, "edit-") {
			t.Errorf("no vector gives the fault %s", id)
		}
	}
}
