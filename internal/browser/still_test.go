package browser

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// shifted adds up how far things moved on the page by themselves, as the Layout Instability
// draft of the W3C reckons it: 0.1 and less counts as little, 0 as none.
const shifted = `new Promise((done) => {
	let sum = 0;
	new PerformanceObserver((l) => { for (const e of l.getEntries()) if (!e.hadRecentInput) sum += e.value; }).observe({type: "layout-shift", buffered: true});
	setTimeout(() => done(sum), 300);
})`

// TestStill: nothing moves under the reader while a page comes, and while what follows a
// first look is laid over it.
func TestStill(t *testing.T) {
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	for _, width := range []int64{360, 1440} {
		v.size(width, 900)
		for _, path := range []string{"/", kestrel, kestrel + "/survey", kestrel + "/turn", kestrel + "/side"} {
			v.open(path)
			v.grown()
			got, err := chromedp.Run(v.ctx, chromedp.Evaluate[float64](shifted, chromedp.EvalAwaitPromise))
			if err != nil {
				t.Fatal(err)
			}
			if got > 0.02 {
				t.Errorf("%s, %d px wide: things move by themselves: %.3f", path, width, got)
			}
		}
	}
}
