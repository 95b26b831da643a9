package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"tideover/internal/job"
	"tideover/internal/shelf"
	"tideover/internal/words"
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

// TestTwoTabs: changes of different fields from pages of different age are both kept; of
// the same field, the second is asked.
func TestTwoTabs(t *testing.T) {
	s := serve(t, "kestrel-rise")
	s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.5 bar"))
	code, _ := s.post(kestrel+"/edit", fields("survey", "home.people", "5", "4", "supply.static", "3.2 bar ±0.1", "3.2 bar ±0.1"))
	if got := s.file("kestrel-rise"); code != http.StatusSeeOther || !strings.Contains(got, "static: 3.5 bar") || !strings.Contains(got, "people: 4") {
		t.Errorf("two fields from two tabs: %d", code)
	}
	code, page := s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.0 bar"))
	if code != http.StatusUnprocessableEntity || !strings.Contains(s.file("kestrel-rise"), "static: 3.5 bar") {
		t.Fatalf("the same field from two tabs: %d", code)
	}
	needs(t, page, "“3.5 bar”", "“3.2 bar ±0.1”", `name="w:supply.static" value="3.5 bar"`)
	if got := boxOf(t, page, "supply.static"); got != "3.0 bar" {
		t.Errorf("what was typed is gone: %q", got)
	}
	if code, _ = s.post(kestrel+"/edit", fields("survey", "supply.static", "3.5 bar", "3.0 bar")); code != http.StatusSeeOther || !strings.Contains(s.file("kestrel-rise"), "static: 3.0 bar") {
		t.Errorf("saved again: %d", code)
	}
}

// TestChangedOutside: what an editor writes meanwhile is taken in and kept, also by undo.
func TestChangedOutside(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.5 bar"))
	outside := "# by hand\n" + strings.Replace(s.file("kestrel-rise"), "people: 5", "people: 3 # counted", 1)
	s.write("kestrel-rise", outside)
	if got := boxOf(t, s.get(kestrel+"/survey"), "home.people"); got != "3" {
		t.Errorf("the page shows %q people", got)
	}
	s.post(kestrel+"/edit", fields("survey", "home.level", "8 m ±0.3", "7 m"))
	want := strings.Replace(outside, "level: 8 m ±0.3", "level: 7 m", 1)
	if got := s.file("kestrel-rise"); got != want {
		t.Errorf("after an edit on top:\n%s", got)
	}
	s.post(kestrel+"/undo", url.Values{})
	if s.file("kestrel-rise") != outside {
		t.Error("undo of the edit on top")
	}
	s.post(kestrel+"/undo", url.Values{})
	want = "# by hand\n" + strings.Replace(first, "people: 5", "people: 3 # counted", 1)
	if got := s.file("kestrel-rise"); got != want {
		t.Errorf("undo of an edit below what was changed by hand:\n%s", got)
	}
	s.write("kestrel-rise", strings.Replace(want, "static: 3.2", "static: 3.1", 1))
	s.post(kestrel+"/redo", url.Values{})
	if !strings.Contains(s.file("kestrel-rise"), "static: 3.1") {
		t.Error("redo overwrote what was changed by hand")
	}
}

// TestUnreadable: a file that is no job is told with its place, changes nothing and can be
// brought back from its versions.
func TestUnreadable(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	s.post(kestrel+"/edit", fields("survey", "home.people", "5", "4"))
	broken := "name: [\n"
	s.write("kestrel-rise", broken)
	needs(t, s.get(kestrel), "Put this right first", "/earlier")
	if code, _ := s.post(kestrel+"/edit", fields("survey", "home.people", "5", "4")); code != http.StatusUnprocessableEntity || s.file("kestrel-rise") != broken {
		t.Errorf("an edit of a broken file: %d", code)
	}
	page := s.get(kestrel + "/earlier")
	id := regexp.MustCompile(`name="id" value="([^"]+)"`).FindStringSubmatch(page)
	rev := regexp.MustCompile(`name="revision" value="([^"]+)"`).FindStringSubmatch(page)
	needs(t, s.get(kestrel+"/earlier?id="+id[1]), "name: Kestrel Rise")
	if code, _ := s.post(kestrel+"/restore", url.Values{"id": {id[1]}, "revision": {"old"}}); code != http.StatusConflict {
		t.Errorf("restored though the file was another: %d", code)
	}
	s.post(kestrel+"/restore", url.Values{"id": {id[1]}, "revision": {rev[1]}})
	if s.file("kestrel-rise") != first {
		t.Error("the earlier version did not come back")
	}
	s.write("kestrel-rise", strings.Replace(first, "people: 5", "people: many", 1))
	page = s.get(kestrel + "/survey") // a fault of meaning: shown at its field, and mended there
	needs(t, page, "Put this right first", "many")
	if code, _ := s.post(kestrel+"/edit", fields("survey", "home.people", "many", "5")); code != http.StatusSeeOther || s.file("kestrel-rise") != first {
		t.Errorf("mending it: %d", code)
	}
}

