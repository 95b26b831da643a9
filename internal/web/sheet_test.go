package web

import (
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

var sheetName = regexp.MustCompile(`data-sheet="([^"]+)"`)

// over asks for a page, or sends a form, with the sheet of an earlier answer.
func (s *site) over(before, method, path, form string) string {
	s.t.Helper()
	var body io.Reader
	if form != "" {
		body = strings.NewReader(form)
	}
	r := s.request(method, path, body)
	if before != "" {
		r.Header.Set(sheetHeader, sheetName.FindStringSubmatch(before)[1])
	}
	return s.send(r).Body.String()
}

// TestSheet: who says what lies before them gets what changed; who does not, gets a whole
// page, whoever was there before.
func TestSheet(t *testing.T) {
	s := serve(t, "kestrel-rise")
	whole := s.over("", http.MethodGet, kestrel+"/survey", "")
	if again := s.over("", http.MethodGet, kestrel+"/survey", ""); strings.Contains(again, "data-same") {
		t.Fatal("a page asked for anew lacks blocks")
	}
	const box = `id="i-home.people"`
	if got := s.over(whole, http.MethodGet, kestrel+"/survey", ""); strings.Contains(got, box) || !strings.Contains(got, `id="g-home" data-same=`) {
		t.Error("a block that is there already is sent again")
	}
	if got := s.over(whole, http.MethodGet, kestrel+"/store", ""); strings.Contains(got, "data-same") {
		t.Error("another section has other forms")
	}
	edited := s.over(whole, http.MethodPost, kestrel+"/edit", fields("survey", "supply.static", "3.2 bar ±0.1", "3.3 bar ±0.1").Encode())
	if !strings.Contains(edited, `id="i-supply.static"`) || strings.Contains(edited, box) {
		t.Error("an edit sends another block than the one it changed")
	}
	if got := s.over(whole, http.MethodGet, kestrel+"/survey", ""); !strings.Contains(got, `id="i-supply.static"`) {
		t.Error("a tab that shows the state before does not get what changed")
	}
	same := fields("survey", "home.people", "5", "5")
	same.Set("at", "g-home")
	if got := s.over(edited, http.MethodPost, kestrel+"/edit", same.Encode()); !strings.Contains(got, box) {
		t.Error("the block a form was sent from is not sent")
	}
	for range mostSheets {
		s.over("", http.MethodGet, kestrel+"/survey", "")
	}
	if got := s.over(whole, http.MethodGet, kestrel+"/survey", ""); strings.Contains(got, "data-same") {
		t.Error("a sheet nobody remembers is taken for known")
	}
}
