package years

import (
	"math"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/freshness"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// TestClimateByHand: black, in the sun, 38 °C on a hot afternoon, 17 °C from the main. Around day
// 200 the mean air is 38 − 5 − 5 = 28 °C, half a year on 17 − 11 = 6 °C. The sun of a day in July
// on a shell of 1 m² top and 4 m² side is put together here hour by hour from Cooper's
// declination, Haurwitz's sky and the silhouette of a cylinder.
func TestClimateByHand(t *testing.T) {
	hot := 38.0
	s := Site{Arriving: 17, Summer: 20, Hot: &hot, hotDays: 5, Shell: freshness.Shell{Top: 1, Side: 4, Colour: 0.9}}
	c := s.climate()
	july, in := c.at(202.5 * seasons.Day)
	sun := 0.0
	for h := range 24 {
		decl := 0.4093 * math.Sin(2*math.Pi*(202.5+284)/365)
		lat, hour := 38.5*math.Pi/180, 2*math.Pi*((float64(h)+0.5)/24-0.5)
		sin := math.Sin(lat)*math.Sin(decl) + math.Cos(lat)*math.Cos(decl)*math.Cos(hour)
		if sin <= 0 {
			continue
		}
		level := 1098 * sin * math.Exp(-0.057/sin)
		tan := math.Tan(math.Max(math.Asin(sin), 0.05))
		side := 0.85*level/tan/math.Pi + level*(0.15+0.2)/2
		sun += (level + 4*side) / 5 / 24
	}
	want := 28 + 0.9*sun/(5.7+3.8*2) - 11*(1-math.Cos(2*math.Pi*2.5/365))
	if math.Abs(july.Outside-want) > 1e-9 {
		t.Errorf("air and sun in July: %v °C, by hand %v", july.Outside, want)
	}
	if u := 5 / (1/100.0 + 1/(5.7+3.8*2)); math.Abs(july.Loss-u) > 1e-9 {
		t.Errorf("the shell lets %v W/K through, by hand %v", july.Loss, u)
	}
	if want := 17 + 3*math.Cos(2*math.Pi*(202.5-230)/365); math.Abs(in-want) > 1e-9 {
		t.Errorf("the main brings %v °C, by hand %v", in, want)
	}
	s.Midsummer = "south"
	if jan, _ := s.climate().at((202.5 - 183) * seasons.Day); math.Abs(jan.Outside-want) > 0.2 {
		t.Errorf("in the south, half a year before: %v °C, by hand %v", jan.Outside, want)
	}
	s.Midsummer = "none"
	if a, _ := s.climate().at(17.5 * seasons.Day); math.Abs(a.Outside-want) > 1 {
		t.Errorf("without a summer, any day: %v °C, about %v", a.Outside, want)
	}
	s.Midsummer = ""
	s.Shell.Shade = 1
	if winter, _ := s.climate().at(17.5 * seasons.Day); math.Abs(winter.Outside-6) > 0.1 {
		t.Errorf("shaded, half a year on: %v °C, by hand 6", winter.Outside)
	}
}

// TestSunSpendsChlorine: the same water through the same tank keeps its chlorine on fewer days
// the more of the sun it takes up, and where chlorine goes as fast as it may on fewer still.
func TestSunSpendsChlorine(t *testing.T) {
	hot := 38.0
	before, beforeQuick := -1, -1
	for _, shell := range []freshness.Shell{{Top: 1, Side: 4, Colour: 0.3, Shade: 1}, {Top: 1, Side: 4, Colour: 0.3}, {Top: 1, Side: 4, Colour: 0.9}} {
		w := &follower{halves: 1, usable: 1, ages: freshness.NewAges(), wanted: freshness.ResidualLimit,
			site: &Site{Arriving: 17, Summer: 20, Chlorine: 0.5e-3, Hot: &hot, hotDays: 5, Shell: shell, Decay: freshness.UsualDecay}}
		w.climate, w.keeps[0].decay, w.keeps[1].decay = w.site.climate(), freshness.UsualDecay, freshness.UsualDecay
		w.keeps[1].decay.Bulk20 = assume.Decay.High / 86400
		for day := range 365 {
			for hour := range 24 {
				at := float64(day)*seasons.Day + float64(hour)*seasons.Hour
				w.See(&seasons.Span{From: at, To: at + seasons.Hour, Before: 1, After: 1, In: 0.4 / seasons.Day, Out: 0.4 / seasons.Day})
			}
		}
		w.close()
		usual, quick := w.keeps[0].below, w.keeps[1].below
		if usual <= before || quick < usual || quick < beforeQuick {
			t.Errorf("%+v: below on %d and %d days, before %d and %d", shell, usual, quick, before, beforeQuick)
		}
		before, beforeQuick = usual, quick
	}
}

// TestJarred: 0.5 mg/L fresh and 0.3 after a day is ln(5/3) a day; the strip leaves open as much
// as ln(0.55/0.25); where none may be left, as fast as any water.
func TestJarred(t *testing.T) {
	dose := func(mg float64) (v quantity.Val[quantity.Dose]) { v.V = quantity.Dose(mg * 1e-3); return v }
	usual, quick := jarred(dose(0.5), dose(0.3))
	if math.Abs(usual*86400-0.510825623765991) > 1e-12 || math.Abs(quick*86400-0.788457360364270) > 1e-12 {
		t.Errorf("%v and %v a day", usual*86400, quick*86400)
	}
	if usual, quick = jarred(dose(0.5), dose(0)); math.Abs(usual*86400-2.302585092994046) > 1e-12 || quick != usual {
		t.Errorf("none left: %v and %v a day", usual*86400, quick*86400)
	}
	if usual, quick = jarred(dose(0.2), dose(0.2)); usual != 0 || math.Abs(quick*86400-math.Log(0.25/0.15)) > 1e-12 {
		t.Errorf("none went: %v and %v a day", usual*86400, quick*86400)
	}
}

// TestJarIsRead: a jar that is read reaches the water of the years.
func TestJarIsRead(t *testing.T) {
	var j job.Job
	j.Supply.Chlorine.V, j.Supply.Chlorine.From, j.Supply.ChlorineLeft.V, j.Supply.ChlorineLeft.From = 0.5e-3, "0.5 mg/L", 0.3e-3, "0.3 mg/L"
	s := siteOf(&j, catalogue.Store{Diameter: 1, Overflow: 1}, 1, 1)
	if math.Abs(s.Decay.Bulk20*86400-0.5108256) > 1e-6 || !s.Jar {
		t.Errorf("%v a day, read %t", s.Decay.Bulk20*86400, s.Jar)
	}
	j.Supply.ChlorineLeft.From, j.Supply.ChlorineLeft.Basis = "", quantity.Assumed
	if s := siteOf(&j, catalogue.Store{Diameter: 1, Overflow: 1}, 1, 1); s.Quick.Bulk20 != assume.Decay.High/86400 || s.Jar {
		t.Errorf("nobody read one: %v a day, read %t", s.Quick.Bulk20*86400, s.Jar)
	}
}
