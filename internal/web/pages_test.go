package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tideover/internal/job"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

// TestShelf: jobs are listed with their verdict, copied, renamed, thrown away and put back.
// TestAddress: a job is told by its place where that is known.
func TestAddress(t *testing.T) {
	s := serve(t, "kestrel-rise")
	s.post(kestrel+"/edit", fields("survey", "place.address", "", "the house <b>behind</b> the mill"))
	if page := s.get("/"); !strings.Contains(page, "the house &lt;b&gt;behind&lt;/b&gt; the mill") {
		t.Error("the list of jobs does not say where the home is, or says it raw")
	}
}

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
		if !name.MatchString(page[f.Section]) && !(strings.HasPrefix(f.Path, "photos.") || strings.HasPrefix(f.Path, "existing.") || strings.HasPrefix(f.Path, "uses.") || strings.HasPrefix(f.Path, "bought.") || strings.HasPrefix(f.Path, "added.")) {
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

// TestPicture: the picture has a page of its own, in the setting one was looking at, with
// its key and its twin as a table.
func TestPicture(t *testing.T) {
	s := serve(t, "kestrel-rise")
	page := s.get(kestrel + "?see=on-store")
	needs(t, page, "/picture?see=on-store", "home on the store</a></li>", `id="part-V1"`)
	page = s.get(kestrel + "/picture?see=on-store")
	needs(t, page, "Where the water goes, home on the store", "<title>Kestrel Rise: where the water goes", "<td>pump</td>", `scope="row">P1</th>`)
	if n := strings.Count(page, "<svg"); n != 2 {
		t.Errorf("%d drawings, want the picture and its key", n)
	}
}
