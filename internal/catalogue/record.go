package catalogue

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

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
	keys := strings.Split(list, ";")
	for i, s := range keys {
		if now, was := retired[s]; was && r.known[s] == "" {
			keys[i] = now
		} else if _, ok := r.known[s]; !ok && list != "" {
			r.fail("source", "catalogue.source", words.Args{"key": s, "hint": hint(nearest(s, r.known))})
		}
	}
	return strings.Join(keys, ";")
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
