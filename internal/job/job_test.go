package job

import (
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tideover/internal/quantity"
)

func TestTooBig(t *testing.T) {
	for _, n := range []int{maxBytes + 1, 50 << 20} {
		doc, faults := Read("big", []byte(strings.Repeat("#", n)))
		if doc != nil || len(faults) != 1 || faults[0].ID != "too-big" {
			t.Errorf("%d bytes: %v", n, faults.Err())
		}
	}
	_, faults := Read("big", []byte(strings.Repeat("#", maxBytes)))
	if len(faults) != 1 || faults[0].ID != "empty-file" {
		t.Errorf("at the limit: %v", faults.Err())
	}
}

// TestTooMany: a file of nothing but faults is told the first hundred, and that there
// are more; on one line as on many.
func TestTooMany(t *testing.T) {
	var lines, braces strings.Builder
	for i := range 500 {
		k := "k" + strconv.Itoa(i)
		lines.WriteString(k + ": 1\n")
		braces.WriteString(k + ": 1, ")
	}
	for _, text := range []string{lines.String(), "supply: {" + braces.String() + "}\n"} {
		_, faults := Read("many", []byte(text))
		if len(faults) != maxFaults+1 || faults[maxFaults].ID != "too-many" || len(faults.Error()) > 1e5 {
			t.Errorf("%d faults, %d bytes of text", len(faults), len(faults.Error()))
		}
	}
	for _, form := range []string{"k: 1\n", "k: {,,,,,,,,,}\n", `""`} {
		doc, faults := Read("crowded", []byte(strings.Repeat(form, maxTokens+1)))
		if doc != nil || len(faults) != 1 || faults[0].ID != "crowded" {
			t.Errorf("too many keys: %v", faults.Err())
		}
	}
}

// TestAskedAtOnce lets many ask one document for places and edits (for the race detector).
func TestAskedAtOnce(t *testing.T) {
	doc := mustRead(t, example(t, "kestrel-rise"))
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for _, p := range doc.Paths()[:20] {
				doc.Place(p)
			}
			if _, _, err := doc.Apply(Edit{Set, "supply.statik", "3 bar"}, Edit{Set, "home.people", "4"}); err == nil {
				t.Error("a wrong edit is made")
			}
		})
	}
	all.Wait()
}

// TestFaultPrinted pins the printed form: place, message, excerpt with caret, accepted, nearest.
func TestFaultPrinted(t *testing.T) {
	text := strings.Replace(string(example(t, "kestrel-rise")), "  static: 3.2 bar", "  statik: 3.2 bar", 1)
	text = strings.Replace(text, "frost: no", "frost: noo", 1)
	_, faults := Read("k.job.yaml", []byte(text))
	want := `k.job.yaml:15:10: "noo" is not one of the words for frost
   15 |   frost: noo
                 ^
        accepted: one of yes, no, unknown
        did you mean "no"?

k.job.yaml:18:3: "statik" is not a key of supply
   18 |   statik: 3.2 bar ±0.1          # at the meter, nothing running
          ^
        accepted here: static, gauge-height, flow-test, peak, night-maximum, service, meter, stop-valve, non-return, chlorine, chlorine-left, booster, by-pass, house-test, neighbour, second-stop, meter-strainer, shared
        did you mean "static"?`
	if diff := cmp.Diff(want, faults.Error()); diff != "" {
		t.Error(diff)
	}
}

func TestFaultInLongLine(t *testing.T) {
	_, faults := Read("x", []byte("notes: "+strings.Repeat("é", 300)+"\x01"))
	lines := strings.Split(faults.Error(), "\n")
	if len([]rune(lines[1])) > excerptWidth+10 || []rune(lines[1])[strings.Index(lines[2], "^")] != '·' {
		t.Errorf("the caret is not under the character:\n%s", faults.Error())
	}
}

// TestProfileRule: a rule replaces a default and names its source; a rule that cannot
// be used is told; a given value stands.
func TestProfileRule(t *testing.T) {
	rule := func(text string) Options {
		return Options{Rule: func(profile, key string) (string, string, bool) {
			return text, "code-7", profile == "generic" && key == "use-per-person"
		}}
	}
	src := []byte(strings.Replace(string(example(t, "kestrel-rise")), "  use: 130 L ±20%\n", "", 1))
	doc, faults := rule("150 L ±10 L").Read("x", src)
	if want := (quantity.Val[quantity.Volume]{V: 0.15, Half: 0.01, From: "code-7"}); len(faults) > 0 || doc.Job.Home.Use != want {
		t.Errorf("%v %+v", faults.Err(), doc.Job.Home.Use)
	}
	if _, faults := rule("150 bar").Read("x", src); len(faults) != 1 || faults[0].ID != "rule" {
		t.Errorf("an unusable rule: %v", faults.Err())
	}
	if doc, _ := rule("150 L").Read("x", example(t, "kestrel-rise")); doc.Job.Home.Use.V != 0.13 {
		t.Errorf("a rule replaced a given value: %v", doc.Job.Home.Use)
	}
}

