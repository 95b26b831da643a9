package quantity

import (
	"fmt"
	"math"
	"testing"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		q    Quantity
		sys  System
		want string // by FormatSpread
	}{
		// Three significant figures without a spread, noughts dropped.
		{Quantity{Dim: PressureDim, SI: 3.2e5}, Metric, "3.2 bar"},
		{Quantity{Dim: PressureDim, SI: 3.2e5}, US, "46.4 psi"},
		{Quantity{Dim: PressureDim, SI: 4999}, Metric, "5 kPa"},
		{Quantity{Dim: PressureDim, SI: 5000}, Metric, "0.05 bar"},
		{Quantity{Dim: PressureDim, SI: 0}, Metric, "0 bar"},
		{Quantity{Dim: HeadDim, SI: -12.345}, Metric, "−12.3 m head"},
		{Quantity{Dim: HeadDim, SI: 12.345}, Imperial, "40.5 ft head"},
		{Quantity{Dim: LengthDim, SI: 0.0204}, Metric, "20.4 mm"},
		{Quantity{Dim: LengthDim, SI: 0.6}, Metric, "0.6 m"},
		{Quantity{Dim: LengthDim, SI: 0.019939}, US, "0.785 in"},
		{Quantity{Dim: LengthDim, SI: 18.288}, US, "60 ft"},
		{Quantity{Dim: VolumeDim, SI: 1.5}, Metric, "1500 L"},
		{Quantity{Dim: VolumeDim, SI: 12.34}, Metric, "12.3 m³"},
		{Quantity{Dim: VolumeDim, SI: 0.0003}, Metric, "300 mL"},
		{Quantity{Dim: VolumeDim, SI: 1.1356235352}, US, "300 gal"},
		{Quantity{Dim: VolumeDim, SI: 1.363827}, Imperial, "300 gal"},
		{Quantity{Dim: FlowDim, SI: 14.0 / 60000}, Metric, "14 L/min"},
		{Quantity{Dim: FlowDim, SI: 0.02}, Metric, "72 m³/h"},
		{Quantity{Dim: FlowDim, SI: 14.0 / 60000}, US, "3.7 gpm"},
		{Quantity{Dim: PowerDim, SI: 750}, US, "0.75 kW"},
		{Quantity{Dim: PowerDim, SI: 12.34}, Metric, "12.3 W"},
		{Quantity{Dim: EnergyDim, SI: 3.6e6}, Metric, "1 kWh"},
		{Quantity{Dim: TimeDim, SI: 90}, Metric, "90 s"},
		{Quantity{Dim: TimeDim, SI: 5400}, Metric, "90 min"},
		{Quantity{Dim: TimeDim, SI: 9000}, Metric, "2.5 h"},
		{Quantity{Dim: TimeDim, SI: 200000}, Metric, "2.31 d"},
		{Quantity{Dim: TemperatureDim, SI: 12.222222222222221}, US, "54 °F"},
		{Quantity{Dim: TemperatureDim, SI: -17.5}, Metric, "−17.5 °C"},
		{Quantity{Dim: MoneyDim, SI: 1234.5}, Metric, "1234.50"},
		{Quantity{Dim: RatioDim, SI: 0.04}, Metric, "4 %"},
		{Quantity{Dim: RatioDim, SI: 5}, Metric, "5"},
		{Quantity{Dim: DoseDim, SI: 0.05}, US, "50 mg/L"},
		{Quantity{Dim: FlowFactorDim, SI: 0.000875}, Metric, "3.15 m³/h"},
		{Quantity{SI: 1.25}, Metric, "1.25"},
		// The digits the spread deserves.
		{Quantity{Dim: PressureDim, SI: 3.2e5, Half: 1e4}, Metric, "3.2 bar ±0.1"},
		{Quantity{Dim: PressureDim, SI: 3.2e5, Half: 1.4e4}, Metric, "3.20 bar ±0.14"},
		{Quantity{Dim: LengthDim, SI: 8, Half: 0.3}, Metric, "8.0 m ±0.3"},
		{Quantity{Dim: LengthDim, SI: 90, Half: 3}, Metric, "90 m ±3"},
		{Quantity{Dim: VolumeDim, SI: 0.127, Half: 0.026}, Metric, "130 L ±30"},
		{Quantity{Dim: VolumeDim, SI: 0.127, Half: 0.012}, Metric, "127 L ±12"},
		{Quantity{Dim: VolumeDim, SI: 0.127, Half: 0.3}, Metric, "100 L ±300"},
		{Quantity{Dim: PressureDim, SI: 3e4, Half: 3e5}, Metric, "0.3 bar ±3"},
		{Quantity{Dim: LengthDim, SI: 123.456, Half: 0.04}, Metric, "123 m"},
		{Quantity{Dim: TemperatureDim, SI: 17, Half: 4}, US, "63 °F ±7"},
		{Quantity{Dim: LengthDim, SI: 8, Half: math.Inf(1)}, Metric, "8 m ± without limit"},
	}
	for _, tt := range tests {
		if got := FormatSpread(tt.q, tt.sys); got != tt.want {
			t.Errorf("FormatSpread(%s %g ±%g, %s) = %q, want %q", tt.q.Dim, tt.q.SI, tt.q.Half, tt.sys, got, tt.want)
		}
	}
}

