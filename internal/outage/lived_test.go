package outage

import (
	"math"
	"testing"
)

// TestExpect: interruptions at random, 60 a year on the mean of the time between, whose lengths are
// exponential of mean 6 h. By hand: a tenth are shorter than 6 ln(10/9) = 0.632 h and a tenth longer
// than 6 ln 10 = 13.8 h; of some 600 in ten years the longest is below t in half of them where
// 600 e^(−t/6) = ln 2: 40.6 h. As many logged that the law is known; what is left is chance.
func TestExpect(t *testing.T) {
	law := func(mean float64) *Posterior {
		var seen []Seen
		for i := range 4000 {
			seen = append(seen, Seen{Length: -mean * math.Log1p(-(float64(i)+0.5)/4000)})
		}
		return fit(seen, DownPrior)
	}
	up := (365.25/60*24 - 6) * Hour
	m := &Model{Water: Process{Seasons: []Season{{To: Year, Up: law(up), Down: law(6 * Hour), Longest: 60 * Day}}}}
	e, ok := m.Expect(7)
	if !ok {
		t.Fatal("nothing fails")
	}
	for what, x := range map[string][3]float64{"a year": {e.PerYear, 60, 2}, "a tenth shorter than, h": {e.Least / Hour, 0.632, 0.1},
		"a tenth longer than, h": {e.Most / Hour, 13.8, 0.6}, "longest in ten years, h": {e.Longest / Hour, 40.6, 5}} {
		if math.Abs(x[0]-x[1]) > x[2] {
			t.Errorf("%s: %g, want %g", what, x[0], x[1])
		}
	}
	if _, ok := new(Model).Expect(7); ok {
		t.Error("a main that never fails is expected to")
	}
}
