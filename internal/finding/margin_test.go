package finding

import (
	"encoding/json"
	"strings"
	"testing"

	"tideover/internal/quantity"
)

// TestMarginIsADifference: the margin of every dimension is, as it is printed, the difference
// of what is printed of figure and limit: 110 °F against 77 °F is 33 °F, not 1.
func TestMarginIsADifference(t *testing.T) {
	f := New("store-warm", "S1", "")
	f.Against(Of(quantity.TemperatureDim, 43.44), Of(quantity.TemperatureDim, 25), AtMost, LookAt)
	f.Figure.Half = 2
	for _, c := range []struct {
		sys                   quantity.System
		figure, limit, margin string
	}{{quantity.Metric, "43 °C", "25 °C", "−18 °C"}, {quantity.US, "110 °F", "77 °F", "−33 °F"}} {
		raw, err := JSON([]Finding{f}, c.sys)
		if err != nil {
			t.Fatal(err)
		}
		var back []struct{ Figure, Limit, Margin struct{ Text string } }
		if err := json.Unmarshal(raw, &back); err != nil {
			t.Fatal(err)
		}
		if g := back[0]; g.Figure.Text != c.figure || g.Limit.Text != c.limit || g.Margin.Text != c.margin {
			t.Errorf("%v: %+v, want %+v", c.sys, g, c)
		}
	}
}

// TestCountsAreWhole: so many of so many outlets are printed without decimals, however far
// the number moves when inputs do.
func TestCountsAreWhole(t *testing.T) {
	f := New("power-out", "", "on-store")
	f.Against(Count(3), Count(7), AtLeast, LookAt)
	f.Figure.Half = 0.4
	if _, sentence := Text(&f, quantity.Metric); !strings.Contains(sentence, "3 of 7") {
		t.Errorf("%q", sentence)
	}
}
