package web

import (
	"bytes"
	"compress/gzip"
	"embed"
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"time"

	"tideover/internal/shelf"
	"tideover/internal/words"
)

//go:embed pages/*.html
var pagesFS embed.FS

// frame is what every page has.
type frame struct {
	Title string
	Look  string // "light", "dark" or "" for what the screen prefers
	Here  string // the page's own path, for forms that come back to it
	Error bool   // something has to be put right: said in the title first
}

func (p *Pages) frame(r *http.Request, title string) frame {
	f := frame{Title: title, Here: r.URL.Path}
	if r.URL.RawQuery != "" {
		f.Here += "?" + r.URL.RawQuery
	}
	if r.Method != http.MethodGet {
		f.Here = local(r.PostFormValue("back"))
	}
	if c, err := r.Cookie(lookCookie); err == nil && (c.Value == "light" || c.Value == "dark") {
		f.Look = c.Value
	}
	return f
}

var functions = template.FuncMap{
	"say":    say,
	"moment": moment,
	"path":   url.PathEscape,
	"static": staticURL,
	"join":   strings.Join,
}

// moment prints when something happened, in the time of this machine.
func moment(t time.Time) string { return t.Local().Format("2006-01-02 15:04") }

// templates are the pages by name: the frame with each page's own parts.
var templates = sync.OnceValue(func() map[string]*template.Template {
	shared := template.New("frame.html").Funcs(functions)
	entries, err := pagesFS.ReadDir("pages")
	if err != nil {
		panic(err)
	}
	own := map[string]string{}
	for _, e := range entries {
		text, err := pagesFS.ReadFile("pages/" + e.Name())
		if err != nil {
			panic(err)
		}
		name := e.Name()
		switch {
		case name == "frame.html":
			template.Must(shared.Parse(spoken(text)))
		case strings.HasPrefix(name, "parts_"):
			template.Must(shared.New(name).Parse(spoken(text)))
		default:
			own[strings.TrimSuffix(name, ".html")] = spoken(text)
		}
	}
	all := map[string]*template.Template{}
	for name, text := range own {
		all[name] = template.Must(template.Must(shared.Clone()).Parse(text))
	}
	return all
})

var saying = regexp.MustCompile(`\{\{say "([^"]+)"\}\}`)

// spoken puts the sentences without places into a template once for all: a page says
// hundreds.
func spoken(text []byte) string {
	return saying.ReplaceAllStringFunc(string(text), func(m string) string {
		return template.HTMLEscapeString(say(saying.FindStringSubmatch(m)[1]))
	})
}

var entered = template.Must(template.New("entered.html").Funcs(functions).Parse(
	`<!doctype html><html lang="en"><title>{{.Name}}</title><p><a href="/">{{.Enter}}</a></p></html>`))

// show writes a page, packed where the browser takes that.
func show(w http.ResponseWriter, r *http.Request, status int, page string, data any) {
	var b bytes.Buffer
	if err := templates()[page].ExecuteTemplate(&b, "frame.html", data); err != nil {
		http.Error(w, say("web.internal", "what", err.Error()), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	packed(w, r, status, b.Bytes())
}

func packed(w http.ResponseWriter, r *http.Request, status int, body []byte) {
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") && len(body) > 1000 {
		var z bytes.Buffer
		g, _ := gzip.NewWriterLevel(&z, gzip.BestSpeed)
		_, _ = g.Write(body)
		_ = g.Close()
		w.Header().Set("Content-Encoding", "gzip")
		body = z.Bytes()
	}
	w.Header().Add("Vary", "Accept-Encoding")
	w.WriteHeader(status)
	_, _ = w.Write(body)
}

// plain answers with one sentence.
func plain(w http.ResponseWriter, status int, id string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(words.Say(id, nil) + "\n"))
}

// trouble is the page for what a person cannot mend by typing something else.
type trouble struct {
	frame
	What []string
	Back string // where somebody came from
}

// fail tells why a page cannot be shown, or a change be made.
func (p *Pages) fail(w http.ResponseWriter, r *http.Request, err error) {
	status := http.StatusInternalServerError
	var tooLarge *http.MaxBytesError
	var onDisk *shelf.Error
	var changed *shelf.Changed
	text := err.Error()
	switch {
	case errors.As(err, &tooLarge):
		status, text = http.StatusRequestEntityTooLarge, say("web.too-large")
	case errors.As(err, &changed):
		status = http.StatusConflict
	case errors.As(err, &onDisk):
		status = http.StatusUnprocessableEntity
		if r.Method == http.MethodGet && (onDisk.ID == "shelf.missing" || onDisk.ID == "shelf.job-name") {
			status = http.StatusNotFound
		}
	}
	p.troubled(w, r, status, text)
}

func (p *Pages) troubled(w http.ResponseWriter, r *http.Request, status int, text ...string) {
	f := p.frame(r, say("web.trouble"))
	f.Error = true
	back := "/"
	if u, err := url.Parse(r.Referer()); err == nil && u.Host == r.Host && u.RequestURI() != r.URL.RequestURI() {
		back = local(u.RequestURI())
	}
	show(w, r, status, "trouble", trouble{f, text, back})
}

func (p *Pages) nothing(w http.ResponseWriter, r *http.Request) {
	p.troubled(w, r, http.StatusNotFound, say("web.nothing"))
}

// form reads a request's form; false when it was refused and answered.
func (p *Pages) form(w http.ResponseWriter, r *http.Request) bool {
	if err := r.ParseForm(); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			p.fail(w, r, err)
			return false
		}
		p.troubled(w, r, http.StatusBadRequest, say("web.form"))
		return false
	}
	return true
}

// goTo sends the browser to a page of ours after something was done.
func goTo(w http.ResponseWriter, r *http.Request, path string) {
	http.Redirect(w, r, local(path), http.StatusSeeOther)
}
