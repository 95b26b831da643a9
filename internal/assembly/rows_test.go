package assembly

import (
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestEveryRowIsBuiltWith lays out Kestrel Rise with every row of the catalogue in its
// place, and then asks that no row is left that nothing can be built with.
func TestEveryRowIsBuiltWith(t *testing.T) {
	c, p := rows(t)
	used := map[string]bool{}
	for table, change := range map[string]func(*job.Job, string){
		"pumps":       func(j *job.Job, k string) { j.Choices.Pump = k },
		"floats":      func(j *job.Job, k string) { j.Choices.Float = k },
		"stores":      func(j *job.Job, k string) { j.Choices.Store = k },
		"vessels":     func(j *job.Job, k string) { j.Choices.Vessel = k },
		"non-returns": func(j *job.Job, k string) { j.Choices.Backflow = k },
		"regulators":  func(j *job.Job, k string) { j.Choices.Regulator, j.Choices.RegSet.V = k, 3e5 },
		"heaters":     func(j *job.Job, k string) { j.Home.Heater = k },
		"outlets":     func(j *job.Job, k string) { j.Outlets[0].Kind, j.Outlets[0].From = k, "main" },
		"meters":      func(j *job.Job, k string) { j.Supply.Meter = k },
		"stop-valves": func(j *job.Job, k string) { j.Supply.StopTap = k },
		"controls":    func(j *job.Job, k string) { j.Choices.Control = k },
		"pipes": func(j *job.Job, k string) {
			s, _ := quantity.ParseSize(k)
			if j.Supply.Pipe, j.Outlets[0].Pipe = s, s; catalogue.AsFound(s) {
				return
			}
			j.Pipework.Outdoors, j.Pipework.Indoors = s, s
		},
	} {
		for _, key := range c.Keys(table) {
			for _, arr := range Arrangements() {
				j := readJob(t, "kestrel-rise")
				j.Choices.Arrangement = arr
				change(j, key)
				a, err := Build(j, c, p)
				if err != nil {
					t.Errorf("%s %s, %s: %v", table, key, arr, err)
					continue
				}
				note(used, a)
				if !used[key] {
					t.Errorf("%s %s is nowhere in the layout", table, key)
				}
			}
		}
	}
	for _, table := range []string{"valves", "non-returns", "fittings"} {
		for _, key := range c.Keys(table) {
			if !used[key] && !spare(key) {
				t.Errorf("%s %s is in no layout", table, key)
			}
		}
	}
}

func note(used map[string]bool, a *Assembly) {
	for i := range a.Parts {
		if r := a.Parts[i].Row; r != nil {
			used[r.Ref().Key] = true
		}
		for _, f := range a.Parts[i].Fittings {
			used[f.Row.Key] = true
		}
	}
}

// spare rows serve elsewhere: nipples and unions in the take-off, the plain elbow and the tank exit
// for pipe families of the user's own, bushes and isolating valves for parts of their own.
func spare(key string) bool {
	return strings.HasPrefix(key, "nipple-") || strings.HasPrefix(key, "union-") || strings.HasPrefix(key, "bush-") || strings.HasPrefix(key, "isolator-") || key == "elbow" || key == "tank-exit"
}
