package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"tideover/internal/words"
)

// TestConversion holds each unit against the published factor.
//
// Sources: "811" is NIST SP 811 (2008), Appendix B.8, as printed there (7 digits) or,
// marked "exact", by definition; "hand" is worked out by hand from those.
func TestConversion(t *testing.T) {
	tests := []struct {
		text string
		dim  Dim
		sys  System
		want float64
		tol  float64 // relative
		src  string
	}{
		{"1 in", LengthDim, Metric, 0.0254, 0, "811 exact"},
		{"1 ft", LengthDim, Metric, 0.3048, 0, "811 exact"},
		{"1 yd", LengthDim, Metric, 0.9144, 0, "811 exact"},
		{"1 sq ft", AreaDim, Metric, 0.09290304, 0, "811 exact"},
		{"1 in²", AreaDim, Metric, 6.4516e-4, 0, "811 exact"},
		{"1 gal", VolumeDim, US, 3.785412e-3, 5e-7, "811"},
		{"1 gal", VolumeDim, Imperial, 4.54609e-3, 0, "811 exact"},
		{"1 fl oz", VolumeDim, US, 2.957353e-5, 5e-7, "811"},
		{"1 fl oz", VolumeDim, Imperial, 2.841306e-5, 5e-7, "811"},
		{"1 qt", VolumeDim, US, 9.463529e-4, 5e-7, "811"},
		{"1 pt", VolumeDim, US, 4.731765e-4, 5e-7, "811"},
		{"1 ft3", VolumeDim, Metric, 2.831685e-2, 5e-7, "811"},
		{"1 in3", VolumeDim, Metric, 1.638706e-5, 5e-7, "811"},
		{"1 psi", PressureDim, Metric, 6.894757e3, 5e-7, "811"},
		{"1 bar", PressureDim, Metric, 1e5, 0, "811 exact"},
		{"1 kgf/cm2", PressureDim, Metric, 9.80665e4, 0, "811 exact"},
		{"1 m head", PressureDim, Metric, 9.80665e3, 0, "811 water, conventional"},
		{"1 ft head", PressureDim, Metric, 2.989067e3, 5e-7, "811 water, conventional"},
		{"9806.65 Pa", HeadDim, Metric, 1, 0, "811 water, conventional"},
		{"1 ft", HeadDim, Metric, 0.3048, 0, "811 exact"},
		{"1 gpm", FlowDim, US, 6.309020e-5, 5e-7, "811"},
		{"1 gpm", FlowDim, Imperial, 7.576817e-5, 5e-7, "hand: 4.54609e-3/60"},
		{"1 gpd", FlowDim, US, 4.381264e-8, 5e-7, "811"},
		{"1 m3/h", FlowDim, Metric, 2.777778e-4, 5e-7, "811"},
		{"1 L/min", FlowDim, Metric, 1.666667e-5, 5e-7, "811"},
		{"1 ft/s", VelocityDim, Metric, 0.3048, 0, "811 exact"},
		{"1 km/h", VelocityDim, Metric, 2.777778e-1, 5e-7, "811"},
		{"1 mph", VelocityDim, Metric, 0.44704, 0, "811 exact"},
		{"1 hp", PowerDim, Metric, 7.456999e2, 5e-7, "811, 550 ft·lbf/s"},
		{"1 Btu/h", PowerDim, Metric, 2.930711e-1, 5e-7, "811, International Table"},
		{"1 kWh", EnergyDim, Metric, 3.6e6, 0, "811 exact"},
		{"1 Btu", EnergyDim, Metric, 1055.05585262, 0, "811 exact, International Table"},
		{"1 lb", MassDim, Metric, 0.45359237, 0, "811 exact"},
		{"1 oz", MassDim, Metric, 2.834952e-2, 5e-7, "811, avoirdupois"},
		{"1 d", TimeDim, Metric, 86400, 0, "811 exact"},
		{"32 °F", TemperatureDim, Metric, 0, 0, "811 B.8, (t − 32)/1.8"},
		{"212 °F", TemperatureDim, Metric, 100, 0, "811 B.8, (t − 32)/1.8"},
		{"−40 °F", TemperatureDim, Metric, -40, 0, "811 B.8, (t − 32)/1.8"},
		{"50 mg/L", DoseDim, Metric, 0.05, 0, "hand"},
		{"50 ppm", DoseDim, Metric, 0.05, 0, "hand, at StandardDensity"},
		{"1 gpm", FlowFactorDim, US, 0.865 / 3600, 1e-4, "IEC 60534-1: Kv = 0.865 Cv"},
		{"1 gpm", FlowFactorDim, US, 3.785411784e-3 / 60 * math.Sqrt(1e5/6894.757293168361), 1e-15, "hand"},
	}
	for _, tt := range tests {
		q, err := Parse(tt.text, tt.dim, tt.sys)
		if err != nil {
			t.Errorf("Parse(%q, %s, %s): %v", tt.text, tt.dim, tt.sys, err)
			continue
		}
		if diff := math.Abs(q.SI - tt.want); diff > tt.tol*math.Abs(tt.want) {
			t.Errorf("Parse(%q, %s, %s) = %.12g, want %.12g, difference %.2g (%s)",
				tt.text, tt.dim, tt.sys, q.SI, tt.want, diff, tt.src)
		}
	}
}

