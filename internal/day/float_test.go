package day

import (
	"math"
	"testing"

	"tideover/internal/hydraulics"
)

// filling is a store filled through a float valve by a head that holds: h_s 20 m, valve
// at 1.5 m, 18 m of 16.1 mm pipe with K 6, c_0 1e-4 m^2.5/s, water surface 0.9 m².
func filling(t testing.TB) *Plant {
	t.Helper()
	pipe, err := hydraulics.NewPipe("R1", hydraulics.PipeSpec{Bore: 0.0161, Length: 18, Roughness: 1.5e-6, Viscosity: hydraulics.KinematicViscosity(20),
		Fittings: []hydraulics.Loss{{Kinf: 6, Count: 1, Plain: true}}})
	if err != nil {
		t.Fatal(err)
	}
	const barHead = 1e5 / (1000 * hydraulics.Gravity)
	float, err := hydraulics.NewFloatValve("F1", 1e-4*math.Sqrt(barHead))
	if err != nil {
		t.Fatal(err)
	}
	points := []hydraulics.Point{{Name: "street", Held: true}, {Name: "valve", Z: 1.5}, {Name: "mouth", Z: 1.5, Held: true}, {Name: "surface", Held: true}}
	elements := []hydraulics.Element{
		{Name: "R1", From: 0, To: 1, Law: pipe},
		{Name: "F1", From: 1, To: 2, Law: float, OneWay: true},
	}
	net, err := hydraulics.NewNet(points, elements)
	if err != nil {
		t.Fatal(err)
	}
	return ready(t, &Plant{Net: net, Street: 0, Main: 0, Floats: []int32{1}, Shut: [][]bool{make([]bool, 2)},
		Store: Store{Surface: []int32{3}, Area: 0.9, Low: 0, Lip: 1.5, Shut: 1.40, Band: 0.15}})
}

func ready(t testing.TB, p *Plant) *Plant {
	t.Helper()
	if err := p.Ready(); err != nil {
		t.Fatal(err)
	}
	return p
}

func on(until, head float64) *Schedule {
	return &Schedule{Until: until, Main: []Pressing{{Head: head}}}
}

// levelAt runs to a time and gives the level then.
func levelAt(t *testing.T, p *Plant, s Schedule, until float64, run func(*Plant, *Schedule) (*Result, error)) float64 {
	t.Helper()
	s.Until = until
	r, err := run(p, &s)
	if err != nil {
		t.Fatal(err)
	}
	return r.End
}

// TestFillingThroughAFloatValve: the printed times at which closing starts and the
// opening is 0.5, 0.2 and 0.05 (hydraulics reference case; roughness and viscosity are
// those that give its printed full flow, 0.36302 L/s).
func TestFillingThroughAFloatValve(t *testing.T) {
	p, s := filling(t), *on(1, 20)
	s.Level, s.Loose = 0.2, 0.1 // the times are printed to a hundredth of a second
	for _, c := range []struct{ at, opening float64 }{{2603.13, 1}, {2844.06, 0.5}, {3139.49, 0.2}, {3576.30, 0.05}} {
		level := levelAt(t, p, s, c.at, ByEvents)
		if got := (1.40 - level) / 0.15; math.Abs(got-c.opening) > 2e-5 {
			t.Errorf("opening after %.2f s = %.6f, want %.6f", c.at, got, c.opening)
		}
	}
	s.Until = 12000
	r, err := ByEvents(p, &s)
	if err != nil {
		t.Fatal(err)
	}
	closes(t, r)
}
