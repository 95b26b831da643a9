package job

import (
	"slices"

	"tideover/internal/words"
)

// freeKinds are the kinds of part a free arrangement can list, each with the catalogue
// table its row is of ("" for none) and the positions its handle can stand in.
var freeKinds = []struct {
	kind, table string
	stands      []string
}{
	{"meter", "valves", nil},
	{"hand-valve", "valves", []string{"open", "shut"}},
	{"isolator", "valves", nil},
	{"three-way", "valves", []string{"main", "between", "store"}},
	{"spool", "valves", []string{"out", "in"}},
	{"non-return", "non-returns", nil},
	{"strainer", "valves", nil},
	{"pipe", "pipes", nil},
	{"tee", "", nil},
	{"header", "", nil},
	{"regulator", "regulators", nil},
	{"float-valve", "floats", nil},
	{"store", "stores", nil},
	{"pump", "pumps", nil},
	{"vessel", "vessels", nil},
	{"control", "", nil},
	{"lock-out", "", nil},
	{"level-switch", "", nil},
	{"level-alarm", "", nil},
	{"cut-out", "", nil},
	{"heater", "heaters", nil},
	{"drain", "valves", []string{"open", "shut"}},
}

// FreeKinds returns the kinds of part a free arrangement can list.
func FreeKinds() []string {
	list := make([]string, len(freeKinds))
	for i, k := range freeKinds {
		list[i] = k.kind
	}
	return list
}

// checkFree: a row is of the table of its part's kind, a handle stands where such a
// handle can, and parts are listed where the arrangement reads them.
func (r *reader) checkFree() {
	if r.job.Choices.Arrangement != "free" && r.sound("choices.arrangement") {
		r.unread("parts", len(r.job.Parts))
		r.unread("joins", len(r.job.Joins))
	}
	for i := range r.job.Parts {
		r.checkFreePart(&r.job.Parts[i])
	}
}

// unread faults a list that no other arrangement than a free one reads.
func (r *reader) unread(list string, n int) {
	if e := r.entries[list]; n > 0 && e != nil {
		r.add(e.at, list, wrong("free-unread", words.Args{"list": list, "arrangement": r.job.Choices.Arrangement}))
	}
}

func (r *reader) checkFreePart(p *FreePart) {
	at := slices.Index(FreeKinds(), p.Kind)
	if at < 0 {
		return // said already
	}
	kind := freeKinds[at]
	path := "parts." + p.Tag + "."
	if r.given(path+"stands") && r.sound(path+"stands") && !slices.Contains(kind.stands, p.Stands) {
		e := wrong("free-stands", words.Args{"tag": p.Tag, "kind": p.Kind, "value": p.Stands})
		if len(kind.stands) > 0 {
			e.Accept = words.Say("accept.choice", words.Args{"list": joined(kind.stands)})
		}
		r.add(r.entries[path+"stands"].value, path+"stands", e)
	}
	for _, only := range []string{"size", "length"} {
		if r.given(path+only) && r.sound(path+only) && p.Kind != "pipe" {
			r.add(r.entries[path+only].at, path+only, wrong("free-pipe-only", words.Args{"tag": p.Tag, "kind": p.Kind, "field": only}))
		}
	}
	if !r.given(path+"row") || !r.sound(path+"row") {
		return
	}
	if kind.table == "" || kind.kind == "pipe" {
		r.add(r.entries[path+"row"].at, path+"row", wrong("free-no-row", words.Args{"tag": p.Tag, "kind": p.Kind}))
		return
	}
	if r.options.Rows == nil {
		return
	}
	if ok, near := r.options.Rows(kind.table, p.Row); !ok {
		f := Field{Table: kind.table}
		r.add(r.entries[path+"row"].value, path+"row", &valueError{ID: "no-row",
			Args: words.Args{"value": p.Row, "table": kind.table}, Accept: f.acceptRow(), Nearest: near})
	}
}

func joined(list []string) string {
	out := list[0]
	for _, s := range list[1:] {
		out += ", " + s
	}
	return out
}
