package freshness

import (
	"math"
	"testing"
)

// TestShellSun: by hand, a tank 1.2 m wide and 1.5 m high under 800 W/m² with the sun 45° up;
// in the shade of a wall its side sees sky and ground alone.
func TestShellSun(t *testing.T) {
	top, side := math.Pi*0.6*0.6, math.Pi*1.2*1.5
	for _, c := range []struct{ seen, want float64 }{
		{1, (800*1.13097 + (216.451+140)*5.65487) / 6.78584},
		{0, (800*1.13097 + 140*5.65487) / 6.78584},
	} {
		if got := ShellSunEq.Fn([]float64{800, math.Pi / 4, c.seen, top, side, 0}); math.Abs(got-c.want) > 0.01 {
			t.Errorf("seen %v: %v W/m², want %v", c.seen, got, c.want)
		}
	}
	if got := ShellSunEq.Fn([]float64{800, math.Pi / 4, 1, top, side, 1}); got != 0 {
		t.Errorf("under a roof %v W/m²", got)
	}
}

// TestDecayAtTheWall: 0.5 a day in the water and 0.01 m a day at the sides of a tank of 4 m² of
// side to the cubic metre go at 0.54 a day, as the tank's own rate does.
func TestDecayAtTheWall(t *testing.T) {
	const day = 86400
	want := 0.54 / day
	if got := DecayEq.Fn([]float64{0.5 / day, 0.01 / day, 4}); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if got := UsualDecay.rate(20); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("the tank's own rate is %v, want %v", got, want)
	}
}
