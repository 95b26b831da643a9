package appraise

import (
	"math"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/day"
	"tideover/internal/outage"
	"tideover/internal/service"
	"tideover/internal/site"
	"tideover/internal/years"
)

// TestOneUsableWater: what can be drawn of the store is one figure for the carry time, the refill,
// the day and the years: down to where the pump stops, not to the outlet's centre.
func TestOneUsableWater(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		in := input(t, name)
		a, err := Run(t.Context(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := float64(a.Store.Usable)
		j, as := in.Job, a.Assembly
		cover := float64(site.Cover(as))
		sum := 0.0
		for _, i := range as.Of("store") {
			row := as.Parts[i].Row.(catalogue.Store)
			low := cover
			if i == as.Header() {
				low = 0
			}
			n := float64(max(1, as.Parts[i].Count))
			sum += n * math.Pi / 4 * float64(row.Diameter*row.Diameter) * (float64(row.Overflow-row.Outlet-site.Of(j, as, in.Profile).Margin) - low)
		}
		same := func(what string, got float64) {
			if math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s: %s draws %v m³, the carry time %v", name, what, got, want)
			}
		}
		same("by hand", sum)
		same("the refill", float64(service.Read(j, as, in.Catalogue, in.Profile).Usable))
		ci := a.circuit
		if plant, ok, err := day.Of(ci, day.Read(j, as, in.Profile)); err != nil {
			t.Fatal(err)
		} else if ok {
			same("the day", plant.Store.Area*(plant.Store.Shut-plant.Store.Low)+plant.Header.Area*(plant.Header.Shut-plant.Header.Low))
		}
		h, err := years.Make(j, as, ci, in.Catalogue, in.Profile, outage.Logs{}, gets(in, as, ci))
		if err != nil {
			t.Fatal(err)
		}
		same("the years", h.Input.Stores[h.Own].Usable)
	}
}
