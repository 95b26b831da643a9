package catalogue

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
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

// unit is what a column or a rule may be written in.
type unit struct {
	dim    quantity.Dim
	factor float64 // to SI
}

// units are the unit names of columns and rules. A pump's starts stay "an hour".
var units = map[string]unit{
	"":       {quantity.NoDim, 1},
	"1/h":    {quantity.NoDim, 1},
	"%":      {quantity.RatioDim, 0.01},
	"mm":     {quantity.LengthDim, 1e-3},
	"m":      {quantity.LengthDim, 1},
	"in":     {quantity.LengthDim, 0.0254},
	"ft":     {quantity.LengthDim, 0.3048},
	"L":      {quantity.VolumeDim, 1e-3},
	"m3":     {quantity.VolumeDim, 1},
	"us-gal": {quantity.VolumeDim, 3.785411784e-3},
	"bar":    {quantity.PressureDim, 1e5},
	"kPa":    {quantity.PressureDim, 1e3},
	"psi":    {quantity.PressureDim, 6894.757293168},
	"L/s":    {quantity.FlowDim, 1e-3},
	"L/min":  {quantity.FlowDim, 1e-3 / 60},
	"us-gpm": {quantity.FlowDim, 3.785411784e-3 / 60},
	"m3/h":   {quantity.FlowFactorDim, 1.0 / 3600},
	"m/s":    {quantity.VelocityDim, 1},
	"kW":     {quantity.PowerDim, 1e3},
	"kg":     {quantity.MassDim, 1},
	"s":      {quantity.TimeDim, 1},
	"min":    {quantity.TimeDim, 60},
	"h":      {quantity.TimeDim, 3600},
	"d":      {quantity.TimeDim, 86400},
	"mg/L":   {quantity.DoseDim, 1e-3},
}

// isDim reports whether u may stand in a column of dimension d. A head is written in
// metres and a share in % or as a plain number.
func (u unit) isDim(d quantity.Dim) bool {
	switch {
	case u.dim == d, d == quantity.HeadDim && u.dim == quantity.LengthDim:
		return true
	}
	return d == quantity.RatioDim && u.dim == quantity.NoDim && u.factor == 1
}

// column is one column of a table: a text when Dim is text, else a number.
type column struct {
	name string
	dim  quantity.Dim
	text bool
}

// table is the shape of one table and how a row of it enters a catalogue.
type table struct {
	name    string
	columns []column
	add     func(c *Catalogue, r *record)
}

// record is one row being read. Its getters note the first fault they meet.
type record struct {
	file   string
	line   int
	cells  map[string]cell
	table  *table
	fault  *Fault
	first  int // column of the row's first cell
	scales map[string]float64
	known  map[string]string // source keys
	seen   map[string]int    // keys of this file, with their lines
}

type cell struct {
	text   string
	column int
	line   int
}

func (r *record) fail(col, id string, args words.Args) {
	if r.fault != nil {
		return
	}
	at := r.cells[col]
	if at.column == 0 {
		at = cell{column: r.first, line: r.line}
	}
	if args == nil {
		args = words.Args{}
	}
	args["column"], args["value"], args["table"] = col, at.text, r.table.name
	r.fault = &Fault{File: r.file, Line: at.line, Column: at.column, ID: id, Args: args}
}

// word returns a text that must not be blank.
func (r *record) word(col string) string {
	s := r.cells[col].text
	if s == "" {
		r.fail(col, "catalogue.blank", nil)
	}
	return s
}

// maybe returns a text that may be blank.
func (r *record) maybe(col string) string { return r.cells[col].text }

// num returns a number in SI that must lie in low..high (SI, both allowed).
func (r *record) num(col string, low, high float64) float64 {
	s := r.word(col)
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case s == "":
		return 0
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		r.fail(col, "catalogue.number", nil)
		return 0
	}
	scale := r.scales[col]
	v *= scale
	if v < low || v > high {
		r.fail(col, "catalogue.range", words.Args{"low": short(low / scale), "high": short(high / scale)})
	}
	return v
}

// opt is num where a blank cell means 0: there is none.
func (r *record) opt(col string, low, high float64) float64 {
	if r.cells[col].text == "" {
		return 0
	}
	return r.num(col, low, high)
}

func (r *record) yes(col string) bool {
	switch r.word(col) {
	case "yes":
		return true
	case "no":
		return false
	}
	r.fail(col, "catalogue.yes-no", nil)
	return false
}

// thread returns the thread size of the row.
func (r *record) thread() quantity.Size {
	return quantity.Size{Family: "thread", Mark: r.word("thread")}
}

// row returns what every row carries; its source and certainty must be there and known.
func (r *record) row(key string) Row {
	out := Row{Key: key, Words: r.word("words"), Source: r.sources()}
	out.Certainty = r.certainty()
	r.once(key)
	return out
}

// once refuses a key the file has already given.
func (r *record) once(key string) {
	if line, twice := r.seen[key]; twice {
		r.fail(r.table.columns[0].name, "catalogue.twice", words.Args{"key": key, "line": strconv.Itoa(line)})
		return
	}
	r.seen[key] = r.line
}

func (r *record) sources() string {
	list := r.word("source")
	for _, s := range strings.Split(list, ";") {
		if _, ok := r.known[s]; !ok && list != "" {
			r.fail("source", "catalogue.source", words.Args{"key": s, "hint": hint(nearest(s, r.known))})
		}
	}
	return list
}

var certainties = map[string]Certainty{"recalled": Recalled, "worked": Worked, "secondary": Secondary, "checked": Checked}

func (r *record) certainty() Certainty {
	s := r.word("certainty")
	c, ok := certainties[s]
	if !ok {
		r.fail("certainty", "catalogue.certainty", nil)
	}
	return c
}

func short(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

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
			return nil
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
		if _, ok := scales[c.name]; !ok {
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

// fill puts the cells of one record under their column names.
func (r *record) fill(rd *csv.Reader, rec, names []string) *Fault {
	r.line, r.first = rd.FieldPos(0)
	if len(rec) != len(names) {
		return &Fault{File: r.file, Line: r.line, Column: r.first, ID: "catalogue.cells",
			Args: words.Args{"got": strconv.Itoa(len(rec)), "want": strconv.Itoa(len(names))}}
	}
	r.cells = make(map[string]cell, len(names))
	for i, n := range names {
		line, col := rd.FieldPos(i)
		r.cells[n] = cell{text: strings.TrimSpace(rec[i]), line: line, column: col}
	}
	return nil
}
