package circuit

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// A main that sucks 3 m under a pipe of 20 mm bore, 10 m of it level at the ground and 6 m
// up to an open tap: all 16 m run back, π/4·0.02²·16 = 5.03 L; the top 2 m when the
// street still holds 4 m; nothing past a non-return valve or with the tap shut.
func TestDrainBackOfAHouse(t *testing.T) {
	pipe := func(tag string, length, z0, z1 quantity.Length) assembly.Part {
		p := two(tag, assembly.Run, catalogue.Pipe{Bore: 0.02, Roughness: 7e-6}, 0, 0)
		p.Ports[0].Z, p.Ports[1].Z = z0, z1
		p.Length = length
		return p
	}
	perMetre := math.Pi / 4 * 0.02 * 0.02
	for _, test := range []struct {
		name   string
		head   float64
		open   bool
		nr     bool
		metres float64
	}{
		{"sucks", -3, true, false, 16},
		{"holds 4 m", 4, true, false, 2},
		{"tap shut", -3, false, false, 0},
		{"non-return valve", -3, true, true, 0},
	} {
		parts := []assembly.Part{street()}
		if test.nr {
			parts = append(parts, two("N1", assembly.NonReturn, catalogue.NonReturn{Kv: kv(5)}, 0, 0))
		}
		parts = append(parts, pipe("P1", 10, 0, 0), pipe("P2", 6, 0, 6), outlet("TAP", tap(9, 0), 6))
		c := build(t, chain(parts...), Inputs{Water: 15, Static: 3e5})
		s := c.NewSolver()
		solve(t, s, Case{Main: PressureOf(test.head, 0), Open: []bool{test.open}})
		d, err := s.DrainBack(0)
		if err != nil || math.Abs(d.Volume()-test.metres*perMetre) > 1e-12 {
			t.Errorf("%s: %g m³, %v; want %g", test.name, d.Volume(), err, test.metres*perMetre)
		}
	}
}

// Nine metres up with the street at −3 m: only the high tap's pipe asks more than water
// bears.
func TestBoilsInAHouse(t *testing.T) {
	p := two("P1", assembly.Run, catalogue.Pipe{Bore: 0.02, Roughness: 7e-6}, 0, 9)
	p.Length = 9
	c := build(t, chain(street(), p, outlet("TAP", tap(9, 0), 9)), Inputs{Water: 20, Static: 3e5})
	s := c.NewSolver()
	solve(t, s, Case{Main: PressureOf(-3, 0)})
	if list := s.Boils(0); len(list) != 1 || list[0].Head != -3 {
		t.Errorf("Boils = %+v, want the tap's end alone", list)
	}
}
