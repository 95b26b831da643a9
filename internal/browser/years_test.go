package browser

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestYears: the years are begun by a button, followed by themselves, and shown without
// anything wider than the page, on a phone too; axe-core finds nothing wrong.
func TestYears(t *testing.T) {
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	v.open(kestrel + "/years")
	v.click("form.group button.save")
	v.until("!!document.querySelector('#c-store-size svg')")
	v.do(chromedp.Evaluate[chromedp.Void](axe))
	for _, fault := range v.violations(false) {
		t.Error(fault)
	}
	for _, wide := range []int64{360, 1200} {
		v.size(wide, 900)
		if over, err := chromedp.Run(v.ctx, chromedp.Evaluate[int64]("document.documentElement.scrollWidth - document.documentElement.clientWidth")); err != nil || over > 0 {
			t.Errorf("at %d px the page is %d px too wide: %v", wide, over, err)
		}
		if *pictures != "" {
			shot, err := chromedp.Run(v.ctx, chromedp.FullScreenshot(90))
			if err == nil {
				err = os.WriteFile(filepath.Join(*pictures, "years-lived-"+map[int64]string{360: "phone", 1200: "wide"}[wide]+".png"), shot, 0o600)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
}
