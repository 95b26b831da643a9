package hydraulics

import (
	"math"
	"slices"
	"testing"
)

// The reference curves of generic small pumps, through shut-off and two points, lie in
// the band that their kind and the two nameplate figures alone give.
func TestNameplateBandHoldsReferencePumps(t *testing.T) {
	tests := []struct {
		name               string
		kind               PumpKind
		h0, q1, h1, q2, h2 float64 // m, L/s
	}{
		{"jet 0.37", Jet, 34, 0.40, 22, 0.65, 12},
		{"jet 0.55", Jet, 40, 0.45, 27, 0.75, 15},
		{"jet 0.75", Jet, 46, 0.50, 33, 0.90, 18},
		{"jet 1.1", Jet, 52, 0.70, 37, 1.20, 20},
		{"multistage 0.55", Multistage, 34, 0.80, 26, 1.30, 17},
		{"multistage 0.75", Multistage, 45, 0.90, 35, 1.40, 24},
		{"multistage 0.9", Multistage, 52, 1.00, 41, 1.60, 28},
		{"multistage 1.1", Multistage, 58, 1.10, 46, 1.80, 29},
	}
	for _, test := range tests {
		p := must(NewPump(test.name, test.h0, test.q1/1e3, test.h1, test.q2/1e3, test.h2, 0))
		b := must(NewNameplatePump(test.name, test.kind, test.h0, p.RunOut(1), 0))
		for i := range 20 {
			q := p.RunOut(1) * float64(i) / 20
			h, slack := p.Head(q, 1), 0.004*test.h0
			if h < b.Low.Head(q, 1)-slack || h > b.High.Head(q, 1)+slack {
				t.Errorf("%s at %.2f L/s: %.2f m, band %.2f to %.2f", test.name, q*1e3, h, b.Low.Head(q, 1), b.High.Head(q, 1))
			}
			if !(b.Low.Head(q, 1) <= b.Likely.Head(q, 1) && b.Likely.Head(q, 1) <= b.High.Head(q, 1)) {
				t.Errorf("%s: band out of order at %g", test.name, q)
			}
		}
		// One gauge-and-bucket reading off the true curve finds it again.
		c := must(b.Corrected(test.name, test.q1/1e3, test.h1))
		for i := range 10 {
			q := p.RunOut(1) * float64(i) / 10
			if d := math.Abs(c.Likely.Head(q, 1) - p.Head(q, 1)); c.Wear == 1 && d > 1e-9*test.h0 {
				t.Errorf("%s: corrected curve off by %g m at %g", test.name, d, q)
			}
		}
	}
}

// A worn pump: the corrected curve runs through the reading, and says how worn it is.
func TestCorrectedWornPump(t *testing.T) {
	b := must(NewNameplatePump("p", Peripheral, 40, 0.7e-3, 1e-3))
	for _, r := range []struct{ q, h float64 }{{0.3e-3, 12}, {0.3e-3, 35}, {0.6e-3, 2}, {0.1e-3, 20}} {
		c := must(b.Corrected("p", r.q, r.h))
		if d := math.Abs(c.Likely.Head(r.q, 1) - r.h); d > 1e-9 {
			t.Errorf("reading %v missed by %g m", r, d)
		}
		inside := r.h <= b.High.Head(r.q, 1) && r.h >= b.Low.Head(r.q, 1)
		if (c.Wear == 1) != inside || c.Likely.passage == nil {
			t.Errorf("reading %v: wear %g, inside the band %t", r, c.Wear, inside)
		}
	}
}

// Throttled, a centrifugal pump draws less and a peripheral one more; efficiency is what
// the definition says.
func TestPumpPower(t *testing.T) {
	for _, test := range []struct {
		kind PumpKind
		idle float64 // W at shut-off of 1000
	}{{Jet, 750}, {Multistage, 550}, {Peripheral, 1600}} {
		p := must(NewPumpPower("p", test.kind, 1000, 0.5e-3))
		if got := p.Power(0, 1); math.Abs(got-test.idle) > 1e-9 {
			t.Errorf("kind %d: %g W at shut-off, want %g", test.kind, got, test.idle)
		}
		if got := p.Power(0.5e-3, 1); math.Abs(got-1000) > 1e-9 {
			t.Errorf("kind %d: %g W at its best, want 1000", test.kind, got)
		}
		rises := test.kind != Peripheral
		for i := range 10 {
			q := 0.5e-3 * float64(i) / 10
			if (p.Current(q+5e-5, 1, 230) > p.Current(q, 1, 230)) != rises {
				t.Errorf("kind %d: current at %g against the kind", test.kind, q)
			}
		}
		// Affinity: at half speed and half flow an eighth.
		if got := p.Power(0.25e-3, 0.5); math.Abs(got-125) > 1e-9 {
			t.Errorf("kind %d: %g W at half speed, want 125", test.kind, got)
		}
		// 1000 kg/m³ · 9.80665 · 0.5e-3 · 30 m / 1000 W.
		if got := p.Efficiency(0.5e-3, 1, 30, 1000); math.Abs(got-0.14709975) > 1e-9 {
			t.Errorf("efficiency %g", got)
		}
		// 1000 W at 230 V and cos φ 0.95: 4.577 A.
		if got := p.Current(0.5e-3, 1, 230); math.Abs(got-1000/230.0/0.95) > 1e-9 {
			t.Errorf("%g A", got)
		}
		if p.Power(0, 0) != 0 || p.Current(0, 0, 230) != 0 || p.Efficiency(0, 0, 10, 1000) != 0 {
			t.Error("a standing pump takes something")
		}
	}
}

