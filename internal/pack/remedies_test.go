package pack

import (
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// TestRoutinesOfRemediesAreTold: in random homes, what a remedy for the age of the water has
// somebody do again and again stands on the owner's card, the upkeep sheet and in the calendar
// once it is applied: how often, and for how long. Two homes that are offered one, or all of as
// many homes as TIDEOVER_HOMES says.
func TestRoutinesOfRemediesAreTold(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	count, most := 200, 2
	if text := os.Getenv("TIDEOVER_HOMES"); text != "" {
		if count, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
		most = count
	}
	told := 0
	for n := 0; n < count && told < most; n++ {
		h := homes.Random(14, n)
		doc, faults := appraise.ReadDoc(cat, "home", h.Source)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		in, err := appraise.NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		a, err := appraise.Quick(in)
		if err != nil {
			continue
		}
		edits := routineOf(a.Findings)
		if edits == nil {
			continue
		}
		tried, err := appraise.Try(in, edits...)
		if err != nil {
			t.Fatalf("%s: %v: %v", h.Name, edits, err)
		}
		told++
		// By hand from the edits, as a person reads them: "3 d" and "12 h" apart from the layout.
		lasts, days := edits[1].Text, strings.TrimSuffix(edits[0].Text, " d")
		files := made(t, tried.Appraisal, Options{Sheets: []string{"card", "upkeep"}})
		calendar := strings.ReplaceAll(strings.ReplaceAll(string(files["upkeep.ics"]), "\r\n ", ""), "\\,", ",")
		for where, text := range map[string]string{
			"card":     strings.Join(inOrder(t, made(t, tried.Appraisal, Options{Sheets: []string{"card"}})["pack.pdf"]), " "),
			"upkeep":   strings.Join(inOrder(t, made(t, tried.Appraisal, Options{Sheets: []string{"upkeep"}})["pack.pdf"]), " "),
			"calendar": calendar,
		} {
			wants := []string{"for " + lasts}
			if where == "calendar" {
				wants = append(wants, "INTERVAL="+days)
			}
			for _, want := range wants {
				if !strings.Contains(squeezed(text), squeezed(want)) {
					t.Errorf("%s: %v: the %s lacks %q", h.Name, edits, where, want)
				}
			}
		}
	}
	if told == 0 {
		t.Error("no home is offered a routine: the test says nothing")
	}
	t.Logf("%d routines told", told)
}

// routineOf are the first edits of a suggested routine, or nil.
func routineOf(list []finding.Finding) []job.Edit {
	for i := range list {
		for _, edits := range list[i].Cures {
			if slices.ContainsFunc(edits, func(e job.Edit) bool { return e.Path == "choices.store.exercise" }) {
				return edits
			}
		}
	}
	return nil
}

// TestAddedPartsAreEverywhere: a part that a remedy puts in stands on the drawing, the buying list
// and the positions of the handles as one of the arrangement does, and a non-return valve among
// those that are tested.
func TestAddedPartsAreEverywhere(t *testing.T) {
	doc := demo.Doc(t, "kestrel-rise")
	rows, _ := demo.Rows(t, doc.Job.Profile)
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	tried, err := appraise.Try(in, job.Edit{Op: job.Insert, Path: "added.n9", Text: "kind: non-return, beside: N3, end: out"},
		job.Edit{Op: job.Insert, Path: "added.v9", Text: "kind: hand-valve, beside: P1, end: in"},
		job.Edit{Op: job.Insert, Path: "added.e9", Text: "kind: vessel, row: vessel-24, beside: H1, end: in"})
	if err != nil {
		t.Fatal(err)
	}
	for sheet, wants := range map[string][]string{
		"system": {"N9", "V9", "E9"}, "buying": {"N9", "V9", "E9"}, "valves": {"V9"}, "upkeep": {"N9", "E9"}, "commission": {"N9"},
	} {
		text := strings.Join(inOrder(t, made(t, tried.Appraisal, Options{Sheets: []string{sheet}})["pack.pdf"]), " ")
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %s", sheet, want)
			}
		}
	}
}