// TestUnsaved: when the disk refuses, what was typed stays, and it is said why.
func TestUnsaved(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("may write everywhere")
	}
	s := serve(t, "kestrel-rise")
	s.get(kestrel)
	if err := os.Chmod(s.dir, 0o500); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(s.dir, 0o700)
	code, page := s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.5 bar"))
	if code != http.StatusUnprocessableEntity || boxOf(t, page, "supply.static") != "3.5 bar" {
		t.Errorf("%d, box %q", code, boxOf(t, page, "supply.static"))
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
	m := regexp.MustCompile(`(?s)<form class="remedy" method="post" action="([^"]*)".*?</form>`).FindStringSubmatch(page)
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
	<-s.pages.slow
	page := s.wait(row)
	needs(t, page, "every single failure")
	d.mu.Lock()
	defer d.mu.Unlock()
	if got := float64(d.appraisal.Job.Home.People.V); got != 3 || d.stage != last || d.appraisal.Proof == nil {
		t.Errorf("the page shows the appraisal for %v people, stage %d", got, d.stage)
	}
}

// TestShelf: jobs are listed with their verdict, copied, renamed, thrown away and put back.
func TestShelf(t *testing.T) {
	s := serve(t)
	page := s.get("/")
	needs(t, page, `action="/example"`)
	_, page = s.post("/example", url.Values{})
	needs(t, page, "Kestrel Rise")
	s.post(kestrel+"/copy", url.Values{})
	page = s.get("/")
	needs(t, page, `href="/jobs/kestrel-rise"`, `href="/jobs/kestrel-rise-copy"`, "data-wait", "5 people")
	needs(t, s.get("/?wait=1"), "look at: ")
	if strings.Contains(page, `action="/example"`) {
		t.Error("the example is offered where there are jobs")
	}
	if code, _ := s.post(kestrel+"/rename", url.Values{"to": {"kestrel-rise-copy"}}); code != http.StatusUnprocessableEntity {
		t.Errorf("renamed over another job: %d", code)
	}
	s.post(kestrel+"/rename", url.Values{"to": {"Hill & dale #1.job.yaml"}})
	page = s.get("/")
	needs(t, page, `href="/jobs/Hill%20&amp;%20dale%20%231"`)
	needs(t, s.get("/jobs/Hill%20&%20dale%20%231/store"), `action="/jobs/Hill%20&amp;%20dale%20%231/edit"`)
	s.post("/jobs/Hill%20&%20dale%20%231/throw", url.Values{})
	page = s.get("/")
	id := regexp.MustCompile(`name="id" value="([^"]+)"`).FindStringSubmatch(page)
	if id == nil || strings.Contains(page, "dale%20") {
		t.Fatal("it is not in the trash")
	}
	s.post("/trash/back", url.Values{"id": {strings.ReplaceAll(id[1], "&amp;", "&")}})
	if _, err := os.Stat(filepath.Join(s.dir, "Hill & dale #1"+shelf.Suffix)); err != nil {
		t.Error(err)
	}
}

