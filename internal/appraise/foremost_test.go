package appraise

import (
	"context"
	"reflect"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/homes"
)

// TestForemost: a run that is asked for one remedy of what matters most offers of these the first that
// a whole run offers, nothing for the others, and changes nothing else.
func TestForemost(t *testing.T) {
	remedies := 0
	for n := range homesCount(t, 3) {
		h := homes.Random(81, n)
		remedies += foremost(t, h.Name, homeInput(t, h))
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		remedies += foremost(t, name, input(t, name))
	}
	if remedies < 5 {
		t.Errorf("%d remedies: the test says little", remedies)
	}
}

// foremost compares both runs of a home and counts the remedies.
func foremost(t *testing.T, name string, in Input) (remedies int) {
	t.Helper()
	const most = 3
	var ran [2]*Appraisal
	for k := range ran {
		in.Foremost = k * most
		var err error
		if ran[k], err = Run(context.Background(), in, nil); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	all, some := ran[0].Findings, ran[1].Findings
	told := finding.Foremost(all, most)
	if len(all) != len(some) || told != finding.Foremost(some, most) {
		t.Fatalf("%s: %d findings, %d of them told, where all are asked for; %d else", name, len(all), told, len(some))
	}
	for i := range all {
		if i >= told {
			if len(some[i].Remedies) > 0 {
				t.Errorf("%s: %s offers what nobody asked for", name, some[i].Key())
			}
			all[i].Remedies, some[i].Remedies = nil, nil
		}
		remedies += len(some[i].Remedies)
		all[i].Remedies = all[i].Remedies[:min(1, len(all[i].Remedies))]
		some[i].Untried = 0
		if !reflect.DeepEqual(all[i], some[i]) {
			t.Errorf("%s: %s is not what it is where all are asked for", name, all[i].Key())
		}
	}
	return remedies
}