// TestFormatWords prints what is no number as a word, never as "+Inf" or "NaN".
func TestFormatWords(t *testing.T) {
	tests := []struct {
		dim  Dim
		v    float64
		want string
	}{
		{TimeDim, math.Inf(1), "never"},
		{VolumeDim, math.Inf(1), "without limit"},
		{VolumeDim, math.Inf(-1), "without lower limit"},
		{VolumeDim, math.NaN(), "not known"},
	}
	for _, tt := range tests {
		if got := Format(Quantity{Dim: tt.dim, SI: tt.v}, US); got != tt.want {
			t.Errorf("Format(%s %g) = %q, want %q", tt.dim, tt.v, got, tt.want)
		}
	}
}

func TestFixed(t *testing.T) {
	tests := []struct {
		v      float64
		places int
		want   string
	}{
		{0.125, 2, "0.13"}, {-0.125, 2, "−0.13"}, {2.5, 0, "3"}, {0.5, 0, "1"}, {0.49, 0, "0"},
		{-0.4, 0, "0"}, {math.Copysign(0, -1), 2, "0.00"}, {9.996, 2, "10.00"}, {999.5, 0, "1000"},
		{1234, -2, "1200"}, {1250, -2, "1300"}, {49, -2, "0"}, {50, -2, "100"}, {4, -3, "0"},
		{1e20, 0, "100000000000000000000"}, {1e-9, 6, "0.000000"}, {0.1, 3, "0.100"},
		// One unit in the last place either side of a tie prints as the tie does.
		{math.Nextafter(0.125, 0), 2, "0.13"}, {math.Nextafter(0.125, 1), 2, "0.13"},
		{1.005, 2, "1.01"}, // the nearest float64 lies below the tie
		{math.MaxFloat64, -300, "179769313" + fmt.Sprintf("%0300d", 0)},
	}
	for _, tt := range tests {
		if got := Fixed(tt.v, tt.places); got != tt.want {
			t.Errorf("Fixed(%g, %d) = %q, want %q", tt.v, tt.places, got, tt.want)
		}
	}
}

func TestPlaces(t *testing.T) {
	tests := []struct {
		half float64
		want int
	}{
		{0.1, 1}, {0.10001, 1}, {0.11, 2}, {0.19, 2}, {0.2, 1}, {0.26, 1}, {0.96, 1}, {0.996, 0},
		{1, 0}, {1.5, 1}, {3, 0}, {26, -1}, {14, 0}, {100, -2}, {120, -1},
	}
	for _, tt := range tests {
		if got := Places(tt.half); got != tt.want {
			t.Errorf("Places(%g) = %d, want %d", tt.half, got, tt.want)
		}
	}
}