// TestTaken: what practice does with a thing nobody knows.
func TestTaken(t *testing.T) {
	doc := mustRead(t, example(t, "kestrel-rise"))
	for path, want := range map[string]string{
		"supply.non-return": "none", "supply.meter": "meter-q3-2.5", "home.heater.vent": "no",
		"choices.float": "float-15-full-way", "outlets.garden.kind": "garden",
	} {
		if got := doc.Job.Taken(path); got != want {
			t.Errorf("Taken(%s) = %s, want %s", path, got, want)
		}
	}
	if doc.Job.Supply.Check != "unknown" {
		t.Error("the job forgot that nobody knows")
	}
}

// TestUnitTwins writes Kestrel Rise in every system's units and reads the same SI values back.
func TestUnitTwins(t *testing.T) {
	doc := mustRead(t, example(t, "kestrel-rise"))
	for _, sys := range quantity.Systems() {
		edits := []Edit{{Set, "units", sys.String()}}
		for _, p := range doc.Paths() {
			if q, ok := doc.Job.Quantity(p); ok {
				edits = append(edits, Edit{Set, p, quantity.FormatFile(q, sys)})
			}
		}
		twin, _, err := doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		want := *doc.Job
		want.Units = sys.String()
		if diff := cmp.Diff(&want, twin.Job); diff != "" {
			t.Errorf("%s: %s", sys, diff)
		}
	}
}

// TestHandTwin turns Juniper Flat metric by factors written here, and wants the same SI
// values: 1 psi = 6894.757293168361 Pa, 1 gal = 3.785411784 L, 1 ft = 0.3048 m (NIST SP 811, 2008).
func TestHandTwin(t *testing.T) {
	per := map[string]struct {
		factor, shift float64
		unit          string
	}{
		"psi": {6894.757293168361, 0, "Pa"}, "gpm": {3.785411784, 0, "L/min"}, "gal": {3.785411784, 0, "L"},
		"ft": {0.3048, 0, "m"}, "°F": {5.0 / 9, -32, "°C"},
	}
	text := string(example(t, "juniper-flat"))
	form := regexp.MustCompile(`: ([0-9.]+) (psi|gpm|gal|ft|°F)( ±[0-9.]+)?( |%|\n)`)
	turned := form.ReplaceAllStringFunc(text, func(s string) string {
		m := form.FindStringSubmatch(s)
		u := per[m[2]]
		number := func(x float64) string { return strconv.FormatFloat(x, 'g', 17, 64) }
		v, _ := strconv.ParseFloat(m[1], 64)
		out := ": " + number((v+u.shift)*u.factor) + " " + u.unit
		if half := strings.TrimPrefix(m[3], " ±"); half != "" {
			h, _ := strconv.ParseFloat(half, 64)
			if m[4] != "%" {
				h *= u.factor
			}
			out += " ±" + number(h)
		}
		return out + m[4]
	})
	turned = strings.Replace(turned, "units: us", "units: metric", 1)
	a, b := mustRead(t, []byte(text)).Job, mustRead(t, []byte(turned)).Job
	b.Units = a.Units
	if strings.Count(turned, " ft") > 0 || strings.Count(turned, "psi") > 0 {
		t.Fatal("some values were not turned")
	}
	for _, f := range Fields() {
		for _, p := range a.paths(f.Path) {
			x, known := a.Quantity(p)
			y, too := b.Quantity(p)
			if known != too || x.Basis != y.Basis || !near(x.SI, y.SI) || !near(x.Half, y.Half) {
				t.Errorf("%s: %+v in us, %+v in metric", p, x, y)
			}
		}
	}
}

// near allows the rounding of a few multiplications: 1e-14 of the value.
func near(x, y float64) bool { return math.Abs(x-y) <= 1e-14*math.Abs(x) }

// TestWith moves every quantity of a job: that one leaf and those assumed from it
// change, the job it came from does not.
func TestWith(t *testing.T) {
	src := strings.Replace(string(example(t, "kestrel-rise")), "    level: 8.2 m\n", "", 1)
	doc := mustRead(t, []byte(src))
	before := doc.Job.Clone()
	for _, f := range Fields() {
		if f.Shape != Quantity {
			continue
		}
		for _, path := range doc.Job.paths(f.Path) {
			q, known := doc.Job.Quantity(path)
			moved, err := doc.Job.With(path, q.SI+1)
			if err != nil {
				t.Fatal(err)
			}
			back, _ := moved.With(path, q.SI)
			if got, _ := moved.Quantity(path); got.SI != q.SI+1 || got.Half != q.Half || got.Basis != q.Basis {
				t.Errorf("With(%s): %+v from %+v", path, got, q)
			}
			if known && !reflect.DeepEqual(back, before) {
				t.Errorf("With(%s) and back: %s", path, cmp.Diff(before, back))
			}
		}
	}
	if !reflect.DeepEqual(before, doc.Job) {
		t.Error("With changed the job it was asked of")
	}
	moved, _ := doc.Job.With("choices.store.level", 9)
	if moved.Choices.PumpLevel.V != 9 {
		t.Errorf("the pump's level, assumed from the store's, stays at %v", moved.Choices.PumpLevel.V)
	}
}