// TestParse reads what people write: signs, blanks, fractions, parts and bases.
func TestParse(t *testing.T) {
	tests := []struct {
		text     string
		dim      Dim
		sys      System
		si, half float64
		basis    Basis
	}{
		{"3.2 bar ±0.1", PressureDim, Metric, 3.2e5, 1e4, Measured},
		{"3.2 bar ±0.1 bar", PressureDim, Metric, 3.2e5, 1e4, Measured},
		{"3.2 bar ± 10 kPa", PressureDim, Metric, 3.2e5, 1e4, Measured},
		{"3.2 bar +-0.1", PressureDim, Metric, 3.2e5, 1e4, Measured},
		{"3.2bar+/-0.1", PressureDim, Metric, 3.2e5, 1e4, Measured},
		{"3.2 bar ±0", PressureDim, Metric, 3.2e5, 0, Measured},
		{"3.2 bar", PressureDim, Metric, 3.2e5, 0, Stated},
		{"3.2 BAR", PressureDim, Metric, 3.2e5, 0, Stated},
		{"3.2 bar ?", PressureDim, Metric, 3.2e5, 0, Assumed},
		{"3.2 bar?", PressureDim, Metric, 3.2e5, 0, Assumed},
		{"3.2 bar ±0.1 ?", PressureDim, Metric, 3.2e5, 1e4, Assumed},
		{"33 m head", PressureDim, Metric, 323619.45, 0, Stated},
		{"33 m", HeadDim, Metric, 33, 0, Stated},
		{"1 bar", HeadDim, Metric, 10.197162129779283, 0, Stated},
		{"9 L/min ±5%", FlowDim, Metric, 0.00015, 7.5e-6, Measured},
		{"9 l/min ±5 %", FlowDim, Metric, 0.00015, 7.5e-6, Measured},
		{"9 lpm", FlowDim, Metric, 0.00015, 0, Stated},
		{"0.2 L/s", FlowDim, Metric, 0.0002, 0, Stated},
		{"0.9 m³/h", FlowDim, Metric, 0.00025, 0, Stated},
		{"300 gal (US)", VolumeDim, Metric, 1.1356235352, 0, Stated},
		{"300 gal(US)", VolumeDim, Imperial, 1.1356235352, 0, Stated},
		{"300 US gallons", VolumeDim, Imperial, 1.1356235352, 0, Stated},
		{"300 gal (imperial)", VolumeDim, US, 1.363827, 0, Stated},
		{"2 h 30 min", TimeDim, Metric, 9000, 0, Stated},
		{"2h30min", TimeDim, Metric, 9000, 0, Stated},
		{"2 h 30 min ±10 min", TimeDim, Metric, 9000, 600, Measured},
		{"1 week", TimeDim, Metric, 604800, 0, Stated},
		{"1 d 2 h 3 min 4 s", TimeDim, Metric, 93784, 0, Stated},
		{"5 ft 6 in", LengthDim, US, 1.6764, 0, Stated},
		{`5'6"`, LengthDim, US, 1.6764, 0, Stated},
		{"-5 ft 6 in", LengthDim, US, -1.6764, 0, Stated},
		{"3/4 in", LengthDim, US, 0.01905, 0, Stated},
		{"1 1/2 in", LengthDim, US, 0.0381, 0, Stated},
		{"1-1/2 in", LengthDim, US, 0.0381, 0, Stated},
		{"1½ in", LengthDim, US, 0.0381, 0, Stated},
		{"½ in", LengthDim, US, 0.0127, 0, Stated},
		{"5 ft 6 1/2 in", LengthDim, US, 1.6891, 0, Stated},
		{"5 m30 cm", LengthDim, Metric, 5.3, 0, Stated},
		{".5 m", LengthDim, Metric, 0.5, 0, Stated},
		{"5. m", LengthDim, Metric, 5, 0, Stated},
		{"1e-3 m", LengthDim, Metric, 0.001, 0, Stated},
		{"+8 m", LengthDim, Metric, 8, 0, Stated},
		{"−8 m", LengthDim, Metric, -8, 0, Stated},
		{"- 8 m", LengthDim, Metric, -8, 0, Stated},
		{"−0 m", LengthDim, Metric, 0, 0, Stated},
		{"8\u00a0m", LengthDim, Metric, 8, 0, Stated},
		{"8\u202fm\u2009±\u20090.3", LengthDim, Metric, 8, 0.3, Measured},
		{"  8 m\t", LengthDim, Metric, 8, 0, Stated},
		{"17 °C ±4", TemperatureDim, Metric, 17, 4, Measured},
		{"54 °F ±5", TemperatureDim, US, 12.222222222222221, 2.7777777777777777, Measured},
		{"54 °F ±3 °C", TemperatureDim, US, 12.222222222222221, 3, Measured},
		{"4 %", RatioDim, Metric, 0.04, 0, Stated},
		{"4 % ±0.5", RatioDim, Metric, 0.04, 0.005, Measured},
		{"5 ±10%", RatioDim, Metric, 5, 0.5, Measured},
		{"5 ?", RatioDim, Metric, 5, 0, Assumed},
		{"12.50", MoneyDim, Metric, 12.5, 0, Stated},
		{"0.75 kW", PowerDim, Metric, 750, 0, Stated},
		{"230 V", VoltageDim, Metric, 230, 0, Stated},
		{"6.2 A", CurrentDim, Metric, 6.2, 0, Stated},
		{"12 kg", MassDim, Metric, 12, 0, Stated},
		{"3.15 m3/h", FlowFactorDim, Metric, 0.000875, 0, Stated},
	}
	for _, tt := range tests {
		want := Quantity{Dim: tt.dim, SI: tt.si, Half: tt.half, Basis: tt.basis}
		got, err := Parse(tt.text, tt.dim, tt.sys)
		if err != nil || got != want || math.Signbit(got.SI) != (tt.si < 0) {
			t.Errorf("Parse(%q, %s, %s) = %+v, %v, want %+v", tt.text, tt.dim, tt.sys, got, err, want)
		}
	}
}

