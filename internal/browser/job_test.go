package browser

import (
	"strings"
	"testing"
)

const kestrel = "/jobs/kestrel-rise"

// box is the selector of a field's box.
func box(path string) string { return `[id="i-` + path + `"]` }

// TestEdit: a number is changed, what depends on it moves, the file holds it; undo and redo
// bring both states back.
func TestEdit(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		before := see[string](v, has(box("home.people"))+".value")
		v.write(box("home.people"), "9")
		v.press("\r")
		v.until(says(".latest", "9"))
		if got := see[string](v, has(box("home.people"))+".value"); got != "9" {
			t.Errorf("the box says %q", got)
		}
		if !strings.Contains(h.file("kestrel-rise"), "people: 9") {
			t.Error("the file does not hold the edit")
		}
		v.click("#undo")
		v.until(has(box("home.people")) + "?.value === " + js(before))
		v.until("!" + has("#redo") + ".disabled")
		v.click("#redo")
		v.until(has(box("home.people")) + "?.value === '9'")
	})
}

// TestRefused: what the file cannot hold stays in its box with the reason beside it, and the
// reason leads to the box.
func TestRefused(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		v.write(box("supply.static"), "three bar")
		v.press("\r")
		v.until(has("#problems"))
		v.until("document.activeElement?.id === 'problems' || document.activeElement?.getAttribute('aria-invalid') === 'true'")
		if got := see[string](v, has(box("supply.static"))+".value"); got != "three bar" {
			t.Errorf("what was typed is gone: %q", got)
		}
		v.click("#problems a")
		v.until("location.hash === '#i-supply.static'")
		if strings.Contains(h.file("kestrel-rise"), "three bar") {
			t.Error("the file holds what was refused")
		}
	})
}

// TestRemedy: a tried remedy is taken by one press, named, and taken back.
func TestRemedy(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		v.write(box("home.people"), "9")
		v.press("\r")
		v.until(says(".latest", "9"))
		v.open(kestrel)
		v.grown()
		v.until(has("form.remedy button"))
		before := h.file("kestrel-rise")
		v.click("form.remedy button")
		v.until(`!document.querySelector(".latest").innerText.includes("9") && !` + has("#problems"))
		if h.file("kestrel-rise") == before {
			t.Error("the remedy changed nothing")
		}
		v.click("#undo")
		v.until(says(".latest", "9"))
		if h.file("kestrel-rise") != before {
			t.Error("the remedy taken back leaves something")
		}
	})
}

// TestOutside: a file changed by another program is what the next page shows, and an edit of
// another field joins it.
func TestOutside(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		h.write("kestrel-rise", strings.Replace(h.file("kestrel-rise"), "people:", "people: 7 #", 1))
		v.write(box("supply.static"), "3.4 bar ±0.1")
		v.press("\r")
		v.until(says(".latest", "3.4") + " && " + has(box("home.people")) + "?.value === '7'")
		if got := h.file("kestrel-rise"); !strings.Contains(got, "people: 7") || !strings.Contains(got, "3.4 bar") {
			t.Error("one of the two changes is lost")
		}
	})
}

// TestTwoTabs: the second tab's edit of another field joins the first's; of the same field,
// it asks, with both in view.
func TestTwoTabs(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		one, two := h.visit(t, scripts), h.visit(t, scripts)
		one.open(kestrel + "/survey")
		two.open(kestrel + "/survey")
		one.write(box("home.people"), "6")
		one.press("\r")
		one.until(says(".latest", "6"))
		one.write(box("supply.static"), "2.9 bar ±0.1") // and before it is sent
		two.write(box("supply.static"), "3.4 bar ±0.1")
		two.press("\r")
		two.until(has(box("home.people")) + "?.value === '6'")
		if scripts { // what is to come for the page before has come
			one.until("document.getElementById('work').dataset.revision === " + js(see[string](two, "document.getElementById('work').dataset.revision")))
		}
		one.press("\r")
		one.until(has("#problems"))
		if text := one.text("#problems"); !strings.Contains(text, "3.4 bar") {
			t.Errorf("the question does not say what the file says: %s", text)
		}
		if !strings.Contains(h.file("kestrel-rise"), "3.4 bar") {
			t.Error("the second edit went over the first without asking")
		}
		one.click(`button[name=drop]`) // theirs stands
		one.until(has(box("supply.static")) + "?.value.startsWith('3.4')")
	})
}

// TestOvertaken: an edit made while the run of the state before goes on is what the page
// ends with; nothing of the older run comes after it.
func TestOvertaken(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/survey")
		for _, people := range []string{"9", "8", "5"} {
			v.write(box("home.people"), people)
			v.press("\r")
			v.until(says(".latest", people))
		}
		rev := see[string](v, "document.getElementById('work').dataset.revision")
		v.grown()
		if now := see[string](v, "document.getElementById('work').dataset.revision"); now != rev {
			t.Errorf("the page ends with state %s, the last edit made %s", now, rev)
		}
		if got := see[string](v, has(box("home.people"))+".value"); got != "5" {
			t.Errorf("the box ends with %q", got)
		}
	})
}
