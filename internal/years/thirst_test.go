package years

import (
	"testing"

	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/seasons"
)

// TestThirst: the garden drinks most in the middle of the dry season told, over the new year
// too, else at midsummer, else never more than on the mean, which is said.
func TestThirst(t *testing.T) {
	day := seasons.Day
	dry := func(list ...outage.Season) *outage.Model {
		m := &outage.Model{}
		m.Water.Seasons = list
		return m
	}
	for name, x := range map[string]struct {
		m     *outage.Model
		sun   string
		day   float64
		known bool
		note  string
	}{
		"June to September":            {dry(outage.Season{Name: "dry season", From: 151 * day, To: 273 * day}), "unknown", 212, true, ""},
		"December to February":         {dry(outage.Season{Name: "dry season", From: 334 * day, To: 365 * day}, outage.Season{Name: "dry season", To: 59 * day}), "north", 14, true, ""},
		"rains are no dry season":      {dry(outage.Season{Name: "rains", From: 151 * day, To: 273 * day}), "south", south, true, ""},
		"the north":                    {dry(), "north", north, true, ""},
		"no summer":                    {dry(), "none", 0, false, ""},
		"nobody knows, and it is said": {dry(), "unknown", 0, false, "years.no-summer"},
	} {
		j := &job.Job{}
		j.Place.Midsummer = x.sun
		got, known, note := thirst(x.m, j)
		if d := got - x.day; d > 0.6 || d < -0.6 || known != x.known || note != x.note {
			t.Errorf("%s: day %v, %v, %q; want %v, %v, %q", name, got, known, note, x.day, x.known, x.note)
		}
	}
	in := made(t, "kestrel-rise").Input
	swings := 0
	for _, u := range in.Home.Uses {
		if u.Swing > 0 {
			swings++
			if u.Peak < 150 || u.Peak > 280 {
				t.Errorf("Kestrel Rise is dry from June to September, and its garden drinks most on day %v", u.Peak)
			}
		}
	}
	if swings == 0 {
		t.Error("nothing at Kestrel Rise changes with the season")
	}
}
