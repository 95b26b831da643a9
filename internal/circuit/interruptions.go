package circuit

import (
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// week is a week in minutes.
const week = 7 * 24 * 60

// Spells returns every kind of interruption the job tells of: the habit's clauses, and
// each gap of the timetable, once a round.
func Spells(j *job.Job) []job.Spell {
	list := append([]job.Spell(nil), j.Interruptions.Habit...)
	slots := j.Interruptions.Timetable
	for i, s := range slots {
		next := slots[(i+1)%len(slots)].From
		cycle := week
		if s.Cycle > 0 {
			cycle = s.Cycle
		}
		if i == len(slots)-1 {
			next += cycle
		}
		if gap := float64(next-s.To) * 60; gap > 0 {
			list = append(list, job.Spell{PerYear: 365.25 * 24 * 60 / float64(cycle), Least: quantity.Time(gap), Most: quantity.Time(gap)})
		}
	}
	return list
}
