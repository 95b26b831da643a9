package catalogue

import (
	"testing"

	"tideover/internal/quantity"
)

// TestSoldIn: tanks by the gallon are for homes in gallons of the US, those by the litre for all
// others; a row of somebody's own is for whoever wrote it. Vessels by the litre are sold in the US.
func TestSoldIn(t *testing.T) {
	for _, c := range []struct {
		key        string
		us, metric bool
	}{{"tank-300-gal", true, false}, {"tank-750", false, true}, {"cistern-of-ours", true, true}} {
		if SoldIn(c.key, quantity.US) != c.us || SoldIn(c.key, quantity.Metric) != c.metric {
			t.Errorf("%s: %v, %v", c.key, SoldIn(c.key, quantity.US), SoldIn(c.key, quantity.Metric))
		}
	}
	if !VesselIn("vessel-9", quantity.US) || !VesselIn("vessel-9", quantity.Metric) || VesselIn("vessel-5-gal", quantity.Metric) {
		t.Error("vessels")
	}
}
