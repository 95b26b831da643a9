package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/homes"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// dice are throws read off bytes, so that the search for inputs which reach new code can
// move one throw and leave the others. When the bytes are spent every throw is nought.
type dice []byte

func (d *dice) below(n int) int {
	var b [2]byte
	*d = (*d)[copy(b[:], *d):]
	return int(binary.LittleEndian.Uint16(b[:])) % n
}

func (d *dice) pick(list ...string) string { return list[d.below(len(list))] }

// deformed is a job file with one or more of its fields made extreme, of the wrong kind or
// missing, and the files that it names.
type deformed struct {
	source []byte
	files  map[string][]byte
	did    []string // what was changed, for messages
}

// deform takes an example or a random home and changes it by the field table. Half of the
// files are changed in ways that the reader accepts, for what it refuses goes no further.
func deform(t testing.TB, cat *catalogue.Catalogue, throws []byte) deformed {
	t.Helper()
	d := dice(throws)
	x := deformed{files: map[string][]byte{"log.csv": strangeLog(&d), "prices.csv": []byte("row,price\n")}}
	if at := d.below(6); at < 4 {
		b, err := os.ReadFile("../../examples/" + []string{"kestrel-rise", "juniper-flat", "lantern-row", "osprey-house"}[at] + ".job.yaml")
		if err != nil {
			t.Fatal(err)
		}
		x.source = b
	} else {
		h := homes.Random(71, d.below(1<<16))
		x.source = h.Source
		for name, b := range h.Files {
			x.files[name] = b
		}
	}
	accepted := d.below(4) != 0
	for range 1 + d.below(6) {
		doc, faults := job.Read("x", x.source)
		if doc == nil || len(faults) > 0 {
			break // what is refused is not read twice
		}
		f := job.Fields()[d.below(len(job.Fields()))]
		path := itemOf(&d, doc, f.Path)
		text := valueFor(&d, cat, f, doc.Job.System())
		switch {
		case d.below(12) == 0:
			x.put(doc, job.Edit{Op: job.Unset, Path: path})
		case accepted || !doc.Given(path):
			x.put(doc, job.Edit{Op: job.Set, Path: path, Text: text})
		default:
			x.overwrite(doc, path, d.pick(text, wrongKind(&d)))
		}
	}
	return x
}

// put makes an edit where the editor accepts it.
func (x *deformed) put(doc *job.Doc, e job.Edit) {
	if next, _, err := doc.Apply(e); err == nil {
		x.source = next.Bytes()
		x.did = append(x.did, fmt.Sprintf("%s: %s", e.Path, e.Text))
	}
}

// overwrite writes a value as a hand would, whatever comes of it.
func (x *deformed) overwrite(doc *job.Doc, path, text string) {
	line, column, ok := doc.Place(path)
	lines := bytes.Split(x.source, []byte("\n"))
	if !ok || line > len(lines) || column-1 > len(lines[line-1]) {
		return
	}
	lines[line-1] = append(slices.Clone(lines[line-1][:column-1]), text...)
	x.source = bytes.Join(lines, []byte("\n"))
	x.did = append(x.did, fmt.Sprintf("%s by hand: %.60q", path, text))
}

// itemOf names an item of a list where the path asks for one: one that is there, as a rule.
func itemOf(d *dice, doc *job.Doc, path string) string {
	list, tail, ok := strings.Cut(path, ".*.")
	if !ok {
		return path
	}
	var tags []string
	for _, p := range doc.Paths() {
		if rest, in := strings.CutPrefix(p, list+"."); in {
			if tag, _, deeper := strings.Cut(rest, "."); deeper && !slices.Contains(tags, tag) {
				tags = append(tags, tag)
			}
		}
	}
	if len(tags) == 0 || d.below(10) == 0 {
		return list + ".new-1." + tail
	}
	return list + "." + tags[d.below(len(tags))] + "." + tail
}

// units are some of each dimension, both systems.
var units = map[quantity.Dim][]string{
	quantity.LengthDim: {"m", "mm", "ft", "in", "km"}, quantity.VolumeDim: {"L", "m³", "gal", "mL"}, quantity.PressureDim: {"bar", "psi", "kPa", "m", "Pa", "MPa"},
	quantity.FlowDim: {"L/min", "L/s", "m³/h", "gpm"}, quantity.TimeDim: {"s", "min", "h", "d"}, quantity.TemperatureDim: {"°C", "°F", "K"},
	quantity.RatioDim: {"", "%"}, quantity.DoseDim: {"mg/L", "g/m³"}, quantity.VoltageDim: {"V"}, quantity.CurrentDim: {"A"}, quantity.LoadDim: {"kPa", "psf"},
}

