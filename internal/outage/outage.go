// Package outage is how the water and the power of a place fail: read from a log, a
// timetable or a habit in words, fitted with the doubt a short record deserves, and
// lived again in as many futures as are asked for.
//
// Stage: under the seasons run. It takes spells that were seen, a timetable or the words
// of a job, and gives a Model; a Model gives Futures, and a Future the spells of each of
// its years. It knows nothing of stores, homes or files.
package outage

import (
	"math"

	"tideover/internal/stream"
)

// The calendar of a run: 365 days to the year, weeks going on through the years. A run
// begins on a Monday, the first of January, at 00:00.
const (
	Hour = 3600.0
	Day  = 24 * Hour
	Week = 7 * Day
	Year = 365 * Day
)

// Spell is one time without water, or without power, in seconds from the start of the
// run: From before To.
type Spell struct{ From, To float64 }

// Length is how long the spell lasts. [s]
func (s Spell) Length() float64 { return s.To - s.From }

// Season is a part of the year with a way of failing of its own. Seasons of a Process
// are in order and cover the year. A nil Up never fails.
type Season struct {
	Name     string
	From, To float64    // s of the year
	Up       *Posterior // time with supply between two spells
	Down     *Posterior // length of a spell that begins in the season
	Weak     float64    // s: the supply is weak so long after a spell
	Longest  float64    // s: no spell is drawn longer; what lasts longer is no interruption but the end of the supply
}

// Process is one supply's way of failing: by a timetable, at random by season, both
// (what fails besides the timetable), or never.
type Process struct {
	Timetable *Timetable
	Seasons   []Season
	Hours     Hours    // at which spells drawn by chance begin
	Against   *Against // what the log shows that its law would not; nil without a log
}

// Joint says how water and power fail together: of the power cuts a share stops the
// main, which fails Lag after the cut began. Share has a beta law with the two counts
// given (as if of Stopping + Other cuts that many had stopped the main); both 0: never.
type Joint struct {
	Stopping, Other float64
	Known           float64 // share that is told without doubt, where both counts are 0
	Lag             float64 // s
}

// Model is how the water and the power of a place fail, with what is not known of it.
type Model struct {
	Water, Power Process
	Weak         Process // the water is there, and too weak for the home
	Joint        Joint
	Notes        []Note // what was assumed, by message id

	Watched bool // Water is a log's that says when somebody kept it

	stopsAssumed bool // Joint is assumed

	// Notice is how long a boil-water notice lasts that each spell of the water brings, and in what
	// share of the futures it brings one: 1 where one is told, half where nobody knows.
	Notice Notice

	// After is how long the main is weak after each of its spells, any length from the first to
	// the second as likely in a future; both 0 where that is told, or nothing is of chance. [s]
	After [2]float64
}

// Future is one course the coming years may take: its own parameters, drawn once from
// what is known, and then its own years. The same seed and home give the same future,
// whatever is asked of it in whatever order. It is no thing to share between workers:
// each takes its own.
type Future struct {
	Share        float64 // of the power cuts that stop the main
	lag          float64
	noticed      float64 // a notice lasts after each spell [s]
	after        float64 // the main is weak after each spell, where nobody tells [s]
	water, power chain
	weak         chain
	again        chain   // the water once more, for Cuts
	spells       []Spell // room for Cuts to work in
	taken        []bool
	stops        stops
}

// Future draws the parameters of one future.
func (m *Model) Future(seed uint64, home uint32) *Future {
	f := &Future{lag: m.Joint.Lag}
	s := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior})
	f.water = m.Water.draw(&s, stream.Key{Seed: seed, Home: home, Process: stream.Mains})
	f.again = f.water
	p := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior, Item: 1})
	f.power = m.Power.draw(&p, stream.Key{Seed: seed, Home: home, Process: stream.Cuts})
	k := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior, Item: 3})
	f.weak = m.Weak.draw(&k, stream.Key{Seed: seed, Home: home, Process: stream.Weak})
	j := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior, Item: 2})
	if m.Joint.Stopping > 0 && m.Joint.Other > 0 {
		f.Share = j.Beta(m.Joint.Stopping, m.Joint.Other)
	} else {
		f.Share = m.Joint.Known
	}
	f.stops = stops{power: f.power, year: none}
	f.noticed = m.Notice.draw(seed, home)
	if m.After[1] > 0 {
		w := stream.Of(stream.Key{Seed: seed, Home: home, Process: stream.Posterior, Item: 4})
		f.after = m.After[0] + (m.After[1]-m.After[0])*w.Uniform()
	}
	return f
}

// Law is the law that the lengths of most interruptions are of in this future: that of the season
// that is most of the year. ok is false where none is drawn at random.
func (f *Future) Law() (law Law, ok bool) {
	most := map[string]float64{}
	longest := 0.0
	for _, d := range f.water.seasons {
		if d.never {
			continue
		}
		ok = true
		most[d.name] += d.to - d.from
		if most[d.name] > longest {
			longest, law = most[d.name], d.down.Law
		}
	}
	return law, ok
}

// StopsUnknown says that power cuts may stop the main, and nobody has told how many of them do.
func (m *Model) StopsUnknown() bool { return len(m.Power.Seasons) > 0 && m.stopsAssumed }

// Lingers is how long the water is weak after one of its spells. [s]
func (f *Future) Lingers(s Spell) float64 {
	if len(f.water.seasons) == 0 {
		return f.after
	}
	return math.Max(f.after, f.water.seasons[f.water.season(s.From)].weak)
}

// WeakYear appends the times of weak water that begin in the given year, by the same rules
// as Year. They may overlap times without any.
func (f *Future) WeakYear(dst []Spell, year int) []Spell { return f.weak.year(dst, year) }

// Year appends the times without water that begin in the given year (from 0), in order
// and apart. A spell is given once, whole, in the year it begins in: its end may lie in
// the next year, and nothing of the next year begins before it. What was running when
// the run began is given in year 0, from 0 on. Where the water runs by a timetable, the
// power cuts that stop the main are among its spells.
func (f *Future) Year(dst []Spell, year int) []Spell {
	begin := len(dst)
	dst = f.water.year(dst, year)
	if f.water.slots == nil || f.Share == 0 {
		return dst
	}
	return f.stopped(dst, begin, year)
}
