package freshness

import (
	"math"
	"testing"
)

// TestSunHeight: at noon of an equinox the sun stands 90° − φ high, and at the summer
// solstice 23.45° higher; at midnight below the horizon.
func TestSunHeight(t *testing.T) {
	rad := math.Pi / 180
	near(t, "equinox", sunHeight(40*rad, 81, 43200)/rad, 50, 1e-3)
	near(t, "solstice", sunHeight(40*rad, 172, 43200)/rad, 73.45, 1e-3)
	near(t, "south", sunHeight(-30*rad, 355, 43200)/rad, 83.45, 1e-3)
	if sunHeight(40*rad, 172, 0) > 0 {
		t.Error("the sun shines at midnight")
	}
	near(t, "overhead", clearSky(math.Pi/2), 1098*math.Exp(-0.057), 1e-12)
	if clearSky(-0.1) != 0 || clearSky(0) != 0 {
		t.Error("a sun below the horizon shines")
	}
}

func shell() Shell { return Shell{Top: 0.8, Side: 4.2, Colour: 0.9} }

var hot = Weather{Low: 20, High: 33, Wind: 1, Latitude: -0.02, Day: 60}

func TestWarmest(t *testing.T) {
	flow := func(perDay float64) (q [24]float64) {
		for h := range q {
			q[h] = perDay / 86400
		}
		return q
	}
	live := func(s Shell, perDay float64) float64 {
		mean, most := Warmest(1, flow(perDay), 22, hot.Hours(s))
		if !(mean <= most) {
			t.Errorf("mean %g above the most %g", mean, most)
		}
		return most
	}
	black := live(shell(), 0.1)
	for name, s := range map[string]Shell{
		"white":         {Top: 0.8, Side: 4.2, Colour: 0.3},
		"shaded":        {Top: 0.8, Side: 4.2, Colour: 0.9, Shade: 0.8},
		"before a wall": {Top: 0.8, Side: 4.2, Colour: 0.9, Facing: Morning},
		"insulated":     {Top: 0.8, Side: 4.2, Colour: 0.9, Insulation: 0.05},
	} {
		if got := live(s, 0.1); !(got < black) {
			t.Errorf("%s: %g °C, black and bare %g", name, got, black)
		}
	}
	if fresh := live(shell(), 2); !(fresh < black) {
		t.Errorf("two volumes a day: %g °C, a tenth %g", fresh, black)
	}
	// In steady weather the mean is that of the balance: (a T_sa + q T_in)/(a + q).
	var even [24]Around
	for h := range even {
		even[h] = Around{35, 40}
	}
	mean, most := Warmest(1, flow(0.5), 20, even)
	a, q := 40/heatCap, 0.5/86400
	near(t, "steady mean", mean, (a*35+q*20)/(a+q), 1e-6)
	near(t, "steady most", most, mean, 1e-6)
}

// TestDayOfSun: over a clear day near the equator level ground gets some 6 to 8 kWh/m²,
// and the shell of a store between a third and nine tenths of that.
func TestDayOfSun(t *testing.T) {
	level, on := 0.0, 0.0
	for h := range 24 {
		at := (float64(h) + 0.5) * 3600
		level += clearSky(sunHeight(hot.Latitude, hot.Day, at)) / 1000
		on += hot.Sun(shell(), at) / 1000
	}
	if !(level > 6 && level < 8) || !(on > level/3 && on < 0.9*level) {
		t.Errorf("level ground %g kWh/m², the shell %g", level, on)
	}
	if hot.Air(15*3600) != 33 || math.Abs(hot.Air(3*3600)-20) > 1e-9 {
		t.Error("air of the day")
	}
}
