package outage

import (
	"math"
	"testing"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/stream"
)

// TestClockedByHand: with nine of ten by day:
// night is 12 hours with a tenth of all, so 7/120 lie before dawn at 7 h; u = 7/120 of the day
// (1.4 h) becomes 7 h, u = 7/120 + 0.45 (12.2 h) becomes 13 h, u = 7/120 + 0.9 (23 h) becomes 19 h.
func TestClockedByHand(t *testing.T) {
	for _, c := range []struct{ at, want float64 }{{0, 0}, {1.4, 7}, {12.2, 13}, {23, 19}, {23.5, 21.5}} {
		for _, day := range []float64{0, 5, 364} {
			if got := clocked(day*Day+c.at*Hour, 0.9)/Hour - 24*day; math.Abs(got-c.want) > 1e-9 {
				t.Errorf("day %v, %v h: %v, want %v", day, c.at, got, c.want)
			}
		}
	}
	if got := clocked(12345.678, 0.5); got != 12345.678 {
		t.Errorf("half and half moves it to %v", got)
	}
}

// TestClockedKeepsOrder: whatever the share, the day stays, and what comes later stays later.
func TestClockedKeepsOrder(t *testing.T) {
	s := stream.Of(stream.Key{Seed: 4})
	for range 20_000 {
		share := 0.02 + 0.96*s.Uniform()
		a, b := 300*Day*s.Uniform(), 300*Day*s.Uniform()
		if k := s.Uniform(); k < 0.2 {
			b = a + k
		} else if k < 0.3 {
			a = math.Nextafter(Day*math.Ceil(a/Day), 0)
		}
		x, y := clocked(a, share), clocked(b, share)
		if math.Floor(x/Day) != math.Floor(a/Day) || a < b && x > y {
			t.Fatalf("share %v: %v, %v to %v, %v", share, a, b, x, y)
		}
	}
}

// TestBeginByDay: of many spells the share told begins by day; they stay in order and apart, as many
// as at any hour, and as long.
func TestBeginByDay(t *testing.T) {
	for _, share := range []float64{0.1, 0.5, 0.9} {
		m := &Model{Water: plain(LogNormal, 60*Hour, 15*Hour, 0.5)}
		plainly := m.Future(1, 2)
		m.Water.Hours = Hours{share, share}
		f := m.Future(1, 2)
		var n, day, last, off, offPlain float64
		var many int
		var list, other []Spell
		for y := range 60 {
			list, other = f.Year(list[:0], y), plainly.Year(other[:0], y)
			many += len(list) - len(other)
			for _, s := range list {
				if s.From < last || s.To <= s.From || s.From < float64(y)*Year && y > 0 || s.From >= float64(y+1)*Year {
					t.Fatalf("year %d: %v after %v", y, s, last)
				}
				last, off = s.To, off+s.Length()
				if h := math.Mod(s.From, Day); h >= dawn && h < dusk {
					day++
				}
				n++
			}
			for _, s := range other {
				offPlain += s.Length()
			}
		}
		// A spell cut short by the end of the one before begins when that ends: a few of a hundred.
		if got := day / n; math.Abs(got-share) > 4*math.Sqrt(share*(1-share)/n)+0.02 {
			t.Errorf("share %v: %.3f of %v by day", share, got, n)
		}
		if math.Abs(float64(many)) > 0.02*n || math.Abs(off-offPlain) > 0.03*offPlain {
			t.Errorf("share %v: %d more spells of %v, %v h off where %v were", share, many, n, off/Hour, offPlain/Hour)
		}
	}
}

// TestHoursOfALog: nine of twelve by day, by the clock of the place: (9+1)/(12+2) ± 2·√(pq/15).
func TestHoursOfALog(t *testing.T) {
	l := &Log{}
	for i := range 12 {
		hour := 8.0
		if i >= 9 {
			hour = 22
		}
		at := 1.7e9 - math.Mod(1.7e9, Day) + float64(20*i)*Day + (hour-3)*Hour
		l.Entries = append(l.Entries, Entry{Spell: Spell{at, at + Hour}, East: 3 * Hour})
	}
	p := 10.0 / 14
	half := 2 * math.Sqrt(p*(1-p)/15)
	if h := l.byDay(); math.Abs(h.Least-(p-half)) > 1e-12 || math.Abs(h.Most-(p+half)) > 1e-12 {
		t.Errorf("%v, want %v ± %v", h, p, half)
	}
}

// TestWeakAfterUnknown: where nobody tells how long the main comes back weak, futures differ, from
// not at all to twelve hours, six on the mean; told, or with a timetable alone, nothing is added.
func TestWeakAfterUnknown(t *testing.T) {
	m := &Model{Water: plain(LogNormal, 60*Hour, 15*Hour, 0.5), After: [2]float64{0, 12 * Hour}}
	sum, least, most := 0.0, math.Inf(1), 0.0
	const n = 400
	for k := range uint32(n) {
		v := m.Future(3, k).Lingers(Spell{Day, 2 * Day})
		sum, least, most = sum+v, math.Min(least, v), math.Max(most, v)
	}
	if mean := sum / n / Hour; math.Abs(mean-6) > 4*12/math.Sqrt(12*n) || least < 0 || most > 12*Hour {
		t.Errorf("%v h on the mean, %v to %v", mean, least/Hour, most/Hour)
	}
	m.After = [2]float64{}
	if v := m.Future(3, 1).Lingers(Spell{Day, 2 * Day}); v != 0 {
		t.Errorf("told: %v", v)
	}
	told := home(t, "about 12 a year, 3 to 12 h", "", "")
	told.Interruptions.WeakAfter.Basis = quantity.Stated
	for name, c := range map[string]struct {
		j    *job.Job
		want bool
	}{
		"untold": {home(t, "about 12 a year, 3 to 12 h", "", ""), true}, "told as none": {told, false},
		"a timetable": {home(t, "", "daily 06:00-12:00", ""), false},
	} {
		if name != "told as none" {
			c.j.Interruptions.WeakAfter.Basis = quantity.Assumed
		}
		m, err := Read(c.j, Logs{}, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := m.After[1] > 0; got != c.want {
			t.Errorf("%s: %v", name, m.After)
		}
	}
}

// TestHoursTold: most interruptions begin by day where "day" is told, few where "night" is.
func TestHoursTold(t *testing.T) {
	for _, c := range []struct {
		told        string
		least, most float64
	}{{"day", 0.5, 1}, {"night", 0, 0.5}, {"any", 0.5, 0.5}} {
		h, ok := hoursOf(c.told)
		if !ok || h.Least > h.Most || h.Least < c.least || h.Most > c.most {
			t.Errorf("%s: %v of all by day (%t)", c.told, h, ok)
		}
	}
	if _, ok := hoursOf("unknown"); ok {
		t.Error("what nobody knows is told")
	}
}
