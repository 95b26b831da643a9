package web

import (
	"archive/zip"
	"bytes"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"
)

// TestPack: a pack is asked for by a form, followed without script, and taken as one PDF or
// one zip; the folder holds nothing more than before.
func TestPack(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	needs(t, s.get(job+"/pack"), `<form class="group" method="post" action="/jobs/juniper-flat/pack"`, `value="letter" checked`)
	code, page := s.post(job+"/pack", url.Values{"paper": {"letter"}, "set": {"short"}})
	if code != http.StatusSeeOther {
		t.Fatalf("%d", code)
	}
	if strings.Contains(page, "data-wait") {
		needs(t, page, `<noscript><meta http-equiv="refresh"`, `action="/jobs/juniper-flat/pack/stop"`, "<progress")
	}
	page = s.wait("/jobs/juniper-flat/pack")
	needs(t, page, "The pack is ready.", job+"/pack/pack.pdf", job+"/pack/pack.zip", "buying-list.csv")
	w := s.send(s.request("GET", job+"/pack/pack.pdf", nil))
	if w.Code != http.StatusOK || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) || w.Header().Get("Content-Disposition") != "attachment; filename=juniper-flat-pack.pdf" {
		t.Errorf("the PDF: %d, %v", w.Code, w.Header())
	}
	w = s.send(s.request("GET", job+"/pack/pack.zip", nil))
	z, err := zip.NewReader(bytes.NewReader(w.Body.Bytes()), int64(w.Body.Len()))
	if err != nil || len(z.File) < 5 {
		t.Fatalf("the zip: %v", err)
	}
	for _, f := range z.File {
		if strings.ContainsAny(f.Name, `/\`) {
			t.Errorf("%q leads out of its folder", f.Name)
		}
		if w := s.send(s.request("GET", job+"/pack/"+f.Name, nil)); w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment") {
			t.Errorf("%s: %d, %v", f.Name, w.Code, w.Header())
		}
	}
	for _, name := range []string{"nothing.pdf", "..%2fjuniper-flat.job.yaml", "pack.pdf%00"} {
		if w := s.send(s.request("GET", job+"/pack/"+name, nil)); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	entries, err := os.ReadDir(s.dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("the folder holds %v, %v", entries, err)
	}
	s.post(job+"/edit", fields("survey", "home.people", "3", "4"))
	needs(t, s.get(job+"/pack"), "changed since this pack was made")
}

// TestPackStopped: a pack under way can be stopped, and made again.
func TestPackStopped(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	// Every failure waits for the one long run, which the tests hold.
	_, page := s.post(job+"/pack", url.Values{"paper": {"a4"}, "full": {"1"}})
	needs(t, page, "data-wait", "Waiting for another long run")
	if _, again := s.post(job+"/pack", url.Values{"paper": {"letter"}}); !strings.Contains(again, "Waiting for another") {
		t.Error("a second order overtakes the first")
	}
	_, page = s.post(job+"/pack/stop", url.Values{})
	needs(t, page, "Stopped. Nothing was made.", `name="full" value="1" checked`)
	if w := s.send(s.request("GET", job+"/pack/pack.pdf", nil)); w.Code != http.StatusNotFound {
		t.Errorf("a stopped pack is sent: %d", w.Code)
	}
	s.post(job+"/pack", url.Values{"paper": {"a4"}, "set": {"short"}})
	needs(t, s.wait("/jobs/juniper-flat/pack"), "The pack is ready.")
}

// TestPackRefused: an order that is none is refused, and nothing is made on GET.
func TestPackRefused(t *testing.T) {
	s := serve(t, "juniper-flat")
	for _, form := range []url.Values{{"paper": {"a9"}}, {"paper": {"a4"}, "set": {"<script>"}}} {
		if code, page := s.post("/jobs/juniper-flat/pack", form); code != http.StatusBadRequest || strings.Contains(page, "<script>\"") {
			t.Errorf("%v: %d", form, code)
		}
	}
	if strings.Contains(s.get("/jobs/juniper-flat/pack"), "data-wait") {
		t.Error("looking at the page makes a pack")
	}
}

// TestCharts: every chart stands with its figures and its words.
func TestCharts(t *testing.T) {
	s := serve(t, "kestrel-rise")
	page := s.get(kestrel + "/charts")
	n := strings.Count(page, `<figure class="chart"`)
	if n < 4 || strings.Count(page, "<table>") != n || strings.Count(page, "<svg class=\"tideover\"") != n {
		t.Errorf("%d charts, %d tables, %d drawings", n, strings.Count(page, "<table>"), strings.Count(page, "<svg class=\"tideover\""))
	}
	seen := map[string]bool{}
	for _, id := range hrefs(page, ` id="([^"]*)"`) {
		if seen[id] {
			t.Errorf("two things are called %s", id)
		}
		seen[id] = true
	}
}
