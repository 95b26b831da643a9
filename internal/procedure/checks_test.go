package procedure

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// homes are the examples, and Kestrel Rise in every arrangement.
func examples(t *testing.T) map[string]*assembly.Assembly {
	t.Helper()
	all := map[string]*assembly.Assembly{}
	for name, j := range exampleJobs(t) {
		all[name] = built(t, j)
	}
	return all
}

func exampleJobs(t *testing.T) map[string]*job.Job {
	t.Helper()
	all := map[string]*job.Job{}
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		all[name] = demo.Job(t, name)
	}
	for _, arr := range assembly.Arrangements() {
		j := demo.Job(t, "kestrel-rise")
		j.Choices.Arrangement = arr
		all["kestrel "+arr] = j
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

// TestEachCheckHasItsOwnDrain: what a leak of each valve is watched at, and what presses,
// as somebody reads them off the drawing.
func TestEachCheckHasItsOwnDrain(t *testing.T) {
	all := examples(t)
	for home, want := range map[string]map[string][2]string{
		"kestrel-rise":            {"N1": {"D1 by hand-pump D6 V1 shut", "D1 by column F1 V1 shut"}, "N3": {"D6 by pump V1 shut", "D6 by column wc-down V1 shut V6 shut"}, "N4": {"D5 by pump", "D5 by column wc-down V1 shut V6 shut"}},
		"kestrel kitchen-on-main": {"N2": {"D5 by hand-pump D6 V1 shut", "D5 by column kitchen V1 shut"}},
		"kestrel raised":          {"N1": {"D1 by hand-pump D4 V1 shut", "D1 by column F1 V1 shut"}},
	} {
		for _, c := range Checks(all[home]) {
			tag := all[home].Parts[c.Check].Tag
			if w, ok := want[tag]; ok && ([2]string{told(all[home], c.High), told(all[home], c.Low)} != w) {
				t.Errorf("%s: %s is tested hard by %q and softly by %q, want %q", home, tag, told(all[home], c.High), told(all[home], c.Low), w)
			}
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
	for _, x := range t.Turns {
		s += " " + a.Parts[x.Part].Tag + " " + x.To
	}
	for _, x := range t.Also {
		s += " or " + a.Parts[x].Tag
	}
	return s
}
