package hydraulics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// TestOnlyPathNearlyShut: where the one way for water is a valve open by next to nothing,
// the answer is what little flows, or water at rest; never a refusal.
func TestOnlyPathNearlyShut(t *testing.T) {
	for _, kind := range []string{"float", "hand", "linear"} {
		for k := -14; k <= 0; k++ {
			opening := math.Pow(10, float64(k))
			b := &bench{}
			m, in, air := b.held("main"), b.at("inlet", 1.6), b.held("air")
			b.join("fill", m, in)
			e := Element{Name: kind, From: in, To: air}
			switch kind {
			case "float":
				e.Law, e.OneWay = must(NewFloatValve(kind, 5e-4)), true
			default:
				e.Law = must(NewHandValve(kind, 1e-3))
			}
			i := b.add(e)
			n := must(NewNet(b.points, b.elements))
			s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
			s.Held[m], s.Opening[i] = 30, opening
			if err := n.Solve(s, a, w); err != nil {
				t.Errorf("%s open by %.0e: %v", kind, opening, err)
				continue
			}
			if c := Certify(n, s, a); !c.OK() {
				t.Errorf("%s open by %.0e: %+v", kind, opening, c)
			}
			if math.Abs(a.Head[in]-30) > 30 || a.Flow[i] < 0 {
				t.Errorf("%s open by %.0e: inlet at %g m, flow %g", kind, opening, a.Head[in], a.Flow[i])
			}
			t.Logf("%s %.0e: %v flow %g inlet %g", kind, opening, a.Status, a.Flow[i], a.Head[in])
		}
	}
}

// TestNothingIsRefused: circuits from the whole range of sizes that is accepted, with
// valves open by anything down to next to nothing, are solved and certified.
func TestNothingIsRefused(t *testing.T) {
	campaign(t, "whole-range", 37, *seeds/4, func(r *rand.Rand) *circuit {
		c := random(r, anySize(r), r.IntN(3) > 0)
		c.extremes(r)
		for e := range c.state.Opening {
			if r.IntN(4) == 0 {
				c.state.Opening[e] = decades(r, 1e-4, 1)
			}
		}
		return c
	}, func(c *circuit, _ *rand.Rand) error {
		n := c.net()
		a := n.NewAnswer()
		if err := n.Solve(&c.state, a, n.NewWork()); err != nil {
			return err
		}
		if cert := Certify(n, &c.state, a); !cert.OK() {
			return fmt.Errorf("certificate %+v", cert)
		}
		return nil
	})
}
