package assembly

import (
	"testing"

	"tideover/internal/demo"
)

// TestReversed: in no arrangement of any example stands a non-return valve the wrong way round,
// and each, turned round, is found, and it alone.
func TestReversed(t *testing.T) {
	tried := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		for _, arrangement := range append(Arrangements(), "") {
			j := demo.Job(t, name)
			if arrangement != "" {
				j.Parts, j.Joins, j.Choices.Arrangement = nil, nil, arrangement
			}
			rows, profile := demo.Rows(t, j.Profile)
			a, err := Build(j, rows, profile)
			if err != nil {
				continue // this home has not what the arrangement needs
			}
			for _, i := range a.Reversed() {
				t.Errorf("%s, %s: %s stands as it should and is called reversed", name, arrangement, a.Parts[i].Tag)
			}
			for _, i := range a.Of(NonReturn) {
				turned := *a
				turned.Joins = append([]Join(nil), a.Joins...)
				for n := range turned.Joins {
					for _, e := range []*End{&turned.Joins[n].A, &turned.Joins[n].B} {
						if e.Part == i {
							e.Port = 1 - e.Port
						}
					}
				}
				tried++
				if list := turned.Reversed(); len(list) != 1 || list[0] != i {
					t.Errorf("%s, %s: %s turned round: %v are called reversed", name, arrangement, a.Parts[i].Tag, list)
				}
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d non-return valves were turned round", tried)
	}
}
