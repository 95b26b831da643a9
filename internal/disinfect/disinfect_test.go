package disinfect

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/quantity"
)

func work(t *testing.T, litres, strength float64, convention string) *Dose {
	t.Helper()
	d, err := Work(quantity.Volume(litres/1000), nil, Bottle{Strength: quantity.Ratio(strength), Convention: convention}, Cautious)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Published figures for 50 mg/L in 1,000 L, each to the last digit printed.
func TestPublishedDoses(t *testing.T) {
	for _, c := range []struct {
		name       string
		strength   float64
		convention string
		ml, grams  float64 // 0: not published
	}{
		{"bleach 5 % by mass", 0.05, "w/w", 926, 0},
		{"bleach 3.5 % by mass", 0.035, "w/w", 1361, 0},
		{"bleach 12 % by mass", 0.12, "w/w", 347, 0},
		{"bleach 5 % by volume: 50 g in a litre", 0.05, "w/v", 1000, 0},
		{"granules 65 %", 0.65, "w/w", 0, 77},
		{"granules 70 %", 0.70, "w/w", 0, 71},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := work(t, 1000, c.strength, c.convention)
			if got := float64(d.Chlorine) * 1000; math.Abs(got-50) > 1e-9 {
				t.Errorf("chlorine = %v g, want 50", got)
			}
			if got := float64(d.Liquid) * 1e6; c.ml > 0 && math.Abs(got-c.ml) > 0.5 {
				t.Errorf("liquid = %.2f mL, want %v", got, c.ml)
			}
			if got := float64(d.Product) * 1000; c.grams > 0 && math.Abs(got-c.grams) > 0.5 {
				t.Errorf("product = %.2f g, want %v", got, c.grams)
			}
			if d.Granules != (c.grams > 0) {
				t.Errorf("granules = %v", d.Granules)
			}
		})
	}
}

