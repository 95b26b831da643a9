package outage

import (
	"math"

	"tideover/internal/stream"
)

// stops is the power cuts that stop a main which runs by a timetable.
type stops struct {
	power    chain
	year     int     // the year list is of
	list     []Spell // when each keeps the main off, in order
	previous []Spell // those of the year before
}

const none = -2

// stopped adds to the year's times off by the timetable those in which a power cut keeps
// the main off: a lag after it begins, to a lag after it ends.
func (f *Future) stopped(dst []Spell, begin, year int) []Spell {
	f.stop(year)
	from, to, after := float64(year)*Year, float64(year+1)*Year, f.water.held
	for _, list := range [...][]Spell{f.stops.previous, f.stops.list} {
		for _, s := range list {
			switch {
			case s.From < from:
				after = math.Max(after, s.To)
			case s.From < to:
				dst = append(dst, s)
			}
		}
	}
	return union(dst, begin, after)
}

// stop brings the lists to a year.
func (f *Future) stop(year int) {
	s := &f.stops
	if s.year == year {
		return
	}
	if s.year != year-1 {
		s.list = s.list[:0]
		if year > 0 {
			s.list = f.stopping(s.list, year-1)
		}
	}
	s.previous, s.list = s.list, f.stopping(s.previous[:0], year)
	s.year = year
}

// stopping appends the cuts of a year that stop the main.
func (f *Future) stopping(dst []Spell, year int) []Spell {
	begin := len(dst)
	dst = f.stops.power.year(dst, year)
	k := f.power.key
	k.Year, k.Process = uint32(year), stream.Joint
	r := stream.Of(k)
	kept := begin
	for _, c := range dst[begin:] {
		if r.Uniform() < f.Share {
			dst[kept] = Spell{c.From + f.lag, c.To + f.lag}
			kept++
		}
	}
	return dst[:kept]
}
