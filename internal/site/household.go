package site

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Household is who lives there, what they use and when nobody is in.
type Household struct {
	People float64
	Daily  quantity.Volume // used in a day, all taps
	Stored quantity.Volume // of that, at taps stored water gets to
	Away   job.Hours       // nobody is in, on working days; none where nobody told
	InDays int             // working days of a week on which somebody is in after all
}

// Daily is the water a home uses in a day, all taps.
func Daily(j *job.Job) quantity.Volume {
	return quantity.Volume(float64(j.Home.People.V) * float64(j.Home.Use.V))
}

// HouseholdOf is the household of a job in its home.
func HouseholdOf(j *job.Job, a *assembly.Assembly) Household {
	h := Household{People: float64(j.Home.People.V), Away: j.Home.Away, InDays: int(math.Round(float64(j.Home.InDays.V)))}
	h.Daily = Daily(j)
	h.Stored = quantity.Volume(float64(h.Daily) * StoreShare(a))
	return h
}

const (
	minutesADay  = 24 * 60
	minutesAWeek = 7 * minutesADay
	workingDays  = 5
)

// Minutes are the minutes of a week, Monday 00:00 first.
type Minutes [minutesAWeek]bool

// Gone are the minutes in which nobody is in because they are away by day: on working days,
// and over midnight after one. Of days on which somebody is in after all the last are taken.
func (h *Household) Gone() *Minutes {
	var m Minutes
	lasts := int(h.Away.Lasts() / 60)
	for day := range workingDays - h.InDays {
		for k := range lasts {
			m[day*minutesADay+h.Away.From+k] = true
		}
	}
	return &m
}

// Hand is how long somebody who is home and awake takes to turn a changeover, any time between alike:
// the one figure that the day (its mean) and the years (its range) go by.
func Hand(j *job.Job) (quick, slow quantity.Time) {
	return quickHand, quantity.Time(assume.SlowHand.In(j.Assumed))
}

const quickHand quantity.Time = 5 * 60 // judgement

// There is the share of each hour of a working day, midnight first, in which somebody is in,
// on the mean of a week: who is away draws nothing, but on days on which somebody is in after
// all. It is 1 throughout where nobody told of hours away. [–]
func (h *Household) There() (share [24]float64) {
	for hour := range share {
		share[hour] = 1
	}
	away := 1 - float64(h.InDays)/workingDays
	for k := range int(h.Away.Lasts() / 60) {
		share[(h.Away.From+k)/60%24] -= away / 60
	}
	for hour := range share { // sixty sixtieths leave a hair
		if share[hour] < 1e-9 {
			share[hour] = 0
		}
	}
	return share
}