func TestFormatFile(t *testing.T) {
	tests := []struct {
		q    Quantity
		sys  System
		want string
	}{
		{Quantity{Dim: PressureDim, SI: 3.2e5, Half: 1e4, Basis: Measured}, Metric, "3.2 bar ±0.1"},
		{Quantity{Dim: PressureDim, SI: 3.2e5, Basis: Measured}, Metric, "3.2 bar ±0"},
		{Quantity{Dim: PressureDim, SI: 3.2e5, Basis: Stated}, Metric, "3.2 bar"},
		{Quantity{Dim: PressureDim, SI: 3.2e5, Half: 1e4, Basis: Derived}, Metric, "3.2 bar"},
		{Quantity{Dim: LengthDim, SI: 450}, Metric, "450 m ?"},
		{Quantity{Dim: LengthDim, SI: 450, Half: 20}, Metric, "450 m ±20 ?"},
		{Quantity{Dim: LengthDim, SI: -0.3048, Basis: Stated}, US, "-1 ft"},
		{Quantity{Dim: RatioDim, SI: 0.04, Half: 0.005, Basis: Measured}, US, "4 % ±0.5"},
		// °F has no short number for a temperature this near to nought: °C serves.
		{Quantity{Dim: TemperatureDim, SI: 1e-30, Basis: Stated}, US, "1e-30 °C"},
	}
	for _, tt := range tests {
		if got := FormatFile(tt.q, tt.sys); got != tt.want {
			t.Errorf("FormatFile(%+v, %s) = %q, want %q", tt.q, tt.sys, got, tt.want)
		}
	}
}

func TestColumn(t *testing.T) {
	c := ColumnFor(HeadDim, 30, US)
	if got := c.Text(3.048, 1); c.Unit != "ft head" || got != "10.0" {
		t.Errorf("column in %q prints %q, want 10.0 in ft head", c.Unit, got)
	}
	f := ColumnFor(TemperatureDim, 20, US)
	if n := f.Number(100); math.Abs(n-212) > 1e-12 || math.Abs(f.SI(n)-100) > 1e-12 {
		t.Errorf("100 °C is %g °F and back %g °C, want 212 and 100", n, f.SI(n))
	}
}

func BenchmarkFormat(b *testing.B) {
	q := Quantity{Dim: PressureDim, SI: 3.2e5, Half: 1e4, Basis: Measured}
	for b.Loop() {
		FormatSpread(q, Metric)
	}
}

func ExampleParse() {
	for _, text := range []string{"46 psi ±2", "33 m head", "2.5 bar ?"} {
		q, err := Parse(text, PressureDim, Metric)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(FormatSpread(q, Metric))
	}
	// Output:
	// 3.17 bar ±0.14
	// 3.24 bar
	// 2.5 bar
}

// A gallon is one thing in the US and another in imperial measure, so a metric job must
// say which.
func ExampleParse_twoReadings() {
	_, err := Parse("300 gal", VolumeDim, Metric)
	fmt.Println(err)
	q, _ := Parse("300 gal", VolumeDim, US)
	fmt.Println(Format(q, US), "is", Format(q, Metric))
	// Output:
	// The gal in "300 gal" has two sizes: 300 is 1140 L in US measure and 1360 L in imperial. Write 300 gal (US) or 300 gal (imperial), or declare the job's units as us or imperial.
	// 300 gal is 1140 L
}

func ExampleFormatFile() {
	q, _ := Parse("9 L/min ±5%", FlowDim, Metric)
	fmt.Println(FormatFile(q, Metric))
	// Output: 9 L/min ±0.45
}

func ExampleFrom() {
	q, _ := Parse("25 mm", LengthDim, Metric)
	bore := From[Length](q)
	fmt.Println(float64(bore.V), "m")
	// Output: 0.025 m
}