// refusals are texts that must not be read, with the message and what it must contain.
var refusals = []struct {
	text string
	dim  Dim
	sys  System
	id   string
	says []string
	at   int
}{
	{"1,500 L", VolumeDim, Metric, "comma-two", []string{"1.500 L", "1500 L"}, 1},
	{"3,2 bar", PressureDim, Metric, "comma-two", []string{"3.2 bar", "32 bar"}, 1},
	{"3,2 bar ±0,1", PressureDim, Metric, "comma-two", []string{"3.2 bar ±0.1", "32 bar ±01"}, 1},
	{"1,500,000 L", VolumeDim, Metric, "comma", []string{"Write 1500000 "}, 1},
	{"1,500.5 L", VolumeDim, Metric, "comma", []string{"Write 1500.5 "}, 1},
	{"1.500,5 L", VolumeDim, Metric, "comma", []string{"Write 1500.5 "}, 5},
	{"1 500 L", VolumeDim, Metric, "gap", []string{"1500 L"}, 2},
	{"300 gal", VolumeDim, Metric, "two-sizes",
		[]string{"1140 L in US", "1360 L", "300 gal (US)", "300 gal (imperial)"}, 4},
	{"3.7 gpm", FlowDim, Metric, "two-sizes", []string{"14 L/min", "16.8 L/min"}, 4},
	{"4 gpm", FlowFactorDim, Metric, "two-sizes", []string{"3.46 m³/h", "4.16 m³/h"}, 2},
	{"33 m", PressureDim, Metric, "dimension", []string{"length", "pressure", "33 m head"}, 3},
	{"14 L/min", VolumeDim, Metric, "dimension", []string{"flow", "volume"}, 3},
	{"14 L", FlowDim, Metric, "dimension", []string{"volume", "flow", "L/min"}, 3},
	{"4 %", LengthDim, Metric, "dimension", []string{"share", "length"}, 2},
	{"4 m", RatioDim, Metric, "dimension", []string{"length", "4 %"}, 2},
	{"3 bar 5 m", PressureDim, Metric, "dimension", []string{"length"}, 8},
	{"", VolumeDim, Metric, "no-number", []string{"300 gal"}, 0},
	{"?", VolumeDim, Metric, "no-number", nil, 0},
	{"bar", PressureDim, Metric, "no-number", nil, 0},
	{"NaN bar", PressureDim, Metric, "no-number", nil, 0},
	{"Inf bar", PressureDim, Metric, "no-number", nil, 0},
	{"-Inf bar", PressureDim, Metric, "no-number", nil, 1},
	{"--3 bar", PressureDim, Metric, "no-number", nil, 1},
	{"about 3 bar", PressureDim, Metric, "no-number", nil, 0},
	{"9", FlowDim, Metric, "no-unit", []string{"14 L/min"}, 1},
	{"2 h 30", TimeDim, Metric, "no-unit", []string{"30"}, 6},
	{"9 ±1", FlowDim, Metric, "no-unit", nil, 2},
	{"8 furlongs", LengthDim, Metric, "unit", []string{`"furlongs"`}, 2},
	{"0x1p-2 m", LengthDim, Metric, "unit", nil, 1},
	{"1/0 in", LengthDim, Metric, "unit", nil, 1},
	{"50 ML", VolumeDim, Metric, "unit", nil, 3},
	{"2 Mpa", PressureDim, Metric, "unit", nil, 2},
	{"10 to 20 h", TimeDim, Metric, "range", nil, 3},
	{"10-20 h", TimeDim, Metric, "range", nil, 2},
	{"10–20 h", TimeDim, Metric, "range", nil, 2},
	{"2:30", TimeDim, Metric, "clock", []string{"2 h 30 min", "2 min 30 s"}, 1},
	{"3.2 bar 46 psi", PressureDim, Metric, "two-values", nil, 7},
	{"6 in 5 ft", LengthDim, US, "two-values", nil, 4},
	{"3 m 10 ft", LengthDim, US, "two-values", nil, 3},
	{"17 °C 3 °C", TemperatureDim, Metric, "two-values", nil, 5},
	{"1e400 bar", PressureDim, Metric, "too-large", nil, 9},
	{"1e999 bar", PressureDim, Metric, "too-large", nil, 9},
	{"1e1000000000 bar", PressureDim, Metric, "unit", nil, 1},
	{"3 bar ±1e400", PressureDim, Metric, "too-large", nil, 12},
	{"1e-400 bar", PressureDim, Metric, "too-small", []string{"0"}, 10},
	{"3.2 bar x", PressureDim, Metric, "trailing", []string{`"x"`}, 8},
	{"3.2 bar ±0.1 ±0.2", PressureDim, Metric, "trailing", nil, 13},
	{"3.2 bar ? ±0.1", PressureDim, Metric, "trailing", nil, 10},
	{"3.2 bar ±", PressureDim, Metric, "spread", nil, 9},
	{"3.2 bar ±-0.1", PressureDim, Metric, "spread", []string{"-0.1"}, 9},
	{"3.2 bar ±0.1 m", PressureDim, Metric, "dimension", nil, 13},
	{"2 h 30 min ±1", TimeDim, Metric, "spread-two-units", []string{"±1 h", "±1 min"}, 13},
	{"17 °C ±5 %", TemperatureDim, Metric, "spread-temperature", []string{"±2 °C"}, 9},
	{"54 °F ±5 %", TemperatureDim, US, "spread-temperature", []string{"±2 °F"}, 9},
	{"4 % ±5 %", RatioDim, Metric, "spread-points", []string{"5 % either way", "0.2 %"}, 7},
	{strings.Repeat("1", 2000) + " m", LengthDim, Metric, "unreadable", nil, 0},
	{"8 m\xff", LengthDim, Metric, "unreadable", nil, 0},
}

