package browser

import (
	_ "embed"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"tideover/internal/job"
)

//go:embed testdata/axe-core-4.14.1.min.js
var axe string

var pictures = flag.String("pictures", "", "folder to write every page to as PNG")

// pages are the pages of a folder with one job, by a name for a file.
func pages() [][2]string {
	list := [][2]string{{"shelf", "/"}, {"new", "/new"}, {"answers", "/new?at=zzz&question=zzz&go="}, {"job", kestrel + "?fine=1"}}
	for _, s := range job.Sections() {
		list = append(list, [2]string{s, kestrel + "/" + s})
	}
	for _, s := range []string{"earlier", "picture", "turn", "charts", "years", "side", "swap", "pack"} {
		list = append(list, [2]string{s, kestrel + "/" + s})
	}
	return append(list, [2]string{"nowhere", "/nowhere"})
}

// TestAccessible: axe-core finds no violation on any page in light, and none of colour in
// dark: nothing else differs.
func TestAccessible(t *testing.T) {
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	for _, p := range pages() {
		v.open(p[1])
		v.until("!document.fonts || document.fonts.status === 'loaded'")
		v.do(chromedp.Evaluate[chromedp.Void](axe))
		for _, scheme := range []string{"light", "dark"} {
			v.scheme(scheme)
			for _, fault := range v.violations(scheme == "dark") {
				t.Errorf("%s, %s: %s", p[0], scheme, fault)
			}
		}
	}
}

// violations runs axe-core over the page.
func (v *visitor) violations(coloursOnly bool) []string {
	v.t.Helper()
	only := ""
	if coloursOnly {
		only = `runOnly: ["color-contrast", "link-in-text-block"], `
	}
	got, err := chromedp.Run(v.ctx, chromedp.Evaluate[[]string](`axe.run(document, {`+only+`resultTypes: ["violations"]}).then((r) => r.violations.map((f) =>
		f.id + " (" + f.impact + "): " + f.help + ": " + f.nodes.slice(0, 3).map((n) => n.target.join(" ") + " " + n.failureSummary).join(" | ")))`, chromedp.EvalAwaitPromise))
	if err != nil {
		v.t.Fatal(err)
	}
	return got
}

// TestPhone: at 360 px nothing scrolls sideways and everything to be touched is 44 px high
// and wide; a link within a sentence may be lower.
func TestPhone(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.size(360, 740)
		for _, p := range pages() {
			v.open(p[1])
			if wide := see[int](v, "document.documentElement.scrollWidth"); wide > 360 {
				t.Errorf("%s is %d px wide: %s", p[0], wide, see[string](v, `[...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > 361 && !e.closest(".drawn, .scroll, pre, .way, [hidden]")).slice(0, 5).map((e) => e.outerHTML.slice(0, 90)).join("; ")`))
			}
			for _, small := range see[[]string](v, targets) {
				t.Errorf("%s: too small to touch: %s", p[0], small)
			}
		}
	})
}

// targets are what is to be touched and too small: links that stand alone, buttons, inputs
// with their labels, summaries. Links in running text, and what is drawn, are exempt.
const targets = `[...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].filter((e) => {
	if (e.closest("svg") || !e.checkVisibility({visibilityProperty: true, opacityProperty: true}) || e.tabIndex < 0) return false;
	const box = (e.matches("[type=radio], [type=checkbox]") && (e.closest("label") || document.querySelector('label[for="' + e.id + '"]'))) || e;
	const r = box.getBoundingClientRect();
	if (r.width < 2 || r.height < 2 || r.right < 0 || r.bottom < 0) return false;
	const line = e.matches("a") && e.closest("p, li, td, th") && getComputedStyle(e).display === "inline" &&
		e.closest("p, li, td, th").innerText.trim().length > e.innerText.trim().length;
	return !line && (r.height < 43.5 || r.width < 43.5);
}).map((e) => { const r = e.getBoundingClientRect(); return e.outerHTML.slice(0, 120) + " " + r.width.toFixed(0) + "×" + r.height.toFixed(0); })`

// TestPictures writes every page as a picture, for people to look at.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("pictures are written with -pictures FOLDER")
	}
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	if err := os.MkdirAll(*pictures, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, p := range pages() {
		v.open(p[1])
		v.grown()
		for _, width := range []int64{360, 768, 1440} {
			v.size(width, 900)
			for _, scheme := range []string{"light", "dark"} {
				v.scheme(scheme)
				png, err := chromedp.Run(v.ctx, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatal(err)
				}
				name := strings.Join([]string{p[0], strconv.Itoa(int(width)), scheme}, "-") + ".png"
				if err := os.WriteFile(filepath.Join(*pictures, name), png, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
