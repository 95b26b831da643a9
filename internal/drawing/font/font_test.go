package font

import (
	"math"
	"testing"
)

// TestCarries walks what the drawings and documents print: signs, Greek, Cyrillic.
func TestCarries(t *testing.T) {
	for _, r := range "≥≤→Δ½✓₦₹²³°±·×–—…µαωΩЖяéßø√" {
		if !Has(r) {
			t.Errorf("Has(%q) = false, want true", r)
		}
	}
	if Has('漢') || Has('😀') {
		t.Error("Has claims a glyph the face lacks")
	}
}

// TestAdvance checks widths against the face's published metrics: all figures are 600
// units of a 1000-unit em wide (tabular), a semibold figure likewise.
func TestAdvance(t *testing.T) {
	for _, c := range []struct {
		text string
		bold bool
		want float64
	}{{"0123456789", false, 6}, {"0123456789", true, 6}, {"", false, 0}} {
		if got := Advance(c.text, 1, c.bold); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("Advance(%q, 1, %v) = %v, want %v", c.text, c.bold, got, c.want)
		}
	}
	if a, b := Advance("Wasser", 2, false), 2*Advance("Wasser", 1, false); math.Abs(a-b) > 1e-12 {
		t.Errorf("Advance is not proportional to size: %v, %v", a, b)
	}
	if Advance("Ω→", 1, false) != Advance("Ω", 1, false)+Advance("→", 1, false) {
		t.Error("Advance is not additive")
	}
	if Advance("stop", 1, true) <= Advance("stop", 1, false) {
		t.Error("semibold is no wider than regular")
	}
}

func TestFit(t *testing.T) {
	long := "a very long name of a tap"
	got := Fit(long, 3, false, 20)
	if w := Advance(got, 3, false); w > 20 || got == long {
		t.Errorf("Fit(…, 20) = %q, %v mm wide", got, w)
	}
	if Fit("tap", 3, false, 20) != "tap" {
		t.Error("Fit shortens what fits")
	}
}

func TestNoAllocation(t *testing.T) {
	if n := testing.AllocsPerRun(10, func() { Advance("3.2 bar ≥ Δh ½", 3, false) }); n != 0 {
		t.Errorf("Advance allocates %v times", n)
	}
}

func BenchmarkOpen(b *testing.B) {
	for b.Loop() {
		open("regular", Regular)
	}
}

func BenchmarkAdvance(b *testing.B) {
	for b.Loop() {
		Advance("stored water ≥ 1.5 m", 3, false)
	}
}
