package outage

import (
	"errors"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

func spells(t *testing.T, text string) []job.Spell {
	t.Helper()
	list, err := job.ParseHabit(text)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func home(t *testing.T, habit, slots, cuts string) *job.Job {
	t.Helper()
	j := &job.Job{}
	if habit != "" {
		j.Interruptions.Habit = spells(t, habit)
	}
	if cuts != "" {
		j.Interruptions.PowerCuts = spells(t, cuts)
	}
	if slots != "" {
		list, err := job.ParseTimetable(slots)
		if err != nil {
			t.Fatal(err)
		}
		j.Interruptions.Timetable = list
	}
	return j
}

func has(m *Model, id string) bool {
	for _, n := range m.Notes {
		if n.ID == id {
			return true
		}
	}
	return false
}

// lived is spells a year and median length over many futures, of those that begin in
// part of the year.
func lived(m *Model, of func(*Future) func([]Spell, int) []Spell, from, to float64) (perYear, median float64) {
	tally, n := []float64{}, 0
	const homes, years = 300, 2
	for h := range uint32(homes) {
		spells := of(m.Future(1, h))
		for y := range years {
			for _, s := range spells(nil, y) {
				if at := s.From - float64(y)*Year; at >= from && at < to {
					tally = append(tally, s.Length())
					n++
				}
			}
		}
	}
	return float64(n) / (homes * years), middleOf(tally)
}

func middleOf(x []float64) float64 {
	low, high := 0.0, Year
	for high-low > 1 {
		mid, below := (low+high)/2, 0
		for _, v := range x {
			if v < mid {
				below++
			}
		}
		if 2*below < len(x) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

func water(f *Future) func([]Spell, int) []Spell { return f.Year }
func power(f *Future) func([]Spell, int) []Spell { return f.Cuts }

// TestHabit: what was told comes out again: about so many, of such lengths, longer in
// the season; more spread than was told, and never only what was told.
func TestHabit(t *testing.T) {
	m, err := Read(home(t, "about 2 a week, 10 to 20 h; dry season 2 to 4 d", "", "about 5 a week, 1 to 2 h"), Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	rate, median := lived(m, water, 0, 151*Day)
	if want := 2.0 / 7 * 151; math.Abs(rate/want-1) > 0.4 {
		t.Errorf("wet months: %g spells, told about %g", rate, want)
	}
	if !(median > 11*Hour && median < 18*Hour) {
		t.Errorf("wet months: median %g h", median/Hour)
	}
	if _, dry := lived(m, water, 152*Day, 273*Day); !(dry > 50*Hour && dry < 92*Hour) {
		t.Errorf("dry season: median %g h", dry/Hour)
	}
	cuts, short := lived(m, power, 0, Year)
	if math.Abs(cuts/(5.0/7*365)-1) > 0.45 || !(short > Hour && short < 2*Hour) {
		t.Errorf("power: %g cuts of %g h", cuts, short/Hour)
	}
	for _, id := range []string{"outage.habit-worth", "outage.season-assumed", "outage.season-as-often", "outage.power-stops-main"} {
		if !has(m, id) {
			t.Errorf("no note %s", id)
		}
	}
}

func TestSeasonsOfWords(t *testing.T) {
	for when, want := range map[string][2]float64{
		"dry season": {151, 273}, "Jun to Sep": {151, 273}, "from november to February:": {304, 59},
		"Mar": {59, 90}, "summer": {151, 273}, "rains, Apr to May": {90, 151}, "": {-1, -1}, "most weeks": {-1, -1},
	} {
		s, _ := seasonOf(when)
		if (s == nil) != (want[0] < 0) || s != nil && (s.from != want[0]*Day || s.to != want[1]*Day) {
			t.Errorf("%q: %+v", when, s)
		}
	}
	m, err := Read(home(t, "about once a month, 3 to 6 h; Nov to Feb about 3 a week, 1 to 2 d", "", ""), Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	at := 0.0
	for _, s := range m.Water.Seasons {
		if s.From != at {
			t.Fatalf("seasons part: %+v", m.Water.Seasons)
		}
		at = s.To
	}
	if at != Year || len(m.Water.Seasons) != 3 {
		t.Errorf("%d seasons to day %g", len(m.Water.Seasons), at/Day)
	}
}

func TestHabitTooMuch(t *testing.T) {
	_, err := Read(home(t, "about 5 a week, 10 to 90 h", "", ""), Logs{}, "")
	var e *TooMuchError
	if !errors.As(err, &e) || !(e.Share > 1) || !strings.HasPrefix(err.Error(), "interruptions.habit: what is told fills ") {
		t.Errorf("%v", err)
	}
}

func TestTimetableOfJob(t *testing.T) {
	m, err := Read(home(t, "", "Mon Wed Sat 06:00-12:00", ""), Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	got := m.Future(1, 1).Year(nil, 0)
	want := []Spell{{0, 6 * Hour}, {12 * Hour, 54 * Hour}, {60 * Hour, 126 * Hour}, {132 * Hour, 174 * Hour}}
	for i, w := range want {
		if got[i] != w {
			t.Errorf("spell %d: %v, want %v", i, got[i], w)
		}
	}
	night, err := Read(home(t, "", "Sun 22:00-04:00", ""), Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	if s := night.Future(1, 1).Year(nil, 0); s[0] != (Spell{4 * Hour, 6*Day + 22*Hour}) || s[1].From != Week+4*Hour {
		t.Errorf("through Sunday night: %v", s[:2])
	}
}

// TestEverySecondDay: six hours every second day, exact over the ends of years, whose
// days are odd; and a slot that runs on past the end of its round.
func TestEverySecondDay(t *testing.T) {
	for slots, want := range map[string][2]float64{"every second day 06:00-12:00": {6, 6}, "every 3 days 22:00-04:00": {22, 6}} {
		m, err := Read(home(t, "", slots, ""), Logs{}, "")
		if err != nil {
			t.Fatal(err)
		}
		round := m.Water.Timetable.Cycle
		f, n, at := m.Future(1, 1), 0.0, want[0]*Hour
		for y := range 4 {
			for i, s := range f.Year(nil, y) {
				if y == 0 && i == 0 && s.From == 0 { // what was off when the run began
					continue
				}
				if s.To != math.Round(s.To) || s.Length() != round-want[1]*Hour || math.Mod(s.To-at, round) != 0 {
					t.Fatalf("%s: year %d: %v", slots, y, s)
				}
				n++
			}
		}
		if whole := math.Floor(4 * Year / round); math.Abs(n-whole) > 1 {
			t.Errorf("%s: %g times off in four years, want %g", slots, n, whole)
		}
	}
}

// TestLogOfJob: what a log shows, cut and met as it was.
func TestLogOfJob(t *testing.T) {
	l, err := ReadLog([]byte("watched,2026-01-01,2026-02-01\nwatched,2026-03-01,2026-03-31\n2025-12-31 20:00,2026-01-01 04:00\n2026-01-10 06:00,2026-01-10 18:00\n2026-03-31 12:00,\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	down, up, _ := l.lengths(0)
	wantDown := []Seen{{Length: 8 * Hour, Age: 4 * Hour}, {Length: 12 * Hour}, {Length: 12 * Hour, How: Running}}
	wantUp := []Seen{{Length: 9*Day + 2*Hour}, {Length: 22*Day + 6*Hour, How: Running}, {Length: 30*Day + 12*Hour, How: Met}}
	for i, w := range wantDown {
		if down[i] != w {
			t.Errorf("outage %d: %+v, want %+v", i, down[i], w)
		}
	}
	for i, w := range wantUp {
		if up[i] != w {
			t.Errorf("time between %d: %+v, want %+v", i, up[i], w)
		}
	}
	for name, c := range map[string]struct{ text, note string }{
		"one outage":         {"2026-01-10 06:00,2026-01-10 18:00", "outage.short-log"},
		"one that runs":      {"2026-01-10 06:00,", "outage.watch-assumed"},
		"a quiet year":       {"watched,2025-01-01,2025-12-31", "outage.short-log"},
		"begun by an outage": {"2026-01-10 06:00,2026-01-10 18:00\n2026-01-20 06:00,2026-01-20 18:00", "outage.begun-by-outage"},
		"nobody wrote": {"1/13/2026 06:00,1/13/2026 07:00\n1/14/2026 06:00,1/14/2026 07:00\n1/15/2026 06:00,1/15/2026 07:00\n1/16/2026 06:00,1/16/2026 07:00\n" +
			"1/17/2026 06:00,1/17/2026 07:00\n1/18/2026 06:00,1/18/2026 07:00\n6/18/2026 06:00,6/18/2026 07:00", "outage.silence"},
	} {
		m, err := Read(home(t, "about 2 a week, 10 to 20 h", "", ""), Logs{Water: []byte(c.text)}, "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !has(m, c.note) || !has(m, "outage.log-leads") {
			t.Errorf("%s: notes %+v", name, m.Notes)
		}
		m.Future(1, 1).Year(nil, 3)
	}
	if _, err := Read(home(t, "", "", ""), Logs{Water: []byte("x")}, ""); err == nil {
		t.Error("a log of nothing was taken")
	}
}

// TestLogsRefused: what is wrong in a log is told with the log's file.
func TestLogsRefused(t *testing.T) {
	for _, tt := range []struct{ water, power, want string }{
		{"", "", "house.csv: The outage log holds no outage"}, // a file with nothing in it is a log
		{"2026-01-03 25:00, 2026-01-03 14:00", "", "house.csv: Outage log, line 1, column 1"},
		{"2026-01-03 08:00, 2026-01-03 14:00\n2026-02-03 08:00, 2026-02-03 14:00", "2026-01-03 08:00, 2026-01-03 07:00", "power.csv: Outage log, line 1"},
	} {
		j := home(t, "", "", "")
		j.Interruptions.Log, j.Interruptions.PowerLog = "house.csv", "power.csv"
		_, err := Read(j, Logs{Water: []byte(tt.water), Power: []byte(tt.power)}, "")
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%q: %v, want %q", tt.water, err, tt.want)
		}
	}
}

// TestTailMatters: the three laws part company on long outages, in the order of their
// tails, from the same short log.
func TestTailMatters(t *testing.T) {
	text := "2026-01-01 00:00,2026-01-01 09:00\n2026-01-09 00:00,2026-01-09 14:00\n2026-01-20 00:00,2026-01-20 05:00\n2026-02-02 00:00,2026-02-03 02:00\n" +
		"2026-02-10 00:00,2026-02-10 07:00\n2026-02-14 00:00,2026-02-14 11:00\n2026-02-20 00:00,2026-02-20 17:00\n2026-02-27 00:00,2026-02-27 04:00\n"
	m, err := Read(home(t, "", "", ""), Logs{Water: []byte(text)}, "")
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, law := range Laws {
		sum += m.Water.Seasons[0].Down.Weight(law)
	}
	near(t, "weights", sum, 1, 1e-12)
	long := func(law Law) float64 { return m.Water.Seasons[0].Down.Only(law).Survival(96 * Hour) }
	if !(long(LogNormal) > 1.3*long(Weibull)) {
		t.Errorf("beyond four days: log-normal %g, Weibull %g", long(LogNormal), long(Weibull))
	}
	if d := m.Water.Seasons[0].Down; d.Only(LogNormal).PlugIn().Survival(96*Hour) > long(LogNormal)/2 {
		t.Error("the best fit does not understate the long ones")
	}
}

// TestNotesHaveSentences: every note and error the package can give is in the message
// file with the figures the note carries.
func TestNotesHaveSentences(t *testing.T) {
	form := regexp.MustCompile(`"(outage\.[a-z-]+)"`)
	seen := map[string]bool{"outage-habit.too-much": true}
	for _, f := range []string{"read.go", "fromlog.go", "fromhabit.go", "amiss.go", "notice.go"} {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range form.FindAllStringSubmatch(string(b), -1) {
			seen[m[1]] = true
			if !words.Has(m[1]) {
				t.Errorf("%s has no sentence", m[1])
			}
		}
	}
	for _, id := range words.IDs() {
		if (strings.HasPrefix(id, "outage.") || strings.HasPrefix(id, "outage-habit.")) && !seen[id] {
			t.Errorf("nobody says %s", id)
		}
	}
}

// TestPowerLog: a log of power cuts leads over what is remembered of them, its faults are
// told, and what was assumed on the way is said of the power.
func TestPowerLog(t *testing.T) {
	j := home(t, "about 2 a week, 10 to 20 h", "", "about 5 a week, 1 to 2 h")
	m, err := Read(j, Logs{Power: []byte("watched,2026-01-01,2026-03-01\n2026-01-05 18:00,2026-01-05 22:00\n2026-02-10 18:00,2026-02-10 23:00\n")}, "")
	if err != nil {
		t.Fatal(err)
	}
	if rate, _ := lived(m, power, 0, 365*Day); rate > 60 {
		t.Errorf("two cuts in two months come to %g a year", rate)
	}
	leads := false
	for _, n := range m.Notes {
		leads = leads || n.ID == "outage.log-leads" && n.Of == OfPower
	}
	if !leads || m.Joint != usualJoint {
		t.Error("it is not said that the log leads, or the cuts do not stop the main")
	}
	if _, err := Read(j, Logs{Power: []byte("x")}, ""); err == nil {
		t.Error("a log that is none is taken")
	}
}

// TestWeakHabit: weak spells come as told, from draws of their own: the interruptions stay
// the same with and without them.
func TestWeakHabit(t *testing.T) {
	j := home(t, "about 2 a week, 10 to 20 h", "", "")
	plain, err := Read(j, Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	j.Interruptions.Weak = spells(t, "about 3 a week, 4 to 8 h")
	m, err := Read(j, Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	weak := func(f *Future) func([]Spell, int) []Spell { return f.WeakYear }
	rate, median := lived(m, weak, 0, 365*Day)
	if want := 3.0 / 7 * 365; math.Abs(rate/want-1) > 0.4 || median < 3*Hour || median > 10*Hour {
		t.Errorf("%g weak spells a year of %g h, told about %g of 4 to 8", rate, median/Hour, want)
	}
	for h := range uint32(4) {
		if a, b := plain.Future(1, h).Year(nil, 2), m.Future(1, h).Year(nil, 2); !slices.Equal(a, b) {
			t.Errorf("future %d: the interruptions change with what is told of weak spells", h)
		}
	}
}

// TestWeakBetween: a clause may say how long the main is weak once it is back; that holds for
// the spells of its season.
func TestWeakBetween(t *testing.T) {
	m, err := Read(home(t, "about 2 a week, 10 to 20 h; Jun to Sep 2 to 4 d with 6 h of weak supply between", "", ""), Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	f := m.Future(1, 0)
	for _, c := range []struct{ at, want float64 }{{30 * Day, 0}, {200 * Day, 6 * Hour}, {2*Year + 200*Day, 6 * Hour}, {300 * Day, 0}} {
		if got := f.Lingers(Spell{c.at, c.at + Day}); got != c.want {
			t.Errorf("on day %g the main is weak for %g h, want %g", c.at/Day, got/Hour, c.want/Hour)
		}
	}
	// Lengths of 2 to 4 d with 6 h between: 68 h on the mean and 6 h make a spell in 3.1 d, 39 in the
	// 122 days of the season; "after" says nothing of how often, and a number leads where it is told.
	dry := func(clause string) float64 {
		m, err := Read(home(t, "about 2 a week, 10 to 20 h; Jun to Sep "+clause, "", ""), Logs{}, "")
		if err != nil {
			t.Fatal(err)
		}
		rate, _ := lived(m, water, 151*Day, 273*Day)
		return rate
	}
	rows, after, number := dry("2 to 4 d with 6 h of weak supply between"), dry("2 to 4 d with 6 h of weak supply after"), dry("1 a month, 2 to 4 d with 6 h of weak supply between")
	if math.Abs(rows/39-1) > 0.2 || after > 0.8*rows || math.Abs(number/4-1) > 0.5 {
		t.Errorf("in the season: %g spells in rows (39 by hand), %g where nothing is said, %g told as 4", rows, after, number)
	}
	if never := new(Model).Future(1, 0).Lingers(Spell{0, 1}); never != 0 {
		t.Errorf("a main that never fails lingers %g s", never)
	}
}

// TestStopsMain: the share of the power cuts that stop the main is the job's, with its doubt; only
// where it says nothing is it assumed, and known to be.
func TestStopsMain(t *testing.T) {
	type share = quantity.Val[quantity.Ratio]
	told := func(v share) *Model {
		j := home(t, "about 2 a week, 4 to 8 h", "", "about 1 a week, 1 to 2 h")
		j.Interruptions.StopsMain = v
		m, err := Read(j, Logs{}, "")
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	spread := func(m *Model) (mean, sd float64) {
		const n = 2000
		square := 0.0
		for k := range n {
			x := m.Future(5, uint32(k)).Share
			mean += x / n
			square += x * x / n
		}
		return mean, math.Sqrt(square - mean*mean)
	}
	for v, want := range map[share][2]float64{{V: 0.2, Half: 0.1, Basis: quantity.Measured}: {0.2, 0.05}, {Basis: quantity.Stated}: {0, 0},
		{V: 1, Basis: quantity.Stated}: {1, 0}, {}: {0.3, 0.187}, {V: 0.5, Basis: quantity.Stated}: {0.5, 0.151}} {
		m := told(v)
		mean, sd := spread(m)
		if math.Abs(mean-want[0]) > 0.015 || math.Abs(sd-want[1]) > 0.015 {
			t.Errorf("%v: share %.3f ± %.3f, want %.3f ± %.3f", v, mean, sd, want[0], want[1])
		}
		if m.StopsUnknown() != (v == share{}) {
			t.Errorf("%v: unknown %v", v, m.StopsUnknown())
		}
	}
}
