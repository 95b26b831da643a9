package job

import (
	"testing"

	"tideover/internal/quantity"
)

// TestHeld: what the job holds at a path is told whether somebody gave it or it was
// assumed, with where it is from.
func TestHeld(t *testing.T) {
	doc, faults := Read("x", example(t, "kestrel-rise"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	doc, _, err := doc.Apply(Edit{Op: Unset, Path: "home.level"}, Edit{Op: Unset, Path: "choices.store.level"}, Edit{Op: Unset, Path: "choices.float"})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path, from string
		ok         bool
	}{
		{"home.people", "", true},
		{"home.level", FromUsual, true},
		{"choices.store.level", "home.level", true},
		{"supply.nothing", "", false},
		{"outlets.nowhere.height", "", false},
	} {
		value, from, ok := doc.Job.Held(c.path)
		if ok != c.ok || from != c.from {
			t.Errorf("%s: from %q, %v; want %q, %v", c.path, from, ok, c.from, c.ok)
		}
		if _, is := value.(quantity.Quantity); ok && !is {
			t.Errorf("%s holds a %T", c.path, value)
		}
	}
	if v, _, ok := doc.Job.Held("choices.float"); !ok || v != "float-15-medium" {
		t.Errorf("choices.float holds %v", v)
	}
}
