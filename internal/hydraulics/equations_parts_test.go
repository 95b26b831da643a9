package hydraulics

import (
	"math"
	"testing"

	"tideover/internal/calc"
)

// Figures worked out apart from the code, with a pocket calculator's arithmetic.
func TestPartEquations(t *testing.T) {
	tests := []struct {
		eq   *calc.Equation
		args []float64
		want float64
		tol  float64 // relative
		src  string
	}{
		{SeatLeakEq, []float64{1e-3, 20.0 / 3600}, 5.5556e-6, 1e-4, "a thousandth of 20 m³/h"},
		{ThreeWayEq, []float64{0.25}, 0.25, 1e-12, "a quarter"},
		{MeterKvEq, []float64{4.0 / 3600, 63e3}, 1.39988e-3, 1e-4, "4/0.793725 m³/h"},
		{StrainerEq, []float64{1e-3, 0.3}, 7e-4, 1e-12, "seven tenths"},
		{SeatKvEq, []float64{0.0095}, 7.0170e-4, 1e-4, "0.7·70.8822 mm²·14.14214 m/s"},
		{LimiterEq, []float64{1e-4, 1e-3, 1.5e-4}, 0.1019716, 1e-5, "below its limit: 10.19716/100"},
		{LimiterEq, []float64{1.5015e-4, 1e-3, 1.5e-4}, 0.229436 + 95, 1e-4, "0.1 % over: 100 m less half the bend, 5 m"},
		{ReliefEq, []float64{1e-3, 5e-4, 35, 3.5}, 40.78865, 1e-6, "fully open: 10.19716·4"},
		{SwellEq, []float64{0.15, 10, 60}, 2.5173e-3, 1e-3, "0.15 (999.70/983.20 − 1)"},
		{NameplateEq, []float64{0.5e-3, 40, 1e-3, 0.55}, 24.5, 1e-12, "40 (1 − 0.275 − 0.1125)"},
		{ReadingEq, []float64{0.5e-3, 24.5, 40, 1e-3}, 0.55, 1e-12, "its inverse"},
		{PumpPowerEq, []float64{0.25e-3, 1, 800, 0.5e-3, 1.6}, 1040, 1e-12, "800 (1.6 − 0.3)"},
		{SideBySideEq, []float64{2e-3, 2, 45, 8000, 3e6}, 34, 1e-12, "45 − 8 − 3"},
		{VesselWaterEq, []float64{0.1, 2.8e5, 4.5e5}, 0.0377778, 1e-5, "0.1 (1 − 2.8/4.5)"},
		{OverflowEq, []float64{0.046, 0.05, 0, 0}, 0.737769e-3, 1e-5, "greatest over all depths, by strips"},
		{ScreenEq, []float64{0.036, 0.4, 19.7e-3 / 60}, 0.10445, 1e-3, "summed in 4,000 strips"},
		{SpillEq, []float64{0.036, 0.5, 0.10445, 19.7e-3 / 60}, 0.11240, 1e-3, "0.10445 + 1.5 (0.3283e-3/1.0179e-3)²/19.6133"},
		{SlotEq, []float64{0.3, 1, 0.65e-3}, 0.011437, 1e-3, "(0.65e-3/(0.4·0.3·4.42869))^(2/3)"},
		{BoilingEq, []float64{2339, 101325, 998.2}, -10.1119, 1e-5, "98986/9789.0"},
		{AirInEq, []float64{2e-4, 4e-5}, 0.0299952, 1e-4, "(5/28.87)²"},
	}
	for _, test := range tests {
		var sheet calc.Sheet
		got := sheet.Eval(test.eq, test.args...)
		if !(math.Abs(got-test.want) <= test.tol*math.Abs(test.want)) {
			t.Errorf("%s(%v) = %.8g, want %.8g (%s)", test.eq.Key, test.args, got, test.want, test.src)
		}
		if d := sheet.Steps[0].Check(); d != 0 {
			t.Errorf("%s: step does not check: %g", test.eq.Key, d)
		}
	}
}
