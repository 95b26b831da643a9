package appraise

import (
	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/quantity"
)

// WithLogs is the input with its logs read: what the interruptions and the power cuts of each come to
// in the coming years, by the law that the years live by, then stands in place of what is told.
// Without a log nothing changes. The error is a fault of a log.
func (in Input) WithLogs(logs Logs) (Input, error) {
	if logs.Water == nil && logs.Power == nil {
		return in, nil
	}
	model, err := outage.Read(in.Job, logs, "")
	if err != nil {
		return in, err
	}
	if logs.Water != nil {
		in.Job.Logged = spellsOf(model.Expect(uint64(in.Job.Seed)))
	}
	if logs.Power != nil {
		if usual := spellsOf(model.ExpectCuts(uint64(in.Job.Seed))); usual != nil {
			in.Job.CutsLogged = usual[:1] // a battery is for the usual ones
		}
	}
	return in, nil
}

// spellsOf are the usual ones and the longest; none where nothing ever fails.
func spellsOf(e outage.Expected, fails bool) []job.Spell {
	if !fails {
		return nil
	}
	return []job.Spell{
		{PerYear: e.PerYear, Least: quantity.Time(e.Least), Most: quantity.Time(e.Most)},
		{Least: quantity.Time(e.Longest), Most: quantity.Time(e.Longest)},
	}
}
