package circuit

import (
	"math"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// TestEveryRowFlows makes the law of every row of the catalogue that water passes and asks
// it for a loss at a flow such a part sees: it rises with the flow, and its slope with it.
func TestEveryRowFlows(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	rising := func(row string, law hydraulics.Law, q float64) {
		a, _ := law.Drop(q, 1)
		b, slope := law.Drop(1.5*q, 1)
		if !(a > 0 && b > a && slope > 0) || math.IsInf(b, 0) {
			t.Errorf("%s: %v m at %v m³/s, %v m at half as much again", row, a, q, b)
		}
	}
	made := func(row string, law hydraulics.Law, err error, q float64) {
		if err != nil {
			t.Errorf("%s: %v", row, err)
			return
		}
		rising(row, law, q)
	}
	visc := hydraulics.KinematicViscosity(15)
	for s, p := range c.Pipes {
		bore := float64(p.Bore)
		law, err := hydraulics.NewPipe(s.String(), hydraulics.PipeSpec{Bore: bore, Length: 10, Roughness: float64(p.Roughness), Viscosity: visc})
		made(s.String(), law, err, math.Pi/4*bore*bore) // 1 m/s
		if err != nil {
			continue
		}
		// Blasius at 1 m/s and a smooth wall is a floor; a rough wall loses more, never ten times.
		h, _ := law.Drop(math.Pi/4*bore*bore, 1)
		floor := 0.3164 / math.Pow(bore/visc, 0.25) * 10 / bore / (2 * hydraulics.Gravity)
		if h < 0.97*floor || h > 4*floor {
			t.Errorf("%s loses %v m over 10 m at 1 m/s; smooth would be %v", s, h, floor)
		}
	}
	for key, v := range c.Valves {
		law, err := hydraulics.NewHandValve(key, float64(v.Kv))
		made(key, law, err, float64(v.Kv)/3)
	}
	for key, v := range c.NonReturns {
		law, err := hydraulics.NewHandValve(key, float64(v.Kv))
		made(key, law, err, float64(v.Kv)/3)
	}
	for key, f := range c.Floats {
		law, err := hydraulics.NewFloatValve(key, float64(f.Kv))
		made(key, law, err, float64(f.Kv)/3)
	}
	for key, o := range c.Outlets {
		law, err := hydraulics.NewOutletAt(key, float64(o.At3Bar), threeBar, float64(o.Limit))
		made(key, law, err, float64(o.Need)/2)
		if err == nil {
			if taken, _ := law.Drop(0.6*float64(o.Need), 1); taken > HeadOf(o.Pressure, 0) {
				t.Errorf("%s takes %v m for 0.6 of its need and has %v", key, taken, HeadOf(o.Pressure, 0))
			}
		}
	}
	for key, h := range c.Heaters {
		law, err := hydraulics.NewHandValve(key, float64(h.Kv))
		made(key, law, err, float64(h.Kv)/6)
	}
	for key, p := range c.Pumps {
		law, err := hydraulics.NewPump(key, float64(p.Shutoff), float64(p.Q1), float64(p.H1), float64(p.Q2), float64(p.H2), standing(p))
		if err != nil {
			t.Errorf("%s: %v", key, err)
			continue
		}
		if math.Abs(law.Head(float64(p.Q1), 1)-float64(p.H1)) > 1e-9 {
			t.Errorf("%s misses its own point", key)
		}
	}
	for key, v := range c.Vessels {
		if v.Volume <= 0 || v.Rating < 6e5 {
			t.Errorf("%s: %v m³, rated %v Pa: no pump of a home leaves it whole", key, v.Volume, v.Rating)
		}
	}
}
