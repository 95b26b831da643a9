package hydraulics

import (
	"math"
	"testing"
)

// sideBySide is a tank, so many pumps alike each behind a non-return valve, or one element
// that stands for them all, and a tap.
func sideBySide(t *testing.T, laws []*Pump) *Net {
	t.Helper()
	points := []Point{{Name: "tank", Held: true}, {Name: "delivery"}, {Name: "tap", Z: 5, Held: true}}
	tap, err := NewOutlet("tap", 4e-4, 0)
	if err != nil {
		t.Fatal(err)
	}
	elements := []Element{{Name: "tap", From: 1, To: 2, Law: tap, OneWay: true}}
	for _, law := range laws {
		elements = append(elements, Element{Name: "pump", From: 0, To: 1, Law: law})
	}
	n, err := NewNet(points, elements)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestHoldTogether: pumps alike that run at one speed do what one pump of three times the
// flow does (NewPumpsAlike), each carrying a third.
func TestHoldTogether(t *testing.T) {
	one, err := NewPumpCurve("pump", 45, 4e3, 6e6, 0)
	if err != nil {
		t.Fatal(err)
	}
	all, err := NewPumpsAlike("pump", one, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, head := range []float64{12, 25, 38, 60} {
		set, single := sideBySide(t, []*Pump{one, one, one}), sideBySide(t, []*Pump{all})
		solve := func(n *Net, pumps []int32) (*State, *Answer) {
			s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
			if err := n.HoldTogether(s, a, w, pumps, 1, head); err != nil {
				t.Fatalf("%g m: %v", head, err)
			}
			return s, a
		}
		s, a := solve(set, []int32{1, 2, 3})
		x, b := solve(single, []int32{1})
		if d := math.Abs(s.Opening[1] - x.Opening[1]); d > 1e-6 || s.Opening[2] != s.Opening[1] || s.Opening[3] != s.Opening[1] {
			t.Errorf("%g m: speeds %v, one for all %v", head, s.Opening[1:], x.Opening[1])
		}
		for e := 1; e <= 3; e++ {
			if d := math.Abs(a.Flow[e] - b.Flow[1]/3); d > 1e-9 {
				t.Errorf("%g m: pump %d carries %g, a third is %g", head, e, a.Flow[e], b.Flow[1]/3)
			}
		}
	}
	n := sideBySide(t, []*Pump{one})
	if err := n.HoldTogether(n.NewState(), n.NewAnswer(), n.NewWork(), nil, 1, 20); err == nil {
		t.Error("no pumps were accepted")
	}
	if err := n.HoldTogether(n.NewState(), n.NewAnswer(), n.NewWork(), []int32{0}, 1, 20); err == nil {
		t.Error("a tap was accepted")
	}
}
