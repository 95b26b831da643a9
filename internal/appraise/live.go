package appraise

import (
	"tideover/internal/day"
	"tideover/internal/workers"
)

// live runs the home's day beside the other analyses and the reruns for spread: it is the
// slowest analysis, so it runs once and its findings have no spread. They come after the
// remedies are tried, for a rerun, which has no day, would look as if it had cured them.
// The function it returns waits, and takes day and findings into a.
func live(in Input, a *Appraisal) func() error {
	var (
		lived *day.Day
		err   error
		work  workers.Group
	)
	ci, built := a.circuit, a.Assembly // the base run goes on filling a meanwhile
	work.Go(func() {
		if lived, err = day.Prepare(ci, day.Read(in.Job, built, in.Profile)); lived != nil {
			err = lived.Run(in.ended)
		}
	})
	return func() error {
		work.Wait()
		if err != nil {
			return err
		}
		a.Day = lived
		a.Findings = append(a.Findings, day.Findings(lived, a.Assembly)...)
		return nil
	}
}
