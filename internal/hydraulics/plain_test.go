package hydraulics

import (
	"math"
	"testing"
)

// The certificate's own evaluation of every law agrees with the solver's.
func TestCertificateKnowsEveryLaw(t *testing.T) {
	for _, c := range lawCases() {
		way := wayOf(c.el, new(float64))
		for _, q := range twelveDecades() {
			if q < 0 && way.stiff(c.x) {
				continue
			}
			want, dh := c.el.Law.Drop(q, c.x)
			got := plainDrop(c.el.Law, q, c.x)
			if !(math.Abs(got-want) <= 1e-10*math.Max(math.Abs(want), 1)+1e-15*dh) {
				t.Errorf("%s at %g: %.17g, the solver's %.17g", c.name, q, got, want)
			}
		}
	}
}
