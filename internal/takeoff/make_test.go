package takeoff

import (
	"errors"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func built(t testing.TB, name string, change func(*job.Job)) (*assembly.Assembly, *catalogue.Catalogue) {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	c, p := demo.Rows(t, "generic")
	a, err := assembly.Build(j, c, p)
	if err != nil {
		t.Fatal(err)
	}
	return a, c
}

func text(l *List) string {
	var b strings.Builder
	for _, x := range l.Lines {
		fmt.Fprintf(&b, "%3d  %-30s %-14s %s", x.Count, x.Row, x.Size, strings.Join(x.Tags, " "))
		if x.Stock > 0 {
			fmt.Fprintf(&b, "  %.2f m + %.2f m", float64(x.Length), float64(x.Waste))
		}
		if x.Kept {
			b.WriteString("  kept")
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "total %.2f %s, %d unpriced\n", float64(l.Total), l.Currency, l.Unpriced)
	return b.String()
}

func TestExamples(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		a, c := built(t, name, nil)
		got := text(Make(a, c, nil, ""))
		file := "testdata/" + name + ".golden"
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s differs; if the change is meant, run go test -update\n%s", file, got)
		}
	}
}

// TestCountsAreTheAssemblys counts each way once more, straight from the parts, over every
// arrangement, store count and kept part.
func TestCountsAreTheAssemblys(t *testing.T) {
	for _, arr := range assembly.Arrangements() {
		for n := 1; n <= 4; n++ {
			a, c := built(t, "kestrel-rise", func(j *job.Job) {
				j.Choices.Arrangement = arr
				j.Choices.Stores.V = quantity.Ratio(n)
				j.Existing = []job.Existing{{Tag: "t", Kind: "pump", Decision: "keep"}, {Tag: "p", Kind: "pipe", Row: "PE100-SDR11 32", Decision: "keep"}}
			})
			l := Make(a, c, nil, "")
			compare(t, fmt.Sprintf("%s with %d stores", arr, n), a, l)
		}
	}
}

func compare(t *testing.T, what string, a *assembly.Assembly, l *List) {
	t.Helper()
	bought, kept, metres := map[string]int{}, map[string]int{}, map[string]float64{}
	for _, p := range a.Parts {
		switch {
		case p.Row == nil || p.Kind == assembly.Run && p.Kept:
		case p.Kind == assembly.Run:
			metres[p.Row.Ref().Key] += float64(p.Length)
		case p.Kept:
			kept[p.Row.Ref().Key]++
		default:
			bought[p.Row.Ref().Key] += max(1, p.Count)
		}
		for _, f := range p.Fittings {
			if f.Row.Kind == "elbow" && !p.Kept || (f.Row.Kind == "bush" || f.Row.Kind == "adapter") && !p.Kept {
				bought[f.Row.Key] += f.Count
			}
		}
	}
	tees, listed := 0, map[string]int{}
	for _, p := range a.Parts {
		if p.Kind == assembly.Tee && !p.Kept {
			tees++
		}
	}
	for _, x := range l.Lines {
		switch {
		case x.Kept && x.Count != 0, !x.Kept && x.Count <= 0, len(x.Tags) == 0, x.Words == "":
			t.Errorf("%s: line %+v", what, x)
		case x.Stock > 0 && !x.Kept:
			if math.Abs(float64(x.Length)-metres[x.Row]) > 1e-9 {
				t.Errorf("%s: %s: %v m listed, %v m in the runs", what, x.Row, x.Length, metres[x.Row])
			}
			if have := float64(x.Count) * float64(x.Stock); have < 1.1*metres[x.Row]-1e-6 || have-float64(x.Stock) >= 1.1*metres[x.Row] {
				t.Errorf("%s: %s: %d × %v m for %v m", what, x.Row, x.Count, x.Stock, metres[x.Row])
			}
			delete(metres, x.Row)
		case !x.Kept:
			listed[x.Row] += x.Count
		}
	}
	if len(metres) > 0 {
		t.Errorf("%s: pipe not listed: %v", what, metres)
	}
	if listed["tee-branch"] != tees {
		t.Errorf("%s: %d tees listed, %d laid out", what, listed["tee-branch"], tees)
	}
	for row, n := range bought {
		// Adapters and bushes on kept runs that meet something new come on top.
		onTop := strings.HasPrefix(row, "adapter") || strings.HasPrefix(row, "bush")
		if got := listed[row]; got < n || got > n && !onTop {
			t.Errorf("%s: %s: %d listed, %d in the assembly", what, row, got, n)
		}
	}
}

