package assembly

import (
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
)

// TestFoundUnderTheSameLaw: the home straight on the main has the taps that the home with a store
// has: as the profile's law lets them be sold.
func TestFoundUnderTheSameLaw(t *testing.T) {
	for _, name := range []string{"juniper-flat", "kestrel-rise"} {
		j := demo.Job(t, name)
		rows, p := demo.Rows(t, "usa")
		built, err := Build(j, rows, p)
		if err != nil {
			t.Fatal(err)
		}
		direct, err := Direct(j, rows, p)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range direct.Of(Outlet) {
			tag := direct.Parts[i].Tag
			got, _ := direct.Parts[i].Row.(catalogue.Outlet)
			want, _ := built.Parts[built.Index(tag)].Row.(catalogue.Outlet)
			if got.Need != want.Need || got.Limit != want.Limit || got.Pressure != want.Pressure {
				t.Errorf("%s: %s needs %v straight on the main and %v in the plan", name, tag, got.Need, want.Need)
			}
		}
	}
}
