package appraise

import "tideover/internal/day"

// live runs the home's day beside the other analyses and the reruns for spread: it is the
// slowest analysis, so it runs once and its findings have no spread. They come after the
// remedies are tried, for a rerun, which has no day, would look as if it had cured them.
// The function it returns waits, and takes day and findings into a.
func live(in Input, a *Appraisal) func() error {
	type answer struct {
		day *day.Day
		err error
	}
	done := make(chan answer, 1)
	ci, built := a.circuit, a.Assembly // the base run goes on filling a meanwhile
	go func() {
		d, err := day.Analyse(ci, day.Read(in.Job, built, in.Profile))
		done <- answer{d, err}
	}()
	return func() error {
		r := <-done
		a.Day = r.day
		a.Findings = append(a.Findings, day.Findings(r.day, a.Assembly)...)
		return r.err
	}
}
