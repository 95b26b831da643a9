package circuit

import (
	"math"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/quantity"
)

// plateOf is a peripheral pump known by its plate: 40 m, 40 L/min.
func plateOf(t *testing.T, readFlow, readBar float64) (Plate, bool, error) {
	t.Helper()
	j := demo.Job(t, "kestrel-rise")
	c, _ := demo.Rows(t, j.Profile)
	m := &j.Choices.Plate
	m.Head.V, m.Flow.V = 40, 40/60e3
	m.ReadFlow.V, m.ReadPressure.V = quantity.Flow(readFlow/60e3), quantity.Pressure(readBar*1e5)
	return FromPlate(j, c.Pumps["peripheral-0.37"])
}

// TestPlateByHand: H = h0 (1 − β t − (1 − β) t²) with β = 0.9 at half the greatest flow is
// 40 (1 − 0.45 − 0.025) = 21 m; the band runs from β 1.0 to 0.8, 20 to 22 m: ±4.76 %.
func TestPlateByHand(t *testing.T) {
	p, given, err := plateOf(t, 0, 0)
	if err != nil || !given || p.Read {
		t.Fatalf("%+v %v %v", p, given, err)
	}
	near := func(what string, got, want, tol float64) {
		if math.Abs(got-want) > tol {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	near("shut-off", float64(p.Row.Shutoff), 40, 1e-9)
	near("first flow", float64(p.Row.Q1)*60e3, 20, 1e-6)
	near("first head", float64(p.Row.H1), 21, 1e-6)
	near("second head, 40 (1 − 0.72 − 0.064)", float64(p.Row.H2), 8.64, 1e-6)
	near("band", p.Row.HeadBand, 1.0/21, 1e-6)
}

// TestReading: a reading inside the band moves the curve through itself and leaves the
// plate; one below it wears the pump; one no pump of the plate gives is refused.
func TestReading(t *testing.T) {
	inside, _, err := plateOf(t, 20, 21.5*Weight/1e5)
	if err != nil || !inside.Read || inside.Wear != 1 {
		t.Fatalf("%+v %v", inside, err)
	}
	if d := math.Abs(float64(inside.Row.H1) - 21.5); d > 1e-6 {
		t.Errorf("the curve misses the reading by %v m", d)
	}
	worn, _, err := plateOf(t, 20, 15*Weight/1e5)
	if err != nil || worn.Wear >= 1 {
		t.Errorf("a weak reading leaves the pump as new: %+v %v", worn, err)
	}
	last := 0.0
	for _, bar := range []float64{1.2, 1.6, 2.0, 2.4} { // a stronger reading, a stronger pump
		p, _, err := plateOf(t, 20, bar)
		if err != nil || float64(p.Row.Shutoff) < last {
			t.Errorf("%v bar: %v m at no flow after %v, %v", bar, p.Row.Shutoff, last, err)
		}
		last = float64(p.Row.Shutoff)
	}
	for _, bad := range [][2]float64{{60, 1}, {20, 9}, {5, 0.1}} {
		if _, _, err := plateOf(t, bad[0], bad[1]); err == nil {
			t.Errorf("%v L/min at %v bar is taken", bad[0], bad[1])
		}
	}
}

// TestNoPlate: without a plate the row stays as the catalogue has it.
func TestNoPlate(t *testing.T) {
	j := demo.Job(t, "kestrel-rise")
	row := catalogue.Pump{Shutoff: 12}
	if p, given, err := FromPlate(j, row); given || err != nil || p.Row.Shutoff != 12 {
		t.Errorf("%+v %v %v", p, given, err)
	}
}
