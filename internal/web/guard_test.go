package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tideover/internal/shelf"
)

// TestGuard: who asks for another host, comes from elsewhere or does not know the key gets
// nothing and changes nothing.
func TestGuard(t *testing.T) {
	s := serve(t, "kestrel-rise")
	before := s.file("kestrel-rise")
	form := fields("survey", "supply.static", "3.2 bar ±0.1", "3.3 bar").Encode()
	for _, c := range []struct {
		name   string
		change func(r *http.Request)
		want   int
	}{
		{"another host", func(r *http.Request) { r.Host = "evil.example:7000" }, http.StatusMisdirectedRequest},
		{"another host as origin too", func(r *http.Request) {
			r.Host = "evil.example:7000"
			r.Header.Set("Origin", "http://evil.example:7000")
			r.Header.Del("Sec-Fetch-Site")
		}, http.StatusMisdirectedRequest},
		{"another port", func(r *http.Request) { r.Host = "127.0.0.1:80" }, http.StatusMisdirectedRequest},
		{"no port", func(r *http.Request) { r.Host = "localhost" }, http.StatusMisdirectedRequest},
		{"from another site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
		{"from another port of this machine", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }, http.StatusForbidden},
		{"from another origin, an old browser", func(r *http.Request) {
			r.Header.Del("Sec-Fetch-Site")
			r.Header.Set("Origin", "http://localhost:9999")
		}, http.StatusForbidden},
		{"no cookie", func(r *http.Request) { r.Header.Del("Cookie") }, http.StatusForbidden},
		{"the key as cookie", func(r *http.Request) {
			r.Header.Set("Cookie", cookieName("7000")+"="+testKey)
		}, http.StatusForbidden},
		{"a wrong cookie", func(r *http.Request) { r.Header.Set("Cookie", cookieName("7000")+"=x") }, http.StatusForbidden},
	} {
		r := s.request("POST", "/jobs/kestrel-rise/edit", strings.NewReader(form))
		c.change(r)
		w := s.send(r)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.name, w.Code, c.want)
		}
		if s.file("kestrel-rise") != before {
			t.Fatalf("%s: the file was changed", c.name)
		}
		if strings.Contains(w.Body.String(), "Kestrel") {
			t.Errorf("%s: the answer tells of the job", c.name)
		}
	}
	if w := s.send(s.request("POST", "/jobs/kestrel-rise/edit", strings.NewReader(form))); w.Code != http.StatusOK {
		t.Errorf("somebody who is let in: %d", w.Code)
	}
}

// TestCookieOfAnother: another server of this machine can give the browser a cookie of our
// name for a path of ours; whichever comes first, the right one opens.
func TestCookieOfAnother(t *testing.T) {
	s := serve(t, "kestrel-rise")
	right := s.cookie.Name + "=" + s.cookie.Value
	for _, c := range []struct {
		cookies string
		want    int
	}{
		{cookieName("7000") + "=x; " + right, http.StatusOK},
		{right + "; " + cookieName("7000") + "=x", http.StatusOK},
		{cookieName("7000") + "=x; " + cookieName("7000") + "=y", http.StatusForbidden},
	} {
		r := s.request("GET", "/jobs/kestrel-rise", nil)
		r.Header.Set("Cookie", c.cookies)
		if w := s.send(r); w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.cookies, w.Code, c.want)
		}
	}
}

// TestFetchedFromElsewhere: what a page of another site or port fetches gets nothing and
// starts nothing; a person who follows a link from there is let in.
func TestFetchedFromElsewhere(t *testing.T) {
	s := serve(t, "kestrel-rise")
	for _, site := range []string{"same-site", "cross-site"} {
		for _, c := range []struct {
			mode, dest, user string
			want             int
		}{
			{"navigate", "document", "?1", http.StatusOK},
			{"navigate", "document", "", http.StatusForbidden}, // sent on by a page
			{"navigate", "iframe", "", http.StatusForbidden},
			{"navigate", "iframe", "?1", http.StatusForbidden},
			{"no-cors", "image", "", http.StatusForbidden},
			{"cors", "empty", "", http.StatusForbidden},
		} {
			r := s.request("GET", "/jobs/kestrel-rise", nil)
			for name, value := range map[string]string{"Site": site, "Mode": c.mode, "Dest": c.dest, "User": c.user} {
				r.Header.Set("Sec-Fetch-"+name, value)
			}
			if w := s.send(r); w.Code != c.want {
				t.Errorf("%s, %+v: %d", site, c, w.Code)
			}
		}
	}
}