func TestParseRefuses(t *testing.T) {
	for _, tt := range refusals {
		_, err := Parse(tt.text, tt.dim, tt.sys)
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("Parse(%q, %s, %s) = %v, want a *ParseError", tt.text, tt.dim, tt.sys, err)
			continue
		}
		if pe.ID != "quantity."+tt.id || pe.At != tt.at {
			t.Errorf("Parse(%q, %s): %s at %d, want quantity.%s at %d", tt.text, tt.dim, pe.ID, pe.At, tt.id, tt.at)
		}
		for _, s := range tt.says {
			if !strings.Contains(err.Error(), s) {
				t.Errorf("Parse(%q, %s): message %q does not say %q", tt.text, tt.dim, err, s)
			}
		}
		if strings.Contains(err.Error(), "‹") {
			t.Errorf("Parse(%q, %s): message %q lacks words", tt.text, tt.dim, err)
		}
	}
}

// TestMessagesUsed holds that every fault in the message file is one a test provokes, so
// that none is left that nothing says.
func TestMessagesUsed(t *testing.T) {
	said := map[string]bool{
		"quantity.system": true, "quantity.size": true, "quantity.size-family": true,
		"quantity.size-length": true, // TestParseSystem, TestParseSize
		"quantity.never":       true, "quantity.infinite": true, "quantity.infinite-below": true,
		"quantity.undefined": true, // TestFormatWords
		"quantity.drowned":   true, // TestAir
	}
	for _, r := range refusals {
		said["quantity."+r.id] = true
	}
	for _, id := range words.IDs() {
		if strings.HasPrefix(id, "quantity.") && !said[id] &&
			!strings.HasPrefix(id, "quantity.dim.") && !strings.HasPrefix(id, "quantity.accepts.") {
			t.Errorf("message %s is said by no test", id)
		}
	}
}

