package job

import (
	"strings"
	"sync"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Shape is the form a field's value takes in the file.
type Shape uint8

// The shapes.
const (
	Quantity   Shape = iota // "3.2 bar ±0.1": a value with a unit and a basis
	Count                   // a whole number without a unit
	Choice                  // one of a few words
	Row                     // the key of a catalogue row, or one of a few words
	Text                    // anything
	Date                    // 2026-03-02
	TimeOfDay               // 17:30
	DailyHours              // 08:00-18:00
	Size                    // a trade size: "PE100-SDR11 25"
	Spells                  // a habit in words: "about 2 a week, 10 to 20 h"
	Slots                   // a timetable: "Mon Wed 06:00-12:00"
	File                    // a file beside the job file
	Reserved                // kept for a later format; refused when given
)

// String names the shape as the specification does.
func (s Shape) String() string {
	return [...]string{"quantity", "count", "choice", "row", "text", "date", "clock", "hours",
		"size", "spells", "slots", "file", "reserved"}[s]
}

// Source keys of values nobody measured or stated. Their sentences are the messages
// "source.<key>".
const (
	FromFile     = "job-file"         // written in the job file with a trailing "?"
	FromCaution  = "assumed-cautious" // the worse case, until somebody has looked
	FromUsual    = "assumed-usual"    // usual in the trade; not seen at a source
	FromNothing  = "assumed-none"     // taken as not there, or nought
	FromPractice = "assumed-practice" // what the arrangement asks for
	FromMeter    = "home.meter"       // worked out of two readings of the home's meter
)

// Field describes one path of the job file: the single description from which the
// reader, the schema, the interview, the page and the specification are made.
type Field struct {
	Path    string // "supply.static"; "*" stands for a tag: "outlets.*.height"
	Shape   Shape
	Dim     quantity.Dim // of a Quantity
	Allowed []string     // words a Choice or a Row may be, beside a row's key
	Table   string       // catalogue table of a Row or a Size: "pumps"
	Whole   bool         // a Quantity that must be a whole number

	Low, High float64 // limits of physical sense, SI, of a Quantity or Count

	Required bool
	Default  string  // value when absent, as written in a file; "" for none
	US       string  // Default where the job's units are us, when another size is usual
	Same     string  // path whose value is taken when absent
	Share    float64 // of Same's value; 0 means all of it
	Rule     string  // key of the profile rule that replaces Default, or ""
	Unknown  string  // what the word "unknown" is taken as
	From     string  // source key of Default or Unknown

	Section string // survey, store, pump-and-pipe, valves, base, power, buy, build, hand-over, log
	Order   int    // place in the table: the order of a file
}

// Label is the field's name in a few words.
func (f Field) Label() string { return words.Say("field."+f.Path+".label", nil) }

// Hint says how to find the value out on site.
func (f Field) Hint() string { return words.Say("field."+f.Path+".hint", nil) }

// Why says what the value decides.
func (f Field) Why() string { return words.Say("field."+f.Path+".why", nil) }

// Key is the last step of the path.
func (f Field) Key() string { return f.Path[strings.LastIndexByte(f.Path, '.')+1:] }

// Idle reports whether a field counts for nothing in an arrangement: what only a raised
// store or a header tank asks.
func (f Field) Idle(arrangement string) bool {
	switch {
	case strings.HasPrefix(f.Path, "choices.header."):
		return arrangement != "header" && arrangement != "free"
	case f.Path == "pipework.store-to-home":
		return arrangement != "raised" && arrangement != "header"
	}
	return false
}

// DefaultIn is the default as written in a file of the given system; "" for none.
func (f Field) DefaultIn(s quantity.System) string {
	if s == quantity.US && f.US != "" {
		return f.US
	}
	return f.Default
}

// Sections are the sections of the work, in its order.
func Sections() []string {
	return []string{"survey", "store", "pump-and-pipe", "valves", "base", "power", "buy", "build", "hand-over", "log"}
}

// lists are the paths whose children are items keyed by tag.
var lists = map[string]bool{"uses": true, "outlets": true, "existing": true, "parts": true, "joins": true, "added": true, "bought": true, "photos": true}

type index struct {
	fields   []Field
	byPath   map[string]int
	children map[string][]string // map path → its keys in order; a list's only key is "*"
}

var theIndex = sync.OnceValue(func() *index {
	x := &index{byPath: map[string]int{}, children: map[string][]string{}}
	for i, f := range table() {
		f.Order = i
		x.fields = append(x.fields, f)
		x.byPath[f.Path] = i
		x.enter(f.Path)
	}
	return x
})

// enter records every step of a path under its parent, once.
func (x *index) enter(path string) {
	for path != "" {
		parent, key := split(path)
		kids := x.children[parent]
		for _, k := range kids {
			if k == key {
				return
			}
		}
		x.children[parent] = append(kids, key)
		path = parent
	}
}

// split parts a path into its parent and its last key.
func split(path string) (parent, key string) {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i], path[i+1:]
	}
	return "", path
}

// Fields returns the field table in the order of a file.
func Fields() []Field { return append([]Field(nil), theIndex().fields...) }

// FieldFor returns the field of a path; a path into a list may name an item's tag
// ("outlets.shower-up.height") or "*".
func FieldFor(path string) (Field, bool) {
	x := theIndex()
	if i, ok := x.byPath[starred(path)]; ok {
		return x.fields[i], true
	}
	return Field{}, false
}

// starred turns the tag in a path into "*".
func starred(path string) string {
	head, rest, deep := strings.Cut(path, ".")
	if !deep || !lists[head] {
		return path
	}
	if _, tail, leaf := strings.Cut(rest, "."); leaf {
		return head + ".*." + tail
	}
	return head + ".*"
}

// isMap reports whether a starred path is a map of the format.
func (x *index) isMap(path string) bool { _, ok := x.children[path]; return ok }
