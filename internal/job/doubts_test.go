package job

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TestDoubts: every row of the table names quantities of the format, once, has its reason in
// words, and gives a guess at least the room that what was told has.
func TestDoubts(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range Doubts() {
		if !words.Has("doubt." + d.Key) {
			t.Errorf("%s has no reason", d.Key)
		}
		for _, path := range d.Paths {
			f, ok := FieldFor(path)
			if !ok || seen[path] || path != HabitPath && (f.Shape != Quantity || f.Whole) {
				t.Errorf("%s: %s", d.Key, path)
			}
			seen[path] = true
			for _, v := range []float64{f.Low, f.High, (f.Low + f.High) / 2, 0, 1} {
				down, up := d.Told.Reach(v)
				lower, upper := d.Guessed.Reach(v)
				if down > lower || up > upper || lower+upper == 0 && v != 0 {
					t.Errorf("%s at %g: told −%g +%g, guessed −%g +%g", path, v, down, up, lower, upper)
				}
			}
		}
		for _, path := range d.Along {
			if f, ok := FieldFor(path); !ok || f.Shape != Quantity {
				t.Errorf("%s moves along %s", d.Key, path)
			}
		}
	}
}

// TestReachOfToldAndGuessed: what is told, guessed, measured and left out moves as the table
// says; a reading that something else is read with moves along, and a count never moves.
func TestReachOfToldAndGuessed(t *testing.T) {
	read := func(static string) map[string]Leaf {
		src := strings.Replace(string(example(t, "kestrel-rise")), "static: 3.2 bar ±0.1", "static: "+static, 1)
		of := map[string]Leaf{}
		for _, l := range mustRead(t, []byte(src)).Job.Inexact() {
			of[l.Path] = l
		}
		return of
	}
	near := func(l Leaf, down, up float64) bool {
		return len(l.Moves) > 0 && math.Abs(l.Moves[0].Down-down) < 1e-6*bar && math.Abs(l.Moves[0].Up-up) < 1e-6*bar
	}
	told, guessed, measured := read("3.2 bar"), read("3.2 bar ?"), read("3.2 bar ±0.1")
	switch {
	case !near(told["supply.static"], 0.64*bar, 0.16*bar) || len(told["supply.static"].Moves) != 3:
		t.Errorf("told: %+v", told["supply.static"])
	case !near(guessed["supply.static"], 0.96*bar, 0.96*bar):
		t.Errorf("guessed: %+v", guessed["supply.static"])
	case !near(measured["supply.static"], 0.1*bar, 0.1*bar) || measured["supply.static"].Taken || len(measured["supply.static"].Moves) != 1:
		t.Errorf("measured: %+v", measured["supply.static"])
	}
	if n := len(told["outlets.*.height"].Moves); n != 6 { // of seven; the shower's was measured
		t.Errorf("%d heights are moved together", n)
	}
	for path, l := range told {
		if strings.Contains(path, "count") || path == "home.people" || len(l.Moves) == 0 {
			t.Errorf("%s is moved", path)
		}
	}
	j := mustRead(t, example(t, "kestrel-rise")).Job
	l := told["supply.static"]
	moved, err := j.Shifted(append(l.At(-1), Shift{"supply.flow-test.low-pressure", 0.1 * bar}, Shift{HabitPath, 0.1})...)
	if err != nil {
		t.Fatal(err)
	}
	if s, r := moved.Supply.Static.V, moved.Supply.LowRes.V; math.Abs(float64(s)-2.56*bar) > 1 || math.Abs(float64(r)-2.36*bar) > 1 {
		t.Errorf("static %v, low-pressure %v: want 2.56 and 2.36 bar", s, r)
	}
	if was, now := j.Interruptions.Habit[0].Most, moved.Interruptions.Habit[0].Most; math.Abs(float64(now/was)-1.1) > 1e-12 {
		t.Errorf("%v became %v", was, now)
	}
}

// TestReachKeepsLimits: nothing is ever moved out of the limits of its field.
func TestReachKeepsLimits(t *testing.T) {
	bounded := slices.DeleteFunc(Fields(), func(f Field) bool { return f.Shape != Quantity || math.IsInf(f.High, 0) })
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(bounded).Draw(t, "field")
		v := rapid.Float64Range(f.Low, f.High).Draw(t, "value")
		half := rapid.Float64Range(0, f.High-f.Low).Draw(t, "half")
		if m := f.within(f.Path, v, half, half); v-m.Down < f.Low-1e-9*math.Abs(f.Low) || v+m.Up > f.High+1e-9*math.Abs(f.High) || m.Down < 0 || m.Up < 0 {
			t.Fatalf("%s: %g −%g +%g leaves %g to %g", f.Path, v, m.Down, m.Up, f.Low, f.High)
		}
	})
}

// TestNoSpreadTooWide: a spread of any size on any field is refused or bounds what is moved,
// so that no slip of the pen asks for a thousand million tanks.
func TestNoSpreadTooWide(t *testing.T) {
	for _, f := range Fields() {
		if f.Shape != Quantity {
			continue
		}
		q := quantity.Quantity{Dim: f.Dim, SI: f.Low, Half: 1e9 * (f.High - f.Low), Basis: quantity.Measured}
		_, err := f.value(quantity.FormatFile(q, quantity.Metric), quantity.Metric)
		want := "spread-too-wide"
		if f.Whole {
			want = "spread-of-count"
		}
		if err == nil || err.ID != want {
			t.Errorf("%s: %v, want %s", f.Path, err, want)
		}
	}
	f, _ := FieldFor("choices.store.count")
	if _, err := f.value("3", quantity.Metric); err != nil {
		t.Error(err)
	}
}
