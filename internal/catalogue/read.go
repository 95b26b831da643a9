package catalogue

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Fault is one thing wrong with a catalogue file, with its place.
type Fault struct {
	File         string
	Line, Column int    // from 1; Column counts bytes
	ID           string // message id
	Args         words.Args
}

// Error gives "file:line:column: sentence".
func (f *Fault) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, words.Say(f.ID, f.Args))
}

// column is one column of a table: a text when Dim is text, else a number.
type column struct {
	name string
	dim  quantity.Dim
	text bool
	may  bool // a file may leave the column out: every cell is then blank
}

// table is the shape of one table and how a row of it enters a catalogue.
type table struct {
	name    string
	columns []column
	add     func(c *Catalogue, r *record)
}

// read reads one table from data into c, replacing rows of the same key. With named, the
// first line "table,<name>" says which table it is.
func read(c *Catalogue, file string, data []byte, t *table) error {
	rd := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff")))
	rd.Comment, rd.FieldsPerRecord, rd.ReuseRecord, rd.TrimLeadingSpace = '#', -1, true, true
	if t == nil {
		var err error
		if t, err = named(rd, file); err != nil {
			return err
		}
	}
	head, err := next(rd, file)
	if err != nil {
		return orEmpty(err, file)
	}
	names, scales, fault := header(rd, file, head, t)
	if fault != nil {
		return fault
	}
	seen := map[string]int{}
	for {
		rec, err := next(rd, file)
		if errors.Is(err, io.EOF) {
			return c.curveRises(file)
		} else if err != nil {
			return err
		}
		r := &record{file: file, table: t, scales: scales, known: c.Sources, seen: seen}
		if fault := r.fill(rd, rec, names); fault != nil {
			return fault
		}
		if t.add(c, r); r.fault != nil {
			return r.fault
		}
	}
}

func orEmpty(err error, file string) error {
	if errors.Is(err, io.EOF) {
		return &Fault{File: file, Line: 1, Column: 1, ID: "catalogue.empty"}
	}
	return err
}

// next reads one record and turns a syntax error into a Fault.
func next(rd *csv.Reader, file string) ([]string, error) {
	rec, err := rd.Read()
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		return nil, &Fault{File: file, Line: bad.Line, Column: bad.Column, ID: "catalogue.csv", Args: words.Args{"why": bad.Err.Error()}}
	}
	return rec, err
}

// named reads the "table,<name>" line of a user's file.
func named(rd *csv.Reader, file string) (*table, error) {
	rec, err := next(rd, file)
	if err != nil {
		return nil, orEmpty(err, file)
	}
	line, col := rd.FieldPos(0)
	if len(rec) < 2 || strings.TrimSpace(rec[0]) != "table" {
		return nil, &Fault{File: file, Line: line, Column: col, ID: "catalogue.no-table", Args: words.Args{"tables": strings.Join(tableNames(), ", ")}}
	}
	name := strings.TrimSpace(rec[1])
	for i := range tables {
		if tables[i].name == name {
			return &tables[i], nil
		}
	}
	line, col = rd.FieldPos(1)
	return nil, &Fault{File: file, Line: line, Column: col, ID: "catalogue.which-table", Args: words.Args{"value": name, "tables": strings.Join(tableNames(), ", ")}}
}

// header checks the column names and gives their order and scale to SI.
func header(rd *csv.Reader, file string, head []string, t *table) (names []string, scales map[string]float64, fault *Fault) {
	scales = map[string]float64{}
	for i, h := range head {
		line, at := rd.FieldPos(i)
		name, written, _ := strings.Cut(strings.TrimSpace(h), " ")
		args := words.Args{"column": h, "table": t.name, "columns": t.list()}
		col := t.find(name)
		u, known := units[written]
		switch _, twice := scales[name]; {
		case col == nil || twice:
			return nil, nil, &Fault{File: file, Line: line, Column: at, ID: "catalogue.column", Args: args}
		case !known || !col.text && !u.isDim(col.dim) || col.text && written != "":
			return nil, nil, &Fault{File: file, Line: line, Column: at, ID: "catalogue.unit", Args: args}
		}
		names, scales[name] = append(names, name), u.factor
	}
	for _, c := range t.columns {
		if _, ok := scales[c.name]; !ok && !c.may {
			line, at := rd.FieldPos(0)
			return nil, nil, &Fault{File: file, Line: line, Column: at, ID: "catalogue.missing-column", Args: words.Args{"column": c.name, "table": t.name}}
		}
	}
	return names, scales, nil
}

func (t *table) find(name string) *column {
	for i := range t.columns {
		if t.columns[i].name == name {
			return &t.columns[i]
		}
	}
	return nil
}

func (t *table) list() string {
	names := make([]string, len(t.columns))
	for i, c := range t.columns {
		names[i] = c.name
	}
	return strings.Join(names, ", ")
}
