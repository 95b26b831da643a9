package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestHoldPressure(t *testing.T) {
	n, p := newHome()
	tests := []struct {
		name  string
		main  float64
		open  int // taps open
		set   float64
		speed func(x float64) bool
	}{
		{"one tap", -1, 1, 30, func(x float64) bool { return x > 0.7 && x < 1 }},
		{"no tap: affinity exactly", -1, 0, 30, func(x float64) bool { return math.Abs(x-math.Sqrt((30-1.4)/45)) < 1e-6 }},
		{"cannot", -1, 10, 46, func(x float64) bool { return x == 1 }},
		{"not needed", -1, 0, 1, func(x float64) bool { return x == 0 }},
		{"four taps", -1, 4, 25, func(x float64) bool { return x > 0.6 && x < 1 }},
	}
	for _, test := range tests {
		s := n.NewState()
		s.Held[p.main], s.Held[p.store] = test.main, 1.4
		s.Off[p.float] = true
		for k, o := range p.outlets {
			s.Off[o] = k >= test.open
		}
		a, w := n.NewAnswer(), n.NewWork()
		if err := n.HoldPressure(s, a, w, int32(p.pump), p.delivery, test.set); err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		x := s.Opening[p.pump]
		if !test.speed(x) {
			t.Errorf("%s: speed %.6f, head %.6f", test.name, x, a.Head[p.delivery])
		}
		if x > 0 && x < 1 && math.Abs(a.Head[p.delivery]-test.set) > 1e-6 {
			t.Errorf("%s: head %.9f, want %g", test.name, a.Head[p.delivery], test.set)
		}
		if c := Certify(n, s, a); !c.OK() {
			t.Errorf("%s: %+v", test.name, c)
		}
	}
}

func TestHoldPressureRefuses(t *testing.T) {
	n, p := newHome()
	s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
	for _, bad := range []struct {
		element, point int32
		head           float64
	}{{int32(p.float), 0, 30}, {-1, 0, 30}, {int32(p.pump), -1, 30}, {int32(p.pump), 0, math.NaN()}} {
		if err := n.HoldPressure(s, a, w, bad.element, bad.point, bad.head); err == nil {
			t.Errorf("HoldPressure(%v) was accepted", bad)
		}
	}
}

func BenchmarkHoldPressure(b *testing.B) {
	n, p := newHome()
	s := n.NewState()
	s.Held[p.main], s.Held[p.store] = -1, 1.4
	for k, o := range p.outlets {
		s.Off[o] = k >= 3
	}
	a, w := n.NewAnswer(), n.NewWork()
	for range b.N {
		if err := n.HoldPressure(s, a, w, int32(p.pump), p.delivery, 30); err != nil {
			b.Fatal(err)
		}
	}
}

func TestHoldPressureOnRandomTrees(t *testing.T) {
	regulated := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 8))
		c, _ := tree(r, 3+r.IntN(50))
		n := c.net()
		a, w := n.NewAnswer(), n.NewWork()
		point := int32(1)
		target := uniform(r, 0, 50)
		if err := n.HoldPressure(&c.state, a, w, 0, point, target); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		got, x := a.Head[point], c.state.Opening[0]
		switch {
		case x == 1:
			if got > target+1e-6 {
				t.Errorf("seed %d: %g at full speed, above %g", seed, got, target)
			}
		case x > 0:
			regulated++
			if math.Abs(got-target) > 1e-6 {
				t.Errorf("seed %d: %g at speed %g, want %g", seed, got, x, target)
			}
		default:
			c.state.Opening[0] = 1e-5
			if err := n.Solve(&c.state, a, w); err != nil || a.Head[point] < target-1e-6 {
				t.Errorf("seed %d: stopped, though barely turning gives %g of %g", seed, a.Head[point], target)
			}
		}
	}
	if regulated < 50 {
		t.Errorf("only %d of 300 were regulated", regulated)
	}
}

// TestHoldFromNear: whatever speed it is told to look near, the same speed is found.
func TestHoldFromNear(t *testing.T) {
	n, p := newHome()
	for taps := range 5 {
		want := math.NaN()
		for _, near := range []float64{0, 1, 0.02, 0.5, 0.8, 0.999} {
			s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
			s.Held[p.main], s.Held[p.store] = -1, 1.4
			s.Off[p.float] = true
			for k, o := range p.outlets {
				s.Off[o] = k >= taps
			}
			s.Opening[p.pump] = near
			if err := n.HoldPressure(s, a, w, int32(p.pump), p.delivery, 28); err != nil {
				t.Fatalf("%d taps, near %g: %v", taps, near, err)
			}
			switch got := s.Opening[p.pump]; {
			case math.IsNaN(want):
				want = got
			case math.Abs(got-want) > 1e-8:
				t.Errorf("%d taps, near %g: speed %.10f, want %.10f", taps, near, got, want)
			}
		}
	}
}
