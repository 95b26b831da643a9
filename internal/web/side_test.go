package web

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSide: alternatives stand beside the job; one is taken by a form and undone.
func TestSide(t *testing.T) {
	s := serve(t, "juniper-flat")
	const job = "/jobs/juniper-flat"
	first := s.file("juniper-flat")
	page := s.get(job + "/side")
	needs(t, page, "as it is", "least", "most assured", "A full store lasts", `name="take" value="least"`)
	if s.file("juniper-flat") != first {
		t.Fatal("looking changed the file")
	}
	needs(t, s.wait(job+"/side"), "Each was judged whole", `name="take" value="least"`)
	form := formOf(page)
	form.Set("take", "least")
	code, _ := s.post(job+"/side", form)
	if code != http.StatusSeeOther || s.file("juniper-flat") == first {
		t.Fatalf("%d: nothing was taken", code)
	}
	if code, _ := s.post(job+"/side", form); code != http.StatusConflict {
		t.Errorf("a page of an earlier state takes: %d", code)
	}
	s.post(job+"/undo", url.Values{})
	if s.file("juniper-flat") != first {
		t.Error("undo did not bring the job back")
	}
	form.Set("take", "<b>")
	if code, page := s.post(job+"/side", form); code != http.StatusBadRequest || strings.Contains(page, "<b>\"") {
		t.Errorf("a design that is none: %d", code)
	}
}

// TestCompare: two files of the folder side by side, and what one judges otherwise; a file
// that is none, or outside, is refused in words.
func TestCompare(t *testing.T) {
	s := serve(t, "kestrel-rise")
	other := strings.Replace(s.file("kestrel-rise"), "people: 5", "people: 9", 1)
	s.write("kestrel-nine", other)
	page := s.wait(kestrel + "/side?with=kestrel-nine")
	needs(t, page, `<th scope="col" role="columnheader">kestrel-nine</th>`, "as it is", "Figures that move", "Each was judged whole")
	if strings.Contains(page, `name="take"`) {
		t.Error("another job is offered to be taken")
	}
	for _, name := range []string{"nothing", "../kestrel-rise", `"><script>alert(1)</script>`, "kestrel-rise/x"} {
		w := s.send(s.request("GET", kestrel+"/side?"+url.Values{"with": {name}}.Encode(), nil))
		if w.Code != http.StatusUnprocessableEntity || strings.Contains(w.Body.String(), "<script>alert") {
			t.Errorf("%q: %d", name, w.Code)
		}
	}
	if err := os.WriteFile(filepath.Join(s.dir, "broken.job.yaml"), []byte("format: 1\nname: [\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if w := s.send(s.request("GET", kestrel+"/side?with=broken", nil)); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a file that cannot be read: %d", w.Code)
	}
}

// TestSwap: a part is swapped at the counter: what changes is told before, it is taken,
// recorded as bought, and undone.
func TestSwap(t *testing.T) {
	s := serve(t, "kestrel-rise")
	first := s.file("kestrel-rise")
	needs(t, s.get(kestrel+"/swap"), "P1", "S1", `href="/jobs/kestrel-rise/swap?part=F1"`)
	needs(t, s.get(kestrel+"/swap?part=P1"), `type="radio" name="row" value="peripheral-0.55"`)
	page := s.get(kestrel + "/swap?part=P1&row=peripheral-0.55")
	needs(t, page, "Worse", `name="bought"`)
	if s.file("kestrel-rise") != first {
		t.Fatal("looking changed the file")
	}
	form := url.Values{"part": {"P1"}, "row": {"peripheral-0.55"}, "revision": {formOf(page).Get("revision")}, "bought": {"1"},
		"from": {"the shop: <i>corner</i> # 5"}, "paid": {"210"}}
	code, after := s.post(kestrel+"/swap", form)
	if code != http.StatusSeeOther || strings.Contains(after, "<i>corner") {
		t.Fatalf("%d", code)
	}
	if file := s.file("kestrel-rise"); !strings.Contains(file, "peripheral-0.55") || !strings.Contains(file, "bought") || !strings.Contains(file, "corner") {
		t.Errorf("the file is\n%s", file)
	}
	if code, _ := s.post(kestrel+"/swap", form); code != http.StatusConflict {
		t.Errorf("a page of an earlier state takes: %d", code)
	}
	s.post(kestrel+"/undo", url.Values{})
	if s.file("kestrel-rise") != first {
		t.Error("undo did not bring the part back")
	}
}

// TestSwapRefused: no such part, no such row, a price that is none: said in words, with what
// was chosen kept.
func TestSwapRefused(t *testing.T) {
	s := serve(t, "kestrel-rise")
	for _, q := range []string{"part=Z9", "part=P1&row=%3Cscript%3Ealert(1)%3C/script%3E", "part=P1&row=tank-500"} {
		w := s.send(s.request("GET", kestrel+"/swap?"+q, nil))
		if w.Code != http.StatusUnprocessableEntity || strings.Contains(w.Body.String(), "<script>alert") {
			t.Errorf("%s: %d", q, w.Code)
		}
	}
	page := s.get(kestrel + "/swap?part=P1&row=peripheral-0.55")
	form := url.Values{"part": {"P1"}, "row": {"peripheral-0.55"}, "revision": {formOf(page).Get("revision")}, "bought": {"1"}, "paid": {"lots"}, "from": {"somewhere"}}
	code, again := s.post(kestrel+"/swap", form)
	if code != http.StatusUnprocessableEntity {
		t.Errorf("a price that is none: %d", code)
	}
	needs(t, again, `value="lots"`, `value="somewhere"`)
}
