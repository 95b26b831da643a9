package outage

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
)

// sure is a posterior with no doubt left.
func sure(law Law, mean, sigma float64) *Posterior {
	if law == Exponential {
		sigma = 1
	}
	l := Length{Law: law, Mu: 0, Sigma: sigma}
	l.Mu = math.Log(mean) - l.logMean()
	return Known(l)
}

func plain(law Law, up, down, sigma float64) Process {
	return Process{Seasons: []Season{{To: Year, Up: sure(law, up, sigma), Down: sure(law, down, sigma), Longest: Year}}}
}

func town() *Model {
	m := &Model{Water: plain(LogNormal, 60*Hour, 15*Hour, 0.5), Power: plain(Exponential, 30*Hour, 1.5*Hour, 1), Joint: Joint{Stopping: 3, Other: 5, Lag: 600}}
	wet := m.Water.Seasons[0]
	dry := Season{From: 100 * Day, To: 200 * Day, Up: sure(Weibull, 50*Hour, 0.8), Down: sure(LogNormal, 70*Hour, 0.4), Longest: Year}
	m.Water.Seasons = []Season{wet, dry, wet}
	m.Water.Seasons[0].To, m.Water.Seasons[2].From = 100*Day, 200*Day
	return m
}

// TestAnyOrder: any year of any future comes out the same, asked for alone, backwards,
// between others, or by many workers at once.
func TestAnyOrder(t *testing.T) {
	m := town()
	const homes, years = 6, 8
	var want [homes][years][2][]Spell
	for h := range homes {
		f := m.Future(7, uint32(h))
		for y := range years {
			want[h][y] = [2][]Spell{f.Year(nil, y), f.Cuts(nil, y)}
		}
	}
	var wg sync.WaitGroup
	for h := range homes {
		wg.Go(func() {
			f := m.Future(7, uint32(h))
			for _, y := range rand.New(rand.NewPCG(1, uint64(h))).Perm(years) {
				if cuts := f.Cuts(nil, y); !slices.Equal(cuts, want[h][y][1]) {
					t.Errorf("home %d year %d: other cuts", h, y)
				}
				if got := m.Future(7, uint32(h)).Year(nil, y); !slices.Equal(got, want[h][y][0]) {
					t.Errorf("home %d year %d: other spells", h, y)
				}
			}
		})
	}
	wg.Wait()
}

// TestInOrderAndApart: spells never overlap, within a year and over its end, with
// seasons, with a timetable, and of the power.
func TestInOrderAndApart(t *testing.T) {
	m := town()
	m.Water.Timetable = &Timetable{Cycle: 2 * Day, On: []Slot{{5 * Hour, 40 * Hour}}}
	f := m.Future(3, 1)
	for name, spells := range map[string]func([]Spell, int) []Spell{"water": f.Year, "power": f.Cuts} {
		last, n := 0.0, 0
		for y := range 30 {
			for _, s := range spells(nil, y) {
				if !(s.From >= last && s.To > s.From) || s.From >= float64(y+1)*Year || (s.From < float64(y)*Year) {
					t.Fatalf("%s, year %d: spell %v after %g", name, y, s, last)
				}
				last = s.To
				n++
			}
		}
		if n < 1000 {
			t.Errorf("%s: only %d spells in 30 years", name, n)
		}
	}
}

// TestLongRun: the share of time off and the number of spells are those of the
// alternating renewal process (mean down over mean up and down), of power cuts too.
func TestLongRun(t *testing.T) {
	m := &Model{Water: plain(LogNormal, 60*Hour, 15*Hour, 0.5), Power: plain(Exponential, 30*Hour, 1.5*Hour, 1), Joint: Joint{Stopping: 3, Other: 5, Lag: 600}}
	const years = 400
	f := m.Future(5, 0)
	for _, c := range []struct {
		name     string
		of       func([]Spell, int) []Spell
		up, down float64
	}{{"water", f.Year, 60 * Hour, 15 * Hour}, {"power", f.Cuts, 30 * Hour, 1.5 * Hour}} {
		off, n := 0.0, 0
		for y := range years {
			for _, s := range c.of(nil, y) {
				off += s.Length()
				n++
			}
		}
		share, rate := c.down/(c.up+c.down), Year/(c.up+c.down)
		near(t, c.name+": share of the time off", off/(years*Year), share, 0.012)
		near(t, c.name+": spells a year", float64(n)/years, rate, 0.025) // cuts moved onto others count as one
	}
}

