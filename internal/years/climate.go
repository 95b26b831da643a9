package years

import (
	"math"

	"tideover/internal/freshness"
	"tideover/internal/seasons"
)

// step is how long one stretch of the year is in which air, sun and the water of the main are
// taken as they are in its middle. [days]
const step = 5

// Climate is what a store stands in and what fills it, a year in stretches of five days.
type climate [365 / step]struct {
	around   freshness.Around
	arriving float64 // °C
}

// How a year is taken to go. Judgement, but the first: the mean of the air over a year is that
// of the main's water (Burch & Christensen 2007, Towards development of an algorithm for mains
// water temperature, Proc. ASES: the main lies some 3 K above the air, and about a month behind
// it). Skies are always clear, which errs to the warm side.
const (
	airPeak   = 200 // day of the year on which the air is warmest, and
	waterPeak = 230 // the water of the main
)

// climate is the year at a site. Where nobody told how hot it gets, air is as warm as the water
// that comes in and no sun is counted: no verdict may be fine by it.
//
//	T_air(n) = T_in + (T_hot − Δ/2 − 5 K (assume.HotDays) − T_in) cos(2π (n − 200)/365), not above the mean for less than the mean
//	T_in(n)  = T_in + (T_summer − T_in) cos(2π (n − 230)/365)
//
// around is the mean of a day of such air under a clear sky (SolAirEq, ShellSunEq, WallEq).
func (s *Site) climate() *climate {
	c := new(climate)
	for k := range c {
		n := s.northern((float64(k) + 0.5) * step)
		wave := func(peak float64) float64 {
			if s.Midsummer == "none" {
				return 1
			}
			return math.Cos(2 * math.Pi * (n - peak) / 365)
		}
		c[k].arriving = math.Max(s.Arriving+(s.Summer-s.Arriving)*wave(waterPeak), 0.1)
		if s.Hot == nil {
			c[k].around.Outside = c[k].arriving
			continue
		}
		air := s.Arriving + math.Max(*s.Hot-hotSwing/2-s.hotDays-s.Arriving, 0)*wave(airPeak)
		c[k].around = s.dayOf(air, n)
	}
	return c
}

// northern is the day of the year on which the sun stands over the north as it does here on day
// n; where there is no summer apart, always midsummer. Where nobody said, the place lies north.
func (s *Site) northern(n float64) float64 {
	switch s.Midsummer {
	case "south":
		return math.Mod(n+south-north, 365)
	case "none":
		return midsummer
	}
	return n
}

// dayOf is the mean of what a store stands in on a clear day n of the year whose air is so warm
// on its mean [°C].
func (s *Site) dayOf(air, n float64) (mean freshness.Around) {
	w := freshness.Weather{Low: air - hotSwing/2, High: air + hotSwing/2, Wind: hotWind, Latitude: sunAt, Day: n}
	if s.Indoors {
		w.Wind = 0
	}
	for _, a := range w.Hours(s.Shell) {
		mean.Outside += a.Outside / 24
		mean.Loss = a.Loss
	}
	return mean
}

// at is the stretch of the year that a moment falls in [s].
func (c *climate) at(t float64) (around freshness.Around, arriving float64) {
	day := math.Mod(t/seasons.Day, 365)
	k := min(int(day/step), len(c)-1)
	return c[k].around, c[k].arriving
}
