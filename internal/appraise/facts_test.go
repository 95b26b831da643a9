package appraise

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// retold is an example whose file says something else in some places: pairs of old and new.
func retold(t *testing.T, name string, pairs ...string) Input {
	t.Helper()
	text := string(demo.Source(t, name))
	for i := 0; i < len(pairs); i += 2 {
		if strings.Count(text, pairs[i]) != 1 {
			t.Fatalf("%s has %q %d times", name, pairs[i], strings.Count(text, pairs[i]))
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return readAs(t, name, []byte(text))
}

func readAs(t *testing.T, name string, src []byte) Input {
	t.Helper()
	doc, faults := job.Read(name, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	cat, _ := demo.Rows(t, doc.Job.Profile)
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// of is the one finding with an id in a mode.
func of(t *testing.T, a *Appraisal, id, mode string) finding.Finding {
	t.Helper()
	for _, f := range a.Findings {
		if f.ID == id && f.Mode == mode {
			return f
		}
	}
	t.Fatalf("no finding %s %s", id, mode)
	return finding.Finding{}
}

// TestSpellings: two spellings of one value give the same bytes.
func TestSpellings(t *testing.T) {
	for _, x := range []struct {
		name  string
		a, b  []string
		whole bool // the day and the spread too: slow
	}{
		{"kestrel-rise", []string{`"17:30"`, `"07:30"`, `"20:30"`, `"09:30"`}, []string{`"17:30"`, `"7:30"`, `"20:30"`, `"9:30"`}, true},
		{"kestrel-rise", []string{`"17:30"`, `"22:30"`, `"20:30"`, `"01:30"`}, []string{`"17:30"`, `"22:30"`, `"20:30"`, `"1:30"`}, false},
		{"kestrel-rise", nil, []string{"pressure: 0.8 bar ±0.1", "pressure: 80 kPa ±10 kPa"}, false},
		{"kestrel-rise", nil, []string{"night-maximum: 4.1 bar", "night-maximum: 410 kPa"}, false},
		{"juniper-flat", nil, []string{"away: 08:00-18:00", `away: "8:00 - 18:00"`}, true},
		{"juniper-flat", []string{"away: 08:00-18:00", "away: 22:00-06:00"}, []string{"away: 08:00-18:00", "away: 22:00-6:00"}, false},
	} {
		said := func(pairs []string) []byte {
			in := retold(t, x.name, pairs...)
			a, err := Quick(in)
			if x.whole && !testing.Short() {
				a = appraised(t, in)
			}
			if err != nil {
				t.Fatal(err)
			}
			b, err := a.JSON()
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		if a, b := said(x.a), said(x.b); !bytes.Equal(a, b) {
			t.Errorf("%s: %v and %v differ: %s", x.name, x.a, x.b, firstApart(a, b))
		}
	}
}

// firstApart is the first line in which two texts differ.
func firstApart(a, b []byte) string {
	x, y := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("line %d: %s | %s", i+1, strings.TrimSpace(x[i]), strings.TrimSpace(y[i]))
		}
	}
	return fmt.Sprintf("%d lines and %d", len(x), len(y))
}

// TestWorstHoursAreOnePressure: a reading with water running is one pressure at rest for all
// that looks at the worst hours: 1.48 bar at the meter, 0.6 or more where a lock-out at 0.3
// bar feels it, which therefore does not let the store serve then; the store's water is no
// fresher for hours in which it stands.
func TestWorstHoursAreOnePressure(t *testing.T) {
	own := func(in Input) Input { // all of the sag in the own pipe
		j := *in.Job
		j.Assumed = assume.Values{assume.StreetSag.Key: 0}
		in.Job = &j
		return in
	}
	running, err := Quick(own(retold(t, "kestrel-rise", "pressure: 0.8 bar ±0.1", "pressure: 0.8 bar ±0.1\n    flow: 15 L/min", "low: 1.2 bar", "low: 0.3 bar")))
	if err != nil {
		t.Fatal(err)
	}
	atRest, err := Quick(own(retold(t, "kestrel-rise", "pressure: 0.8 bar ±0.1", "pressure: 1.4772727 bar ±0.1", "low: 1.2 bar", "low: 0.3 bar")))
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range [][2]string{{"turnover", ""}, {"refill", "refill-peak"}} {
		a, b := of(t, running, id[0], id[1]), of(t, atRest, id[0], id[1])
		if d := a.Figure.SI - b.Figure.SI; d > 1e-6*b.Figure.SI || -d > 1e-6*b.Figure.SI || a.Verdict != b.Verdict {
			t.Errorf("%s: %s %g as read with 15 L/min running, %s %g as the same pressure at rest", id[0], a.Verdict.ID(), a.Figure.SI, b.Verdict.ID(), b.Figure.SI)
		}
	}
}

// TestAwayOverMidnight: who is away from 14:00 to 02:00 is away for longer than who is back
// by midnight, and to the minute.
func TestAwayOverMidnight(t *testing.T) {
	there := func(hours string) float64 {
		y, _ := lived(t, "juniper-flat", YearsAsk{Brief: true}, job.Edit{Op: job.Set, Path: "home.away", Text: hours})
		list, n := y.Home.Input.Hand.There, 0
		for _, in := range list {
			if in {
				n++
			}
		}
		return float64(n) / float64(len(list)) * 168
	}
	// Awake from 6 to 23: 17 h a day. Working days: 9 h less from 14:00, 9.25 h less from 8:30 to 17:45.
	for hours, want := range map[string]float64{"14:00-24:00": 7*17 - 5*9, "14:00-02:00": 7*17 - 5*9, "8:30-17:45": 7*17 - 5*9.25} {
		if got := there(hours); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("away %s: somebody is there and awake %g h a week, want %g", hours, got, want)
		}
	}
}

// TestBetweenInterruptions: one time lies between two interruptions, whoever asks: of a
// timetable that turns on daily for six hours, six hours.
func TestBetweenInterruptions(t *testing.T) {
	for timetable, want := range map[string]float64{"daily 22:00-04:00": 6} {
		a := appraised(t, retold(t, "osprey-house", "timetable: every second day 06:00-12:00", "timetable: "+timetable))
		for _, id := range [][2]string{{"refill-time", "refill-usual"}, {"day-refill", "day-failing"}} {
			if f := of(t, a, id[0], id[1]); f.Limit.SI < want*3600-1 || f.Limit.SI > want*3600+1 {
				t.Errorf("%s: %s: %g h lie between two interruptions, want %g", timetable, id[0], f.Limit.SI/3600, want)
			}
		}
	}
}
