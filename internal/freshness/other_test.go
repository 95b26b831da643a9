package freshness

import (
	"math"
	"testing"

	"tideover/internal/calc"
)

// TestDecayWithWarmth: 50 kJ/mol makes decay 1.97 times as fast at 30 °C as at 20 °C.
func TestDecayWithWarmth(t *testing.T) {
	var none *calc.Sheet
	near(t, "30 °C", none.Eval(BulkEq, 1, 50e3, 30), 1.97, 2e-3)
	near(t, "20 °C", none.Eval(BulkEq, 1, 50e3, 20), 1, 1e-12)
}

// TestSunOnABareStore: a black bare store of 1,000 L in air of 30 °C with 250 W/m² on its
// shell: the time constant is ρ c V/(U A), and the way from 18 to 25 °C takes
// τ ln((T_sa − 18)/(T_sa − 25)), worked by hand with h_o 15, U 9, A 6.1 m²: 45 °C, 21.1 h, 6.3 h.
func TestSunOnABareStore(t *testing.T) {
	var none *calc.Sheet
	outside := none.Eval(SolAirEq, 30, 0.9, 250, 15)
	near(t, "sol-air", outside, 45, 1e-12)
	loss := 9 * 6.1
	tau := heatCap / loss
	near(t, "time constant", tau/3600, 21.15, 2e-3)
	m := Mixed{1, Water{Heat: 18}}
	m.Step(Flow{tau * math.Log(27.0/20), 0, 0}, Water{}, Around{outside, loss}, Decay{})
	near(t, "after 6.3 h", m.Water.Heat, 25, 1e-12)
	near(t, "on the sheet", none.Eval(StoreHeatEq, 18, outside, 0, loss, 1, 0, tau*math.Log(27.0/20)), 25, 1e-12)
	near(t, "wall", none.Eval(WallEq, 100, 0.025, 0.035, none.Eval(ConvectionEq, 2)), 1/(0.01+0.025/0.035+1/13.3), 1e-12)
}

// TestFrost: 1,000 L with U A = 60 W/K at −10 °C from 8 °C: ρ c V/(U A) ln 1.8 = 11.4 h to
// freezing, and 15.5 h more until a tenth is ice.
func TestFrost(t *testing.T) {
	var none *calc.Sheet
	near(t, "to freezing", none.Eval(CoolEq, 1, 60, 8, -10)/3600, 11.37, 2e-3)
	near(t, "a tenth", none.Eval(IceEq, 0.1, 1, 60, -10)/3600, 15.46, 2e-3)
	if !math.IsInf(none.Eval(CoolEq, 1, 60, 8, 2), 1) || !math.IsInf(none.Eval(IceEq, 0.1, 1, 60, 0), 1) {
		t.Error("water freezes above freezing")
	}
}

func TestTally(t *testing.T) {
	a, b := NewAges(), NewAges()
	for i := range 1000 { // a straight ramp from 1 to 11 days, in two halves
		x := (1 + float64(i)/100) * day
		[]*Tally{a, b}[i%2].Add(x, x+day/100, 2)
	}
	a.Merge(b)
	near(t, "sum", a.Sum, 2000, 1e-12)
	near(t, "mean", a.Mean(), 6*day, 1e-9)
	near(t, "variance", a.Variance(), 100.0/12*day*day, 1e-9)
	near(t, "least", a.Least, day, 1e-12)
	near(t, "most", a.Most, 11*day, 1e-12)
	for _, p := range []float64{0.001, 0.25, 0.5, 0.95, 1} {
		near(t, "quantile", a.Quantile(p), (1+10*p)*day, 0.003)
		near(t, "above", a.Above((1+10*p)*day), 1-p, 0.01)
	}
	share := 0.0
	for _, c := range a.Classes() {
		share += c.Share
	}
	near(t, "classes", share, 1, 1e-12)
	if !math.IsNaN(NewAges().Quantile(0.5)) || !math.IsNaN(NewAges().Mean()) {
		t.Error("a tally of nothing has a figure")
	}
	one := NewAges()
	one.Add(5*day, 5*day, 1)
	near(t, "one", one.Quantile(0.5), 5*day, 0.05)
}

// TestJudge: a pair on each side of every limit; warm water that comes in is no fault of
// the store, and a residual that never arrived is none either.
func TestJudge(t *testing.T) {
	for _, c := range []struct {
		name string
		c    Criterion
		met  bool
	}{
		{"cool main", Warm(25, 18), true}, {"cool main, warm store", Warm(25.1, 18), false},
		{"warm main", Warm(32, 30), true}, {"warm main, warmer store", Warm(32.1, 30), false},
		{"two weeks", Standing(14*day, 0), true}, {"older", Standing(14.1*day, 0), false}, {"older on arrival", Standing(14.1*day, day), true},
		{"residual", Residual(0.2e-3, 0.5e-3), true}, {"lost", Residual(0.19e-3, 0.5e-3), false}, {"none came", Residual(0, 0), true},
		{"not a number", Warm(math.NaN(), 18), false}, {"nor here", Residual(math.NaN(), 1), false},
	} {
		if c.c.Met() != c.met {
			t.Errorf("%s: %+v", c.name, c.c)
		}
	}
	if !Warm(31, 30).Arriving || Warm(24, 18).Arriving || !Residual(0, 0).Arriving {
		t.Error("whether the arriving water set the limit")
	}
}