// valueFor writes a value for a field: of its shape, at or about its limits, with every kind
// of doubt.
func valueFor(d *dice, cat *catalogue.Catalogue, f job.Field, sys quantity.System) string {
	switch f.Shape {
	case job.Quantity, job.Count:
		return number(d, f, sys)
	case job.Choice:
		return d.pick(append(slices.Clone(f.Allowed), "yes", "none", "Unknown", "yes ?")...)
	case job.Row, job.Size:
		keys := append(slices.Clone(f.Allowed), "no-such-row")
		if f.Table != "" {
			keys = append(keys, cat.Keys(f.Table)...)
		} else {
			table := catalogue.Tables()[d.below(len(catalogue.Tables()))]
			keys = append(keys, cat.Keys(table)...)
		}
		return d.pick(keys...)
	case job.Date:
		return d.pick("2026-03-02", "0001-01-01", "9999-12-31", "2024-02-29", "2025-02-29", "2026-3-2")
	case job.TimeOfDay:
		return d.pick("00:00", "24:00", "23:59", "12:30", "25:00", "7:5")
	case job.DailyHours:
		return d.pick("00:00-24:00", "08:00-08:00", "23:59-00:01", "22:00-06:00", "00:00-00:00", "8-18")
	case job.Spells:
		return d.pick("about "+d.pick("1", "100000", "0.001", "7")+" a "+d.pick("day", "week", "month", "year")+", "+d.pick("1 min to 2 min", "1 to 100 d", "0 to 0 h", "10 to 20 h", "400 to 800 d"),
			"dry season 2 to 4 d with 6 h weak between", "6 h", "once a day, 24 h", "twice a week, 1 h; about 1 a year, 90 d", "2 a week, 20 to 10 h")
	case job.Slots:
		return d.pick("daily 00:00-24:00", "daily 22:00-04:00", "Mon 00:00-00:01", "every second day 06:00-12:00", "daily 05:00-07:30 18:00-20:00", "Mon Mon 06:00-12:00", "every 365 days 00:00-00:01")
	case job.File:
		return d.pick("log.csv", "prices.csv", "not-there.csv", "../log.csv", "/etc/hostname", ".")
	}
	return d.pick("a", strings.Repeat("long ", 400), `"<b>&amp; =1+1 \" \\ %s ‹name› {x}"`, "\"\u202e back\"", "\"\u202e٣\"", "m1 r1 t1", "m1")
}

// number writes a quantity or a count.
func number(d *dice, f job.Field, sys quantity.System) string {
	share := []float64{0, 1, 0.5, 0.01, 0.1, 0.9, 0.999999, -0.001, 1.001, 1e-9}[d.below(10)]
	q := quantity.Quantity{Dim: f.Dim, SI: f.Low + share*(f.High-f.Low)}
	if f.Low > 0 && d.below(2) == 0 { // by ratio, where the range spans decades
		q.SI = f.Low * math.Pow(f.High/f.Low, share)
	}
	if f.Whole || f.Shape == job.Count {
		q.SI = math.Round(q.SI)
	}
	var text string
	if f.Shape == job.Count {
		text = strconv.FormatFloat(q.SI, 'f', -1, 64)
	} else {
		text = quantity.FormatFile(q, sys)
	}
	switch d.below(12) {
	case 0: // the same figure with another unit: a slip of a hand
		if list := units[f.Dim]; len(list) > 0 {
			figure, _, _ := strings.Cut(text, " ")
			return figure + " " + d.pick(list...)
		}
	case 1:
		return d.pick("0", "-0", "1e308", "1e-308", "NaN", "Inf", "1e999", "3,2", "1_000", "unknown", "0x10", "٣", "− 2", "½")
	case 2:
		return text + " " + d.pick("±", "±1e9", "±0", "±1e-30", "±300%", "±-1", "±5 psi", "± 5 % ?")
	}
	return text + d.pick("", "", " ?", " ±5%", " ±50%", " ±99%", " ±0.001%")
}

// wrongKind is a value of another kind than any field takes.
func wrongKind(d *dice) string {
	return d.pick("", "[1, 2]", "{a: 1}", "~", "!!int 3", "&a 3", "*a", "|\n  x", "\"", "'", ">", "- 1", "a: b", "\t3", "\x00", strings.Repeat("9", 5000), "\ufeff3", "<<: {a: 1}")
}

// strangeLog writes a log of outages as people keep them, now and then as nobody should.
func strangeLog(d *dice) []byte {
	return []byte(d.pick("start,end\n2025-01-01 06:00,2025-01-01 12:00\n2025-01-20 06:00,2025-01-21 12:00\n2025-03-01 00:00,2025-03-01 00:01\n",
		"start,end\n", "", "start,end\n2025-01-01 06:00,\n", "start,end\n2025-01-02 06:00,2025-01-01 06:00\n", "\x00\x01", "start,end\n0001-01-01 00:00,9999-12-31 23:59\n",
		"start,end\n2025-01-01 06:00,2025-01-01 12:00\n2025-01-01 06:00,2025-01-01 12:00\n"))
}
