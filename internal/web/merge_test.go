package web

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

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
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	// Where our own folder should stand is a file: neither lock nor version can be written.
	if err := os.WriteFile(filepath.Join(s.dir, ".tideover"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	code, page := s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.5 bar"))
	if code != http.StatusUnprocessableEntity || boxOf(t, page, "supply.static") != "3.5 bar" || s.file("kestrel-rise") != first {
		t.Errorf("%d, box %q", code, boxOf(t, page, "supply.static"))
	}
	needs(t, page, "There is a problem", "cannot be locked")
	if err := os.Remove(filepath.Join(s.dir, ".tideover")); err != nil {
		t.Fatal(err)
	}
	if got := boxOf(t, s.get(kestrel+"/survey"), "supply.static"); got != "3.5 bar" {
		t.Errorf("later the box holds %q", got)
	}
	if code, _ = s.post(kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.5 bar")); code != http.StatusSeeOther || s.file("kestrel-rise") == first {
		t.Errorf("once it can be saved: %d", code)
	}
}
