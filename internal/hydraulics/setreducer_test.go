package hydraulics

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// Every solve of a circuit sets the regulators that are in it, and the state by hand is
//
//	open:  H = set − fall q behind it, the tap's q = c √H
//
// main 60 m, no loss before it, set 30 m, fall 20,000 s/m², tap c = 1e-4 at height 0:
// q = 1e-4 √(30 − 20000 q) gives q² + 2e-4 q − 3e-7 = 0, q = (−2e-4 + √(4e-8 + 1.2e-6))/2.
func TestSetReducerByHand(t *testing.T) {
	b := &bench{}
	m, out, air := b.held("main"), b.at("out", 0), b.held("air")
	b.index["pr"] = b.add(must(NewSetReducer("pr", m, out, 3.0/3600, 30, 20000)))
	tap := b.add(must(NewSubmerged("tap", out, air, 1e-4)))
	n := must(NewNet(b.points, b.elements))
	s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
	s.Held[m], s.Held[air] = 60, 0
	if err := n.Solve(s, a, w); err != nil {
		t.Fatal(err)
	}
	want := (-2e-4 + math.Sqrt(4e-8+1.2e-6)) / 2
	if got := a.Flow[tap]; math.Abs(got-want) > 1e-9 || math.Abs(a.Head[out]-(30-20000*want)) > 1e-4 {
		t.Errorf("%.9g m³/s at %.9g m, by hand %.9g at %.9g", got, a.Head[out], want, 30-20000*want)
	}
	if c := Certify(n, s, a); !c.OK() {
		t.Errorf("%+v", c)
	}
	s.Opening[0] += 0.01 // the certificate knows what it holds: another opening is no answer
	if c := Certify(n, s, a); c.OK() {
		t.Errorf("passes at another opening: %+v", c)
	}
	s.Off[tap] = true
	if err := n.Solve(s, a, w); err != nil || math.Abs(a.Head[out]-30) > 1e-6 {
		t.Errorf("nothing drawn: %v, %.9g m, want 30", err, a.Head[out])
	}
	ever := n.NewState()
	ever.Held[m] = 80
	if err := n.Rest(s, ever, a, w); err != nil || math.Abs(a.High[out]-30) > 1e-6 {
		t.Errorf("at rest %g to %g m, %v: it never passed more than it is set to", a.Low[out], a.High[out], err)
	}
	s.Held[m] = 20
	if err := n.Solve(s, a, w); err != nil || math.Abs(a.Head[out]-20) > 1e-6 {
		t.Errorf("a weak main: %v, %.9g m, want 20", err, a.Head[out])
	}
}

// A regulator on the main beside a pump that holds a pressure on the store, both into one
// home: they settle in one way, found from wherever the pump's speed starts, and the
// certificate agrees. Two regulators side by side are still named.
func TestSetReducerBesidePump(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for k := range 60 {
		b := &bench{}
		m, st, in, out, mid, suck, up := b.held("main"), b.held("store"), b.at("in", 0), b.at("out", 0), b.at("mid", 1), b.at("suck", 0), b.at("up", 0)
		b.join("service", m, in)
		b.index["pr"] = b.add(must(NewSetReducer("pr", in, out, 3.0/3600, uniform(r, 15, 40), uniform(r, 0, 3e4))))
		b.check("main leg", out, mid, 0.2)
		if k%3 == 1 { // grit on its seat
			b.add(Element{Name: "creep", From: in, To: out, Law: must(NewHandValve("creep", 0.01/3600)), OneWay: true})
		}
		b.join("suction", st, suck)
		pump := must(NewPump("pump", 50, 5e-4, 40, 1e-3, 20, 0))
		e := b.add(Element{Name: "pump", From: suck, To: up, Law: pump})
		b.check("pump leg", up, mid, 0.2)
		b.tap("one", mid, 3)
		b.tap("two", mid, 1)
		n := must(NewNet(b.points, b.elements))
		hold := uniform(r, 15, 45)
		main, level := uniform(r, 5, 70), uniform(r, 0, 2)
		var heads []float64
		for _, near := range []float64{1, 0.3, 0.8} {
			s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
			s.Held[m], s.Held[st] = main, level
			s.Off[b.index["two"]] = k%2 == 0
			s.Opening[e] = near
			if err := n.HoldPressure(s, a, w, int32(e), up, hold); err != nil {
				t.Fatalf("%d: main %g, hold %g: %v", k, main, hold, err)
			}
			if c := Certify(n, s, a); !c.OK() {
				t.Errorf("%d: %+v", k, c)
			}
			heads = append(heads, a.Head[mid])
		}
		for _, h := range heads[1:] {
			if math.Abs(h-heads[0]) > 1e-5 {
				t.Errorf("%d: %v m: another state from another start", k, heads)
			}
		}
	}
	b := &bench{}
	m, x, y := b.held("main"), b.at("x", 0), b.at("y", 0)
	b.add(must(NewSetReducer("left", m, x, 1e-3, 20, 0)))
	b.add(must(NewSetReducer("right", m, y, 1e-3, 20, 0)))
	b.join("header", x, y)
	b.tap("tap", y, 0)
	n := must(NewNet(b.points, b.elements))
	s := n.NewState()
	s.Held[m] = 50
	var several *Several
	if err := n.Solve(s, n.NewAnswer(), n.NewWork()); !errors.As(err, &several) {
		t.Errorf("two side by side: %v", err)
	}
}

