package pack

import (
	"context"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestRoutineIsTold: a routine that the age of the water is worked out with stands on the owner's
// card, the upkeep sheet and in the calendar: how often, how long, how much, and handles that
// do turn the home to the store. Nobody is told of one that does nothing.
func TestRoutineIsTold(t *testing.T) {
	for _, x := range []struct {
		name, through string
		each          string // by hand: people × use × hours, at most what the store gives
		turns, back   string
		told          bool
	}{
		// 5 × 130 L a day, for a day and a half; a lock-out lets no pump run beside a main that serves
		{"kestrel-rise", "main-first", "975 L", "V1 shut", "open V1 again", true},
		{"juniper-flat", "three-way", "248 gal", "W1 to STORE", "turn back to", true}, // 3 × 55 gal × 1.5
		{"kestrel-rise", "through-store", "", "", "", false},
	} {
		edits := []job.Edit{{Op: job.Set, Path: "choices.arrangement", Text: x.through},
			{Op: job.Set, Path: "choices.store.exercise", Text: "10 d"}, {Op: job.Set, Path: "choices.store.exercise-for", Text: "36 h"}}
		doc, _, err := demo.Doc(t, x.name).Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		c, _ := demo.Rows(t, doc.Job.Profile)
		in, err := appraise.NewInput(c, doc)
		if err != nil {
			t.Fatal(err)
		}
		in.Proof = appraise.SoundProof // as a pack has it: the orders of hand movements
		a, err := appraise.Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		files := made(t, a, Options{Sheets: []string{"card", "upkeep"}})
		calendar := strings.ReplaceAll(strings.ReplaceAll(string(files["upkeep.ics"]), "\r\n ", ""), "\\,", ",")
		for where, text := range map[string]string{
			"card":     strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{"card"}})["pack.pdf"]), " "),
			"upkeep":   strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{"upkeep"}})["pack.pdf"]), " "),
			"calendar": calendar,
		} {
			text = squeezed(text)
			wants := []string{"for 36 h", x.each, x.turns, x.back}
			if where == "calendar" {
				wants = append(wants, "INTERVAL=10")
			}
			for _, want := range wants {
				if x.told && !strings.Contains(text, squeezed(want)) {
					t.Errorf("%s, %s: the %s lacks %q", x.name, x.through, where, want)
				}
			}
			if !x.told && strings.Contains(text, squeezed("for 36 h")) {
				t.Errorf("%s, %s: the %s tells of a routine that does nothing", x.name, x.through, where)
			}
		}
	}
}