// TestKey: the key is exchanged for a cookie that scripts cannot read and other sites
// cannot send; a wrong one is not.
func TestKey(t *testing.T) {
	s := serve(t)
	if c := s.cookie; c == nil || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Value == testKey {
		t.Errorf("cookie %+v", c)
	}
	for _, q := range []string{"", "?key=", "?key=wrong"} {
		w := s.send(httptest.NewRequest("GET", "http://"+testHost+"/enter"+q, nil))
		if w.Code != http.StatusForbidden || len(w.Result().Cookies()) > 0 {
			t.Errorf("/enter%s: %d, cookies %v", q, w.Code, w.Result().Cookies())
		}
	}
	if a, b := newKey(), newKey(); a == b || len(a) < 22 {
		t.Errorf("keys %q, %q: too short or alike", a, b)
	}
}

// TestFences: every answer is fenced in, and no page holds what the fence forbids.
func TestFences(t *testing.T) {
	s := serve(t, "kestrel-rise")
	inline := regexp.MustCompile(`(?i)<script(?:>|[^>]*>[^<])|<style|\sstyle=|\son[a-z]+\s*=|javascript:|https?://(?:[^w]|w[^w])`)
	for _, path := range []string{"/", "/jobs/kestrel-rise", "/jobs/kestrel-rise/survey", "/jobs/kestrel-rise/earlier", "/nowhere", "/jobs/nobody"} {
		w := s.send(s.request("GET", path, nil))
		h := w.Header()
		if h.Get("Content-Security-Policy") != policy || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") == "" {
			t.Errorf("%s: headers %v", path, h)
		}
		if m := inline.FindString(w.Body.String()); m != "" {
			t.Errorf("%s holds %q", path, m)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") {
		t.Errorf("policy %s", policy)
	}
}

// TestLimits: too large a form is refused in words, and nothing is changed.
func TestLimits(t *testing.T) {
	s := serve(t, "kestrel-rise")
	before := s.file("kestrel-rise")
	code, page := s.post("/jobs/kestrel-rise/edit", fields("survey", "notes", "", strings.Repeat("x", bodyLimit)))
	if code != http.StatusRequestEntityTooLarge || s.file("kestrel-rise") != before {
		t.Errorf("a form of over 1 MB: %d", code)
	}
	needs(t, page, "larger than a job can be")
	s.write("big", strings.Repeat("# x\n", fileLimit/4+1))
	if w := s.send(s.request("GET", "/jobs/big", nil)); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a file of over 1 MB: %d", w.Code)
	}
}