// TestSeasons: a season that never fails never does, and the rate follows the season.
func TestSeasons(t *testing.T) {
	dry := Season{From: 100 * Day, To: 200 * Day, Up: sure(Exponential, 40*Hour, 1), Down: sure(Exponential, 10*Hour, 1), Longest: Year}
	m := Model{Water: Process{Seasons: []Season{{To: 100 * Day}, dry, {From: 200 * Day, To: Year}}}}
	f := m.Future(1, 1)
	n := 0
	for y := range 200 {
		for _, s := range f.Year(nil, y) {
			of := s.From - float64(y)*Year
			if of < 100*Day || of >= 200*Day {
				t.Fatalf("a spell begins on day %g", of/Day)
			}
			n++
		}
	}
	near(t, "spells a year", float64(n)/200, 100*Day/(50*Hour), 0.03)
	if got := (&Model{}).Future(1, 1).Year(nil, 3); len(got) != 0 {
		t.Errorf("a supply that never fails gave %v", got)
	}
}

// TestTogether: water and power fail together far oftener than by chance, as said.
func TestTogether(t *testing.T) {
	m := town()
	apart := *m
	apart.Joint = Joint{}
	overlap := func(m *Model) (begin float64) {
		n := 0.0
		for h := range uint32(40) {
			f := m.Future(2, h)
			for y := range 2 {
				cuts := f.Cuts(nil, y)
				for _, s := range f.Year(nil, y) {
					n++
					for _, c := range cuts {
						if c.From <= s.From && s.From < c.To {
							begin++
							break
						}
					}
				}
			}
		}
		return begin / n
	}
	with, without := overlap(m), overlap(&apart)
	if !(with > 4*without) {
		t.Errorf("interruptions that begin in a power cut: %g of all, %g if independent", with, without)
	}
}

// TestCutsStopATimetable: a power cut that stops the main takes water from the hours of
// the timetable, the share of them that was drawn and no other, in any order of years.
func TestCutsStopATimetable(t *testing.T) {
	m := &Model{Power: plain(Exponential, 30*Hour, 3*Hour, 1), Joint: Joint{Stopping: 3, Other: 5, Lag: 600}}
	m.Water.Timetable = &Timetable{Cycle: Day, On: []Slot{{6 * Hour, 18 * Hour}}}
	lost, years, share := 0.0, 0.0, 0.0
	for h := range uint32(60) {
		f := m.Future(4, h)
		var byYear [4][]Spell
		last := 0.0
		for y := range byYear {
			byYear[y] = f.Year(nil, y)
			for _, s := range byYear[y] {
				if s.From < last {
					t.Fatalf("year %d: %v begins before %g", y, s, last)
				}
				last = s.To
				lost += s.Length()
			}
			lost -= Year / 2
			years++
			share += f.Share
		}
		for _, y := range []int{2, 0, 3} {
			if !slices.Equal(f.Year(nil, y), byYear[y]) {
				t.Fatalf("year %d comes out otherwise", y)
			}
		}
	}
	near(t, "hours lost a year", lost/years/Hour, share/years*365*24*3/33/2, 0.05)
}

// TestTimetable: the trace is exact, to the second, year after year.
func TestTimetable(t *testing.T) {
	weekly := &Timetable{Cycle: Week, On: []Slot{{6 * Hour, 12 * Hour}, {2*Day + 6*Hour, 2*Day + 12*Hour}}}
	m := Model{Water: Process{Timetable: weekly}}
	f := m.Future(1, 1)
	var all []Spell
	for y := range 3 {
		all = f.Year(all, y)
	}
	want := []Spell{{0, 6 * Hour}}
	for w := 0.0; w*Week < 3*Year; w++ {
		want = append(want, Spell{w*Week + 12*Hour, w*Week + 2*Day + 6*Hour}, Spell{w*Week + 2*Day + 12*Hour, w*Week + Week + 6*Hour})
	}
	for want[len(want)-1].From >= 3*Year {
		want = want[:len(want)-1]
	}
	if !slices.Equal(all, want) {
		t.Errorf("%d spells, want %d; the first %v", len(all), len(want), all[:3])
	}
	near(t, "share", weekly.Share(), 12.0/168, 1e-12)
}

func BenchmarkYear(b *testing.B) {
	f, y := town().Future(1, 1), 0
	var room []Spell
	b.ReportAllocs()
	for b.Loop() {
		room = f.Cuts(f.Year(room[:0], y), y)
		y++
	}
}
