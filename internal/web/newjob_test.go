package web

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// formOf reads the hidden fields of a page's form.
func formOf(page string) url.Values {
	v := url.Values{}
	for _, m := range regexp.MustCompile(`<input type="hidden" name="([^"]*)" value="([^"]*)">`).FindAllStringSubmatch(page, -1) {
		if m[1] != "back" {
			v.Set(m[1], html.UnescapeString(m[2]))
		}
	}
	return v
}

// TestInterview: a new job, one question at a time: a refused answer stays, one can go
// back and change one's mind, and not knowing is an answer.
func TestInterview(t *testing.T) {
	s := serve(t)
	needs(t, s.get("/"), `href="/new"`)
	page := s.get("/new")
	asked, tried := 0, false
	for ; strings.Contains(page, `name="question"`) && asked < 60; asked++ {
		form := formOf(page)
		switch form.Get("question") {
		case "name":
			form.Set("typed", "Mill Lane <b>7</b>")
			form.Set("go", "next")
		case "people":
			if !tried {
				tried = true
				form.Set("typed", "lots")
				form.Set("go", "next")
				w := s.send(s.request("GET", "/new?"+form.Encode(), nil))
				if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `value="lots"`) {
					t.Errorf("lots of people: %d", w.Code)
				}
				back := formOf(page)
				back.Set("go", "back")
				if before := s.get("/new?" + back.Encode()); formOf(before).Get("question") == "people" {
					t.Error("back leads nowhere")
				}
			}
			form.Set("typed", "4")
			form.Set("go", "next")
		case "heater":
			form.Set("option", "storage-pressure")
			form.Set("go", "next")
		case "also": // what nobody knows of other water in the store makes no file
			form.Set("option", "none")
			form.Set("go", "next")
		default:
			form.Set("go", "unknown")
		}
		page = s.get("/new?" + form.Encode())
	}
	needs(t, page, "Your answers", "Mill Lane &lt;b&gt;7&lt;/b&gt;")
	if asked < 8 {
		t.Errorf("only %d questions", asked)
	}
	change := regexp.MustCompile(`href="(/new\?[^"]*at=people[^"]*)"`).FindStringSubmatch(page)
	if change == nil {
		t.Fatal("no way to change an answer")
	}
	form := formOf(s.get(html.UnescapeString(change[1])))
	form.Set("typed", "3")
	form.Set("go", "next")
	page = s.get("/new?" + form.Encode())
	needs(t, page, "Your answers")
	code, made := s.post("/new", formOf(page))
	if code != http.StatusSeeOther {
		t.Fatalf("%d: %s", code, made)
	}
	fight := formOf(page)
	fight.Set("a.heater", "storage-vented")
	code, refused := s.post("/new", fight)
	if code != http.StatusUnprocessableEntity {
		t.Errorf("answers that fight: %d", code)
	}
	needs(t, refused, "These answers cannot both hold", `at=heater`)
	file := s.file("mill-lane-b-7-b")
	if !strings.Contains(file, "people: 3") || !strings.Contains(file, "date: 2026-03-02") {
		t.Errorf("the file is\n%s", file)
	}
	needs(t, made, "Mill Lane &lt;b&gt;7&lt;/b&gt;")
	if strings.Contains(made, "Put this right first") {
		t.Error("the new job cannot be worked out")
	}
}
