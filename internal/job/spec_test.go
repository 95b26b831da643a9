package job

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

//go:generate go test . -run "Fresh|Vectors" -update

const (
	specPath = "../../spec/job-file.md"
	specEnd  = "<!-- end of fields -->"
)

// TestSpecFresh keeps the tables of spec/job-file.md equal to the field table.
func TestSpecFresh(t *testing.T) {
	have, err := os.ReadFile(specPath)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(have), "<!-- fields:")
	mark, rest, ok2 := strings.Cut(rest, "-->\n")
	_, after, ok3 := strings.Cut(rest, specEnd)
	if !ok || !ok2 || !ok3 {
		t.Fatalf("%s has no place for the field tables", specPath)
	}
	fresh(t, specPath, []byte(before+"<!-- fields:"+mark+"-->\n"+specTables()+specEnd+after))
}

// specTables writes the fields by the map they stand in, in the order of a file.
func specTables() string {
	var b strings.Builder
	last := "-"
	for _, f := range Fields() {
		head, _, _ := strings.Cut(f.Path, ".")
		if head == f.Path {
			head = ""
		}
		if head != last {
			title := head
			if head == "" {
				title = "top level"
			}
			fmt.Fprintf(&b, "\n### %s\n\n| path | value | what it is | when left out |\n|---|---|---|---|\n", title)
			last = head
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", f.Path, specValue(f), cell(f.Label()), specAbsent(f))
	}
	b.WriteByte('\n')
	b.WriteString(specDoubts())
	return b.String()
}

// specDoubts writes the table of the spreads that are taken where none is written.
func specDoubts() string {
	var b strings.Builder
	b.WriteString("### Spread where none is written\n\n| field | told | guessed (`?`) | why |\n|---|---|---|---|\n")
	for _, d := range Doubts() {
		f, _ := FieldFor(d.Paths[0])
		dim := f.Dim
		if d.Key == HabitPath {
			dim = quantity.TimeDim
		}
		var notes []string
		if len(d.Along) > 0 {
			notes = append(notes, "moves "+code(d.Along)+" along")
		}
		if d.Together {
			notes = append(notes, "all move together")
		}
		if d.Left != (Band{}) {
			notes = append(notes, "left out, taken on the cautious side: "+d.Left.Text(dim, quantity.Metric))
		}
		why := strings.Join(append([]string{d.Reason()}, notes...), "; ")
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", code(d.Paths), d.Told.Text(dim, quantity.Metric), d.Guessed.Text(dim, quantity.Metric), cell(why))
	}
	b.WriteByte('\n')
	return b.String()
}

func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

func specValue(f Field) string {
	switch f.Shape {
	case Quantity:
		show := func(si float64) string {
			return quantity.Format(quantity.Quantity{Dim: f.Dim, SI: si, Basis: quantity.Stated}, quantity.Metric)
		}
		whole := ""
		if f.Whole {
			whole = ", whole"
		}
		return fmt.Sprintf("%s, %s to %s%s", f.Dim, show(f.Low), show(f.High), whole)
	case Count:
		return fmt.Sprintf("whole number, %d to %d", int(f.Low), int(f.High))
	case Choice:
		return code(f.Allowed)
	case Row:
		list := "row of `" + f.Table + "`"
		if f.Table == "" {
			list = "row of its kind's table"
		}
		if len(f.Allowed) > 0 {
			list += ", or " + code(f.Allowed)
		}
		return list
	case Size:
		return "trade size, row of `" + f.Table + "`"
	}
	return f.Shape.String()
}

func code(list []string) string { return "`" + strings.Join(list, "`, `") + "`" }

func specAbsent(f Field) string {
	text := "unknown"
	switch {
	case f.Shape == Reserved:
		return "refused when given"
	case f.Required:
		return "**required**"
	case f.Same != "" && f.Share != 0:
		text = fmt.Sprintf("%v of `%s`", f.Share, f.Same)
	case f.Same != "":
		text = "as `" + f.Same + "`"
	case f.Default != "":
		text = "`" + f.Default + "`"
		if f.US != "" {
			text += ", in us units `" + f.US + "`"
		}
		if f.Unknown != "" {
			text += ", which counts as `" + f.Unknown + "`"
		}
		text += " (" + f.From + ")"
	case f.Shape != Quantity:
		text = "none"
	}
	if f.Rule != "" {
		text += "; rule `" + f.Rule + "`"
	}
	return text
}

// TestSpecNamesEverything: the page has each field once, and every source of a default is explained.
func TestSpecNamesEverything(t *testing.T) {
	text, err := os.ReadFile(specPath)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Fields() {
		if n := strings.Count(string(text), "| `"+f.Path+"` |") - strings.Count(specDoubts(), "| `"+f.Path+"` |"); n != 1 {
			t.Errorf("%s stands in the specification %d times", f.Path, n)
		}
		if f.From != "" && (!strings.Contains(string(text), "`"+f.From+"`") || !words.Has("source."+f.From)) {
			t.Errorf("the source %s of %s is not explained", f.From, f.Path)
		}
	}
}
