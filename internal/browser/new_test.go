package browser

import (
	"io"
	"net/http"
	"strings"
	"testing"
)

// TestNewJob: from the empty shelf, the interview, one question at a time, to a job with
// findings, and on to its pack.
func TestNewJob(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t)
		v := h.visit(t, scripts)
		v.leave(func() { v.click(`a[href="/new"]`) }, "/new")
		asked := ""
		for n := 0; see[bool](v, "Boolean("+has("form.ask")+")"); n++ {
			if n > 60 {
				t.Fatal("the interview does not end")
			}
			asked = see[string](v, has("form.ask input[name=question]")+".value")
			// What keeps an ordinary answer keeps it; the rest takes the first choice.
			if see[bool](v, `!document.querySelector("form.ask input:checked") && Boolean(document.querySelector("label.pick input")) && !document.querySelector("#answer[name=typed]")`) {
				v.click("label.pick")
			} else if asked == "people" {
				v.write("#answer", "4")
			}
			v.click("form.ask button.save")
			v.until(`document.readyState === "complete" && (!document.querySelector("form.ask") || document.querySelector("form.ask input[name=question]").value !== ` + js(asked) + ` || document.querySelector("#problems"))`)
			if see[bool](v, "Boolean("+has("#problems")+")") {
				t.Logf("%s: %s", asked, v.text("#problems"))
				v.click("form.ask button.unknown")
				v.until(`document.readyState === "complete" && (!document.querySelector("form.ask") || document.querySelector("form.ask input[name=question]").value !== ` + js(asked) + ")")
			}
		}
		v.click("form button.save")
		v.until(`location.pathname.startsWith("/jobs/") && document.querySelector(".finding")`)
		v.click(`.doings a[href$="/pack"]`)
		v.click("form.group button.save")
		v.until(has(`a[href$="/pack/pack.pdf"]`))
		v.until(has(`a[href$="/pack/pack.zip"]`))
	})
}

// TestRefusals: without the key, with a wrong key, and under another name, nothing is shown.
func TestRefusals(t *testing.T) {
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	v.open("/enter?key=wrong")
	if strings.Contains(v.text("body"), "Kestrel") {
		t.Error("a wrong key shows the job")
	}
	v.do(clearCookies)
	v.open(kestrel)
	if strings.Contains(v.text("body"), "Kestrel") {
		t.Error("without the key the job is shown")
	}
	for host, want := range map[string]int{"evil.example": http.StatusMisdirectedRequest, h.host: http.StatusForbidden} {
		r, err := http.NewRequest(http.MethodGet, "http://"+h.host+kestrel, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host
		got, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(got.Body)
		got.Body.Close()
		if got.StatusCode != want || strings.Contains(string(text), "Kestrel") {
			t.Errorf("asked as %s: %d %s", host, got.StatusCode, text)
		}
	}
}

// TestKeyboard: the skip link comes first and leads to the work; every stop of the tab key
// shows where it is; an edit is made and undone with keys alone.
func TestKeyboard(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		v.press("\t")
		v.until("document.activeElement.matches('a.skip')")
		v.press("\r")
		v.until("document.activeElement.id === 'work' || location.hash === '#work'")
		for range 300 {
			v.press("\t")
			if see[bool](v, "document.activeElement === "+has(box("home.people"))) {
				break
			}
			if !see[bool](v, visible) {
				t.Errorf("the focus is not to be seen on %s", see[string](v, "document.activeElement.outerHTML.slice(0, 120)"))
			}
		}
		v.until("document.activeElement === " + has(box("home.people")))
		v.press("7") // a box reached by tab has its text chosen
		v.press("\r")
		v.until(says(".latest", "7"))
		v.do(focus("#undo"))
		v.press(" ")
		v.until(has(box("home.people")) + "?.value !== '7'")
	})
}

// visible: what has the focus is on the screen with an outline or a ring.
const visible = `(() => { const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
	const ring = (s) => s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || s.boxShadow !== "none";
	const label = e.labels && e.labels[0];
	return (ring(s) || (label && ring(getComputedStyle(label)))) && r.bottom > 0 && r.top < innerHeight; })()`
