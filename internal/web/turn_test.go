package web

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// hrefs lists the addresses of links whose mark-up matches.
func hrefs(page, pattern string) []string {
	var list []string
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(page, -1) {
		list = append(list, html.UnescapeString(m[1]))
	}
	return list
}

// TestTurn: every valve is a link in the picture and beside it, the case turned to shows
// other water, and a second turn comes back to where it was. Nothing is changed by it.
func TestTurn(t *testing.T) {
	s := serve(t, "kestrel-rise")
	before := s.file("kestrel-rise")
	page := s.get(kestrel + "/turn?case=on-store+draw=many")
	needs(t, page, `aria-label="Turn V6 to shut"`, "stored water", "water at the taps", "home on the store", "the pump holding its pressure")
	drawn := hrefs(page, `<a href="([^"]*)" aria-label="Turn V6 to shut">`)
	beside := hrefs(page, `<a class="way-to" href="([^"]*)" aria-label="Turn V6 to shut">`)
	if len(drawn) != 1 || len(beside) != 1 || drawn[0] != beside[0] {
		t.Fatalf("V6 is turned by %q in the picture and by %q beside it", drawn, beside)
	}
	turned := s.get(drawn[0])
	needs(t, turned, `aria-label="Turn V6 to open"`)
	if strings.Contains(turned, "stored water</td>") {
		t.Error("stored water still moves behind a shut valve")
	}
	back := s.get(hrefs(turned, `<a href="([^"]*)" aria-label="Turn V6 to open">`)[0])
	if strings.Count(back, "stored water") != strings.Count(page, "stored water") {
		t.Error("turning back does not come back")
	}
	if s.file("kestrel-rise") != before {
		t.Error("looking changed the file")
	}
}

// TestTurnForm: what the form sends, piece by piece, is the case; hand, world and failure.
func TestTurnForm(t *testing.T) {
	s := serve(t, "kestrel-rise")
	q := url.Values{"hands": {"on-main V8=open"}, "main": {"sucking"}, "draw": {"none"}, "failed": {"check-stuck-open@N3"}}
	page := s.get(kestrel + "/turn?" + q.Encode())
	needs(t, page, `<option value="sucking" selected>`, `<option value="check-stuck-open@N3" selected>`,
		"non-return valve N3 stuck open", `value="on-main V8=open"`, "--case &#34;on-main V8=open main=sucking failed=check-stuck-open@N3&#34;")
}

// TestTurnRefused: what is no case is refused in words, with what would be one, and shown
// harmless.
func TestTurnRefused(t *testing.T) {
	s := serve(t, "kestrel-rise")
	for _, text := range []string{"on-store V3=sideways", `"><script>alert(1)</script>`, "main=<b>x</b>", strings.Repeat("V1=open ", 400), "failed=nothing@V1 \x00"} {
		w := s.send(s.request("GET", kestrel+"/turn?"+url.Values{"case": {text}}.Encode(), nil))
		page := w.Body.String()
		if w.Code != http.StatusUnprocessableEntity || strings.Contains(page, "<script>alert") || strings.Contains(page, "<b>x") {
			t.Errorf("%.40q: %d", text, w.Code)
		}
		needs(t, page, "<title>Error:", "That case cannot be shown")
	}
}

// TestFindingCase: the case that breaks a promise is one tap from its finding, and breaks it
// there.
func TestFindingCase(t *testing.T) {
	s := serve(t, "lantern-row")
	s.settled("lantern-row")
	page := s.get("/jobs/lantern-row")
	list := hrefs(page, `<a href="([^"]*/turn[^"]*)">See it happen</a>`)
	if len(list) == 0 {
		t.Fatal("no finding leads to its case")
	}
	for _, to := range list {
		shown := s.get(to)
		if strings.Contains(shown, "No promise is broken in this case.") && !strings.Contains(shown, "Not in this setting") {
			t.Errorf("%s breaks nothing", to)
		}
	}
}

// TestOrders: a proven order of movements is walked step by step, each an address.
func TestOrders(t *testing.T) {
	s := serve(t, "kestrel-rise")
	s.settled("kestrel-rise")
	page := s.get(kestrel + "/turn")
	starts := hrefs(page, `<a href="([^"]*step=0[^"]*)">Before the first step</a>`)
	if len(starts) < 2 {
		t.Fatalf("%d orders", len(starts))
	}
	at, steps := s.get(starts[0]), 0
	for ; steps < 30; steps++ {
		next := hrefs(at, `<a class="button" href="([^"]*)">Next step</a>`)
		if len(next) == 0 {
			break
		}
		at = s.get(next[0])
		needs(t, at, "Step before", `aria-current="step"`)
	}
	if steps == 0 || steps == 30 {
		t.Errorf("%d steps", steps)
	}
}

// settled waits until a job's promises were judged with nothing failed.
func (s *site) settled(name string) {
	s.t.Helper()
	m := regexp.MustCompile(`data-wait="([^"]*)"`).FindStringSubmatch(s.get("/jobs/" + name))
	if m != nil {
		s.get(html.UnescapeString(m[1]))
	}
}
