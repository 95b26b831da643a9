package job

import (
	"reflect"
	"testing"

	"tideover/internal/quantity"
)

// tries are edits worth trying on a document: every quantity it knows, some a little
// higher, and choices, given before or not.
func tries(d *Doc) []Edit {
	list := []Edit{
		{Set, "choices.arrangement", "through-store"}, {Set, "choices.pump.row", "multistage-0.75"},
		{Set, "choices.vessel.row", "vessel-24"}, {Set, "pipework.outdoors", "pe 32"}, {Set, "pipework.outdoors", "no pipe"},
		{Set, "choices.pump.cut-in", "9 bar"}, {Set, "units", "us"}, {Unset, "notes", ""}, {Set, "outlets.none.height", "1 m"},
		{Set, "supply.static", "4 bar"}, {Set, "supply.static", "900 bar"}, {Set, "supply.night-maximum", "0.2 bar"},
	}
	for _, path := range d.Paths() {
		q, ok := d.Job.Quantity(path)
		if f, known := FieldFor(path); ok && known && f.Shape == Quantity {
			q.SI *= 1.1
			list = append(list, Edit{Set, path, quantity.FormatFile(q, d.Job.System())})
		}
	}
	return list
}

// TestTrialIsApply: trying an edit gives the very job that making it gives, and refuses
// what cannot be made; the document stands as it was.
func TestTrialIsApply(t *testing.T) {
	made := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		d := mustRead(t, example(t, name))
		before := d.Job.Clone()
		for _, e := range tries(d) {
			got, err := d.Trial(e)
			next, _, refused := d.Apply(e)
			switch {
			case (err == nil) != (refused == nil):
				t.Errorf("%s: %v: trial says %v, apply says %v", name, e, err, refused)
			case err == nil && !reflect.DeepEqual(got, next.Job):
				t.Errorf("%s: %v: trial and apply give different jobs", name, e)
			case err == nil:
				made++
			}
		}
		if !reflect.DeepEqual(d.Job, before) {
			t.Errorf("%s: a trial changed the document", name)
		}
	}
	if made < 60 {
		t.Errorf("only %d edits could be tried", made)
	}
}