// TestGetChangesNothing: no address does anything by being opened.
func TestGetChangesNothing(t *testing.T) {
	s := serve(t, "kestrel-rise")
	s.post("/jobs/kestrel-rise/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.3 bar"))
	state := func() string {
		var list []string
		err := filepath.WalkDir(s.dir, func(path string, e os.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				b, _ := os.ReadFile(path)
				list = append(list, path, string(b))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(list, "\n")
	}
	before := state()
	for _, path := range []string{"/", "/look?look=dark", "/example", "/trash/back", "/jobs/kestrel-rise?fine=1&see=off", "/jobs/kestrel-rise?as=json",
		"/jobs/kestrel-rise/survey?v:supply.static=9+bar&w:supply.static=3.3+bar", "/jobs/kestrel-rise/edit", "/jobs/kestrel-rise/undo",
		"/jobs/kestrel-rise/redo", "/jobs/kestrel-rise/restore", "/jobs/kestrel-rise/copy", "/jobs/kestrel-rise/rename?to=x", "/jobs/kestrel-rise/throw", "/jobs/kestrel-rise/remedy", "/jobs/kestrel-rise/item"} {
		s.send(s.request("GET", path, nil))
		if state() != before {
			t.Fatalf("GET %s changed something", path)
		}
	}
}

// TestBackStaysHere: a form cannot send anybody elsewhere.
func TestBackStaysHere(t *testing.T) {
	for _, to := range []string{"https://evil.example/", "//evil.example/", `/\evil.example`, "javascript:alert(1)", "evil", "", "/a\r\nX: y"} {
		if got := local(to); got != "/" {
			t.Errorf("back to %q leads to %q", to, got)
		}
	}
	s := serve(t)
	w := s.send(s.request("POST", "/look", strings.NewReader(url.Values{"look": {"dark"}, "back": {"https://evil.example/"}}.Encode())))
	if w.Header().Get("Location") != "/" {
		t.Errorf("led to %q", w.Header().Get("Location"))
	}
	if !strings.Contains(s.get("/"), "<html") {
		t.Error("no page")
	}
}

// TestHostile: whatever stands in a field, a name or a file, the page shows it and nothing
// of it acts.
func TestHostile(t *testing.T) {
	const evil = `"'><img src=x onerror=alert(1)></textarea></title><script>alert(2)</script><a href=javascript:alert(3)>{{.}}`
	s := serve(t, "kestrel-rise")
	all := url.Values{"section": {"survey"}}
	doc := s.file("kestrel-rise")
	s.write("hostile", strings.Replace(doc, "name: Kestrel Rise", "name: '"+strings.ReplaceAll(evil, "'", "''")+"'", 1))
	s.write("broken", doc+"\n"+evil+": [")
	s.write("unknown key", doc+"\n\""+strings.NewReplacer(`"`, `\"`).Replace(evil)+"\": 1\n")
	var pages []string
	for _, section := range []string{"survey", "store", "pump-and-pipe", "valves", "power", "buy", "hand-over", "log"} {
		page := s.get("/jobs/hostile/" + section)
		form := url.Values{"section": {section}}
		for _, m := range regexp.MustCompile(`name="v:([^"]*)"`).FindAllStringSubmatch(page, -1) {
			form.Set(boxKey+m[1], evil)
			form.Set(wasKey+m[1], "not what it was")
		}
		_, conflict := s.post("/jobs/hostile/edit", form)
		for k := range form {
			if path, ok := strings.CutPrefix(k, wasKey); ok {
				form.Del(k)
				if b := regexp.MustCompile(`name="w:` + regexp.QuoteMeta(path) + `" value="([^"]*)"`).FindStringSubmatch(page); b != nil {
					form.Set(k, strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&lt;", "<", "&gt;", ">", "&amp;", "&", "&#43;", "+").Replace(b[1]))
				}
			}
		}
		_, after := s.post("/jobs/hostile/edit", form)
		pages = append(pages, page, conflict, after)
	}
	_, item := s.post("/jobs/hostile/item", url.Values{"section": {"survey"}, "list": {"outlets"}, "tag": {evil}, "v:outlets.*.kind": {evil}, "v:outlets.*.height": {evil}})
	_, edit := s.post("/jobs/hostile/remedy", url.Values{"op": {"set"}, "path": {evil}, "was": {""}, "text": {evil}})
	_, named := s.post("/jobs/hostile/rename", url.Values{"to": {evil}})
	_, copied := s.post("/jobs/"+url.PathEscape(evil)+"/copy", all)
	pages = append(pages, item, edit, named, copied, s.get("/jobs/broken"), s.get("/jobs/unknown%20key"), s.get("/"), s.get("/jobs/hostile"), s.get("/jobs/hostile/earlier"))
	acts := regexp.MustCompile(`(?i)<img|<script>|<a href="?javascript:|</title><script|\{\{`)
	shown := 0
	for i, page := range pages {
		if m := acts.FindString(strings.ReplaceAll(page, "{{.}}", "")); m != "" {
			t.Errorf("page %d holds %q", i, m)
		}
		if strings.Contains(page, "&lt;img src=x") {
			shown++
		}
	}
	if shown < 10 {
		t.Errorf("only %d pages show the hostile text: the test does not reach them", shown)
	}
	if w := s.send(s.request("GET", "/static/..%2fguard.go", nil)); w.Code != http.StatusNotFound {
		t.Errorf("a way out of the static files: %d", w.Code)
	}
	if w := s.send(s.request("GET", "/jobs/..%2f..%2fetc%2fpasswd", nil)); w.Code != http.StatusNotFound {
		t.Errorf("a way out of the folder: %d", w.Code)
	}
	if _, err := os.Stat(filepath.Join(s.dir, "hostile"+shelf.Suffix)); err != nil {
		t.Error(err)
	}
}
