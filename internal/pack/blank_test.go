package pack

import (
	"bytes"
	"strings"
	"testing"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// TestBlank: the sheet asks each thing once, in words, in the reader's units, and every
// field it asks for is one the job file takes.
func TestBlank(t *testing.T) {
	asked := map[string]bool{}
	for _, r := range rounds {
		for _, name := range r.lines {
			if asked[name] {
				t.Errorf("%s is asked for twice", name)
			}
			asked[name] = true
			_, field := job.FieldFor(name)
			if strings.Contains(name, ".") != field {
				t.Errorf("%s: a name with a dot is a field of the job, any other is not", name)
			}
			if !field && (!words.Has("blank."+name) || !words.Has("blank."+name+".how")) {
				t.Errorf("%s has no words", name)
			}
		}
	}
	for sys, units := range map[quantity.System][2]string{quantity.Metric: {"L/min", "gpm"}, quantity.US: {"gpm", "L/min"}} {
		pdf, err := Blank(sys, Letter, "", "test")
		if err != nil {
			t.Fatal(err)
		}
		got := squeezed(strings.Join(inOrder(t, pdf), " "))
		if !strings.Contains(got, units[0]) || strings.Contains(got, units[1]) || strings.Contains(got, "‹") {
			t.Errorf("%s: want %s and not %s, and no message missing", sys, units[0], units[1])
		}
		again, _ := Blank(sys, Letter, "", "test")
		if !bytes.Equal(pdf, again) {
			t.Errorf("%s: the same sheet gives other bytes", sys)
		}
	}
	if _, err := Blank(quantity.Metric, A4, "2.3.2026", ""); err == nil {
		t.Error("a date nobody can read is taken")
	}
}
