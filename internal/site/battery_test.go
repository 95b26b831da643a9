package site

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

func batteryOf(t *testing.T, change func(*job.Job)) Battery {
	t.Helper()
	j := demo.Job(t, "juniper-flat")
	change(j)
	cat, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, p)
	if err != nil {
		t.Fatal(err)
	}
	return BatteryOf(j, a)
}

// TestBatteryByHand: what the label says against the mean draw and against busy hours of single
// taps, by the power the pump takes there.
func TestBatteryByHand(t *testing.T) {
	if b := batteryOf(t, func(*job.Job) {}); b.Told || b.Least != 3600 || b.Most != 12*3600 {
		t.Errorf("nobody tells what it stores: %+v, want 1 h to 12 h", b)
	}
	j := demo.Job(t, "juniper-flat")
	cat, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, p)
	if err != nil {
		t.Fatal(err)
	}
	power, flow, known := rated(a)
	if !known {
		t.Fatal("the pump's efficiency is known")
	}
	draw := float64(HouseholdOf(j, a).Stored) / 86400
	b := batteryOf(t, func(j *job.Job) {
		j.Power.Stores = quantity.Val[quantity.Energy]{V: 2.4 * 3.6e6, Basis: quantity.Stated}
	})
	// By hand: of 2.4 kWh an inverter of 90 % gives 1.08 kWh from lead, 1.728 from lithium; the pump
	// takes for each litre what it takes at the tap's flow, the inverter 30 W beside.
	most := 1.728 * 3.6e6 / (power(flow)*draw/flow + 30)
	least := 1.08 * 3.6e6 / (power(flow/4)*3*draw/(flow/4) + 30)
	if !b.Told || math.Abs(float64(b.Most)-most) > 1e-6*most || math.Abs(float64(b.Least)-least) > 1e-6*least {
		t.Errorf("%g to %g h, by hand %g to %g", b.Least/3600, b.Most/3600, least/3600, most/3600)
	}
	t.Logf("%.3g to %.3g h; %.4g W at %.3g L/min", b.Least/3600, b.Most/3600, power(flow), 60000*flow)
	double := batteryOf(t, func(j *job.Job) {
		j.Power.Stores = quantity.Val[quantity.Energy]{V: 4.8 * 3.6e6, Basis: quantity.Stated}
	})
	if math.Abs(float64(double.Least/b.Least)-2) > 1e-9 || math.Abs(float64(double.Most/b.Most)-2) > 1e-9 {
		t.Error("twice the battery runs the pump twice as long")
	}
}

// TestLastsIsCutEnergyTurnedRound: a battery that is made for a cut lasts through it.
func TestLastsIsCutEnergyTurnedRound(t *testing.T) {
	for _, hours := range []float64{0.5, 2, 9} {
		for _, draw := range []float64{1e-6, 1e-5, 2e-4} {
			lead, lithium, _ := sitework.Battery(sitework.Cut{Power: 800, Flow: 6e-4, Water: quantity.Volume(draw * hours * 3600), Time: quantity.Time(hours * 3600)})
			for depth, label := range map[float64]quantity.Energy{sitework.LeadDepth: lead, sitework.LithiumDepth: lithium} {
				if got := sitework.Lasts(label, depth, 800, 6e-4, draw); math.Abs(float64(got)-hours*3600) > 1e-6 {
					t.Errorf("%g h, want %g", got/3600, hours)
				}
			}
		}
	}
}
