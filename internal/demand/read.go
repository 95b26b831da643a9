package demand

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Part is the share of the outlets of a kind that hang on one line and that the caller knows
// by one number.
type Part struct {
	Line  Line
	Taps  int
	Share float64
}

// Sides says, for a kind of outlet, how its outlets hang.
type Sides func(kind string) []Part

// stages puts normal life before the two stages of rationing.
func stages(v [Stages - 1]float64) [Stages]float64 { return [Stages]float64{1, v[0], v[1]} }

// Read makes the household of a job: the uses its outlets allow, with the frequencies,
// volumes and hours of the catalogue, scaled to the people and the litres the job states.
// The litres are those of the meter where somebody read it: home.use carries its basis. A
// kind drawn at several outlets that hang on different lines is shared out by their number.
// Rows merged over the catalogue's override any of it, one by one.
func Read(j *job.Job, c *catalogue.Catalogue, sides Sides) (Household, error) {
	h := Household{People: float64(j.Home.People.V), Scale: 1, DaySpread: DaySpread,
		Extra: float64(j.Home.Guests.V), Guests: stay(float64(j.Home.GuestDays.V), guestsStay), Away: stay(float64(j.Home.AwayDays.V), awayStay)}
	kinds := map[string]bool{}
	for _, o := range j.Outlets {
		if row, ok := c.Outlets[o.Kind]; ok {
			kinds[row.Kind] = true
		}
	}
	for _, key := range slices.Sorted(maps.Keys(c.Uses)) {
		switch row := c.Uses[key]; {
		case row.Group == "steady":
			h.Leak += row.PerDay * float64(row.Volume) / Day
		case kinds[row.Kind]:
			own(j, &row)
			h.add(&row, sides(row.Kind))
		}
	}
	if len(h.Uses) == 0 {
		return h, ErrNoUse
	}
	h.LeakLine = h.mostOn()
	h.Below, h.Above = apart(j)
	mean := h.asked(j)
	if h.Leak > mean/4 { // a home that draws little leaks little
		h.Leak = mean / 4
	}
	if err := h.Rescale(mean); err != nil {
		return h, fmt.Errorf("home.use: %w", err)
	}
	return h, h.Check()
}

// How long guests stay and how long people are away in one go, where they are not away for
// longer than fits. Assumed.
const guestsStay, awayStay = 3, 7

// stay lays so many days a year out in rows, at most one row in every 28 days.
func stay(days float64, row int) Stay {
	share := days / 365
	return Stay{share, min(slot, max(row, int(math.Ceil(share*slot))))}
}

// own lays what the job says of its own way of using water over a catalogue row.
func own(j *job.Job, row *catalogue.Use) {
	for i := range j.Uses {
		u := &j.Uses[i]
		if u.Kind != row.Key {
			continue
		}
		for _, x := range []struct {
			to *float64
			v  quantity.Val[quantity.Ratio]
		}{{&row.PerDay, u.PerDay}, {&row.Keep[0], u.Careful}, {&row.Keep[1], u.Hard}} {
			if x.v.Basis != quantity.Assumed || x.v.From != "" { // written in the job, as a guess too
				*x.to = float64(x.v.V)
			}
		}
		if u.Volume.V > 0 {
			row.Volume = u.Volume.V
		}
		if u.Flow.V > 0 {
			row.Flow = u.Flow.V
		}
	}
}

// apart is how much less and more than told a home may draw, as shares: the spread of home.use that
// check goes through too.
func apart(j *job.Job) (below, above float64) {
	use := float64(j.Home.Use.V)
	for _, l := range j.Inexact() {
		if l.Path == "home.use" && use > 0 {
			return l.Moves[0].Down / use, l.Moves[0].Up / use
		}
	}
	return 0, 0
}

// asked is the mean the home draws: of a meter, days away and guests counted in as they
// were; else what a person uses in a day, times those who are there. [m³/s]
func (h *Household) asked(j *job.Job) float64 {
	each := float64(j.Home.Use.V) / Day
	if j.Home.Use.From == job.FromMeter {
		return h.People * each
	}
	return (h.People + h.Extra*h.Guests.Share) * (1 - h.Away.Share) * each
}

// DaySpread is how much days vary beyond chance: coefficient of variation of the day
// multiplier. Assumed, of 0.2 to 0.4 that fit homes whose daily counts vary more than a
// Poisson law: Buchberger & Wells 1996, J. Water Resour. Plann. Manage. 122(1):11-19.
const DaySpread = 0.3

var groups = map[string]Group{"person": PerPerson, "home": PerHome, "outside": Outside}

// add takes in a row, once for each part of its outlets.
func (h *Household) add(row *catalogue.Use, parts []Part) {
	for _, p := range parts {
		if p.Share <= 0 {
			continue
		}
		h.Uses = append(h.Uses, Use{
			Key: row.Key, Group: groups[row.Group], PerDay: row.PerDay * p.Share,
			Volume: float64(row.Volume), VolumeSpread: row.VolumeSpread, Flow: float64(row.Flow), FlowSpread: row.FlowSpread,
			Hours: row.Hours, Weekend: row.Weekend, Week: [7]float64{1, 1, 1, 1, 1, 1, 1}, Swing: row.Swing,
			Line: p.Line, Taps: p.Taps, Keep: stages(row.Keep), Less: stages(row.Less),
		})
	}
}

// mostOn is the line that most of the water is drawn on: leaks are taken to be there.
func (h *Household) mostOn() Line {
	by, best := h.MeanBy(), OnMain
	for l := range Lines {
		if by[l] > by[best] {
			best = l
		}
	}
	return best
}
