package outage

import (
	"math"
	"slices"
)

// shortLog is how many outages a log needs before its long ones can be judged: with
// fewer, what is assumed beforehand decides more than what was seen.
const shortLog = 8

// Fitted is what a log shows, fitted: the lengths of outages, and the times between. asOf is
// until when the log may tell, seconds since 1970, or 0.
func (l *Log) Fitted(asOf float64) (Process, []Note, error) {
	if err := l.dated(asOf); err != nil {
		return Process{}, nil, err
	}
	down, up, notes := l.lengths(asOf)
	d, err := fitOrPrior(down, DownPrior)
	if err != nil {
		return Process{}, nil, err
	}
	u, err := fitOrPrior(up, UpPrior)
	if err != nil {
		return Process{}, nil, err
	}
	if len(l.Entries) < shortLog {
		notes = append(notes, Note{ID: "outage.short-log", Args: map[string]float64{"count": float64(len(l.Entries)), "enough": shortLog}})
	}
	notes = append(notes, l.unseen(down, up)...)
	s := Season{To: Year, Up: u, Down: d, Longest: longest(down)}
	notes = append(notes, Note{ID: "outage.longest", Args: map[string]float64{"length": s.Longest}})
	return Process{Seasons: []Season{s}, Hours: l.byDay(), Against: l.against(down, up)}, notes, nil
}

// plenty is how many outages a log needs before nothing is said of kinds that it may have missed.
const plenty = 100

// unseen says which kinds of outage a log of this length may hold none of: one that is so large a
// share of all is missed by n of them one time in twenty, as (1 − share)ⁿ = 1/20.
func (l *Log) unseen(down, up []Seen) []Note {
	n := float64(len(l.Entries))
	if n == 0 || n >= plenty {
		return nil
	}
	span := 0.0
	for _, s := range slices.Concat(down, up) {
		span += s.Length - s.Age
	}
	return []Note{{ID: "outage.unseen", Args: map[string]float64{"count": n, "length": span, "share": 1 - math.Pow(0.05, 1/n)}}}
}

// fitOrPrior fits what was seen, or keeps to the prior where nothing was.
func fitOrPrior(seen []Seen, prior Prior) (*Posterior, error) {
	if len(seen) == 0 {
		return PriorOf(prior), nil
	}
	return Fit(seen, prior)
}

// longest is the length above which none is drawn: sixty days, or twice the longest seen.
func longest(down []Seen) float64 {
	most := 60 * Day
	for _, s := range down {
		most = math.Max(most, 2*s.Length)
	}
	return most
}

// lengths takes a log apart: what it shows of outages and of the times between them,
// cut where nobody watched. Where nothing says when somebody watched, and the last outage
// still runs, it is taken to have run until asOf.
func (l *Log) lengths(asOf float64) (down, up []Seen, notes []Note) {
	if l.NoZone {
		notes = append(notes, Note{ID: "outage.no-zone"})
	}
	if l.Folded > 0 {
		notes = append(notes, Note{ID: "outage.clock-twice", Args: map[string]float64{"count": float64(l.Folded)}})
	}
	watched, told := l.Watched, len(l.Watched) > 0
	if !told {
		watched = []Spell{l.span(asOf)}
		notes = append(notes, Note{ID: "outage.watch-assumed", Args: map[string]float64{"length": watched[0].Length()}})
	}
	for _, w := range watched {
		d, u := l.within(w, told)
		down, up = append(down, d...), append(up, u...)
	}
	if !told && len(down) > 0 && down[0].How == Whole {
		down[0].How = Begun // a log begun because the water was off begins with a long one
		notes = append(notes, Note{ID: "outage.begun-by-outage"})
	}
	if last := len(l.Entries) - 1; !told && last >= 0 && l.Entries[last].Running {
		notes = append(notes, Note{ID: "outage.still-runs", Args: map[string]float64{"length": watched[0].To - l.Entries[last].From}})
	}
	if quiet := silence(up); quiet > 0 {
		notes = append(notes, Note{ID: "outage.silence", Args: map[string]float64{"length": quiet}})
	}
	return down, up, notes
}

// span is from the first outage to the end of the last, or to asOf where it still runs; to
// its beginning where asOf is before that.
func (l *Log) span(asOf float64) Spell {
	last := l.Entries[len(l.Entries)-1]
	to := last.To
	if last.Running {
		to = asOf
	}
	return Spell{l.Entries[0].From, math.Max(last.From, to)}
}

// within is what one time of watching shows. told says that its ends were chosen before
// anybody knew what would happen; otherwise they are those of outages.
func (l *Log) within(w Spell, told bool) (down, up []Seen) {
	from, how := w.From, Met
	for _, e := range l.Entries {
		to := e.To
		if e.Running {
			to = math.Inf(1)
		}
		if e.From > w.To || e.From == w.To && told || to <= w.From {
			continue
		}
		if e.From > from {
			up = append(up, Seen{Length: e.From - from, How: how})
		}
		down = append(down, ofOutage(e, to, w))
		from, how = to, Whole
	}
	if told && from < w.To {
		if how == Met {
			return down, append(up, Seen{Length: w.Length(), How: MetRunning})
		}
		up = append(up, Seen{Length: w.To - from, How: Running})
	}
	return slices.DeleteFunc(down, func(s Seen) bool { return s.Length <= 0 }), up
}

// ofOutage is one outage as a time of watching shows it: cut at its end, and known to
// have lasted already when the watch began.
func ofOutage(e Entry, to float64, w Spell) Seen {
	s := Seen{Length: to - e.From, Age: math.Max(0, w.From-e.From)}
	if to > w.To {
		s.Length, s.How = w.To-e.From, Running
	}
	return s
}

// silence is the longest time between two outages where it is far beyond the others (ten
// times their mean, and more than three such): somebody may have stopped writing. 0: none.
func silence(up []Seen) float64 {
	most, sum := 0.0, 0.0
	for _, s := range up {
		most = math.Max(most, s.Length)
		sum += s.Length
	}
	if n := float64(len(up) - 1); n >= 4 && most > 10*(sum-most)/n {
		return most
	}
	return 0
}