func TestWithRefuses(t *testing.T) {
	j := mustRead(t, example(t, "kestrel-rise")).Job
	for _, c := range []struct {
		path string
		v    float64
	}{{"supply.statik", 1}, {"name", 1}, {"outlets.attic.height", 1}, {"outlets.*.height", 1}, {"", 1},
		{"supply.static", math.NaN()}, {"supply.static", math.Inf(1)}} {
		if _, err := j.With(c.path, c.v); err == nil {
			t.Errorf("With(%q, %v) is made", c.path, c.v)
		}
		if _, ok := j.Quantity(c.path); ok && c.v == 1 {
			t.Errorf("Quantity(%q) is there", c.path)
		}
	}
}

// TestInexact lists what has a spread in table order, and leaves out what moves with another.
func TestInexact(t *testing.T) {
	src := strings.Replace(string(example(t, "kestrel-rise")), "    level: 8.1 m\n", "", 1)
	src = strings.Replace(src, "    level: 8.2 m\n", "", 1)
	var paths []string
	for _, l := range mustRead(t, []byte(src)).Job.Inexact() {
		if !l.Taken {
			paths = append(paths, l.Path)
		}
	}
	want := []string{"place.water", "supply.static", "supply.flow-test.low-flow", "supply.flow-test.low-pressure",
		"supply.flow-test.high-flow", "supply.flow-test.high-pressure", "supply.peak.pressure", "supply.service.length", "interruptions.notice-lasts",
		"home.use", "home.level", "outlets.shower-up.height", "outlets.shower-up.distance"}
	if diff := cmp.Diff(want, paths); diff != "" {
		t.Error(diff)
	}
}

func TestSystem(t *testing.T) {
	for name, want := range map[string]quantity.System{"metric": quantity.Metric, "us": quantity.US, "imperial": quantity.Imperial} {
		if got := (&Job{Units: name}).System(); got != want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestDistance checks the edit distance against its defining properties and known pairs.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"static", "statik", 1}, {"people", "poeple", 1}, {"kitten", "sitting", 3}, {"", "abc", 3}, {"ca", "abc", 3}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("distance(%s, %s) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		a, b := rapid.StringN(0, 12, 60).Draw(r, "a"), rapid.StringN(0, 12, 60).Draw(r, "b")
		d := distance(a, b)
		if d != distance(b, a) || (d == 0) != (a == b) || d > max(len([]rune(a)), len([]rune(b))) {
			r.Fatalf("distance(%q, %q) = %d", a, b, d)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	src := example(b, "kestrel-rise")
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if _, faults := Read("k", src); len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}

func BenchmarkWith(b *testing.B) {
	j := mustRead(b, example(b, "kestrel-rise")).Job
	for b.Loop() {
		if _, err := j.With("outlets.shower-up.height", 6.1); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkApply(b *testing.B) {
	d := mustRead(b, example(b, "kestrel-rise"))
	for b.Loop() {
		if _, _, err := d.Apply(Edit{Set, "choices.pump.cut-in", "2.5 bar"}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestMeterTellsUse: what a person uses is worked out of two readings where the job does not
// state it, and stated it counts as stated.
func TestMeterTellsUse(t *testing.T) {
	text := string(example(t, "kestrel-rise"))
	meter := "  meter:\n    first: 1200 m3\n    first-date: 2026-01-01\n    second: 1215.5 m3\n    second-date: 2026-02-01\n"
	read := func(use string) *Job {
		src := strings.Replace(text, "  use: 130 L ±20%\n", use+meter, 1)
		doc, faults := Read("k.job.yaml", []byte(src))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return doc.Job
	}
	if use := read("").Home.Use; math.Abs(float64(use.V)-0.1) > 1e-9 || use.Basis != quantity.Measured || use.From != FromMeter {
		t.Errorf("15.5 m³ of five people in 31 days are %v", use)
	}
	if use := read("  use: 120 L\n").Home.Use; float64(use.V) != 0.12 {
		t.Errorf("120 L stated are %v", use)
	}
}

// TestBlankLines: blank lines are no way to make the reader work: a few are read past, more
// than any job file has are refused before the YAML reader sees them.
func TestBlankLines(t *testing.T) {
	src := strings.TrimRight(string(example(t, "kestrel-rise")), "\n") + "\n"
	if doc, faults := Read("few", []byte(src+strings.Repeat("\n", 300))); doc == nil || len(faults) > 0 {
		t.Errorf("300 blank lines: %v", faults.Err())
	}
	for _, blank := range []string{"\n", " \n", "\t\n", "\r\n"} {
		doc, faults := Read("many", []byte(src+strings.Repeat(blank, 300000)))
		if doc != nil || len(faults) != 1 || faults[0].ID != "blank-lines" {
			t.Errorf("300,000 lines %q: %v", blank, faults.Err())
		}
	}
}
