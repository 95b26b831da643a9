package site

import (
	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Household is who lives there, what they use and when nobody is in.
type Household struct {
	People float64
	Daily  quantity.Volume // used in a day, all taps
	Stored quantity.Volume // of that, at taps stored water gets to
	Away   job.Hours       // nobody is in, on working days; none where nobody told
}

// HouseholdOf is the household of a job in its home.
func HouseholdOf(j *job.Job, a *assembly.Assembly) Household {
	h := Household{People: float64(j.Home.People.V), Away: j.Home.Away}
	h.Daily = quantity.Volume(h.People * float64(j.Home.Use.V))
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
// and over midnight after one.
func (h *Household) Gone() *Minutes {
	var m Minutes
	lasts := int(h.Away.Lasts() / 60)
	for day := range workingDays {
		for k := range lasts {
			m[day*minutesADay+h.Away.From+k] = true
		}
	}
	return &m
}
