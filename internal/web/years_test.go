package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// TestYears: nothing is lived on GET; a form begins it, a page without script follows it,
// the desk stays free meanwhile, and the answer says what it rests on and when it is old.
func TestYears(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	page := s.get(job + "/years")
	needs(t, page, `action="/jobs/juniper-flat/years"`)
	if strings.Contains(page, "data-wait") || strings.Contains(page, "<svg") {
		t.Error("something is lived before anybody asked")
	}
	if code, page := s.post(job+"/years", url.Values{"full": {""}}); code != http.StatusSeeOther {
		t.Fatalf("%d", code)
	} else if strings.Contains(page, "data-wait") {
		needs(t, page, `<noscript><meta http-equiv="refresh"`, `action="/jobs/juniper-flat/years/stop"`, "<progress")
	}
	needs(t, s.get(job+"/store"), "choices.store.row") // the desk is free
	page = s.wait("/jobs/juniper-flat/years")
	needs(t, page, "160 years were lived through", `id="c-store-size"`, `id="c-store-worst"`, `id="c-store-age"`, `id="c-store-year"`, "300 gal (at hand)", "hangs on it, whether anybody opens a tap", "Interruptions ridden out")
	if n := strings.Count(page, "<svg"); n != 4 {
		t.Errorf("%d drawings, want 4", n)
	}
	if strings.Contains(page, "‹") {
		t.Error("a message is missing")
	}
	s.post(job+"/edit", fields("survey", "home.people", "3", "4"))
	needs(t, s.get(job+"/years"), "changed since")
}

// TestYearsStopped: a long run waits for another, can be stopped, and begun again.
func TestYearsStopped(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	// A long one waits for the one long run, which the tests hold.
	_, page := s.post(job+"/years", url.Values{"full": {"1"}})
	needs(t, page, "data-wait", "Waiting for another long run")
	_, page = s.post(job+"/years/stop", url.Values{})
	needs(t, page, "Stopped", `value="1" checked`)
	s.post(job+"/years", url.Values{"full": {""}})
	needs(t, s.wait("/jobs/juniper-flat/years"), "The years were lived through.")
}

// TestYearsNotLived: a home in which nothing can be lived says why.
func TestYearsNotLived(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	s.post(job+"/edit", fields("survey", "interruptions.log", "", "log.csv"))
	s.post(job+"/years", url.Values{})
	needs(t, s.wait("/jobs/juniper-flat/years"), "could not be lived through", "log.csv")
}
