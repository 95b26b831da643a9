package outage

import (
	"fmt"
	"math"
	"slices"
	"time"

	"tideover/internal/assume"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Logs are the bytes of the logs a job names, nil where it names none.
type Logs struct{ Water, Power []byte }

// Read makes the model of a job: from its logs where there are some (zone is the time zone
// of their clocks or ""), else from its timetable and its habit in words together. Every
// assumption on the way is a note of the model.
func Read(j *job.Job, logs Logs, zone string) (*Model, error) {
	m := &Model{}
	if err := m.readWater(j, logs.Water, zone); err != nil {
		return nil, err
	}
	m.after(j)
	m.notices(j.Interruptions.Notice, float64(j.Interruptions.NoticeLasts.V), float64(j.Interruptions.NoticeLasts.Half))
	if weak := j.Interruptions.Weak; len(weak) > 0 {
		p, notes, err := told("interruptions.weak", weak)
		if err != nil {
			return nil, err
		}
		m.Weak = p
		m.noted(notes, OfWeak)
	}
	p, notes, err := powerOf(j, logs.Power, zone)
	if err != nil {
		return nil, err
	}
	if len(p.Seasons) > 0 {
		m.Power = p
		m.noted(notes, OfPower)
		m.join(j.Interruptions.StopsMain)
	}
	return m, nil
}

// powerOf is how the power fails, by its log or by what is remembered.
func powerOf(j *job.Job, log []byte, zone string) (Process, []Note, error) {
	cuts := j.Interruptions.PowerCuts
	switch {
	case log != nil:
		l, err := ReadLog(log, zone)
		if err != nil {
			return Process{}, nil, named(j.Interruptions.PowerLog, err)
		}
		p, notes, err := l.Fitted(endOf(j.Date))
		if err != nil {
			return Process{}, nil, named(j.Interruptions.PowerLog, err)
		}
		if len(cuts) > 0 {
			notes = append(notes, Note{ID: "outage.log-leads"})
		}
		return p, notes, nil
	case len(cuts) > 0:
		return told("interruptions.power-cuts", cuts)
	}
	return Process{}, nil, nil
}

// after takes in how long the main comes back weak where nobody tells. After a turn of a timetable
// it does not: that is what the timetable tells.
func (m *Model) after(j *job.Job) {
	told := j.Interruptions.WeakAfter
	if told.Basis != quantity.Assumed || told.V > 0 || len(m.Water.Seasons) == 0 || slices.ContainsFunc(m.Water.Seasons, func(s Season) bool { return s.Weak > 0 }) {
		return
	}
	most := assume.WeakAfter.In(j.Assumed)
	m.After = [2]float64{0, most}
	m.Notes = append(m.Notes, Note{ID: "outage.after-unknown", Args: map[string]float64{"length": most}})
}

// noted takes in notes that are said of something else than interruptions.
func (m *Model) noted(notes []Note, of Subject) {
	for _, n := range notes {
		n.Of = of
		m.Notes = append(m.Notes, n)
	}
}

// usualJoint: of the power cuts some three in ten stop the main, 3 to 71 of a hundred
// (95 %), ten minutes after the lights go out. Assumed: nothing published tells it for
// homes; taking the two as independent would be the bold assumption.
var usualJoint = Joint{Stopping: 1.5, Other: 3.5, Lag: 600}

// join takes in which of the power cuts stop the main: as told, with the doubt it was told with,
// or as assumed. A share with a spread is the beta law of its mean and its variance, its
// half-width taken as two standard deviations; one told without a spread or as a guess is worth
// ten cuts seen.
func (m *Model) join(told quantity.Val[quantity.Ratio]) {
	if told.Basis == quantity.Assumed && told.V == 0 && told.Half == 0 {
		m.Joint, m.stopsAssumed = usualJoint, true
		m.Notes = append(m.Notes, Note{ID: "outage.power-stops-main", Args: map[string]float64{
			"share": usualJoint.Stopping / (usualJoint.Stopping + usualJoint.Other), "lag": usualJoint.Lag}})
		return
	}
	share, count := float64(told.V), 10.0
	m.Joint = Joint{Known: share, Lag: usualJoint.Lag}
	if share == 0 || share == 1 {
		return
	}
	if sd := float64(told.Half) / 2; sd > 0 {
		count = math.Max(2, share*(1-share)/(sd*sd)-1)
	}
	m.Joint.Stopping, m.Joint.Other = share*count, (1-share)*count
}

func (m *Model) readWater(j *job.Job, log []byte, zone string) error {
	in := j.Interruptions
	if log != nil {
		l, err := ReadLog(log, zone)
		if err != nil {
			return named(in.Log, err)
		}
		if m.Water, m.Notes, err = l.Fitted(endOf(j.Date)); err != nil {
			return named(in.Log, err)
		}
		m.Watched = len(l.Watched) > 0
		if len(in.Habit)+len(in.Timetable) > 0 {
			m.note("outage.log-leads")
		}
		return nil
	}
	if len(in.Habit) > 0 {
		var err error
		if m.Water, m.Notes, err = told("interruptions.habit", in.Habit); err != nil {
			return err
		}
		hours, told := hoursOf(in.Begin)
		if !told {
			hours = Hours{unsaidLeast, assume.BegunByDay.In(j.Assumed)}
			m.Notes = append(m.Notes, Note{ID: "outage.begin-unknown", Args: map[string]float64{"share": hours.Least, "most-share": hours.Most}})
		}
		m.Water.Hours = hours
	}
	if len(in.Timetable) > 0 {
		m.Water.Timetable = timetableOf(in.Timetable)
		m.note("outage.timetable-kept")
	}
	if len(in.Habit)+len(in.Timetable) == 0 {
		m.note("outage.nothing-told")
	}
	return nil
}

// endOf is the end of a day, in seconds since 1970; 0 where the date cannot be read.
func endOf(date string) float64 {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return 0
	}
	return float64(day.AddDate(0, 0, 1).Unix())
}

// named puts the log's file before what is wrong in it.
func named(file string, err error) error {
	if file == "" {
		return err
	}
	return fmt.Errorf("%s: %w", file, err)
}

func (m *Model) note(id string) { m.Notes = append(m.Notes, Note{ID: id}) }

func toldOf(spells []job.Spell) []Told {
	list := make([]Told, len(spells))
	for i, s := range spells {
		list[i] = Told{s.When, s.PerYear * Year / (365.25 * Day), float64(s.Least), float64(s.Most), float64(s.Weak), s.Between}
	}
	return list
}

func timetableOf(slots []job.Slot) *Timetable {
	t := &Timetable{Cycle: Week}
	for _, s := range slots {
		if s.Cycle > 0 {
			t.Cycle = float64(s.Cycle) * 60
		}
		t.On = append(t.On, Slot{float64(s.From) * 60, float64(s.To) * 60})
	}
	return t
}
