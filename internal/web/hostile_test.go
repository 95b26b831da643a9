package web

import (
	"net/url"
	"strings"
	"testing"
)

// TestHostileName: a job that is called like a script is shown and named, and never run, on
// every page beside its sections and in the head of what is downloaded.
func TestHostileName(t *testing.T) {
	s := serve(t, "kestrel-rise")
	const evil = `"><script>alert(1)</script><img src=x onerror=alert(2)>`
	file := s.file("kestrel-rise")
	from := strings.Index(file, "\nname:") + 1
	to := from + strings.IndexByte(file[from:], '\n')
	s.write("kestrel-rise", file[:from]+`name: '`+evil+`'`+file[to:])
	for _, page := range []string{"/turn", "/turn?case=on-store+draw=many", "/charts", "/side", "/years", "/swap", "/swap?part=P1", "/swap?part=P1&row=peripheral-0.55", "/pack"} {
		text := s.get(kestrel + page)
		if strings.Contains(text, "<script>alert") || strings.Contains(text, "<img src=x") {
			t.Errorf("%s runs what a name says", page)
		}
		needs(t, text, "&lt;script&gt;alert(1)")
	}
	s.post(kestrel+"/pack", url.Values{"paper": {"a4"}, "set": {"short"}})
	s.wait("/jobs/kestrel-rise/pack")
	for _, name := range []string{"schematic-normal.svg", "findings.json"} {
		w := s.send(s.request("GET", kestrel+"/pack/"+name, nil))
		if strings.Contains(name, ".svg") && strings.Contains(w.Body.String(), "<script>") || !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment") {
			t.Errorf("%s: %v", name, w.Header())
		}
	}
}
