package hydraulics

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// TestRegulatedTapsUnderLittleHead: taps with flow regulators under a store a few metres
// above them. One last bit of flow on a regulator's wall is 1 to 2 · 10⁻¹¹ m, more than the
// solver aims at under so little head; the certificate takes the answer, and so it counts.
func TestRegulatedTapsUnderLittleHead(t *testing.T) {
	for _, head := range []float64{1.5, 2, 3, 5, 8} {
		for seed := range uint64(400) {
			r := rand.New(rand.NewPCG(seed, 31))
			b := &bench{}
			store, tee := b.held("store"), b.at("tee", 0)
			b.join("down", store, tee)
			for i := range 1 + r.IntN(3) {
				name := fmt.Sprintf("tap-%d", i)
				mouth := b.held(name)
				at := b.at(name+"-in", 0)
				b.join(name+"-pipe", tee, at)
				b.add(Element{Name: name, From: at, To: mouth, OneWay: true, Law: must(NewOutlet(name, 2.5e-4, uniform(r, 3e-5, 1.5e-4)))})
			}
			n := must(NewNet(b.points, b.elements))
			s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
			s.Held[store] = head
			if err := n.Solve(s, a, w); err != nil {
				t.Errorf("store %g m up, home %d: %v", head, seed, err)
			} else if c := Certify(n, s, a); !c.OK() {
				t.Errorf("store %g m up, home %d: %+v", head, seed, c)
			}
		}
	}
}
