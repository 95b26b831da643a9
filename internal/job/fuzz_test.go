package job

import (
	"strings"
	"testing"
)

// hostile are the bad inputs a reader must answer with a fault, never with a panic.
var hostile = []string{
	"", "junk", "\x00", "\xff\xfe", mark, "a: 1\r\n", "- a\n- b", "a: &x 1\nb: *x\n", "<<: {a: 1}\n", "a: !!map {}\n",
	"---\na: 1\n---\nb: 2\n", "%YAML 1.2\n---\n", "? a\n: b\n", "a: \"\\0\"\n", "a: 'b\n", "a: |9\n  b\n", "\t\ta: 1\n",
	strings.Repeat("{a: ", 40), strings.Repeat("[", 4000), strings.Repeat("? ", 200), nested(30), "a: {b: c", "a: b: c",
	"supply:\n  static: 3,2 bar\n", "supply:\n  static: 1,500 L\n", "outlets:\n  tap:\n", "outlets:\n  tap:\n    height: -2 m\n",
	"outlets: {tap: {kind: , height: 1 m}}\n", "supply.static: 3 bar\n", "units: metric\nhome:\n  use: 30 gal\n",
	"interruptions:\n  habit: ;;\n  timetable: Mon\n", "name:\n  a: b\n", "supply: 3 bar\n", "notes: >+\n\n\n", "notes: |\n  \u2028\n",
}

// nested is a map n levels deep.
func nested(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

// FuzzRead: any bytes give faults with a place inside the text, or a job.
func FuzzRead(f *testing.F) {
	for _, s := range hostile {
		f.Add([]byte(s))
	}
	f.Add(example(f, "kestrel-rise"))
	f.Add(example(f, "juniper-flat"))
	f.Add([]byte(mark + strings.ReplaceAll(string(example(f, "juniper-flat")), "\n", "\r\n")))
	f.Fuzz(func(t *testing.T, src []byte) {
		doc, faults := Read("x", src)
		checkFaults(t, faults)
		if doc == nil && len(faults) != 1 {
			t.Errorf("no document, and %d faults", len(faults))
		}
		if len(faults) > 0 {
			return
		}
		for _, p := range doc.Paths() {
			if _, _, ok := doc.Place(p); !ok {
				t.Errorf("%s has no place", p)
			}
		}
	})
}

// checkFaults wants each fault to have its words and a place.
func checkFaults(t *testing.T, faults Faults) {
	t.Helper()
	for _, f := range faults {
		if f.Line < 1 || f.Column < 1 || strings.Contains(f.Error(), "‹") && !strings.Contains(f.Excerpt, "‹") {
			t.Errorf("%+v: %v", f, f)
		}
	}
}

// FuzzHabit: a habit that is read has sense, and each clause reads again by itself to the same.
func FuzzHabit(f *testing.F) {
	for _, s := range []string{"about 2 a week, 10 to 20 h; dry season 2 to 4 d", "about 12 a year, 3 to 12 h", "dry season to 3 days",
		"6 h", "2 to 4 d with 6 h weak between", "once a day, 3 h, with 20 min of weak supply after", "1 h with weak", "once a month, up to 2 h 30 min", "twice a week, 1 h", "", ";", "about a week", "2 a week, 20 to 10 h", "1,5 a week, 1,5 h"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		spells, err := ParseHabit(text)
		if err != nil {
			if e, ok := err.(*valueError); !ok || e.At < 0 || e.At > len(text) {
				t.Errorf("%#v", err)
			}
			return
		}
		for _, s := range spells {
			again, err := ParseHabit(s.From)
			if err != nil || len(again) != 1 || again[0] != s {
				t.Errorf("%+v reads again as %+v (%v)", s, again, err)
			}
			if !(s.PerYear >= 0) || !(s.Least >= 0) || !(s.Most >= s.Least) || !(s.Most > 0) || s.Most > year {
				t.Errorf("%+v has no sense", s)
			}
		}
	})
}

// FuzzTimetable: slots that are read are in order within the week and do not overlap.
func FuzzTimetable(f *testing.F) {
	for _, s := range []string{"Mon Wed 06:00-12:00; Sat 05:00-09:00", "daily 22:00-02:00", "Mon-Fri 6:00-7:00 18:00-20:00", "", "Mon", "06:00-07:00", "Sun 23:00-24:00", "Fri-Mon 00:00-24:00", "every second day 06:00-12:00", "every 3 days 05:00-08:00 23:00-02:00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		slots, err := ParseTimetable(text)
		if err != nil {
			return
		}
		end := 0
		for _, s := range slots {
			round := minutesAWeek
			if s.Cycle > 0 {
				round = s.Cycle + slots[0].From // the last may run on past midnight
			}
			if s.From < end || s.To <= s.From || s.To > round {
				t.Fatalf("%q: %v", text, slots)
			}
			end = s.To
		}
	})
}
