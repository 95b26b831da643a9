package assembly

import (
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestHotRunsHaveTheHotRating: behind the heater a multilayer run holds 10 bar, elsewhere 16;
// a file of pipes from before the column holds one figure in both.
func TestHotRunsHaveTheHotRating(t *testing.T) {
	j := demo.Job(t, "kestrel-rise")
	c, profile := demo.Rows(t, j.Profile)
	warm := *j
	warm.Outlets = append([]job.Outlet(nil), j.Outlets...)
	hot := ""
	for i := range warm.Outlets {
		if o := &warm.Outlets[i]; o.Pipe.Family == "multilayer" && hot == "" {
			o.Water, hot = "hot", o.Tag
		}
	}
	if hot == "" {
		t.Fatal("no outlet on multilayer pipe")
	}
	a, err := Build(&warm, c, profile)
	if err != nil {
		t.Fatal(err)
	}
	behind := a.hot()
	cold, heated := 0, 0
	for i := range a.Parts {
		row, is := a.Parts[i].Row.(catalogue.Pipe)
		if !is || row.Size.Family != "multilayer" {
			continue
		}
		want := 16e5
		if behind[i] {
			want, heated = 10e5, heated+1
		} else {
			cold++
		}
		if float64(row.Rating) != want {
			t.Errorf("%s (hot %v) is rated %v Pa, want %v", a.Parts[i].Tag, behind[i], row.Rating, want)
		}
	}
	if k := a.Index(hot); k < 0 || !behind[k] || cold == 0 || heated == 0 {
		t.Errorf("%s at %d: %d cold runs, %d hot", hot, k, cold, heated)
	}
}
