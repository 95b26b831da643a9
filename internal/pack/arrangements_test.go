package pack

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
)

// as is Kestrel Rise laid out another way.
func as(t *testing.T, arrangement string) string {
	t.Helper()
	text := source(t, "kestrel-rise")
	const was = "  arrangement: main-first"
	if !strings.Contains(text, was) {
		t.Fatal("the example names another arrangement")
	}
	return strings.Replace(text, was, "  arrangement: "+arrangement, 1)
}

// TestEveryArrangementIsPacked: each has its sheets whole, its drawing of every setting,
// and on the card what is its own; without a store no sheet asks anybody to fill one.
func TestEveryArrangementIsPacked(t *testing.T) {
	own := map[string]map[string][]string{
		assembly.KitchenOnMain: {
			"card":            {"all but kitchen", "Keep drinking water"},
			"build":           {"from the tie-in to kitchen"},
			"letter-supplier": {"kitchen stay on the main"},
		},
		assembly.WithSpool: {
			"card":            {"L1 fit it", "Take the spool out again"},
			"build":           {"try L1 in it", "cap both ends"},
			"valves":          {"L1"},
			"letter-supplier": {"piece of pipe (L1) lies by"},
		},
		assembly.Raised: {
			"card":            {"by its height and needs no power"},
			"build":           {"down to the home, falling all the way"},
			"commission":      {"Hold F1 down, so that air gets in", "the water that stands in the pipe up to it"},
			"letter-supplier": {"No pump is fitted"},
			"electric":        {"No pump on this job"},
		},
		assembly.HeaderTank: {
			"card":            {"The taps run on what S2 holds"},
			"build":           {"Hoist S2 empty", "up to F2, its mouth clear", "Lay the pipe from S2 down"},
			"base":            {"The header tank above"},
			"commission":      {"Hold F2 down with P1 running", "Draw S2 empty"},
			"disinfect":       {"Draw S2 empty first"},
			"letter-supplier": {"float valve (F1) ends"},
		},
		assembly.HandByPass: {"card": {"V7 shut", "V6 open"}, "build": {"with its non-return valve"}},
		assembly.InLine: {
			"card":            {"Nothing is stored"},
			"build":           {"Cut-out C2", "way round the pump"},
			"disinfect":       {"Nothing is stored"},
			"commission":      {"Cut-out: with a tap open"},
			"letter-supplier": {"draws from your main", "No water is stored"},
			"electric":        {"a broken wire stops the pump"},
		},
	}
	never := map[string][]string{"card": {"the store"}, "build": {"float", "overflow"}, "commission": {"float", "store full"}, "upkeep": {"overflow", "the store"}}
	still := map[string][]string{"pump": {"card", "build", "commission", "upkeep", "disinfect", "flush"}, "battery": {"upkeep", "verdict"}}
	for _, arrangement := range assembly.Arrangements() {
		a := run(t, as(t, arrangement))
		files := made(t, a, Options{})
		for _, s := range a.Assembly.Settings {
			if files["schematic-"+s.Name+".svg"] == nil {
				t.Errorf("%s: no drawing of %s", arrangement, s.Name)
			}
		}
		if text := strings.Join(inOrder(t, files["pack.pdf"]), " "); strings.Contains(text, "‹") {
			t.Errorf("%s: a message is missing near %q", arrangement, text[max(0, strings.Index(text, "‹")-40):][:80])
		}
		for sheet, wants := range own[arrangement] {
			got := squeezed(strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{sheet}})["pack.pdf"]), " "))
			for _, w := range wants {
				if !strings.Contains(got, squeezed(w)) {
					t.Errorf("%s: the sheet %s lacks %q", arrangement, sheet, w)
				}
			}
			if arrangement != assembly.InLine {
				continue
			}
			for _, w := range never[sheet] {
				if strings.Contains(got, squeezed(w)) {
					t.Errorf("%s: the sheet %s speaks of %q", arrangement, sheet, w)
				}
			}
		}
		if arrangement != assembly.Raised {
			continue
		}
		for w, sheets := range still {
			got := strings.Join(inOrder(t, made(t, a, Options{Sheets: sheets})["pack.pdf"]), " ")
			for _, tool := range []string{"hand pump", "hand test pump", "transfer pump"} { // carried in, not built
				got = strings.ReplaceAll(strings.Join(strings.Fields(got), " "), tool, "")
			}
			if at := strings.Index(got, w); at >= 0 {
				t.Errorf("%s speaks of %q: %q", arrangement, w, got[max(0, at-60):min(len(got), at+40)])
			}
		}
	}
}

// TestMainLegWithoutACheck: the order of build speaks of a non-return valve in the main
// leg only where there is one.
func TestMainLegWithoutACheck(t *testing.T) {
	if got := sheetText(t, "lantern-row", "build", Options{}); strings.Contains(got, squeezed("with its non-return valve")) ||
		!strings.Contains(got, squeezed("drawn without a non-return valve")) {
		t.Error("Lantern Row has no non-return valve in its main leg, and the order of build does not say so")
	}
	if got := sheetText(t, "kestrel-rise", "build", Options{}); !strings.Contains(got, squeezed("with its non-return valve")) {
		t.Error("Kestrel Rise has one, and the order of build does not say so")
	}
}
