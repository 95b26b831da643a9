// Package demand is the household's water by the draw: each use (WC, shower, bath, basin,
// kitchen, machines, outside tap) is a marked point process, rectangular pulses that begin
// at random moments at the rate of the hour, with a volume and a flow of their own.
//
// Stage: under the seasons run. It takes bare figures of a household (or reads them off a
// job and the catalogue) and gives, for any stretch of any hour of any year, the litres
// drawn, total first; and, for the same stretch, the very draws that make up that total.
// Draws are functions of (seed, home, year, hour): they may be asked for in any order, by
// any worker, and again.
//
// Left out: who draws after whom (draws of one tap may overlap), and hot water apart.
package demand

import (
	"errors"
	"fmt"
	"math"
)

// The calendar of a year lived through: 365 days, weeks running on from year to year.
const (
	Hour = 3600.0
	Day  = 24 * Hour
	Year = 365 * Day
)

// Line is the side of the changeover a use hangs on.
type Line uint8

// The lines.
const (
	OnMain  Line = iota // the main or nothing: stored water does not get there
	Either              // the main while it serves, the store when it is called
	OnStore             // always out of the store
	Lines
)

// Group says what the number of draws grows with.
type Group uint8

// The groups.
const (
	PerPerson Group = iota // with the people there that day
	PerHome                // the same however many are there
	Outside                // with the season
	Groups
)

// Stages are the steps of rationing: 0 normal, 1 careful, 2 hard.
const Stages = 3

// Use is one kind of draw.
type Use struct {
	Key    string
	Group  Group
	PerDay float64 // draws a day, of a person or of the home [1/d]

	Volume, VolumeSpread float64 // mean [m³] and coefficient of variation, log-normal
	Flow, FlowSpread     float64 // mean [m³/s] and coefficient of variation, log-normal

	Hours   [24]float64 // weight of each hour on a weekday; any scale
	Weekend [24]float64 // the same on Saturday and Sunday
	Week    [7]float64  // weight of each day, Monday first; any scale

	Swing float64 // 0..1: the rate is multiplied by 1 + Swing cos(2π (d − Peak)/365)
	Peak  float64 // day of the year of the most

	Line Line
	Taps int             // the caller's own number for the taps it is drawn at
	Keep [Stages]float64 // share of the draws still made at each stage; [0] is 1
	Less [Stages]float64 // share of its water such a draw still takes; [0] is 1
}

// Stay is a kind of days that come in a row, at most one row in every 28 days.
type Stay struct {
	Share float64 // of all days [–]
	Days  int     // in a row, 1 to 28
}

// Household is who draws and what.
type Household struct {
	People float64
	Uses   []Use
	Scale  float64 // multiplies every frequency; 1 leaves them

	// Below and Above are how much less and more than that a home may draw in truth, as shares: each
	// home lies somewhere between, anywhere alike, for all its years. What runs all the time does not.
	Below, Above float64

	Leak     float64 // runs all the time [m³/s]
	LeakLine Line

	DaySpread float64 // coefficient of variation of the day multiplier, gamma, mean 1
	Away      Stay    // nobody is there
	Guests    Stay
	Extra     float64 // people more while guests are there
}

// ErrNoUse is the refusal of a home in which nothing draws water.
var ErrNoUse = errors.New("demand: the home has no use of water: at least one is wanted")

// Check names the first figure that is not usable.
func (h *Household) Check() error {
	if len(h.Uses) == 0 {
		return ErrNoUse
	}
	if len(h.Uses) > mostUses {
		return fmt.Errorf("demand: %d uses: at most %d are accepted", len(h.Uses), mostUses)
	}
	for _, f := range []figure{
		{"people", h.People, 0, 10000}, {"scale", h.Scale, 0, 1000}, {"leak", h.Leak, 0, 0.1},
		{"home draws less", h.Below, 0, 0.9}, {"home draws more", h.Above, 0, 10},
		{"day spread", h.DaySpread, 0, 2}, {"share of days away", h.Away.Share, 0, 0.9},
		{"share of days with guests", h.Guests.Share, 0, 0.9}, {"guests", h.Extra, 0, 10000},
	} {
		if err := f.check("demand"); err != nil {
			return err
		}
	}
	for _, s := range []Stay{h.Away, h.Guests} {
		if s.Share > 0 && (s.Days < 1 || s.Days > slot || s.Share*slot > float64(s.Days)) {
			return fmt.Errorf("demand: %d days in a row for %g of all days: 1 to %d days, and no more than one row in %d days, are accepted", s.Days, s.Share, slot, slot)
		}
	}
	for i := range h.Uses {
		if err := h.Uses[i].check(); err != nil {
			return err
		}
	}
	if h.Mean() == 0 {
		return ErrNoUse
	}
	return nil
}

