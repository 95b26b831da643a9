package browser

import "testing"

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

// TestPack: the pack is asked for by its form, tells how far it is, and can be taken.
func TestPack(t *testing.T) {
	both(t, func(t *testing.T, scripts bool) {
		h := serve(t, "kestrel-rise")
		v := h.visit(t, scripts)
		v.open(kestrel + "/pack")
		v.click("form.group button.save")
		v.until(has(`a[href$="/pack/pack.pdf"]`))
		v.until(has(`a[href$="/pack/pack.zip"]`))
	})
}