// Behind a regulator no head is above what it is set to, whatever the main, and more drawn
// never raises it.
func TestSetReducerBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	for range 200 {
		b := &bench{}
		m, in, out, end := b.held("main"), b.at("in", 0), b.at("out", 0), b.at("end", 2)
		set := uniform(r, 10, 45)
		b.join("service", m, in)
		b.add(must(NewSetReducer("pr", in, out, uniform(r, 1, 5)/3600, set, uniform(r, 0, 5e4))))
		b.join("home", out, end)
		b.tap("one", end, 2)
		b.tap("two", end, 0)
		n := must(NewNet(b.points, b.elements))
		s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
		s.Held[m] = uniform(r, 2, 90)
		s.Off[b.index["one"]], s.Off[b.index["two"]] = true, true
		last := math.Inf(1)
		for _, tap := range []string{"", "one", "two"} {
			if tap != "" {
				s.Off[b.index[tap]] = false
			}
			if err := n.Solve(s, a, w); err != nil {
				t.Fatal(err)
			}
			if a.Head[out] > set+1e-6 || a.Head[out] > last+1e-6 {
				t.Errorf("main %g, set %g: %g m with %q, %g before", s.Held[m], set, a.Head[out], tap, last)
			}
			last = a.Head[out]
			if c := Certify(n, s, a); !c.OK() {
				t.Errorf("%+v", c)
			}
		}
	}
}

// Between a valve that was shut and a regulator the main's pressure stays; behind the
// regulator no more than it is set to has ever stood, and what stands before it drains only
// while less stands behind.
func TestSetReducerAtRest(t *testing.T) {
	b := &bench{}
	m, in, out, end := b.held("main"), b.at("in", 0), b.at("out", 0), b.at("end", 0)
	b.valve("stop", m, in)
	b.add(must(NewSetReducer("pr", in, out, 3.0/3600, 40, 0)))
	b.check("leg", out, end, 0.3)
	n := must(NewNet(b.points, b.elements))
	s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
	s.Held[m] = 60
	ever := n.NewState()
	ever.Held[m] = 80
	for _, shut := range []bool{false, true} {
		s.Off[b.index["stop"]] = shut
		if err := n.Solve(s, a, w); err != nil {
			t.Fatal(err)
		}
		if err := n.Rest(s, ever, a, w); err != nil {
			t.Fatal(err)
		}
		before := map[bool]float64{false: 60, true: 80}[shut]
		if math.Abs(a.High[in]-before) > 1e-6 || math.Abs(a.High[out]-40) > 1e-6 || math.Abs(a.High[end]-39.7) > 1e-6 {
			t.Errorf("stop shut %v: at most %g before, %g behind, %g in the leg; want %g, 40, 39.7", shut, a.High[in], a.High[out], a.High[end], before)
		}
	}
}
