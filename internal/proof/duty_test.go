package proof

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// sideBy edits a job to so many pumps, on standby or together, with a control.
func sideBy(n float64, duty, control string) func(*job.Job) {
	return func(j *job.Job) {
		j.Choices.Pumps.V, j.Choices.PumpDuty = quantity.Ratio(n), duty
		if control != "" {
			j.Choices.Control = control
		}
	}
}

// TestOnePumpFails: one pump alone that does not start leaves the home dry on the store; of
// two, standby or together, the other serves; with both gone it is dry. What is wrong with
// a pump that waits, or is taken out, does not hurt; what is wrong with the one that leads
// is passed over, but by a bare pressure switch, which lets it run on.
func TestOnePumpFails(t *testing.T) {
	const many = "on-store main=dry draw=many pump=running"
	for _, test := range []struct {
		promise, text string
		edit          func(*job.Job)
		want          Outcome
	}{
		{"", many, sideBy(1, "", ""), Kept},
		{"", many + " failed=pump-no-start@P1", sideBy(1, "", ""), Broken},
		{"", many, sideBy(2, "standby", ""), Kept},
		{"", many + " failed=pump-no-start@P1", sideBy(2, "standby", ""), Kept},
		{"", many + " failed=pump-no-start@P2", sideBy(2, "standby", ""), Kept},
		{"", many + " failed=pump-no-start@P1 failed=pump-no-start@P2", sideBy(2, "standby", ""), Broken},
		{"", many + " failed=pump-no-start@P1", sideBy(2, "assist", ""), Kept},
		{"", many + " failed=check-stuck-shut@CHECK", sideBy(2, "standby", ""), Kept},
		{"", many + " failed=check-stuck-shut@CHECK", sideBy(1, "", ""), Broken},
		{"", "pump-1-out main=dry draw=many pump=running", sideBy(2, "standby", ""), Kept},
		{"", "pump-1-out main=dry draw=many pump=running failed=pump-no-start@P2", sideBy(2, "standby", ""), Broken},
		{"not-dry", "pump-1-out main=dry draw=many pump=running", sideBy(2, "standby", "pressure-switch"), Kept},
		{"not-dry", many + " IN=shut", sideBy(2, "standby", "pressure-switch"), Broken},
		{"not-dry", many + " IN=shut", sideBy(2, "standby", "speed-control"), Kept},
	} {
		in := laid(t, "kestrel-rise", "", test.edit)
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		text := test.text
		for _, p := range in.Assembly.Parts {
			if p.Purpose == assembly.AsPumpCheck {
				text = strings.Replace(text, "CHECK", p.Tag, 1)
			}
			if p.Purpose == assembly.AsPumpInletValve {
				text = strings.Replace(text, "IN=", p.Tag+"=", 1)
			}
		}
		c, err := s.Parse(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		v := &View{s.one(c)}
		got := Broken
		if test.promise != "" {
			got = byID(t, test.promise).Judge(v).Outcome
		} else if float64(v.Flow(s.highest())) > sipped {
			got = Kept // the highest tap runs, which height alone does not reach
		}
		if got != test.want {
			t.Errorf("%q, %d pumps %s, %s: outcome %d, want %d", test.promise, len(in.Circuit.Pumps()), in.Job.Choices.PumpDuty, text, got, test.want)
		}
	}
}
