package web

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/shelf"
)

const testHost, testKey = "127.0.0.1:7000", "a-key-for-tests"

// site is a served folder and somebody who is let in.
type site struct {
	t      testing.TB
	dir    string
	pages  *Pages
	door   http.Handler
	cookie *http.Cookie
}

// serve serves a folder that holds the named examples.
func serve(t testing.TB, names ...string) *site {
	t.Helper()
	dir := t.TempDir()
	for _, name := range names {
		if err := os.WriteFile(filepath.Join(dir, name+shelf.Suffix), demo.Source(t, name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	folder, err := shelf.OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	s := &site{t: t, dir: dir, pages: New(folder, cat, "test", func() string { return "2026-03-02" })}
	<-s.pages.chair.free // no test but those that ask for it tries every failure
	t.Cleanup(func() { s.pages.Close(); folder.Close() })
	s.door = newGuard([]string{testHost, "localhost:7000", "[::1]:7000"}, "7000", testKey, s.pages)
	r := s.send(httptest.NewRequest("GET", "http://"+testHost+"/enter?key="+testKey, nil))
	if cookies := r.Result().Cookies(); len(cookies) == 1 {
		s.cookie = cookies[0]
	}
	return s
}

func (s *site) send(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.door.ServeHTTP(w, r)
	return w
}

func (s *site) request(method, path string, body io.Reader) *http.Request {
	r := httptest.NewRequest(method, "http://"+testHost+path, body)
	if s.cookie != nil {
		r.AddCookie(s.cookie)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	r.Header.Set("HX-Request", "true") // no waiting for what comes later
	return r
}

// get returns a page, which must answer with 200.
func (s *site) get(path string) string {
	s.t.Helper()
	w := s.send(s.request("GET", path, nil))
	if w.Code != http.StatusOK {
		s.t.Fatalf("GET %s: %d: %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

// post sends a form as a browser without script does, and returns the status and the page:
// after a redirect, the page it leads to.
func (s *site) post(path string, form url.Values) (int, string) {
	s.t.Helper()
	r := s.request("POST", path, strings.NewReader(form.Encode()))
	r.Header.Del("HX-Request")
	w := s.send(r)
	if w.Code == http.StatusSeeOther {
		return w.Code, s.get(w.Header().Get("Location"))
	}
	return w.Code, w.Body.String()
}

// lay sends a form as the page's script does: the answer is the page to lay over it.
func (s *site) lay(path string, form url.Values) string {
	s.t.Helper()
	w := s.send(s.request("POST", path, strings.NewReader(form.Encode())))
	if w.Code != http.StatusOK {
		s.t.Fatalf("POST %s: %d: %s", path, w.Code, w.Body)
	}
	return w.Body.String()
}

func (s *site) file(name string) string {
	s.t.Helper()
	b, err := os.ReadFile(filepath.Join(s.dir, name+shelf.Suffix))
	if err != nil {
		s.t.Fatal(err)
	}
	return string(b)
}

func (s *site) write(name, text string) {
	s.t.Helper()
	if err := os.WriteFile(filepath.Join(s.dir, name+shelf.Suffix), []byte(text), 0o644); err != nil {
		s.t.Fatal(err)
	}
}

// fields is a form of boxes: path, what was seen, what is typed.
func fields(section string, triples ...string) url.Values {
	v := url.Values{"section": {section}}
	for i := 0; i < len(triples); i += 3 {
		v.Set(wasKey+triples[i], triples[i+1])
		v.Set(boxKey+triples[i], triples[i+2])
	}
	return v
}

func needs(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if !strings.Contains(page, text) {
			t.Errorf("the page does not hold %q", text)
		}
	}
}

// boxOf returns what stands in a field's box.
func boxOf(t *testing.T, page, path string) string {
	t.Helper()
	m := regexp.MustCompile(`<input id="i-` + regexp.QuoteMeta(path) + `" name="[^"]*" value="([^"]*)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no box for %s", path)
	}
	return m[1]
}
