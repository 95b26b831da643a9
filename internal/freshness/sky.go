package freshness

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// ClearSkyEq is the sun on level ground under a clear sky.
var ClearSkyEq = calc.Register(calc.Equation{
	Key: "clear-sky", Title: "Sun on level ground under a clear sky", Section: section,
	Formula: "G = 1098 sin γ exp(−0.057/sin γ)", Result: calc.Symbol{Name: "G", Meaning: "sun on level ground", Unit: "W/m²"},
	Args:   []calc.Symbol{{Name: "γ", Meaning: "height of the sun", Unit: "rad"}},
	Range:  "sun above the horizon; clear days, so that a store is judged at its warmest",
	Source: "Haurwitz 1945, J. Meteorology 2(3); recalled",
	Fn:     func(a []float64) float64 { return clearSky(a[0]) },
})

// SunHeightEq is the height of the sun.
var SunHeightEq = calc.Register(calc.Equation{
	Key: "sun-height", Title: "Height of the sun", Section: section,
	Formula: "sin γ = sin φ sin δ + cos φ cos δ cos ω, δ = 0.4093 sin(2π (n + 284)/365)",
	Result:  calc.Symbol{Name: "γ", Meaning: "height of the sun", Unit: "rad"},
	Args: []calc.Symbol{
		{Name: "φ", Meaning: "latitude, north above 0", Unit: "rad"},
		{Name: "n", Meaning: "day of the year, from 1", Unit: "–"},
		{Name: "t", Meaning: "time of day by the sun; ω = 2π (t/86400 − 1/2)", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range: "0.5° in declination", Source: "Cooper 1969, Solar Energy 12(3); spherical trigonometry",
	Fn: func(a []float64) float64 { return sunHeight(a[0], a[1], a[2]) },
})

func clearSky(height float64) float64 {
	s := math.Sin(height)
	if s <= 0 {
		return 0
	}
	return 1098 * s * math.Exp(-0.057/s)
}

func sunHeight(latitude, day, t float64) float64 {
	declination := 0.4093 * math.Sin(2*math.Pi*(day+284)/365)
	hour := 2 * math.Pi * (t/86400 - 0.5)
	return math.Asin(math.Sin(latitude)*math.Sin(declination) + math.Cos(latitude)*math.Cos(declination)*math.Cos(hour))
}

// Shell is what a store shows to sun and wind.
type Shell struct {
	Top, Side  float64 // m²
	Colour     float64 // share of the sun it takes up: black 0.9, white 0.3
	Insulation float64 // m of foam
	Facing     Facing
	Shade      float64 // share of the sun that a roof or trees keep off, 0 to 1
}

// Facing says when the sun reaches the side of a store.
type Facing uint8

// The facings: a store that stands free, or before a wall that leaves it the sun of half
// the day.
const (
	Free Facing = iota
	Morning
	Afternoon
)

// Weather is a clear day: air between two temperatures, warmest at 15:00, wind at the store.
type Weather struct {
	Low, High float64 // °C
	Wind      float64 // m/s
	Latitude  float64 // rad
	Day       float64 // of the year, from 1
}

const (
	inside  = 100.0 // W/(m²·K) from still water to the wall, recalled
	foam    = 0.035 // W/(m·K)
	diffuse = 0.15  // share of a clear sky's light that comes from all sides, recalled
	bright  = 0.2   // share of it that bare ground throws back, recalled
)

// Air is the air's temperature at a time of day. [°C]
func (w Weather) Air(t float64) float64 {
	return (w.Low+w.High)/2 + (w.High-w.Low)/2*math.Cos(2*math.Pi*(t/86400-15.0/24))
}

// Sun is the sun on a shell at a time of day, mean over all of it. The beam falls on an
// upright cylinder as on its silhouette, 1/π of its side; half the sky and the ground
// shine on the side. [W/m²]
func (w Weather) Sun(s Shell, t float64) float64 {
	height := sunHeight(w.Latitude, w.Day, t)
	level := clearSky(height)
	if level == 0 {
		return 0
	}
	seen := 1.0
	if s.Facing == Morning && t > 43200 || s.Facing == Afternoon && t < 43200 {
		seen = 0
	}
	return shellSun(level, height, seen, s.Top, s.Side, s.Shade)
}

// ShellSunEq is the sun on a shell, mean over all of it.
var ShellSunEq = calc.Register(calc.Equation{
	Key: "shell-sun", Title: "Sun on a tank's shell", Section: section,
	Formula: "I = (1 − s) (G A_t + (f 0.85 G/(π tan γ) + G (0.15 + 0.2)/2) A_s) / (A_t + A_s)",
	Result:  calc.Symbol{Name: "I", Meaning: "sun on the shell, mean over all of it", Unit: "W/m²"},
	Args: []calc.Symbol{
		{Name: "G", Meaning: "sun on level ground", Unit: "W/m²"},
		{Name: "γ", Meaning: "height of the sun, at least 0.05: below that the horizon hides it", Unit: "rad"},
		{Name: "f", Meaning: "1 where the sun reaches the side, 0 where a wall keeps it off", Unit: "–"},
		{Name: "A_t", Meaning: "top of the tank", Unit: "m²"},
		{Name: "A_s", Meaning: "side of the tank", Unit: "m²"},
		{Name: "s", Meaning: "share of the sun that a roof or trees keep off", Unit: "–"},
	},
	Range:  "upright cylinder in the open; 0.15 of a clear sky's light comes from all sides and bare ground throws back 0.2, both recalled",
	Source: "geometry: an upright cylinder's silhouette is 1/π of its side; half of sky and ground shine on a side",
	Fn:     func(a []float64) float64 { return shellSun(a[0], a[1], a[2], a[3], a[4], a[5]) },
})

func shellSun(level, height, seen, top, side, shade float64) float64 {
	beam := seen * ((1 - diffuse) * level / math.Tan(math.Max(height, 0.05)) / math.Pi) // below 3° the horizon hides the sun
	lit := beam + level*(diffuse+bright)/2
	return (1 - shade) * (level*top + lit*side) / (top + side)
}

// Hours is the day in 24 spans: what a store stands in during each, at its mid time.
func (w Weather) Hours(s Shell) [24]Around {
	var day [24]Around
	outside := 5.7 + 3.8*w.Wind
	through := 1 / (1/inside + s.Insulation/foam + 1/outside)
	for h := range day {
		t := (float64(h) + 0.5) * 3600
		day[h] = Around{w.Air(t) + s.Colour*w.Sun(s, t)/outside, through * (s.Top + s.Side)}
	}
	return day
}

// Warmest lives a store through days of the same weather and draws until the day
// repeats, and returns the mean and the highest temperature of that day. volume stays;
// through is the flow in and out in each hour [m³/s]. [°C]
func Warmest(volume float64, through [24]float64, arriving float64, day [24]Around) (mean, most float64) {
	heat, before := arriving, math.Inf(-1)
	for round := 0; round < 4000 && math.Abs(heat-before) > 1e-6; round++ {
		before = heat
		mean, most = 0, heat
		for h, around := range day {
			p := Flow{3600, through[h], through[h]}.from(volume)
			last, middle := warm(p, through[h], heat, arriving, around)
			mean += middle / 24
			most = math.Max(most, last)
			heat = last
		}
	}
	return mean, most
}
