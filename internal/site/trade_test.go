package site

import (
	"testing"

	"tideover/internal/catalogue"
)

// A blank rule and no profile give the trade's figure, a rule that is set its own.
func TestOverflowMargin(t *testing.T) {
	set := &catalogue.Profile{Rules: map[string]catalogue.Rule{"overflow-margin": {Key: "overflow-margin", Set: true, Value: 0.04}}}
	for _, test := range []struct {
		p    *catalogue.Profile
		want float64
	}{{nil, 0.025}, {&catalogue.Profile{}, 0.025}, {set, 0.04}} {
		if got := OverflowMargin(test.p, nil); float64(got) != test.want {
			t.Errorf("%+v: %g m, want %g", test.p, float64(got), test.want)
		}
	}
}
