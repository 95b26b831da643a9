package outage

import (
	"math"

	"tideover/internal/stream"
)

// Hours are the share of interruptions that begin by day, from dawn to dusk, as far as it is
// known: between Least and Most, any as likely. The zero value says nothing: any hour.
type Hours struct{ Least, Most float64 }

// When a day is taken to begin and to end for those who repair and draw. [s]
const (
	dawn = 7 * Hour
	dusk = 19 * Hour
)

// The share that begins by day, as told. Repairs, planned work and the hours of most use fall in
// the day, so where nobody tells it reaches from a little under chance to nearly all. Judgement;
// nothing published tells it for homes.
var (
	byDay   = Hours{0.8, 0.95}
	byNight = Hours{0.05, 0.2}
	atAny   = Hours{0.5, 0.5}
)

// unsaidLeast is the least that begins by day where nobody tells; the most is an assumption.
const unsaidLeast = 0.4

// draw is the share of one future.
func (h Hours) draw(s *stream.Stream) float64 {
	if h == (Hours{}) {
		return atAny.Least
	}
	return h.Least + (h.Most-h.Least)*s.Uniform()
}

// clocked moves a beginning within its day so that a share of all begin from dawn to dusk, those
// by day alike likely at each of its hours and those by night too: the inverse of the share of
// beginnings up to a time of the day. It keeps day and order, and half leaves all as it was.
func clocked(t, share float64) float64 {
	if share == atAny.Least {
		return t
	}
	midnight := Day * math.Floor(t/Day)
	u, hourly := (t-midnight)/Day, (1-share)/(Day-(dusk-dawn)) // share of beginnings in a second of night
	early := dawn * hourly
	switch {
	case u < early:
		return midnight + u/hourly
	case u < early+share:
		return midnight + dawn + (u-early)*(dusk-dawn)/share
	}
	return math.Min(midnight+dusk+(u-early-share)/hourly, math.Nextafter(midnight+Day, 0))
}

// hoursOf reads when interruptions begin as somebody tells it; ok is false where nobody knows.
func hoursOf(told string) (h Hours, ok bool) {
	switch told {
	case "day":
		return byDay, true
	case "night":
		return byNight, true
	case "any":
		return atAny, true
	}
	return Hours{}, false
}
