package finding

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"tideover/internal/calc"
	"tideover/internal/quantity"
	"tideover/internal/words"

	"pgregory.net/rapid"
)

// Every id has a title, and every verdict it can come to has its sentence; nothing in
// the message file belongs to an id or verdict that cannot occur.
func TestEveryKindHasItsWords(t *testing.T) {
	want := map[string]bool{}
	for _, k := range Kinds() {
		want["finding."+k.ID+".title"] = true
		for _, v := range k.Verdicts {
			want["finding."+k.ID+"."+v.ID()] = true
		}
	}
	for id := range want {
		if !words.Has(id) {
			t.Errorf("message %s is missing", id)
		}
	}
	for _, id := range words.IDs() {
		if strings.HasPrefix(id, "finding.") && strings.Count(id, ".") == 2 && !want[id] {
			t.Errorf("message %s belongs to no kind and verdict", id)
		}
	}
}

// A title stands alone, without the finding: it may name its place and mode and no more.
func TestTitlesNeedOnlyPlaceAndMode(t *testing.T) {
	for _, k := range Kinds() {
		for _, place := range words.Places("finding." + k.ID + ".title") {
			if place != "where" && place != "mode" {
				t.Errorf("title of %s has the place %s", k.ID, place)
			}
		}
	}
}

func TestKindTable(t *testing.T) {
	areas := map[string]bool{"survey": true, "store": true, "pump-and-pipe": true, "valves": true, "power": true, "hand-over": true}
	seen := map[string]bool{}
	for _, k := range Kinds() {
		if seen[k.ID] || !areas[k.Area] || k.Rank < 0 || k.Rank > 9 || len(k.Verdicts) == 0 {
			t.Errorf("kind %+v", k)
		}
		seen[k.ID] = true
	}
}

func TestNewPanicsForAnUnknownID(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("New took an id that is in no table")
		}
	}()
	New("no-such-finding", "", "")
}

func TestAgainst(t *testing.T) {
	q := func(v float64) quantity.Quantity { return Of(quantity.PressureDim, v) }
	for _, test := range []struct {
		name          string
		figure, limit float64
		sense         Sense
		want          Verdict
		margin        float64
	}{
		{"at the limit, at least", 2, 2, AtLeast, Fine, 0},
		{"on it but for the last bits, at least", math.Nextafter(2, 0), 2, AtLeast, Fine, 0},
		{"under, at least", 1.5, 2, AtLeast, MustFix, -0.5},
		{"over, at least", 3, 2, AtLeast, Fine, 1},
		{"at the limit, at most", 2, 2, AtMost, Fine, 0},
		{"on it but for the last bits, at most", math.Nextafter(2, 3), 2, AtMost, Fine, 0},
		{"over, at most", 2.5, 2, AtMost, MustFix, -0.5},
		{"infinite, at most", math.Inf(1), 2, AtMost, MustFix, math.Inf(-1)},
	} {
		f := New("rest-pressure", "R1", "")
		f.Against(q(test.figure), q(test.limit), test.sense, MustFix)
		if f.Verdict != test.want || f.Margin().SI != test.margin {
			t.Errorf("%s: verdict %s, margin %g, want %s, %g", test.name, f.Verdict.ID(), f.Margin().SI, test.want.ID(), test.margin)
		}
	}
	f := New("rest-pressure", "R1", "")
	if f.Against(q(math.NaN()), q(2), AtMost, MustFix); f.Verdict != MustFix {
		t.Error("a figure that is not a number passed")
	}
}

// Order must not depend on the order findings come in.
func TestOrderIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		list := make([]Finding, n)
		for i := range list {
			list[i] = New(rapid.SampledFrom(kinds).Draw(t, "kind").ID, rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "where"),
				rapid.SampledFrom([]string{"", "on-main", "on-store"}).Draw(t, "mode"))
			list[i].Verdict = Verdict(rapid.IntRange(0, 3).Draw(t, "verdict"))
		}
		shuffled := rapid.Permutation(list).Draw(t, "shuffled")
		Order(list)
		Order(shuffled)
		for i := range list {
			if list[i].Key() != shuffled[i].Key() || list[i].Verdict != shuffled[i].Verdict {
				t.Fatalf("place %d: %q and %q", i, list[i].Key(), shuffled[i].Key())
			}
		}
	})
}

// TestUnmet: what is asked for is known by its kind, and only what is not fine is unmet.
func TestUnmet(t *testing.T) {
	for _, id := range asked {
		KindOf(id) // panics for one that is in no table
		f := New(id, "", "")
		for _, v := range []Verdict{NotJudged, Fine, LookAt, MustFix} {
			f.Verdict = v
			if got := len(Unmet([]Finding{f})) == 1; got != (v == LookAt || v == MustFix) {
				t.Errorf("%s %s: unmet %v", id, v.ID(), got)
			}
		}
	}
	f := New("signatures", "", "")
	f.Verdict = LookAt
	if len(Unmet([]Finding{f})) != 0 {
		t.Error("a signature that is owed counts as something the home does not get")
	}
}

