package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"
)

const kestrel = "/jobs/kestrel-rise"

// TestEdit: a changed value changes its own bytes and no others, the figures that hang on
// it, and can be taken back and made again; a reader without script gets whole pages.
func TestEdit(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	code, page := s.post(kestrel+"/edit", fields("survey",
		"supply.static", "3.2 bar ±0.1", "3.4 bar ±0.1", // touched
		"supply.gauge-height", "0 m", "0 m")) // not touched
	if code != http.StatusSeeOther {
		t.Fatalf("%d", code)
	}
	want := strings.Replace(first, "static: 3.2 bar ±0.1 ", "static: 3.4 bar ±0.1 ", 1)
	if got := s.file("kestrel-rise"); got != want {
		t.Errorf("the file became\n%s", got)
	}
	needs(t, page, "<!doctype html>", "pressure at the meter with nothing running: 3.4 bar ±0.1")
	if got := boxOf(t, page, "supply.static"); got != "3.4 bar ±0.1" {
		t.Errorf("the box holds %q", got)
	}
	needs(t, s.get(kestrel), "was ")
	s.post(kestrel+"/undo", url.Values{"section": {"survey"}})
	if s.file("kestrel-rise") != first {
		t.Error("undo did not bring the file back")
	}
	s.post(kestrel+"/redo", url.Values{})
	if s.file("kestrel-rise") != want {
		t.Error("redo did not make the change again")
	}
	s.post(kestrel+"/undo", url.Values{})
	s.post(kestrel+"/undo", url.Values{}) // nothing is left: no harm
	if s.file("kestrel-rise") != first {
		t.Error("undo beyond the first change")
	}
}

// TestUndoAfterRestart: what was changed before the page was served again can be undone.
func TestUndoAfterRestart(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.3 bar"))
	s.post(kestrel+"/edit", fields("survey", "supply.static", "3.3 bar", "3.4 bar"))
	s.pages.leave("kestrel-rise")
	s.post(kestrel+"/undo", url.Values{})
	s.post(kestrel+"/undo", url.Values{})
	if s.file("kestrel-rise") != first {
		t.Error("the first state did not come back")
	}
}

// TestRefused: what cannot be saved stays in its box with what is wrong and what would be
// read, whatever else happens, until it is put right or taken back; the rest is saved.
func TestRefused(t *testing.T) {
	s := serve(t, "kestrel-rise")
	code, page := s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3,4 bar", "home.people", "5", "6"))
	if code != http.StatusUnprocessableEntity {
		t.Errorf("status %d", code)
	}
	needs(t, page, "<title>Error:", `id="problems" tabindex="-1" autofocus`, `href="#i-supply.static"`, `aria-invalid="true"`, "3,4")
	if !strings.Contains(s.file("kestrel-rise"), "people: 6") || strings.Contains(s.file("kestrel-rise"), "3,4") {
		t.Error("the good value was not saved, or the bad one was")
	}
	for _, look := range []string{"later", "after another edit"} {
		page := s.get(kestrel + "/survey")
		if got := boxOf(t, page, "supply.static"); got != "3,4 bar" {
			t.Errorf("%s the box holds %q", look, got)
		}
		s.post(kestrel+"/edit", fields("survey", "home.people", "6", "5"))
	}
	_, page = s.post(kestrel+"/edit", url.Values{"section": {"survey"}, "drop": {"supply.static"}})
	if got := boxOf(t, page, "supply.static"); got != "3.2 bar ±0.1" {
		t.Errorf("taken back, the box holds %q", got)
	}
}

// TestTogether: values that only fit together are saved together.
func TestTogether(t *testing.T) {
	s := serve(t, "kestrel-rise")
	code, _ := s.post(kestrel+"/edit", fields("pump-and-pipe", "choices.pump.cut-in", "2.4 bar", "3.0 bar", "choices.pump.cut-out", "2.8 bar", "3.5 bar"))
	if code != http.StatusSeeOther || !strings.Contains(s.file("kestrel-rise"), "cut-in: 3.0 bar") {
		t.Errorf("status %d", code)
	}
}

// TestDontKnow: nobody knows is an answer.
func TestDontKnow(t *testing.T) {
	s := serve(t, "kestrel-rise")
	form := fields("survey", "supply.night-maximum", "4.1 bar", "4.1 bar")
	form.Set("unknown", "supply.night-maximum")
	_, page := s.post(kestrel+"/edit", form)
	if strings.Contains(s.file("kestrel-rise"), "night-maximum") {
		t.Error("the field is still in the file")
	}
	if got := boxOf(t, page, "supply.night-maximum"); got != "" {
		t.Errorf("the box holds %q", got)
	}
	form = fields("survey", "supply.stop-valve", "ball-25", "ball-25")
	form.Set("unknown", "supply.stop-valve")
	s.post(kestrel+"/edit", form)
	if !strings.Contains(s.file("kestrel-rise"), "stop-valve: unknown") {
		t.Error("a field that has the word for it does not say unknown")
	}
}

