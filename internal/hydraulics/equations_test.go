package hydraulics

import (
	"math"
	"testing"

	"tideover/internal/calc"
)

// Figures worked out apart from the code, with a pocket calculator's arithmetic.
func TestEquations(t *testing.T) {
	tests := []struct {
		eq   *calc.Equation
		args []float64
		want float64
		tol  float64 // relative
		src  string
	}{
		{DensityEq, []float64{20}, 998.20, 1e-5, "water table"},
		{ViscosityEq, []float64{20}, 1.0034e-6, 1e-4, "water table"},
		{VapourPressureEq, []float64{25}, 3170, 2e-4, "water table"},
		{AtmosphereEq, []float64{1500}, 84556, 1e-4, "ISO 2533 table 5: 84 556 Pa at 1500 m"},
		{HeadOfPressureEq, []float64{3e5, 1000, 1.2}, 31.791486, 1e-7, "3e5/9806.65 + 1.2"},
		{VelocityEq, []float64{0.2, 0.2}, 6.366198, 1e-6, "0.2/(π/4·0.04)"},
		{VelocityHeadEq, []float64{2}, 0.203943, 1e-5, "4/19.6133"},
		{ReynoldsEq, []float64{6.366198, 0.2, 1e-5}, 127324, 1e-5, "White, Fluid Mechanics, ex. 6.7"},
		{FrictionEq, []float64{1000, 0, 0.02}, 0.064, 1e-12, "64/1000"},
		{FrictionEq, []float64{127324, 0.26e-3, 0.2}, 0.02272, 1e-3, "White, ex. 6.7"},
		{DarcyEq, []float64{0.02272, 500, 0.2, 6.366198}, 117.37, 1e-4, "0.02272·2500·2.06636"},
		{TwoKEq, []float64{800, 0.4, 10000, 0.016, 1}, 0.0568492, 1e-5, "(0.08 + 0.4·2.5875)·0.0509858 = 1.115·0.0509858"},
		{KvDropEq, []float64{2.0 / 3600, 4.0 / 3600}, 2.549291, 1e-6, "a quarter bar"},
		{OpeningEq, []float64{1e-3, 0.5, 2}, 2.5e-4, 1e-12, "a quarter"},
		{FloatOpeningEq, []float64{1.325, 1.4, 0.15}, 0.5, 1e-9, "half-way in its band"},
		{PumpHeadEq, []float64{0.9e-3, 1, 45, 8166.66667, 3.2716e6}, 35.0, 1e-3, "on the curve's own point"},
		{AffinityEq, []float64{45, 0.8}, 28.8, 1e-12, "0.64·45"},
		{NPSHEq, []float64{84556, 4247, 995.65, -3.8, 0}, 4.425, 2e-3, "1500 m, 30 °C, lift 3 m, losses 0.8 m"},
		{HydraulicPowerEq, []float64{1000, 1e-3, 30}, 294.1995, 1e-7, "9.80665·30"},
		{WirePowerEq, []float64{294.1995, 0.4}, 735.49875, 1e-7, "over 0.4"},
		{DrawdownEq, []float64{0.0967, 2.8e5, 3.0e5, 4.5e5}, 0.030085, 1e-3, "40 L/min, 20 an hour: 30 L"},
		{CyclingEq, []float64{40.0 / 60000, 0.030}, 20, 1e-9, "40 L/min from 30 L"},
		{OutletCoefficientEq, []float64{9.0 / 60000, 30.591486}, 2.712e-5, 1e-3, "9 L/min at 3 bar"},
		{MainLossEq, []float64{2e-4, 1000, 1e7}, 0.6, 1e-12, "0.2 + 0.4"},
		{MainFitEq, []float64{1e-4, 0.2, 2e-4, 0.6}, 1e7, 1e-9, "its inverse"},
		{MainFitLinearEq, []float64{1e-4, 0.2, 2e-4, 0.6}, 1000, 1e-9, "its inverse"},
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

func TestEquationsSayTheirRange(t *testing.T) {
	for _, e := range calc.Equations() {
		if e.Range == "" || e.Result.Name == "" {
			t.Errorf("%s: range and result are required", e.Key)
		}
	}
}