// Two pumps alike carry twice the flow at every head; a set shares by each one's curve,
// as a circuit with both in it finds too.
func TestPumpsSideBySide(t *testing.T) {
	one := must(NewPump("one", 45, 0.9e-3, 35, 1.4e-3, 24, 0))
	two := must(NewPump("two", 34, 0.4e-3, 22, 0.65e-3, 12, 0))
	pair := must(NewPumpsAlike("pair", one, 2))
	for _, h := range []float64{44, 30, 10} {
		if got, want := pair.FlowAt(h, 0.9), 2*one.FlowAt(h, 0.9); math.Abs(got-want) > 1e-15 {
			t.Errorf("pair at %g m: %g, want %g", h, got, want)
		}
	}
	set := must(NewPumpSet("set", []*Pump{one, two}, []float64{1, 0.95}))
	b := &bench{}
	st, header, air := b.held("store"), b.at("header", 0), b.held("air")
	a1, a2 := b.at("a1", 0), b.at("a2", 0)
	e1 := b.add(Element{Name: "one", From: st, To: a1, Law: one})
	e2 := b.add(Element{Name: "two", From: st, To: a2, Law: two})
	b.add(must(NewNonReturn("nr1", a1, header, 10, 0)))
	b.add(must(NewNonReturn("nr2", a2, header, 10, 0)))
	tap := b.add(Element{Name: "tap", From: header, To: air, OneWay: true, Law: must(NewOutlet("tap", 1e-3, 0))})
	n := must(NewNet(b.points, b.elements))
	for _, open := range []float64{0.1, 0.2, 0.5} {
		s, a := n.NewState(), n.NewAnswer()
		s.Opening[e2], s.Opening[tap] = 0.95, open
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		share, sum := set.Shares(a.Head[header])
		if math.Abs(share[0]-a.Flow[e1]) > 1e-7 || math.Abs(share[1]-a.Flow[e2]) > 1e-7 {
			t.Errorf("open %g: shares %v, the circuit's %g and %g", open, share, a.Flow[e1], a.Flow[e2])
		}
		if h := set.Head(sum); math.Abs(h-a.Head[header]) > 1e-9 {
			t.Errorf("open %g: head of the sum %g, of the circuit %g", open, h, a.Head[header])
		}
	}
	if h := must(NewPumpSet("off", []*Pump{one}, []float64{0})).Head(1e-4); !math.IsNaN(h) {
		t.Errorf("a set that stands has a head of %g", h)
	}
}

func TestRota(t *testing.T) {
	r := Rota{Count: 3}
	if got := r.Next().Next().Next(); got != r {
		t.Errorf("after three starts %v leads", got)
	}
	for _, test := range []struct {
		lead, want int
		failed     []bool
		run        []bool
	}{
		{0, 1, nil, []bool{true, false, false}},
		{2, 2, nil, []bool{true, false, true}},
		{1, 1, []bool{false, true, false}, []bool{false, false, true}},
		{0, 2, []bool{true, true, true}, []bool{false, false, false}},
	} {
		if got := (Rota{3, test.lead}).Running(test.want, test.failed); !slices.Equal(got, test.run) {
			t.Errorf("lead %d, %d wanted, %v failed: %v", test.lead, test.want, test.failed, got)
		}
	}
}

// Pump off: blocked it passes nothing; free-wheeling it passes what is pressed through.
func TestPumpOff(t *testing.T) {
	for _, test := range []struct{ passage, want float64 }{{0, 0}, {1e-3, 1e-3 * math.Sqrt(5/(1e5/9806.65))}} {
		n := must(NewNet([]Point{{Held: true}, {Held: true}}, []Element{{Name: "p", From: 0, To: 1,
			Law: must(NewPump("p", 45, 0.9e-3, 35, 1.4e-3, 24, test.passage))}}))
		s, a := n.NewState(), n.NewAnswer()
		s.Held[0], s.Opening[0] = 5, 0
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Flow[0]-test.want) > 1e-12 {
			t.Errorf("passage %g: %g, want %g", test.passage, a.Flow[0], test.want)
		}
	}
}
