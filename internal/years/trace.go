package years

import (
	"context"
	"math"

	"tideover/internal/outage"
	"tideover/internal/seasons"
)

// Spell is a time from one moment to another [s].
type Spell = outage.Spell

// Course is how the job's own store went through one future that is neither lucky nor
// unlucky: the days around its worst time, and the year that lies in.
type Course struct {
	Future int     // its number
	From   float64 // moment of the run at which the days shown begin: midnight, weekdays counted from it [s]
	Days   int
	Line   []Level // water to be used, over those days; times from From
	Week   Strips  // of those days; times from From
	Year   Strips  // of the year; times from its beginning
	LostBy string  // what keeps the store from the home: "power", "hand" (nobody has turned the valve) or "both"
	Dry    float64 // longest unbroken time dry in those days, the home hanging on the store [s]
	Least  float64 // lowest level in them [m³]
}

// Level is the water to be used at a moment.
type Level struct{ At, Water float64 } // s, m³

// Strips are the times at which something was so, in order and apart.
type Strips struct {
	Off  []Spell // the main gives nothing
	Weak []Spell // the main is there and too weak for the home
	Lost []Spell // the home should hang on the store and gets nothing out of it: see Course.LostBy
	Dry  []Spell // so it should, and the store is empty
}

// The days shown: a week, or as many more as the worst time takes.
const (
	fewestDays = 7
	mostDays   = 21
	thinned    = 1200.0 // s between two points of the line where nothing turns
)

// Course lives one future of the job's own store and tells how it went.
func (h *Home) Course(ctx context.Context, future int) (*Course, error) {
	own := *h.Input
	own.Stores = own.Stores[h.Own : h.Own+1]
	w, err := seasons.NewWorker(&own)
	if err != nil {
		return nil, err
	}
	found := &deepest{full: own.Stores[0].Usable}
	if _, err := w.Chunk(ctx, uint32(future), found, 0); err != nil {
		return nil, err
	}
	found.close()
	c := &Course{Future: future, Least: own.Stores[0].Usable, LostBy: lostBy(&own)}
	c.frame(found)
	year := seasons.Year * math.Floor(found.low/seasons.Year)
	seen := &recorder{course: c, year: year, to: c.From + float64(c.Days)*seasons.Day, mains: own.Mains}
	if _, err := w.Chunk(ctx, uint32(future), seen, 0); err != nil {
		return nil, err
	}
	seen.last()
	for _, s := range c.Week.Dry {
		c.Dry = math.Max(c.Dry, s.Length())
	}
	return c, nil
}

func lostBy(in *seasons.Input) string {
	switch {
	case in.Change != seasons.ByHand:
		return "power"
	case !in.Pump.Needs:
		return "hand"
	}
	return "both"
}

// frame lays whole days around the worst time: from the day in which the store was last
// full, through the end of the worst.
func (c *Course) frame(w *deepest) {
	from, to := math.Floor(w.began/seasons.Day), math.Ceil(w.low/seasons.Day)+1
	days := math.Max(to-from, fewestDays)
	if days > mostDays {
		from, days = to-mostDays, mostDays
	}
	c.From, c.Days = from*seasons.Day, int(days)
}

// deepest looks for the time at which a store was dry longest, the home hanging on it; where
// it never was, for its lowest level.
type deepest struct {
	full float64

	began, low float64 // of the worst: since when the store had not been full, and when it was over or lowest [s]
	dry, least float64 // how long it was dry, and how low it got
	any        bool

	since, dried float64 // of the present fall: when the store was full last, when it went dry
	empty        bool
	end          float64
}

// See takes a stretch of the store's life.
func (w *deepest) See(s *seasons.Span) {
	if !w.any {
		w.any, w.since, w.least, w.began, w.low = true, s.From, s.Before, s.From, s.From
	}
	if s.Before >= w.full {
		w.since = s.From
	}
	if w.dry == 0 && s.After < w.least {
		w.least, w.began, w.low = s.After, w.since, s.To
	}
	switch dry := dry(s); {
	case dry && !w.empty:
		w.empty, w.dried = true, s.From
	case !dry:
		w.close()
	}
	w.end = s.To
}

// dry says that the store is empty while the home hangs on it, or would if it could.
func dry(s *seasons.Span) bool { return (s.Hangs || s.Lost) && s.Before <= 0 && s.After <= 0 }

// close ends a time that was dry.
func (w *deepest) close() {
	if w.empty && w.end-w.dried > w.dry {
		w.dry, w.began, w.low = w.end-w.dried, w.since, w.end
	}
	w.empty = false
}

// recorder keeps the days and the year that a course shows.
type recorder struct {
	course   *Course
	year, to float64
	mains    []seasons.Main
	latest   Level
	there    bool
}

// See takes a stretch of the store's life.
func (r *recorder) See(s *seasons.Span) {
	if s.To > r.year && s.From < r.year+seasons.Year {
		r.strips(&r.course.Year, s, r.year, r.year+seasons.Year)
	}
	if s.To > r.course.From && s.From < r.to {
		r.strips(&r.course.Week, s, r.course.From, r.to)
		r.line(s)
	}
}

// strips adds a stretch to the times it belongs to.
func (r *recorder) strips(t *Strips, s *seasons.Span, from, to float64) {
	a, z := math.Max(s.From, from)-from, math.Min(s.To, to)-from
	for _, x := range []struct {
		list *[]Spell
		on   bool
	}{
		{&t.Off, s.Main == 0}, {&t.Weak, s.Main != 0 && !r.mains[s.Main].Serves}, {&t.Lost, s.Lost},
		{&t.Dry, dry(s)},
	} {
		if !x.on {
			continue
		}
		if n := len(*x.list); n > 0 && a-(*x.list)[n-1].To < 1 {
			(*x.list)[n-1].To = z
			continue
		}
		*x.list = append(*x.list, Spell{From: a, To: z})
	}
}

// line adds the level at both ends of a stretch, where it is worth a point.
func (r *recorder) line(s *seasons.Span) {
	c := r.course
	at := func(t float64) float64 {
		return s.Before + (s.After-s.Before)*(t-s.From)/(s.To-s.From)
	}
	a, z := math.Max(s.From, c.From), math.Min(s.To, r.to)
	if !r.there {
		r.there = true
		c.Line = append(c.Line, Level{a - c.From, at(a)})
	}
	begin, end := Level{a - c.From, at(a)}, Level{z - c.From, at(z)}
	c.Least = math.Min(c.Least, math.Min(begin.Water, end.Water))
	latest := c.Line[len(c.Line)-1]
	if end.At-latest.At >= thinned || z == r.to {
		if begin.At-latest.At >= thinned/2 {
			c.Line = append(c.Line, begin)
		}
		c.Line = append(c.Line, end)
	}
	r.latest = end
}

// last puts the end of the line.
func (r *recorder) last() {
	c := r.course
	if n := len(c.Line); n > 0 && r.latest.At > c.Line[n-1].At {
		c.Line = append(c.Line, r.latest)
	}
}