func TestAge(t *testing.T) {
	age := func(bought, used string, w float64) *Dose {
		d, err := Work(1, nil, Bottle{quantity.Ratio(w), "w/w", bought, used}, Cautious)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	// Half a year takes 12 % to half; two years take 5 % to half.
	if d := age("2025-01-01", "2025-07-02", 0.12); math.Abs(float64(d.Left)-0.5) > 0.01 {
		t.Errorf("12 %% after half a year: %v left, want 0.5", d.Left)
	}
	if d := age("2024-01-01", "2025-12-31", 0.05); math.Abs(float64(d.Left)-0.5) > 0.01 || d.AgeState != AgeKnown {
		t.Errorf("5 %% after two years: %v left (%s), want 0.5", d.Left, d.AgeState)
	}
	if d := age("2020-01-01", "2025-12-31", 0.05); d.AgeState != AgeOld {
		t.Errorf("six-year-old bottle: state %s, want %s", d.AgeState, AgeOld)
	}
	if d := age("", "2025-12-31", 0.05); d.AgeState != AgeUnknown || d.Left != 1 {
		t.Errorf("no date: state %s, %v left", d.AgeState, d.Left)
	}
}

func TestRefusals(t *testing.T) {
	ok := Bottle{0.05, "w/w", "", ""}
	for _, c := range []struct {
		name  string
		store quantity.Volume
		pipes []Pipe
		b     Bottle
		r     Regime
	}{
		{"no store", 0, nil, ok, Cautious},
		{"store not a number", quantity.Volume(math.NaN()), nil, ok, Cautious},
		{"endless store", quantity.Volume(math.Inf(1)), nil, ok, Cautious},
		{"no strength", 1, nil, Bottle{0, "w/w", "", ""}, Cautious},
		{"strength 5 meaning 5 %", 1, nil, Bottle{5, "w/w", "", ""}, Cautious},
		{"no convention", 1, nil, Bottle{0.05, "", "", ""}, Cautious},
		{"granules by volume", 1, nil, Bottle{0.65, "w/v", "", ""}, Cautious},
		{"no regime", 1, nil, ok, Regime{}},
		{"least above the dose", 1, nil, ok, Regime{Dose: 0.05, Hold: 3600, Least: 0.06, Thiosulphate: 1.9, Ascorbic: 2.5}},
		{"pipe without bore", 1, []Pipe{{0, 1}}, ok, Cautious},
		{"date that is none", 1, nil, Bottle{0.05, "w/w", "spring", "2026-01-01"}, Cautious},
		{"bought after use", 1, nil, Bottle{0.05, "w/w", "2026-02-01", "2026-01-01"}, Cautious},
	} {
		if d, err := Work(c.store, c.pipes, c.b, c.r); err == nil {
			t.Errorf("%s: accepted: %+v", c.name, d)
		}
	}
}

func TestPipeVolume(t *testing.T) {
	d, err := Work(1, []Pipe{{0.026, 10}, {0.020, 5}}, Bottle{0.05, "w/w", "", ""}, Cautious)
	if err != nil {
		t.Fatal(err)
	}
	// 26 mm bore holds 0.5309 L a metre, 20 mm bore 0.3142.
	if got := float64(d.Pipes) * 1000; math.Abs(got-6.880) > 0.001 {
		t.Errorf("pipes hold %.4f L, want 6.880", got)
	}
	if d.Water != d.Store+d.Pipes {
		t.Errorf("water %v is not store and pipes", d.Water)
	}
}

// TestRefusedBottleHasNoDose: of a bottle past its half-life nothing gives an amount, not
// even the calculation; what is given is a fresh bottle's.
func TestRefusedBottleHasNoDose(t *testing.T) {
	for _, c := range []struct {
		strength   quantity.Ratio
		convention string
		bought     string
		litres     float64 // of a fresh bottle, for 50 mg/L in 2970 L, by hand
	}{
		{0.125, "w/w", "2025-07-02", 0.983}, // 148.5 g in 12.5 % of 1.2086 kg/L
		{0.05, "w/v", "2020-01-01", 2.970},  // 148.5 g in 50 g/L
	} {
		d, err := Work(2.970, nil, Bottle{c.strength, c.convention, c.bought, "2026-03-02"}, Cautious)
		if err != nil {
			t.Fatal(err)
		}
		if d.AgeState != AgeOld || d.Left != 1 || d.Liquid != d.LabelLiquid || d.Product != d.LabelMass {
			t.Errorf("%v: state %s, %v left, %v m³ to pour where a fresh one takes %v", c.strength, d.AgeState, d.Left, d.Liquid, d.LabelLiquid)
		}
		if got := float64(d.Liquid) * 1000; math.Abs(got-c.litres) > 0.001 {
			t.Errorf("%v: %.4f L, want %v", c.strength, got, c.litres)
		}
		for _, step := range d.Calc {
			if step.Key == StrengthLeft.Key {
				t.Errorf("%v: the calculation counts on what is left in a refused bottle", c.strength)
			}
		}
	}
}

// Mixing the poured product back gives the dose that was asked for; an older bottle
// never needs less; every recorded step repeats.
func TestDoseProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Bottle{
			Strength:   quantity.Ratio(rapid.Float64Range(0.01, 0.20).Draw(t, "w")),
			Convention: rapid.SampledFrom([]string{"w/w", "w/v"}).Draw(t, "convention"),
			Bought:     rapid.SampledFrom([]string{"", "2019-03-01", "2025-03-01", "2026-01-20"}).Draw(t, "bought"), Used: "2026-03-02",
		}
		store := quantity.Volume(rapid.Float64Range(0.05, 50).Draw(t, "store"))
		d, err := Work(store, []Pipe{{0.02, 12}}, b, Cautious)
		if err != nil {
			t.Fatal(err)
		}
		perLitre := float64(b.Strength) * 1000
		if b.Convention == "w/w" {
			perLitre = float64(b.Strength) * d.Density
		}
		back := float64(d.Liquid) * perLitre * float64(d.Left) / float64(d.Water)
		if math.Abs(back-float64(Cautious.Dose)) > 1e-9 {
			t.Fatalf("mixing back gives %v kg/m³", back)
		}
		if d.Liquid < d.LabelLiquid || d.Left > 1 {
			t.Fatalf("an aged bottle asks for less: %v < %v", d.Liquid, d.LabelLiquid)
		}
		for _, st := range d.Calc {
			if st.Check() != 0 {
				t.Fatalf("step %s does not repeat", st.Key)
			}
		}
	})
}

// TestCautiousRegime: where the local rules are blank, 50 mg/L stands for 24 h (IPC 610.1, the
// longest of the codes for this dose), and is called our default.
func TestCautiousRegime(t *testing.T) {
	if r := Cautious; r.Dose != 0.050 || r.Hold != 24*3600 || r.Source != "ipc-610-1" || r.Standing != "default" {
		t.Errorf("%+v", r)
	}
}