// TestTwin: a job's page has a twin as data.
func TestTwin(t *testing.T) {
	s := serve(t, "kestrel-rise")
	var v map[string]any
	if err := json.Unmarshal([]byte(s.get(kestrel+"?as=json")), &v); err != nil || v["findings"] == nil {
		t.Errorf("%v: %v", err, v)
	}
}

// TestEveryField: each field of the field table has its box on the page of its section,
// with label, how and why; each finding leads to its calculation; nothing is said in ids.
func TestEveryField(t *testing.T) {
	s := serve(t, "kestrel-rise", "lantern-row")
	page := map[string]string{}
	for _, section := range job.Sections() {
		for _, name := range []string{"kestrel-rise", "lantern-row"} {
			page[section] += s.get("/jobs/" + name + "/" + section)
		}
		if strings.Contains(page[section], "‹") {
			t.Errorf("section %s shows an id", section)
		}
	}
	for _, f := range job.Fields() {
		if f.Shape == job.Reserved {
			continue
		}
		name := regexp.MustCompile(` name="v:` + strings.ReplaceAll(regexp.QuoteMeta(f.Path), `\*`, `[a-z0-9*-]+`) + `"`)
		if !name.MatchString(page[f.Section]) && !(strings.HasPrefix(f.Path, "photos.") || strings.HasPrefix(f.Path, "existing.") || strings.HasPrefix(f.Path, "bought.")) {
			t.Errorf("no box for %s in section %s", f.Path, f.Section)
		}
		if i := strings.LastIndexByte(f.Path, '.'); !strings.Contains(f.Path, "*") {
			if g := groupLabel(f.Path[:max(i, 0)], f.Section); words.Has("web.group."+f.Path[:max(i, 0)]) == false && g == f.Path[:max(i, 0)] {
				t.Errorf("the group of %s has no words: web.group.%s", f.Path, f.Path[:max(i, 0)])
			}
		}
	}
	overview := s.get(kestrel + "?fine=1")
	links := regexp.MustCompile(`href="([^"]*/finding\?key=[^"]*)"`).FindAllStringSubmatch(overview, -1)
	if len(links) < 80 {
		t.Errorf("only %d findings", len(links))
	}
	for _, m := range links[:10] {
		needs(t, s.get(m[1]), "How it was worked out")
	}
}

// TestFirstPage: the first page and what it loads, as sent, stay below 100 kB beside the
// faces.
func TestFirstPage(t *testing.T) {
	s := serve(t, "kestrel-rise")
	size := func(path string) int {
		r := s.request("GET", path, nil)
		r.Header.Set("Accept-Encoding", "gzip")
		return s.send(r).Body.Len()
	}
	for _, path := range []string{kestrel, kestrel + "/survey"} {
		total := size(path)
		for _, m := range regexp.MustCompile(`(?:href|src)="(/static/[^"]*)"`).FindAllStringSubmatch(s.get(path), -1) {
			if !strings.Contains(m[1], ".woff2") {
				total += size(m[1])
			}
		}
		if total > 100_000 {
			t.Errorf("%s loads %d bytes", path, total)
		}
		t.Logf("%s: %d bytes", path, total)
	}
}

// BenchmarkEdit is an edit with the page it leads to, on Kestrel Rise.
func BenchmarkEdit(b *testing.B) {
	s := serve(b, "kestrel-rise")
	editing(b, s, func() {})
}

// BenchmarkEditProving is the same while every failure of the state before is being tried.
func BenchmarkEditProving(b *testing.B) {
	s := serve(b, "kestrel-rise")
	<-s.pages.slow
	d, err := s.pages.desk("kestrel-rise")
	if err != nil {
		b.Fatal(err)
	}
	editing(b, s, func() {
		for !d.proving() {
			time.Sleep(10 * time.Millisecond)
		}
		time.Sleep(100 * time.Millisecond)
	})
}

func (d *desk) proving() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.stage == last || d.stage == sound && len(d.pages.slow) == 1
}

func editing(b *testing.B, s *site, before func()) {
	values := []string{"3.2 bar ±0.1", "3.3 bar ±0.1"}
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		before()
		start := time.Now()
		s.post(kestrel+"/edit", fields("survey", "supply.static", values[i%2], values[(i+1)%2]))
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
}