// mostUses is how many uses a set of them has room for.
const mostUses = 64

// On is the set of the uses that hang on a line: bit i is Uses[i].
func (h *Household) On(line Line) (uses uint64) {
	for i := range h.Uses {
		if h.Uses[i].Line == line {
			uses |= 1 << i
		}
	}
	return uses
}

type figure struct {
	name      string
	v         float64
	low, high float64
}

func (f figure) check(who string) error {
	if !(f.v >= f.low && f.v <= f.high) { // NaN too
		return fmt.Errorf("%s: %s: %g is not accepted, %g to %g is", who, f.name, f.v, f.low, f.high)
	}
	return nil
}

func (u *Use) check() error {
	who := "demand: " + u.Key
	list := []figure{
		{"draws a day", u.PerDay, 0, 10000}, {"volume", u.Volume, 1e-6, 2}, {"spread of the volume", u.VolumeSpread, 0, 3},
		{"flow", u.Flow, 1e-6, 0.1}, {"spread of the flow", u.FlowSpread, 0, 2}, {"swing", u.Swing, 0, 1}, {"day of the most", u.Peak, 0, 366},
		{"weights of the hours", sum(u.Hours[:]), 1e-9, 1e9}, {"weights of the weekend's hours", sum(u.Weekend[:]), 1e-9, 1e9},
		{"weights of the days", sum(u.Week[:]), 1e-9, 1e9},
	}
	for s := range Stages {
		list = append(list, figure{"share kept", u.Keep[s], 0, 1}, figure{"share of a draw kept", u.Less[s], 0, 1})
	}
	for _, f := range list {
		if err := f.check(who); err != nil {
			return err
		}
	}
	for _, w := range [][]float64{u.Hours[:], u.Weekend[:], u.Week[:]} {
		for _, x := range w {
			if x < 0 {
				return fmt.Errorf("%s: a weight of %g: 0 or more is accepted", who, x)
			}
		}
	}
	if u.Keep[0] != 1 || u.Less[0] != 1 {
		return fmt.Errorf("%s: stage 0 is normal life: nothing is cut in it", who)
	}
	if u.Group >= Groups || u.Line >= Lines {
		return fmt.Errorf("%s: group %d, line %d: not known", who, u.Group, u.Line)
	}
	return nil
}

func sum(list []float64) float64 {
	t := 0.0
	for _, x := range list {
		t += x
	}
	return t
}

// Mean returns what such a household draws on the long average of years and homes, people away,
// guests and leak included. [m³/s]
func (h *Household) Mean() float64 {
	lines := h.MeanBy()
	return lines[OnMain] + lines[Either] + lines[OnStore]
}

// MeanBy is Mean by line.
func (h *Household) MeanBy() (lines [Lines]float64) {
	there := (1 - h.Away.Share) * (1 + (h.Above-h.Below)/2)
	for i := range h.Uses {
		u := &h.Uses[i]
		n := u.PerDay * h.Scale * there
		if u.Group == PerPerson {
			n *= h.People + h.Extra*h.Guests.Share
		}
		lines[u.Line] += n * u.Volume / Day
	}
	lines[h.LeakLine] += h.Leak
	return lines
}

// Rescale sets Scale so that a household that draws neither less nor more than told draws so much on
// the long average [m³/s], as a meter or an owner says; the leak stays what it is. It refuses a mean
// no larger than the leak.
func (h *Household) Rescale(mean float64) error {
	one := *h
	one.Scale, one.Leak, one.Below, one.Above = 1, 0, 0, 0
	drawn := one.Mean()
	if !(mean > h.Leak) || math.IsInf(mean, 1) || drawn == 0 {
		return fmt.Errorf("demand: a mean of %g m³/s: above the leak of %g m³/s is accepted", mean, h.Leak)
	}
	h.Scale = (mean - h.Leak) / drawn
	return nil
}

// Thirst sets the day of the year on which outdoor use is at its most; where nobody knows it,
// outdoor use does not change over the year.
func (h *Household) Thirst(day float64, known bool) {
	for i := range h.Uses {
		u := &h.Uses[i]
		if u.Peak = day; !known {
			u.Peak, u.Swing = 0, 0
		}
	}
}

// Leave gives the share of each hour of a working day in which somebody is in, midnight
// first: in the rest nothing is drawn, and what a day draws is drawn in the hours that are
// left. Where those are none, the working days' water is drawn at the weekend. What runs all
// the time runs on.
func (h *Household) Leave(there [24]float64) {
	for i := range h.Uses {
		u := &h.Uses[i]
		left := u.Hours
		for hour := range left {
			left[hour] *= there[hour]
		}
		if sum(left[:]) > 0 {
			u.Hours = left
			continue
		}
		for day := range 5 {
			u.Week[day] = 0
		}
	}
}