func TestOverall(t *testing.T) {
	for _, test := range []struct {
		verdicts []Verdict
		want     Verdict
	}{
		{nil, Fine},
		{[]Verdict{Fine, Fine}, Fine},
		{[]Verdict{Fine, NotJudged}, NotJudged},
		{[]Verdict{NotJudged, LookAt}, LookAt},
		{[]Verdict{LookAt, NotJudged, MustFix}, MustFix},
	} {
		var list []Finding
		for _, v := range test.verdicts {
			list = append(list, Finding{Verdict: v})
		}
		if got := Overall(list); got != test.want {
			t.Errorf("Overall(%v) = %s, want %s", test.verdicts, got.ID(), test.want.ID())
		}
	}
}

func sample() Finding {
	f := New("carry-time", "S1", "")
	f.Against(Of(quantity.TimeDim, 172800), Of(quantity.TimeDim, 345600), AtLeast, LookAt)
	f.Arg("missing", Of(quantity.VolumeDim, 1.3))
	f.Name("note", "@mode.on-main")
	f.Calc = []calc.Step{{Part: "R1", Note: "walk.run", Before: 12.34567, After: 11.98765}}
	f.Remedies = []Remedy{{Figure: Of(quantity.TimeDim, math.Inf(1)), Verdict: Fine, Worse: []string{"turnover\x00S1\x00"}}}
	return f
}

func TestTextFillsEveryPlace(t *testing.T) {
	f := sample()
	title, sentence := Text(&f, quantity.Metric)
	want := "The taps run dry before the longest interruption ends: the store lasts 2 d at the usual use, the interruption 4 d; 1300 L are missing."
	if title != "How long the store lasts" || !strings.HasPrefix(sentence, want) {
		t.Errorf("title %q, sentence %q", title, sentence)
	}
}

// The JSON form holds the same strings as the text, survives figures that are not
// finite, and reads back.
func TestJSON(t *testing.T) {
	f := sample()
	raw, err := JSON([]Finding{f}, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	var back []struct {
		ID, Key, Verdict, Title, Sentence, Sense string
		Figure, Limit, Margin                    struct {
			SI   *float64
			Text string
		}
		Stands   *float64
		Remedies []struct {
			Figure struct {
				SI   *float64
				Text string
			}
			Worse []string
		}
		Calculation []map[string]any
	}
	if err := json.Unmarshal(raw, &back); err != nil {
		t.Fatal(err)
	}
	title, sentence := Text(&f, quantity.Metric)
	g := back[0]
	switch {
	case g.ID != "carry-time", g.Key != "carry-time/S1/", g.Verdict != "look-at", g.Sense != "at-least":
		t.Errorf("head is %+v", g)
	case g.Title != title, g.Sentence != sentence:
		t.Errorf("words are %q, %q", g.Title, g.Sentence)
	case g.Figure.Text != quantity.Format(f.Figure, quantity.Metric), *g.Margin.SI != -172800, g.Stands != nil:
		t.Errorf("figures are %+v", g)
	case g.Remedies[0].Figure.SI != nil, g.Remedies[0].Worse[0] != "turnover/S1/":
		t.Errorf("remedy is %+v", g.Remedies[0])
	case g.Calculation[0]["before"] != 12.34567:
		t.Errorf("calculation is %v", g.Calculation)
	}
	again, _ := JSON([]Finding{f}, quantity.Metric)
	if string(again) != string(raw) {
		t.Error("the same finding gives other bytes")
	}
}

func TestTitles(t *testing.T) {
	got := Titles([]string{"outlet-flow\x00shower\x00on-store", "air-gap\x00S1\x00"})
	if got[0] != "Water at shower, on the store" || got[1] != "Air gap at the float valve" {
		t.Errorf("titles are %q", got)
	}
}

// The printed differences of a walk are those of the printed heads.
func TestUnfoldedWalkAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(-20, 100).Draw(t, "start")
		sum := Millimetres(h)
		for range rapid.IntRange(1, 10).Draw(t, "parts") {
			after := h - rapid.Float64Range(-5, 5).Draw(t, "loss")
			sum += Millimetres(after) - Millimetres(h)
			h = after
		}
		if math.Abs(sum-Millimetres(h)) > 1e-9 {
			t.Fatalf("walk ends at %g, printed rows add up to %g", Millimetres(h), sum)
		}
	})
}
