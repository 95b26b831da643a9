package site

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, within)
	}
}

// TestMainAtRest: a reading in the worst hours taken with water running is brought to rest by the
// flow test. By hand: 3.2 bar at rest, 2.9 at 9 L/min, 2.1 at 20: the sag a q + b q² goes
// through (9, 0.3) and (20, 1.1): b = (1.1/20 − 0.3/9)/11, a = 0.3/9 − 9 b in bar and L/min;
// at 15 L/min it is 0.67727 bar.
func TestMainAtRest(t *testing.T) {
	j := demo.Job(t, "kestrel-rise")
	s := &j.Supply
	s.Static.V, s.LowFlow.V, s.LowRes.V, s.HighFlow.V, s.HighRes.V = 3.2e5, 9./60000, 2.9e5, 20./60000, 2.1e5
	s.PeakRes.V, s.PeakFlow.V = 0.8e5, 15./60000
	j.Assumed = assume.Values{assume.StreetSag.Key: 0} // all of it in the own pipe
	m := MainOf(j)
	near(t, "worst", float64(m.Worst), 0.8e5+0.677273e5, 0.1)
	near(t, "as read", float64(m.Read), 0.8e5, 0)
	near(t, "weak", float64(m.Weak()), float64(m.Worst), 0)
	near(t, "18:00", float64(m.AtRest(18*3600)), float64(m.Worst), 0)
	near(t, "16:00", float64(m.AtRest(16*3600)), 3.2e5, 0)
	near(t, "felt 10 m up", float64(m.Felt(3e5, m.Gauge+10)), 3e5-98066.5, 1e-6)

	s.PeakFlow.V = 0
	near(t, "nothing ran", float64(MainOf(j).Worst), 0.8e5, 0)
}

// TestNight: the highest of the night counts by the hour only where somebody read it.
func TestNight(t *testing.T) {
	j := demo.Job(t, "juniper-flat")
	j.Supply.NightMax = quantity.Val[quantity.Pressure]{V: 6e5, Basis: quantity.Stated}
	m := MainOf(j)
	for hour, want := range map[float64]float64{22.9: float64(m.Usual), 23: 6e5, 3: 6e5, 5: float64(m.Usual)} {
		near(t, "at night", float64(m.AtRest(3600*hour)), want, 0)
	}
	j.Supply.NightMax.Basis, j.Supply.NightMax.From = quantity.Assumed, job.FromCaution
	if m = MainOf(j); m.AtRest(3*3600) != m.Usual || m.Highest() != 6e5 {
		t.Errorf("an assumed night: %v at 3, the highest %v", m.AtRest(3*3600), m.Highest())
	}
	j.Supply.NightMax.From = job.FromFile // a guess is told
	if m = MainOf(j); m.AtRest(3*3600) != 6e5 {
		t.Error("a guess of the night is passed over")
	}
}

// TestWeak: never more than usual, and as told where it was told.
func TestWeak(t *testing.T) {
	for _, x := range [][3]float64{{3e5, 0, 0.3e5}, {0.4e5, 0, 0.2e5}, {3e5, 0.9e5, 0.9e5}, {1e5, 1.2e5, 1e5}} {
		j := &job.Job{}
		j.Supply.Static.V, j.Supply.PeakRes.V = quantity.Pressure(x[0]), quantity.Pressure(x[1])
		m := MainOf(j)
		near(t, "weak", float64(m.Weak()), x[2], 0)
	}
}

// TestGone: away by day on working days, over midnight after them, to the minute.
func TestGone(t *testing.T) {
	at := func(day, hour, minute int) int { return day*minutesADay + 60*hour + minute }
	for _, x := range []struct {
		away     job.Hours
		in, gone []int
		minutes  int
	}{
		{job.Hours{From: 8*60 + 30, To: 17*60 + 45}, []int{at(0, 8, 29), at(0, 17, 45), at(5, 12, 0)}, []int{at(0, 8, 30), at(4, 17, 44)}, 5 * 555},
		{job.Hours{From: 14 * 60, To: 2 * 60}, []int{at(0, 0, 0), at(5, 2, 0), at(6, 20, 0)}, []int{at(0, 14, 0), at(1, 1, 59), at(5, 1, 59)}, 5 * 720},
		{job.Hours{}, []int{0, at(3, 12, 0)}, nil, 0},
	} {
		home := Household{Away: x.away}
		gone, n := home.Gone(), 0
		for _, g := range gone {
			if g {
				n++
			}
		}
		for _, m := range x.in {
			if gone[m] {
				t.Errorf("%v: nobody in at minute %d", x.away, m)
			}
		}
		for _, m := range x.gone {
			if !gone[m] {
				t.Errorf("%v: somebody in at minute %d", x.away, m)
			}
		}
		if n != x.minutes {
			t.Errorf("%v: gone %d minutes a week, want %d", x.away, n, x.minutes)
		}
	}
}

