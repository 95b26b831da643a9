package store

import (
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// metered appends, where a job states what a person uses in a day and its home's meter was read
// twice as well, whether the two agree to within what two readings leave open. What is stated
// is what was reckoned with.
func metered(list []finding.Finding, j *job.Job) []finding.Finding {
	read, ok := j.Metered()
	if !ok || j.Home.Use.From != "" {
		return list
	}
	f := finding.New("home-use", "", "")
	f.Source = words.Say("limit.home-meter", nil)
	limit, sense := read.V+read.Half, finding.AtMost
	if j.Home.Use.V < read.V {
		limit, sense = read.V-read.Half, finding.AtLeast
	}
	f.Against(j.Home.Use.Quantity(), quantity.Quantity{Dim: quantity.VolumeDim, SI: float64(limit), Basis: quantity.Measured}, sense, finding.LookAt)
	f.Arg("metered", read.Quantity())
	f.Moves = []string{"home.use", "home.meter.second"}
	if f.Verdict == finding.LookAt {
		f.Cures = [][]job.Edit{{{Op: job.Unset, Path: "home.use"}}}
	}
	return append(list, f)
}
