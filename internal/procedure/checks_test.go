package procedure

import (
	"fmt"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// homes are the examples, and Kestrel Rise in every arrangement.
func homes(t *testing.T) map[string]*assembly.Assembly {
	t.Helper()
	all := map[string]*assembly.Assembly{}
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		all[name] = built(t, demo.Job(t, name))
	}
	for _, arr := range assembly.Arrangements() {
		j := demo.Job(t, "kestrel-rise")
		j.Choices.Arrangement = arr
		all["kestrel "+arr] = built(t, j)
	}
	return all
}

func built(t *testing.T, j *job.Job) *assembly.Assembly {
	t.Helper()
	rows, profile := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, rows, profile)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestDump(t *testing.T) {
	for name, a := range homes(t) {
		fmt.Println("==", name)
		for _, c := range Checks(a) {
			fmt.Println("  ", a.Parts[c.Check].Tag, a.Parts[c.Check].Purpose, told(a, c.High), "|", told(a, c.Low))
		}
	}
}

func told(a *assembly.Assembly, t *CheckTrial) string {
	if t == nil {
		return "-"
	}
	s := a.Parts[t.Drain].Tag + " by " + string(t.By)
	for _, k := range []int{t.Pump, t.Mouth} {
		if k >= 0 {
			s += " " + a.Parts[k].Tag
		}
	}
	if t.Head > 0 {
		s += fmt.Sprintf(" %.2f m", t.Head)
	}
	for _, x := range t.Turns {
		s += " " + a.Parts[x.Part].Tag + " " + x.To
	}
	for _, x := range t.Also {
		s += " or " + a.Parts[x].Tag
	}
	return s
}
