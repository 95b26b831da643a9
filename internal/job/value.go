package job

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Rows answers whether a catalogue table has a row, and names the nearest when not.
type Rows func(table, key string) (ok bool, nearest string)

// value reads the text of a field. The result is what the struct's leaf holds:
// quantity.Quantity, int, string, quantity.Size, Clock, Hours, []Spell or []Slot.
func (f Field) value(text string, sys quantity.System) (any, *valueError) {
	switch f.Shape {
	case Quantity:
		return f.quantity(text, sys)
	case Count:
		return f.count(text)
	case Choice:
		return f.choice(text)
	case Row:
		return f.row(text)
	case Text:
		return text, nil
	case Date:
		return f.date(text)
	case TimeOfDay:
		return f.clock(text)
	case DailyHours:
		return asHours(parseHours(text))
	case Size:
		return f.size(text)
	case Spells:
		return asValue(ParseHabit(text))
	case Slots:
		return asValue(ParseTimetable(text))
	case File:
		return f.file(text)
	}
	return nil, wrong("reserved", words.Args{"path": f.Path})
}

// refuseText refuses what quotes can smuggle into a value: invisible characters.
func refuseText(text string) *valueError {
	for _, r := range text {
		if r != '\n' && r != '\t' && isControl(r) {
			return wrong("control", words.Args{"code": fmt.Sprintf("U+%04X", r)})
		}
	}
	return nil
}

// isControl reports a character that cannot be seen and has no place in a job file.
func isControl(r rune) bool {
	return r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u2028' || r == '\u2029' || r == '\uFEFF' || r == utf8.RuneError
}

// asHours keeps hours that could not be read from becoming a value.
func asHours(h Hours, err *valueError) (any, *valueError) {
	if err != nil {
		return nil, err
	}
	return h, nil
}

func asValue[T any](v T, err error) (any, *valueError) {
	if err != nil {
		return nil, err.(*valueError)
	}
	return v, nil
}

func (f Field) quantity(text string, sys quantity.System) (any, *valueError) {
	q, err := quantity.Parse(text, f.Dim, sys)
	if err != nil && f.Whole {
		return nil, f.notWhole(text)
	}
	if err != nil {
		e := fromQuantity(err, 0)
		e.Accept = words.Say("accept.quantity", words.Args{"examples": quantity.Accepts(f.Dim, sys)})
		return nil, e
	}
	return q, f.limits(q, text, sys)
}

// limits refuses what physical sense excludes; a number that is not one never passes.
func (f Field) limits(q quantity.Quantity, text string, sys quantity.System) *valueError {
	id := ""
	switch {
	case f.Low == 0 && q.SI < 0:
		id = "negative"
	case !(q.SI >= f.Low):
		id = "too-low"
	case !(q.SI <= f.High):
		id = "too-high"
	case f.Whole && q.SI != math.Trunc(q.SI):
		id = "not-whole"
	case f.Whole && q.Basis == quantity.Measured || f.Whole && q.Half > 0:
		id = "spread-of-count"
	case q.Half > f.High-f.Low:
		id = "spread-too-wide"
	default:
		return nil
	}
	show := func(si float64) string {
		return quantity.Format(quantity.Quantity{Dim: f.Dim, SI: si, Basis: quantity.Stated}, sys)
	}
	e := wrong(id, words.Args{"value": text, "field": f.Label(), "low": show(f.Low), "high": show(f.High)})
	e.Accept = words.Say("accept.between", e.Args)
	return e
}

func (f Field) count(text string) (any, *valueError) {
	n, err := strconv.Atoi(text)
	if err == nil && float64(n) >= f.Low && float64(n) <= f.High {
		return n, nil
	}
	e := f.notWhole(text)
	if f.Path == "format" {
		e.ID, e.Accept = "format", words.Say("accept.choice", words.Args{"list": e.Args["high"]})
	}
	return nil, e
}

// notWhole refuses a text that is no whole number within the field's bounds.
func (f Field) notWhole(text string) *valueError {
	e := wrong("count", words.Args{"value": text, "field": f.Label(), "low": itoa(int(f.Low)), "high": itoa(int(f.High))})
	e.Accept = words.Say("accept.between", e.Args)
	return e
}

// switchWords are what other files write for yes and no.
var switchWords = map[string]string{"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no", "none": "no"}

func (f Field) choice(text string) (any, *valueError) {
	if slices.Contains(f.Allowed, text) {
		return text, nil
	}
	e := wrong("choice", words.Args{"value": text, "field": f.Label()})
	e.Accept = words.Say("accept.choice", words.Args{"list": strings.Join(f.Allowed, ", ")})
	e.Nearest = nearest(text, f.Allowed)
	if w := switchWords[strings.ToLower(text)]; slices.Contains(f.Allowed, w) {
		e.Nearest = w
	}
	return nil, e
}

// row reads a catalogue key. Whether the row exists is asked later, where a checker is given.
func (f Field) row(text string) (any, *valueError) {
	if text != "" && utf8.RuneCountInString(text) <= 64 && strings.IndexFunc(text, notOfKey) < 0 {
		return text, nil
	}
	e := wrong("row-form", words.Args{"value": text, "field": f.Label()})
	e.Accept = f.acceptRow()
	return nil, e
}

// notOfKey reports a letter no catalogue key has.
func notOfKey(r rune) bool {
	return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-./ ", r))
}

func (f Field) acceptRow() string {
	args := words.Args{"table": f.Table, "list": strings.Join(f.Allowed, ", ")}
	if f.Table == "" {
		return words.Say("accept.row-of-kind", nil)
	}
	if len(f.Allowed) == 0 {
		return words.Say("accept.row", args)
	}
	return words.Say("accept.row-or", args)
}

func (f Field) size(text string) (any, *valueError) {
	s, err := quantity.ParseSize(text)
	if err != nil {
		e := fromQuantity(err, 0)
		e.Accept = words.Say("accept.size", nil)
		return nil, e
	}
	return s, nil
}

func (f Field) date(text string) (any, *valueError) {
	if d, err := time.Parse(time.DateOnly, text); err == nil && d.Year() >= 1900 {
		return text, nil
	}
	e := wrong("date", words.Args{"value": text, "field": f.Label()})
	e.Accept = words.Say("accept.date", nil)
	return nil, e
}

func (f Field) clock(text string) (any, *valueError) {
	if minute, ok := parseClock(text); ok {
		return Clock{minute, true}, nil
	}
	e := wrong("clock", words.Args{"value": text, "field": f.Label()})
	e.Accept = words.Say("accept.clock", nil)
	return nil, e
}

// file reads the name of a file beside the job file: never above it, never elsewhere.
func (f Field) file(text string) (any, *valueError) {
	bad := text == "" || path.IsAbs(text) || strings.ContainsAny(text, "\\:\n") || path.Clean(text) != text ||
		text == "." || text == ".." || strings.HasPrefix(text, "../")
	if !bad {
		return text, nil
	}
	e := wrong("file", words.Args{"value": text, "field": f.Label()})
	e.Accept = words.Say("accept.file", nil)
	return nil, e
}