// TestTimetable: what lies between two interruptions is what the main is on, however the
// days are called. The rounds by hand.
func TestTimetable(t *testing.T) {
	const h = 3600
	for text, want := range map[string]struct {
		kinds                      int
		off, between, round, onFor float64 // h: of the usual kind
	}{
		"daily 22:00-04:00":                      {1, 18, 6, 168, 42},
		"daily 06:00-12:00":                      {1, 18, 6, 168, 42},
		"Mon-Sun 00:00-06:00":                    {1, 18, 6, 168, 42},
		"every second day 06:00-12:00":           {1, 42, 6, 48, 6},
		"Mon 06:00-12:00; Thu 06:00-12:00":       {2, 66, 6, 168, 12},
		"daily 06:00-08:00 18:00-22:00":          {2, 10, 3, 168, 42},
		"every 3 days 05:00-08:00, 18:00-20:00":  {2, 10, 2.5, 72, 5},
		"Mon-Fri 05:00-09:00; Sat Sun 5:00-9:00": {1, 20, 4, 168, 28},
	} {
		slots, err := job.ParseTimetable(text)
		if err != nil {
			t.Fatal(err)
		}
		j := &job.Job{}
		j.Interruptions.Timetable = slots
		in := InterruptionsOf(j)
		usual, told := in.Usual()
		between, _ := in.Between()
		if len(in.Kinds) != want.kinds || !told {
			t.Errorf("%s: kinds %+v", text, in.Kinds)
		}
		near(t, text+": off", float64(Mean(usual)), want.off*h, 1e-6)
		near(t, text+": between", float64(between), want.between*h, 1e-6)
		near(t, text+": round", float64(in.Round), want.round*h, 0)
		near(t, text+": on", float64(in.On), want.onFor*h, 0)
	}
}

// TestHabit: by hand, 52 of 10 h and 2 of 100 h a year leave 8766 − 720 h for 54 times.
func TestHabit(t *testing.T) {
	j := &job.Job{}
	if _, told := new(Interruptions).Between(); told {
		t.Error("nothing told, and yet a time between")
	}
	j.Interruptions.Habit = []job.Spell{{PerYear: 2, Least: 80 * 3600, Most: 120 * 3600}, {PerYear: 52, Least: 5 * 3600, Most: 15 * 3600}, {Most: 200 * 3600}}
	in := InterruptionsOf(j)
	usual, _ := in.Usual()
	between, told := in.Between()
	near(t, "between", float64(between), (8766-720)*3600./54, 1e-6)
	near(t, "longest", float64(in.Longest()), 200*3600, 0)
	if usual.PerYear != 52 || !told {
		t.Errorf("usual %+v, told %v", usual, told)
	}
	j.Interruptions.Habit[1].PerYear = 900 // more than a year holds
	in = InterruptionsOf(j)
	if b, told := in.Between(); b != 0 || !told {
		t.Errorf("off all year: %v between", b)
	}
}

// TestStored: what a home split between main and store draws from the store.
func TestStored(t *testing.T) {
	j := demo.Job(t, "juniper-flat")
	c, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, c, p)
	if err != nil {
		t.Fatal(err)
	}
	s := Of(j, a, p)
	if s.Household.Stored != s.Household.Daily || s.Household.Daily != quantity.Volume(s.Household.People*float64(j.Home.Use.V)) {
		t.Errorf("of %v a day %v from the store", s.Household.Daily, s.Household.Stored)
	}
}