// Each new tank gets one overflow of the bore that the air gap was judged with, and its screen;
// a tank of which nobody told the bore, or that is kept, gets none.
func TestOverflowIsBought(t *testing.T) {
	for _, x := range []struct {
		change func(*job.Job)
		want   map[string]int
	}{
		{nil, map[string]int{"overflow-pipe 46 mm": 2, "overflow-screen-wide 46 mm": 2}},
		{func(j *job.Job) { j.Choices.Screen = "unknown" }, map[string]int{"overflow-pipe 46 mm": 2, "overflow-screen 46 mm": 2}},
		{func(j *job.Job) { j.Choices.Screen = "none" }, map[string]int{"overflow-pipe 46 mm": 2}},
		{func(j *job.Job) { j.Choices.Spill, j.Choices.Slot.V = "slot", 0.3 }, map[string]int{"overflow-screen-slot 300 mm": 2}},
		{func(j *job.Job) { j.Choices.Overflow.V = 0 }, map[string]int{}},
		{func(j *job.Job) { j.Choices.Spill = "none" }, map[string]int{}},
		{func(j *job.Job) {
			j.Existing = []job.Existing{{Tag: "t", Kind: "store", Row: "tank-1500", Decision: "keep"}}
		}, map[string]int{}},
	} {
		a, c := built(t, "kestrel-rise", x.change)
		got := map[string]int{}
		for _, l := range Make(a, c, nil, "").Lines {
			if strings.HasPrefix(l.Row, "overflow-") {
				got[l.Row+" "+l.Size] += l.Count
			}
		}
		if !maps.Equal(got, x.want) {
			t.Errorf("overflow %+v: bought %v, want %v", a.Parts[a.Of(assembly.Store)[0]].Spill, got, x.want)
		}
	}
}

// TestNipples: V2–T2, T2–V3, V3–U1 and so on, counted by hand on the plan of Juniper Flat:
// V1–T1, T1–N1, V2–T8, T8–T2, T2–V3, V3–U1, T2–V6, V6–T5, T5–N3, N3–W1, W1–T11, T7–H1 in 3/4;
// S1–V4, P1–T9, T9–N2, N2–T10, T10–T3, T3–V7, T3–T4, T4–V5, T7–V8 in 1. A union has inside
// threads and takes a nipple to each of them: N3–W1, P1–T9, N2–T10 and those
// before the vessels E1 and E2 one more, N1–R1 and
// U1–R2, which meet soldered adapters, one each, as R3–P1.
func TestNipples(t *testing.T) {
	a, c := built(t, "juniper-flat", nil)
	got := map[string]int{}
	for _, x := range Make(a, c, nil, "").Lines {
		if strings.HasPrefix(x.Row, "nipple") {
			got[x.Row] = x.Count
		}
	}
	if got["nipple-3/4"] != 15 || got["nipple-1"] != 14 || len(got) != 2 {
		t.Errorf("nipples = %v, want 15 of 3/4 and 14 of 1", got)
	}
}

// TestKeptRunsNeedAdapters: the kept service pipe meets a new device and a new valve.
func TestKeptRunsNeedAdapters(t *testing.T) {
	a, c := built(t, "kestrel-rise", nil)
	for _, x := range Make(a, c, nil, "").Lines {
		if x.Row == "adapter-PE-25" {
			if x.Count != 2 || x.Kept {
				t.Errorf("adapters of the service pipe: %+v, want 2", x)
			}
			return
		}
	}
	t.Error("no adapters for the service pipe")
}

