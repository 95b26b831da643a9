package sitework

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/quantity"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v, want %v ±%v", what, got, want, tol)
	}
}

// TestByHand: figures worked out with pencil and paper.
func TestByHand(t *testing.T) {
	off, _ := TieIn(2)
	near(t, "tie-in of two places (15 + 2 × 12.5 + 20 min)", float64(off), 3600, 1e-9)

	m := Drive(750, 230)
	near(t, "running current, 750/(230·0.60·0.90)", float64(m.Running), 6.03865, 1e-5)
	near(t, "running current of a good motor, 750/(230·0.75·0.97)", float64(m.Least), 4.48230, 1e-5)
	near(t, "straight on, 10 times", float64(m.Starting), 60.3865, 1e-4)
	near(t, "circuit", float64(m.Circuit), 7.54831, 1e-5)
	near(t, "inverter, running", float64(m.Carries), 1388.89, 0.01)
	near(t, "inverter, first seconds", float64(m.Surges), 13888.9, 0.1)
	soft := Plated(7, 230, true, 1)
	near(t, "a control's plate of 7 A", float64(soft.Running), 7, 0)
	near(t, "its start, 1.5 times", float64(soft.Starting), 10.5, 1e-9)
	near(t, "its circuit, 1.25 times", float64(soft.Circuit), 8.75, 1e-9)

	// 400 W for 60 L at 0.5 L/s is 48 kJ; 30 W for 2 h is 216 kJ; over 0.9 × 0.5.
	lead, lithium, _ := Battery(Cut{Power: 400, Flow: 0.5e-3, Water: 0.060, Time: 7200})
	near(t, "lead battery", float64(lead), 264e3/0.45, 1e-6)
	near(t, "lithium battery", float64(lithium), 264e3/0.72, 1e-6)

	// A 1,000 L tank of 1.10 m: 1,020 kg on 0.950 m² is 10.5 kPa; slab 1.40 m, 100 mm.
	b := Ground(1, 1.10, 1, 1020)
	near(t, "footprint", float64(b.Footprint), 0.950332, 1e-6)
	near(t, "under the store", float64(b.Store), 10525.6, 0.1)
	near(t, "under the slab, (1020/1.96 + 240)·9.80665", float64(b.Ground), 7457.1, 0.1)

	// Two of 1.20 m and 1,532 kg: a slab of 2 × 1.20 + 0.20 + 2 × 0.15 = 2.90 m by 1.50 m.
	two := Ground(2, 1.20, 1.5, 1532)
	near(t, "slab of two, length", float64(two.Length), 2.90, 1e-9)
	near(t, "slab of two, width", float64(two.Width), 1.50, 1e-9)
	near(t, "slab of two, concrete 2.90·1.50·0.10", float64(two.Concrete), 0.435, 1e-9)
	near(t, "under it, (3064/4.35 + 240)·9.80665", float64(two.Ground), 9261.1, 0.5)

	p, _ := Test(1.5, 4.1e5, 0)
	near(t, "test pressure", float64(p), 6.15e5, 1e-9)
	p, _ = Test(1.5, 4.1e5, 15e5)
	near(t, "test pressure where a least is asked for", float64(p), 15e5, 1e-9)

	f := Rinse(0.004, 0.2e-3)
	near(t, "40 L at 0.2 L/s", float64(f.Time), 200, 1e-9)
	near(t, "a short pipe runs a minute all the same", float64(Rinse(0.0001, 0.2e-3).Time), 60, 0)
	if f := Rinse(0.004, 0); !math.IsInf(float64(f.Time), 1) {
		t.Errorf("no flow flushes in %v", f.Time)
	}
}

// TestPublished: the table of full-load currents in NFPA 70, 430.248, covers the poorest
// ordinary motors: 3/4 hp (559 W) takes 6.9 A at 230 V there. Ours must stay below it and
// above what the shaft power alone would draw.
func TestPublished(t *testing.T) {
	m := Drive(559, 230)
	if m.Running > 6.9 || float64(m.Least) < 559.0/230 {
		t.Errorf("currents %v to %v, want within 2.43 to 6.9 A", m.Least, m.Running)
	}
}

func TestThickness(t *testing.T) {
	for v, want := range map[quantity.Volume]quantity.Length{0.5: 0.1, 5: 0.1, 5.01: 0.125, 10: 0.125, 10.1: 0.15} {
		if got := Thickness(v); got != want {
			t.Errorf("Thickness(%v) = %v, want %v", v, got, want)
		}
	}
}

// TestProperties: more of what asks for more never asks for less.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(100, 5000).Draw(t, "power")
		u := rapid.Float64Range(100, 480).Draw(t, "voltage")
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		a, b := Drive(quantity.Power(p), quantity.Voltage(u)), Drive(quantity.Power(p*more), quantity.Voltage(u))
		if b.Running < a.Running || b.Starting < a.Starting || a.Least > a.Running || a.Circuit < a.Running {
			t.Fatalf("currents fall: %+v %+v", a, b)
		}
		d := rapid.Float64Range(0.5, 3).Draw(t, "diameter")
		v := rapid.Float64Range(0.2, 12).Draw(t, "volume")
		g := Ground(1, quantity.Length(d), quantity.Volume(v), quantity.Mass(1000*v))
		h := Ground(1, quantity.Length(d), quantity.Volume(v), quantity.Mass(1000*v*more))
		if h.Ground < g.Ground || float64(g.Store)*float64(g.Footprint) < 0.999*9.80665*1000*v {
			t.Fatalf("load is lost: %+v %+v", g, h)
		}
		x, half := rapid.Float64Range(-10, 10).Draw(t, "figure"), rapid.Float64Range(0, 3).Draw(t, "half")
		band := Accept(x, half, 0.1, 0.2)
		if band.High-x < half-1e-12 || x-band.Low < 0.2-1e-12 || band.High < band.Low {
			t.Fatalf("Accept(%v, %v) = %+v", x, half, band)
		}
		for _, s := range g.Calc.Steps {
			if s.Check() != 0 {
				t.Fatalf("step %s does not repeat", s.Key)
			}
		}
	})
}

// TestDriveTogether: two 0.75 kW pumps on 230 V by hand: 750/(230·0.60·0.90) = 6.039 A
// each, 12.077 A together; straight on 10 × 6.039 + 6.039 = 66.425 A while the second
// starts; the feed 1.25 × 6.039 + 6.039 = 13.587 A (NFPA 70, 430.24).
func TestDriveTogether(t *testing.T) {
	m := DriveTogether(750, 230, 2)
	near(t, "each", float64(m.Running), 6.03865, 1e-4)
	near(t, "both", float64(m.All), 12.0773, 1e-4)
	near(t, "last start", float64(m.LastStart), 66.4251, 1e-4)
	near(t, "feed", float64(m.Feed), 13.5870, 1e-4)
	near(t, "carries", float64(m.Carries), 2777.78, 1e-2)
	near(t, "surges", float64(m.Surges), 15277.8, 1e-1)
	one := DriveTogether(750, 230, 1)
	near(t, "one alone", float64(one.All), float64(one.Running), 1e-12)
	near(t, "one's feed", float64(one.Feed), float64(one.Circuit), 1e-12)
}
