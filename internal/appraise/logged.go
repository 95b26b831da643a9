package appraise

import (
	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/quantity"
)

// WithLogs is the input with the log of interruptions read: what it comes to in the coming years, by
// the law that the years live by, then stands in place of what is told. Without a log nothing
// changes. The error is a fault of the log.
func (in Input) WithLogs(logs Logs) (Input, error) {
	if logs.Water == nil {
		return in, nil
	}
	model, err := outage.Read(in.Job, outage.Logs{Water: logs.Water}, "")
	if err != nil {
		return in, err
	}
	e, ok := model.Expect(uint64(in.Job.Seed))
	if !ok {
		return in, nil
	}
	in.Job.Logged = []job.Spell{
		{PerYear: e.PerYear, Least: quantity.Time(e.Least), Most: quantity.Time(e.Most)},
		{Least: quantity.Time(e.Longest), Most: quantity.Time(e.Longest)},
	}
	return in, nil
}