func TestPrices(t *testing.T) {
	a, c := built(t, "juniper-flat", nil)
	bare := Make(a, c, nil, "")
	if bare.Total != 0 || bare.Unpriced == 0 {
		t.Errorf("without prices: total %v, %d unpriced", bare.Total, bare.Unpriced)
	}
	prices, currency, err := ReadPrices("p.csv", []byte("# a demo\ncurrency,USD\nrow,price\njet-0.55,210\ncopper-L 3/4,18.5\nelbow-copper 3/4,2\nelbow-copper,9\n"), c)
	if err != nil || currency != "USD" {
		t.Fatal(prices, currency, err)
	}
	l := Make(a, c, prices, currency)
	want := 0.0
	for _, x := range l.Lines {
		if x.Kept && x.Priced {
			t.Errorf("kept and priced: %+v", x)
		}
		switch x.Row {
		case "jet-0.55":
			want += 210
		case "copper-L 3/4":
			if !x.Kept {
				want += 18.5 * float64(x.Count)
			}
		case "elbow-copper":
			if x.Price != 2 {
				t.Errorf("a price with a size goes first: %+v", x)
			}
			want += 2 * float64(x.Count)
		}
	}
	if math.Abs(float64(l.Total)-want) > 1e-9 || l.Unpriced != bare.Unpriced-3 || l.Currency != "USD" {
		t.Errorf("total %v, %d unpriced, want %v, %d", l.Total, l.Unpriced, want, bare.Unpriced-3)
	}
}

func TestReadPricesFaults(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		name, csv, id string
		line, column  int
	}{
		{"empty", "", "prices.currency", 1, 1},
		{"no currency", "row,price\n", "prices.currency", 1, 1},
		{"blank currency", "currency,\n", "prices.currency", 1, 1},
		{"cells", "currency,EUR\na\n", "prices.cells", 2, 1},
		{"decimal comma", "currency,EUR\nball-25,\"4,50\"\n", "prices.price", 2, 9},
		{"negative", "currency,EUR\nball-25,-4\n", "prices.price", 2, 9},
		{"not a number", "currency,EUR\nball-25,NaN\n", "prices.price", 2, 9},
		{"unknown row", "currency,EUR\nball-52,4\n", "prices.row", 2, 1},
		{"twice", "currency,EUR\nball-25,4\nball-25,5\n", "catalogue.twice", 3, 1},
		{"quote", "currency,EUR\n\"ball\n", "catalogue.csv", 2, 7},
	} {
		_, _, err := ReadPrices("p.csv", []byte(tc.csv), c)
		var f *catalogue.Fault
		if !errors.As(err, &f) || f.ID != tc.id || f.Line != tc.line || f.Column != tc.column {
			t.Errorf("%s: %v, want %s at %d:%d", tc.name, err, tc.id, tc.line, tc.column)
		}
		if err != nil && strings.ContainsAny(err.Error(), "‹{") {
			t.Errorf("%s: unfilled place: %v", tc.name, err)
		}
	}
}

func FuzzReadPrices(f *testing.F) {
	f.Add([]byte("currency,NGN\nrow,price\nball-25,4500\n"))
	f.Add([]byte("\ufeffcurrency,EUR\r\n\"elbow-PE 32\",1e3\r\n# x\n"))
	c, err := catalogue.Load()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		prices, currency, err := ReadPrices("p.csv", text, c)
		var fault *catalogue.Fault
		if err != nil {
			if !errors.As(err, &fault) || fault.Line < 1 || fault.Column < 1 {
				t.Fatalf("error without a place: %v", err)
			}
			return
		}
		if currency == "" {
			t.Fatal("no currency")
		}
		for row, v := range prices {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%s costs %v", row, v)
			}
		}
	})
}

func TestPieces(t *testing.T) {
	for _, tc := range []struct {
		length, stock quantity.Length
		want          int
	}{{5, 5, 1}, {5.0001, 5, 2}, {0.1, 5, 1}, {25 * 1.1, 25, 2}, {9.9, 3.3, 3}} {
		if got := pieces(tc.length, tc.stock); got != tc.want {
			t.Errorf("pieces(%v, %v) = %d, want %d", tc.length, tc.stock, got, tc.want)
		}
	}
}
