package years

import (
	"context"
	"math"
	"slices"
	"testing"

	"tideover/internal/demand"
	"tideover/internal/seasons"
)

// minutes is a second way to the person-days without water, in plain code that shares nothing with
// the one the tool goes: a home with an automatic changeover looked at once a minute. What people
// draw, when the main and the power fail, and what flows in are the tool's; where the water comes
// from, and what is missing, is worked out here.
type minutes struct {
	in    *seasons.Input
	store *seasons.Store
	read  *demand.Reader

	off, weak, dark []seasons.Spell
	uses            []float64

	level      float64
	failed     bool // the main, today
	short      bool // somebody went without, today
	days, fine float64
	missing    float64 // [m³]
}

func within(list []seasons.Spell, t float64) bool {
	return slices.ContainsFunc(list, func(s seasons.Spell) bool { return s.From <= t && t < s.To })
}

// tell takes in what happens in so many years of a future.
func (m *minutes) tell(f seasons.Future, years int) {
	for year := range years {
		m.off, m.weak, m.dark = f.Off(m.off, year), f.Weak(m.weak, year), f.Dark(m.dark, year)
	}
	lingers, _ := f.(seasons.Lingering)
	noticed := m.in.Notice
	if n, told := f.(seasons.Noticing); told {
		noticed = n.Noticed()
	}
	for i := range m.off {
		weak := m.in.WeakAfter
		if lingers != nil {
			weak = math.Max(weak, lingers.Lingers(m.off[i]))
		}
		m.weak = append(m.weak, seasons.Spell{From: m.off[i].To, To: m.off[i].To + weak})
		m.off[i].To += noticed
	}
}

// way is how the main stands at t.
func (m *minutes) way(t float64) uint8 {
	switch {
	case within(m.off, t):
		return 0
	case within(m.weak, t):
		return m.in.Weak
	}
	return m.in.Week[int(t/seasons.Hour)%168]
}

// minute lives one minute: with the main too weak for the changeover the pump serves out of the store,
// or, without power, what the main still gives; where that is enough at every tap, nothing failed.
func (m *minutes) minute(from float64) {
	t := from + 30
	way := m.way(t)
	if powered := !within(m.dark, t); !m.in.Mains[way].Serves && (powered || !m.gives(way)) {
		m.failed = true
		m.read.Total(from, from+60, 0, m.uses)
		for i, v := range m.uses {
			reach := &m.in.Reach[m.in.Home.Uses[i].Taps]
			switch {
			case v == 0:
			case powered && reach.Store:
				m.level -= v
			case !reach.Main[way]:
				m.missing += v
				m.short = true
			}
		}
		if m.level < 0 {
			m.missing -= m.level
			m.level, m.short = 0, true
		}
		if powered { // a leaking tap takes what it finds, and nobody misses it
			m.level = math.Max(0, m.level-60*m.in.Home.Leak)
		}
	}
	band := slices.IndexFunc(m.store.Edges, func(e float64) bool { return m.level < e*m.store.Usable })
	if band >= 0 {
		m.level = math.Min(m.store.Usable, m.level+60*m.store.Fill[way][band])
	}
}

// gives: the main serves every tap as it stands, weak or not.
func (m *minutes) gives(way uint8) bool {
	return !slices.ContainsFunc(m.in.Reach, func(r seasons.Reach) bool { return !r.Main[way] })
}

// live lives so many years, and counts the days on which the main failed.
func (m *minutes) live(years int) {
	m.level = m.store.Usable
	for day := range 365 * years {
		m.failed, m.short = false, false
		for k := range 24 * 60 {
			m.minute(seasons.Day*float64(day) + 60*float64(k))
		}
		m.read.Total(seasons.Day*float64(day)+86340, seasons.Day*float64(day+1), 0, m.uses) // it is that day
		if people := m.read.People(day); m.failed || m.short {
			m.days += people
			if !m.short {
				m.fine += people
			}
		}
	}
}

// TestPersonDaysBySecondProgram: at Kestrel Rise, in two futures of two years, the days on which the
// main fails, people times days, those of them on which nobody goes short, and the litres missing, are
// those of the minutes. A minute moves the beginning and end of what happens by half of itself: two
// days of five people, and two litres of a thousand missing, are left open.
func TestPersonDaysBySecondProgram(t *testing.T) {
	const lived = 2
	h := made(t, "kestrel-rise")
	in := *h.Input
	in.Stores, in.Warm, in.Years = in.Stores[h.Own:h.Own+1], 0, lived
	if in.Change != seasons.Automatic || in.Pump.Battery != 0 || in.Home.LeakLine != demand.Either || in.Routine.Every != 0 || len(in.OnMain) > 0 {
		t.Fatal("the example is no longer one that this program lives")
	}
	w, err := seasons.NewWorker(&in)
	if err != nil {
		t.Fatal(err)
	}
	for _, future := range []uint32{0, 2} {
		y, err := w.Chunk(context.Background(), future, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		m := &minutes{in: &in, store: &in.Stores[0], read: demand.NewReader(in.Home), uses: make([]float64, len(in.Home.Uses))}
		m.read.Open(future)
		m.tell(in.Supply.Future(future), lived)
		m.live(lived)
		got := &y.Stores[0]
		t.Logf("future %d: %.1f person-days, %.1f fine, %.3f m³ missing; by the minute %.1f, %.1f, %.3f", future, got.PersonDays, got.Fine, got.Short, m.days, m.fine, m.missing)
		for _, x := range []struct {
			what       string
			got, want  float64
			open, some float64
		}{
			{"person-days", got.PersonDays, m.days, 0, 5},
			{"of them fine", got.Fine, m.fine, 0, 10},
			{"m³ missing", got.Short, m.missing, 0.002, 0.02},
		} {
			if math.Abs(x.got-x.want) > x.open*x.want+x.some {
				t.Errorf("future %d: %s %v, by the minute %v", future, x.what, x.got, x.want)
			}
		}
	}
}
