package pack

import (
	"context"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/proposal"
)

// TestQuote: one page, two options; money stands on it only where a price list gave it,
// and the total says what it leaves out.
func TestQuote(t *testing.T) {
	doc := demo.Doc(t, "kestrel-rise")
	rows, _ := demo.Rows(t, doc.Job.Profile)
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]struct {
		prices map[string]float64
		has    []string
	}{
		"no prices":   {nil, []string{"no price list was given", "Option A: least", "Option B: balanced", "Holds until 2026-04-01", "Not included"}},
		"some prices": {map[string]float64{"tank-500": 120, "tank-1500": 260}, []string{"120.00 demo", "260.00 demo", "lines have no list price and are not in the sum"}},
	} {
		in.Prices, in.Currency = x.prices, "demo"
		list, err := proposal.Propose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		in.Job.Place.Address = "the house behind the mill"
		pdf, err := Quote(in.Job, list, A4, "test")
		if err != nil {
			t.Fatal(err)
		}
		pages := inOrder(t, pdf)
		got := squeezed(strings.Join(pages, " "))
		if len(pages) != 1 || strings.Contains(got, "‹") {
			t.Errorf("%s: %d pages, or a message is missing", name, len(pages))
		}
		for _, w := range append(x.has, in.Job.Place.Address) {
			if !strings.Contains(got, squeezed(w)) {
				t.Errorf("%s: the quote lacks %q", name, w)
			}
		}
	}
}
