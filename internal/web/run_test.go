package web

import (
	"context"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
)

// TestGlanceLeavesOut: what the full run finds beyond a glance is what a page keeps of the
// state before meanwhile, and nothing else.
func TestGlanceLeavesOut(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row"} {
		cat, _ := demo.Rows(t, "generic")
		doc, faults := appraise.ReadDoc(cat, name, demo.Source(t, name))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		in, err := appraise.NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		quick, err := appraise.Quick(in)
		if err != nil {
			t.Fatal(err)
		}
		in.Proof = appraise.SoundProof
		full, err := appraise.Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		glanced := map[string]bool{}
		for i := range quick.Findings {
			f := &quick.Findings[i]
			if glanced[f.Key()] = true; unglanced(f) {
				t.Errorf("%s: a glance judges %s", name, f.ID)
			}
		}
		for i := range full.Findings {
			if f := &full.Findings[i]; !glanced[f.Key()] && !unglanced(f) {
				t.Errorf("%s: a glance leaves out %s, which a page would lose for a moment", name, f.ID)
			}
		}
	}
}

// atDesk serves one example and waits at its desk until a first page of it has been judged.
func atDesk(t *testing.T, name string) (*site, *desk) {
	t.Helper()
	s := serve(t, name)
	s.get("/jobs/" + name + "?wait=x")
	d, err := s.pages.desk(name)
	if err != nil {
		t.Fatal(err)
	}
	d.wait(context.Background(), revision([]byte(s.file(name))), glance)
	return s, d
}

// TestNothingFlickers: right after an edit the promises of the state before are still
// there, marked; and the headline says that it is not the last word.
func TestNothingFlickers(t *testing.T) {
	s, d := atDesk(t, "lantern-row")
	const row = "/jobs/lantern-row"
	before := strings.Count(s.get(row), "</span> Promise: ")
	_, page := s.post(row+"/edit", fields("", "home.people", "4", "2"))
	if got := strings.Count(page, "</span> Promise: "); got != before || before == 0 {
		t.Errorf("%d promises before, %d right after", before, got)
	}
	needs(t, page, "being judged again", "So far: ")
	d.wait(context.Background(), revision([]byte(s.file("lantern-row"))), glance)
	if page = s.get(row); strings.Contains(page, "being judged again") {
		t.Error("judged again, it still says that it is not")
	}
	needs(t, page, "What matters most here and nobody measured", "Water hammer at the quickest tap: look at; at 3: fine.")
}

// TestYearsJoin: the years of a job that is left alone join its findings, once however often,
// and the next page shows them.
func TestYearsJoin(t *testing.T) {
	s, d := atDesk(t, "lantern-row")
	const row = "/jobs/lantern-row"
	for range 2 {
		d.live(context.Background(), d.input)
	}
	n := 0
	d.mu.Lock()
	for i := range d.findings {
		if d.findings[i].ID == "ride-through" {
			n++
		}
	}
	d.mu.Unlock()
	if n != 1 {
		t.Errorf("%d findings of interruptions ridden out, want one", n)
	}
	needs(t, s.get(row+"/store"), "Interruptions ridden out")
}
