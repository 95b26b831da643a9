package hydraulics

import (
	"math/rand/v2"
	"testing"
)

// Whatever the circuit, an answer is certified or refused. Seeds that ever failed stay
// under testdata/fuzz.
func FuzzSolve(f *testing.F) {
	f.Add(uint64(395), uint64(1), uint8(100), false)
	f.Add(uint64(12963), uint64(1), uint8(33), true)
	f.Add(uint64(315), uint64(6), uint8(139), true)
	f.Fuzz(func(t *testing.T, a, b uint64, size uint8, extreme bool) {
		r := rand.New(rand.NewPCG(a, b))
		c := random(r, 1+int(size), b%2 == 0)
		if extreme {
			c.extremes(r)
		}
		n := c.net()
		answer := n.NewAnswer()
		if err := n.Solve(&c.state, answer, n.NewWork()); err != nil {
			t.Fatalf("seeds %d, %d, size %d, extreme %v: %v", a, b, size, extreme, err)
		}
		if cert := Certify(n, &c.state, answer); !cert.OK() {
			t.Errorf("%+v", cert)
		}
	})
}