// TestThere: the share of each hour in which somebody is in, to the minute, over midnight, and
// with days on which somebody is in after all.
func TestThere(t *testing.T) {
	for _, x := range []struct {
		away job.Hours
		in   int
		want map[int]float64 // the others are 1
	}{
		{job.Hours{}, 0, nil},
		{job.Hours{From: 8*60 + 30, To: 10*60 + 45}, 0, map[int]float64{8: 0.5, 9: 0, 10: 0.25}},
		{job.Hours{From: 23 * 60, To: 60}, 0, map[int]float64{23: 0, 0: 0}},
		{job.Hours{From: 9 * 60, To: 10 * 60}, 2, map[int]float64{9: 0.4}},
		{job.Hours{From: 9 * 60, To: 10 * 60}, 5, nil},
	} {
		home := Household{Away: x.away, InDays: x.in}
		there := home.There()
		for hour, got := range there {
			want, told := x.want[hour]
			if !told {
				want = 1
			}
			near(t, "somebody is in", got, want, 1e-12)
		}
		gone, n := home.Gone(), 0
		for _, g := range gone {
			if g {
				n++
			}
		}
		if want := (5 - x.in) * int(x.away.Lasts()/60); n != want {
			t.Errorf("%v, in on %d days: gone for %d minutes, want %d", x.away, x.in, n, want)
		}
	}
}

// TestNoticeIsLivedWith: a notice of 36 h makes every interruption so much longer for a home,
// and leaves so much less time to fill in. By hand: 12 a year of 3 to 12 h: 7.5 + 36 h off each.
func TestNoticeIsLivedWith(t *testing.T) {
	j := &job.Job{}
	j.Interruptions.Habit = []job.Spell{{PerYear: 12, Least: 3 * 3600, Most: 12 * 3600}}
	j.Interruptions.Notice = job.Yes
	j.Interruptions.NoticeLasts = quantity.Val[quantity.Time]{V: 36 * 3600}
	in := InterruptionsOf(j)
	near(t, "longest", float64(in.Longest()), 48*3600, 0)
	between, _ := in.Between()
	near(t, "between", float64(between), (8766-12*43.5)*3600/12, 1e-6)
	if j.Interruptions.Habit[0].Most != 12*3600 {
		t.Error("the job itself was changed")
	}
	for _, a := range []job.Answer{job.No, job.Unknown, ""} {
		j.Interruptions.Notice = a
		in = InterruptionsOf(j)
		near(t, "none", float64(in.Longest()), 12*3600, 0)
	}
}

// TestStops: the hour at which a timetable turns the main off for the gap that comes most often.
func TestStops(t *testing.T) {
	for text, want := range map[string]float64{
		"every second day 06:00-12:00": 12, "daily 22:00-04:00": 4, "daily 06:00-08:00 18:00-22:00": 8,
	} {
		s := gapsOf(t, text)
		if at, told := s.Interruptions.Stops(); !told || float64(at) != want*hours {
			t.Errorf("%s: off at %v h, %t", text, at/hours, told)
		}
	}
	if _, told := habitOf(t, "about 2 a week, 10 h").Interruptions.Stops(); told {
		t.Error("a habit tells an hour")
	}
}

// TestReadOnce: a main read once, with the gauge's spread alone, may press up to a fifth less on other
// days; one that somebody read in its worst hours, or whose spread is taken by its kind, has the year
// in that. By hand: 3.2 bar less a fifth is 2.56 bar.
func TestReadOnce(t *testing.T) {
	for what, x := range map[string]struct {
		half  quantity.Pressure
		worst quantity.Quantity
		night bool
		want  float64
	}{
		"once":                   {half: 0.1e5, want: 2.56e5},
		"once, and at night":     {half: 0.1e5, night: true, want: 2.56e5},
		"and in the worst hours": {half: 0.1e5, worst: quantity.Quantity{SI: 0.8e5, Basis: quantity.Stated}, want: 3.2e5},
		"without a spread":       {want: 3.2e5},
	} {
		t.Run(what, func(t *testing.T) {
			j := demo.Job(t, "kestrel-rise")
			s := &j.Supply
			s.Static.V, s.Static.Half = 3.2e5, x.half
			s.PeakRes = quantity.Val[quantity.Pressure]{V: quantity.Pressure(x.worst.SI), Basis: x.worst.Basis}
			if !x.night {
				s.NightMax = quantity.Val[quantity.Pressure]{V: s.NightMax.V, Basis: quantity.Assumed, From: job.FromCaution}
			}
			near(t, "as read", float64(MainOf(j).Usual), 3.2e5, 1e-9)
			j.Assumed = assume.Values{assume.ReadingYear.Key: 0.2}
			near(t, "another day", float64(MainOf(j).Usual), x.want, 1e-6)
			near(t, "its sag", float64(SagOf(j).Static), 3.2e5, 0) // the law of the test that was made that day
		})
	}
}