// TestItems: outlets are added and taken out, and that is undone byte for byte.
func TestItems(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	add := url.Values{"section": {"survey"}, "list": {"outlets"}, "tag": {"Bath up"}, "v:outlets.*.kind": {"bath"}, "v:outlets.*.height": {"4 m"}, "v:outlets.*.distance": {"10 m"}}
	code, page := s.post(kestrel+"/item", add)
	if code != http.StatusSeeOther {
		t.Fatalf("%d %s", code, page)
	}
	needs(t, page, `id="g-outlets.bath-up"`)
	code, page = s.post(kestrel+"/item", add)
	if code != http.StatusUnprocessableEntity {
		t.Errorf("the same tag twice: %d", code)
	}
	needs(t, page, `name="tag" value="Bath up"`)
	add.Set("tag", "other")
	add.Set("v:outlets.*.height", "high")
	code, page = s.post(kestrel+"/item", add)
	if code != http.StatusUnprocessableEntity {
		t.Errorf("a height that is none: %d", code)
	}
	needs(t, page, `value="high"`)
	out := url.Values{"section": {"survey"}, "remove": {"outlets.bath-up"}, wasKey + "outlets.bath-up": {"kind: bath, height: 4 m, distance: 10 m"}}
	if code, _ = s.post(kestrel+"/edit", out); code != http.StatusSeeOther || s.file("kestrel-rise") != first {
		t.Errorf("taking it out: %d", code)
	}
	s.post(kestrel+"/undo", url.Values{})
	s.post(kestrel+"/undo", url.Values{})
	if s.file("kestrel-rise") != first {
		t.Error("undone twice, the file is not as it was")
	}
	out.Set("remove", "outlets.garden")
	out.Set(wasKey+"outlets.garden", "kind: garden, height: 9 m")
	if code, _ = s.post(kestrel+"/edit", out); code != http.StatusUnprocessableEntity || s.file("kestrel-rise") != first {
		t.Errorf("an outlet that somebody changed meanwhile was taken out: %d", code)
	}
}

// wait follows a page until every case was tried.
func (s *site) wait(path string) string {
	s.t.Helper()
	link := regexp.MustCompile(`data-wait="([^"]*)"`)
	for deadline := time.Now().Add(2 * time.Minute); time.Now().Before(deadline); {
		page := s.get(path)
		m := link.FindStringSubmatch(page)
		if m == nil {
			return page
		}
		path = strings.ReplaceAll(m[1], "&amp;", "&")
	}
	s.t.Fatal("it never ends")
	return ""
}

// TestRemedy: a remedy that was tried is one tap, is worth what it says, and is undone.
func TestRemedy(t *testing.T) {
	s := serve(t, "juniper-flat")
	first := s.file("juniper-flat")
	page := s.get("/jobs/juniper-flat")
	link := regexp.MustCompile(`data-wait="([^"]*)"`).FindStringSubmatch(page)
	if link == nil {
		t.Fatal("the first page is the last already")
	}
	page = s.get(strings.ReplaceAll(link[1], "&amp;", "&"))
	var m []string
	for _, one := range regexp.MustCompile(`(?s)<form class="remedy" method="post" action="([^"]*)".*?</form>`).FindAllStringSubmatch(page, -1) {
		waits, button := strings.Contains(one[0], "being tried over years"), strings.Contains(one[0], "<button>")
		if age := strings.Contains(one[0], "through-store"); age != waits || waits && button {
			t.Errorf("what changes the age of the water waits for the years, the rest does not: %s", one[0])
		}
		if button && m == nil {
			m = one
		}
	}
	if m == nil {
		t.Fatal("no remedy is offered")
	}
	form := url.Values{}
	for _, in := range regexp.MustCompile(`name="(op|path|was|text|section)" value="([^"]*)"`).FindAllStringSubmatch(m[0], -1) {
		form.Add(in[1], strings.NewReplacer("&#43;", "+", "&#34;", `"`, "&#39;", "'", "&amp;", "&").Replace(in[2]))
	}
	if code, _ := s.post(m[1], form); code != http.StatusSeeOther || s.file("juniper-flat") == first {
		t.Fatalf("%d", code)
	}
	s.post("/jobs/juniper-flat/undo", url.Values{})
	if s.file("juniper-flat") != first {
		t.Error("undo did not bring the file back")
	}
}

// TestNewerEdit: the run of a state that was changed meanwhile is ended, and what it would
// have said never reaches the page.
func TestNewerEdit(t *testing.T) {
	s := serve(t, "lantern-row")
	const row = "/jobs/lantern-row"
	s.get(row)
	d, err := s.pages.desk("lantern-row")
	if err != nil {
		t.Fatal(err)
	}
	s.post(row+"/edit", fields("survey", "home.people", "4", "2"))
	d.mu.Lock()
	old := d.cancel
	d.mu.Unlock()
	s.post(row+"/edit", fields("survey", "home.people", "2", "3"))
	d.mu.Lock()
	if d.cancel == nil || old == nil || d.stage != glance {
		t.Error("no run of the new state")
	}
	d.mu.Unlock()
	s.pages.chair.free <- struct{}{}
	page := s.wait(row)
	needs(t, page, "every single failure")
	d.mu.Lock()
	defer d.mu.Unlock()
	if got := float64(d.appraisal.Job.Home.People.V); got != 3 || d.stage != last || d.appraisal.Proof == nil {
		t.Errorf("the page shows the appraisal for %v people, stage %d", got, d.stage)
	}
}

// TestLaid: with script the answer to an edit is the page itself, the same that the address
// shows.
func TestLaid(t *testing.T) {
	s := serve(t, "kestrel-rise")
	got := s.lay(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.3 bar ±0.1"))
	if box := boxOf(t, got, "supply.static"); box != "3.3 bar ±0.1" {
		t.Errorf("the box says %q", box)
	}
	if !strings.Contains(got, `data-revision="`+revision([]byte(s.file("kestrel-rise")))) {
		t.Error("the page is not of the state that was saved")
	}
}
