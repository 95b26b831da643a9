package browser

import (
	"testing"
	"time"
)

// TestTurn: a valve turned beside the picture changes what is told of the case, and the
// earlier case is a step back.
func TestTurn(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/turn")
		before := v.text("#told")
		v.click("a.way-to")
		v.until("!" + says("#told", before))
		v.until("location.search.includes('case=')")
		if scripts { // without, the browser's history is its own affair
			v.do(back)
			v.until(says("#told", before))
		}
	})
}

// TestWorst: from a promise that is broken the reader is one tap from the case that breaks
// it, told and drawn.
func TestWorst(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "lantern-row")
		v := h.visit(t, scripts)
		const worst = `a[href*="turn?case="]`
		for tries := 0; ; tries++ { // promises are proved while the page is read
			v.open("/jobs/lantern-row?fine=1")
			if see[bool](v, "Boolean("+has(worst)+")") {
				break
			}
			if tries == 80 {
				t.Fatal("no finding leads to the case that breaks its promise")
			}
			time.Sleep(250 * time.Millisecond)
		}
		see[bool](v, "Boolean((() => { for (let e = "+has(worst)+"; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true; return true })())")
		v.click(worst)
		v.until("location.search.includes('case=')")
		v.until("Boolean(" + has("#told") + ")")
	})
}
