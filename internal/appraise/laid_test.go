package appraise

import (
	"slices"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
)

// leg is Lantern Row with a non-return valve in its by-pass, which nobody can test there: the
// main and the store stand before it with a valve between, and no drain.
const leg = "t1, v2, n1, t3"

// TestUntestedValves: a valve of a list that no drain shows is named, and with what the remedy
// puts in it can be tried: its own drain, nothing else pressing there. The arrangements have
// none such.
func TestUntestedValves(t *testing.T) {
	rows, p := demo.Rows(t, "generic")
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		for _, arrangement := range assembly.Arrangements() {
			j := demo.Doc(t, name).Job.Clone()
			j.Choices.Arrangement = arrangement
			a, err := assembly.Build(j, rows, p)
			if err != nil {
				continue // not every home can have every one
			}
			a.Arrangement = assembly.Free // so that they are looked at
			for _, f := range untestable(j, a) {
				if f.Names["why"] != "@check-untested.shared" {
					t.Errorf("%s, %s: %s: %s", name, arrangement, f.Where, f.Names["why"])
				}
			}
		}
	}
	seen := map[string]bool{}
	for _, line := range []string{leg, "t1, n1, v2, t3", "t1, n1, t3"} {
		j := demo.Doc(t, "lantern-row").Job.Clone()
		j.Parts = append(slices.Clone(j.Parts), job.FreePart{Tag: "n1", Kind: "non-return"})
		j.Joins = slices.Clone(j.Joins)
		for i := range j.Joins {
			if j.Joins[i].Tag == "by-pass" {
				j.Joins[i].Line = line
			}
		}
		if line == "t1, n1, t3" { // and no stop valve at the meter
			j.Parts = slices.DeleteFunc(j.Parts, func(p job.FreePart) bool { return p.Tag == "v2" || p.Tag == "v0" })
			for i := range j.Joins {
				j.Joins[i].Line = strings.Replace(j.Joins[i].Line, "v0, ", "", 1)
			}
		}
		a, err := assembly.Build(j, rows, p)
		if err != nil {
			t.Fatal(err)
		}
		list := untestable(j, a)
		if len(list) != 1 || list[0].Where != "N1" || list[0].Verdict != finding.LookAt {
			t.Fatalf("%s: %+v", line, list)
		}
		seen[list[0].Names["why"]] = true
		mended := j.Clone()
		for _, e := range list[0].Cures[0] {
			x := job.Added{Tag: strings.TrimPrefix(e.Path, "added.")}
			for _, part := range strings.Split(e.Text, ", ") {
				switch key, value, _ := strings.Cut(part, ": "); key {
				case "kind":
					x.Kind = value
				case "beside":
					x.Beside = value
				case "end":
					x.End = value
				}
			}
			mended.Added = append(mended.Added, x)
		}
		b, err := assembly.Build(mended, rows, p)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if again := untestable(mended, b); len(again) > 0 {
			t.Errorf("%s, mended by %v: %+v", line, list[0].Cures, again)
		}
	}
	if !seen["@check-untested.no-drain"] || !seen["@check-untested.presses"] {
		t.Errorf("only %v", seen)
	}
}

// TestFrostIsNotPassedOver: where frost comes and nobody told how cold a night gets, that is
// said; told, it is judged on both sides of freezing; where none comes, nothing is said.
func TestFrostIsNotPassedOver(t *testing.T) {
	rows, p := demo.Rows(t, "generic")
	for _, x := range []struct {
		frost job.Answer
		told  bool
		night float64
		want  []finding.Verdict
	}{
		{job.No, false, 0, nil}, {job.Yes, false, 0, []finding.Verdict{finding.NotJudged}}, {"unknown", false, 0, []finding.Verdict{finding.NotJudged}},
		{job.Yes, true, 0.5, []finding.Verdict{finding.Fine}}, {job.Yes, true, -0.5, []finding.Verdict{finding.LookAt}},
	} {
		j := demo.Doc(t, "kestrel-rise").Job.Clone()
		j.Place.Frost = x.frost
		if x.told {
			j.Place.Cold.V, j.Place.Cold.Basis = quantity.Temperature(x.night), quantity.Stated
		}
		a, err := assembly.Build(j, rows, p)
		if err != nil {
			t.Fatal(err)
		}
		var got []finding.Verdict
		for _, f := range frosted(j, a, false) {
			got = append(got, f.Verdict)
			if f.Verdict == finding.LookAt && !strings.Contains(f.Names["full"], "H1") {
				t.Errorf("the heater holds water and is not named: %q", f.Names["full"])
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("frost %s, told %v %g: %v, want %v", x.frost, x.told, x.night, got, x.want)
		}
	}
}

// TestFrostNamesWhatTheCardLeavesFull: finding and card name the same parts, in every arrangement.
func TestFrostNamesWhatTheCardLeavesFull(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		j := demo.Doc(t, name).Job.Clone()
		rows, p := demo.Rows(t, j.Profile)
		j.Place.Frost = job.Yes
		j.Place.Cold.V, j.Place.Cold.Basis = -15, quantity.Stated
		a, err := assembly.Build(j, rows, p)
		if err != nil {
			t.Fatal(err)
		}
		var card []string
		for _, i := range procedure.For(a).Frost().Full {
			card = append(card, a.Parts[i].Tag)
		}
		if len(card) == 0 {
			card = []string{"@frost-pipes.none"}
		}
		if f := frosted(j, a, false); len(f) != 1 || f[0].Names["full"] != strings.Join(card, ", ") {
			t.Errorf("%s: %v still hold water, and the card leaves full %v", name, f, card)
		}
	}
}