// TestAccepts reads every example that a message offers.
func TestAccepts(t *testing.T) {
	for _, d := range Dims() {
		for _, sys := range Systems() {
			text := Accepts(d, sys)
			for _, ex := range strings.Split(strings.ReplaceAll(text, " or ", ", "), ", ") {
				for _, note := range []string{"the flow at a drop of 1 bar", "the flow at a drop of 1 psi", "at 1 psi", "at 1 bar"} {
					ex = strings.TrimSpace(strings.Replace(ex, "("+note+")", "", 1))
				}
				if _, err := Parse(ex, d, sys); err != nil {
					t.Errorf("Accepts(%s, %s) offers %q: %v", d, sys, ex, err)
				}
			}
		}
	}
}

func TestParseSystem(t *testing.T) {
	for _, s := range Systems() {
		if got, err := ParseSystem(s.String()); err != nil || got != s {
			t.Errorf("ParseSystem(%q) = %v, %v", s.String(), got, err)
		}
	}
	var pe *ParseError
	if _, err := ParseSystem("furlongs"); !errors.As(err, &pe) || pe.ID != "quantity.system" {
		t.Errorf(`ParseSystem("furlongs") = %v, want quantity.system`, err)
	}
}

func TestParseSize(t *testing.T) {
	good := map[string]Size{
		"PE100-SDR11 25":   {"PE100-SDR11", "25"},
		"copper-L 3/4":     {"copper-L", "3/4"},
		"multilayer 20":    {"multilayer", "20"},
		"thread 1-1/4":     {"thread", "1-1/4"},
		"thread  1 1/4":    {"thread", "1-1/4"},
		" copper-L\u00a02": {"copper-L", "2"},
		"PVC-U-PN12.5 32":  {"PVC-U-PN12.5", "32"},
	}
	for text, want := range good {
		got, err := ParseSize(text)
		if err != nil || got != want {
			t.Errorf("ParseSize(%q) = %+v, %v, want %+v", text, got, err, want)
		}
		if again, err := ParseSize(got.String()); err != nil || again != got {
			t.Errorf("ParseSize(%q) = %+v, %v, want %+v", got.String(), again, err, got)
		}
	}
	bad := map[string]string{
		"": "size", "copper-L": "size", "copper-L three": "size", "copper-L 3//": "size",
		"25": "size-family", "3/4": "size-family", "25 mm": "size-family",
		"PE100-SDR11 25 mm": "size-length", `copper-L 3/4"`: "size-length", "copper-L 3/4 in": "size-length",
	}
	for text, id := range bad {
		_, err := ParseSize(text)
		var pe *ParseError
		if !errors.As(err, &pe) || pe.ID != "quantity."+id || strings.Contains(err.Error(), "‹") {
			t.Errorf("ParseSize(%q) = %v, want quantity.%s", text, err, id)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("3.2 bar ±0.1", PressureDim, Metric); err != nil {
			b.Fatal(err)
		}
	}
}
