package browser

import (
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestPaint tells how long an edit on Kestrel Rise takes from the key that sends it to the
// frame that shows what it moved. It asserts no time: run it with -v.
func TestPaint(t *testing.T) {
	if testing.Short() || !testing.Verbose() {
		t.Skip("times are told with -v")
	}
	h := serve(t, "kestrel-rise")
	v := h.visit(t, true)
	v.open(kestrel + "/survey")
	var took []float64
	for i := range 21 {
		text := []string{"3.2 bar ±0.1", "3.3 bar ±0.1"}[i%2]
		ms, err := chromedp.Run(v.ctx, chromedp.Evaluate[float64](`new Promise((done) => {
			const box = `+has(box("supply.static"))+`, latest = document.querySelector(".latest").innerText;
			box.value = `+js(text)+`;
			const began = performance.now();
			const look = () => document.querySelector(".latest").innerText !== latest || performance.now() - began > 10000
				? requestAnimationFrame(() => setTimeout(() => done(performance.now() - began))) : requestAnimationFrame(look);
			box.dispatchEvent(new Event("change", {bubbles: true}));
			requestAnimationFrame(look);
		})`, chromedp.EvalAwaitPromise))
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 { // the first is the one that warms up
			took = append(took, ms)
		}
	}
	slices.Sort(took)
	t.Logf("edit to paint: least %.0f ms, median %.0f ms, 95 %% %.0f ms", took[0], took[len(took)/2], took[len(took)*95/100])
}
