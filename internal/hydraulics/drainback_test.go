package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// drainHouse is a house above a street: a riser of 2 L from 0 to 1 m and one of 3 L from 1
// to 4 m, an open tap at 4 m; a stub of 0.7 L falling from 1 to −1 m, one of 0.4 L rising
// from 4 to 6 m, both ending at shut taps; and a heater of 100 L on a ring from the foot
// of the upper riser (1 m) to the tap.
func drainHouse() (*bench, []float64) {
	b := &bench{}
	m, foot, top := b.held("street"), b.at("foot", 1), b.at("top", 4)
	down, up := b.at("cellar", -1), b.at("loft", 6)
	hot := b.at("hot", 1)
	var litres []float64
	pipe := func(name string, from, to int32, l float64) {
		b.join(name, from, to)
		litres = append(litres, l/1000)
	}
	pipe("service", m, foot, 2)
	pipe("riser", foot, top, 3)
	pipe("stub down", foot, down, 0.7)
	pipe("stub up", top, up, 0.4)
	pipe("heater", foot, hot, 100)
	pipe("hot riser", hot, top, 1.5)
	b.index["air"] = b.add(must(NewAirIn("tap", b.held("mouth"), top, 4e-5)))
	b.points[b.index["mouth"]].Z = 4
	litres = append(litres, 0)
	return b, litres
}

// Worked by hand from the heights.
func TestDrainBack(t *testing.T) {
	type change func(b *bench, s *State)
	off := func(name string) change { return func(b *bench, s *State) { s.Off[b.index[name]] = true } }
	tests := []struct {
		name         string
		head         float64
		change       change
		noAir        bool
		swept, falls float64 // L
	}{
		{name: "street sucks: all on the way, and the stub that stands up", head: -3, swept: 2 + 3 + 100 + 1.5, falls: 0.4},
		{name: "street holds 2 m: only what stands above", head: 2, swept: 3*2.0/3 + 1.5*2.0/3, falls: 0.4},
		{name: "street holds more than the tap is high", head: 4.5, falls: 0.4 * 1.5 / 2},
		{name: "heater off the ring", head: -3, change: off("hot riser"), swept: 5, falls: 0.4 + 100},
		{name: "service shut", head: -3, change: off("service")},
		{name: "no air comes in", head: -3, noAir: true},
	}
	for _, test := range tests {
		b, litres := drainHouse()
		n := must(NewNet(b.points, b.elements))
		s := n.NewState()
		if test.change != nil {
			test.change(b, s)
		}
		air := []int32{int32(b.index["top"])}
		if test.noAir {
			air = nil
		}
		d, err := n.DrainBack(s, int32(b.index["street"]), test.head, air, litres)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
		}
		if math.Abs(d.Swept*1000-test.swept) > 1e-9 || math.Abs(d.Falls*1000-test.falls) > 1e-9 {
			t.Errorf("%s: %.4g L swept, %.4g L fall; want %.4g and %.4g", test.name, d.Swept*1000, d.Falls*1000, test.swept, test.falls)
		}
	}
}

// A non-return valve in the service keeps everything, unless it is fitted the wrong way.
func TestDrainBackPastNonReturn(t *testing.T) {
	for _, wrong := range []bool{false, true} {
		b := &bench{}
		m, in, top := b.held("street"), b.at("in", 0), b.at("top", 4)
		if wrong {
			b.check("nr", in, m, 0)
		} else {
			b.check("nr", m, in, 0)
		}
		b.join("riser", in, top)
		n := must(NewNet(b.points, b.elements))
		d, err := n.DrainBack(n.NewState(), m, -2, []int32{top}, []float64{0, 3e-3})
		want := 0.0
		if wrong {
			want = 3e-3
		}
		if err != nil || d.Volume() != want {
			t.Errorf("wrong way %t: %g m³, %v; want %g", wrong, d.Volume(), err, want)
		}
	}
}

// Never more than there is, and no more under a street that sucks less.
func TestDrainBackBounds(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 31))
		c := random(r, 3+r.IntN(60), seed%2 == 0)
		n := c.net()
		volume := make([]float64, len(c.elements))
		total := 0.0
		for e := range volume {
			volume[e] = decades(r, 1e-5, 0.1)
			total += volume[e]
		}
		air := []int32{int32(r.IntN(len(c.points))), int32(r.IntN(len(c.points)))}
		last := math.Inf(1)
		for _, head := range []float64{-20, -3, 0, 2, 6, 20} {
			d, err := n.DrainBack(&c.state, 0, head, air, volume)
			if err != nil {
				t.Fatal(err)
			}
			if v := d.Volume(); !(v >= 0 && v <= total+1e-12 && v <= last+1e-12) {
				t.Errorf("seed %d, street at %g m: %g of %g m³ after %g", seed, head, v, total, last)
			}
			last = d.Volume()
		}
	}
}

func TestDrainBackRefuses(t *testing.T) {
	b, litres := drainHouse()
	n := must(NewNet(b.points, b.elements))
	s := n.NewState()
	bad := append([]float64(nil), litres...)
	bad[0] = -1
	for name, err := range map[string]error{
		"no such street": func() error { _, err := n.DrainBack(s, -1, 0, nil, litres); return err }(),
		"no such air":    func() error { _, err := n.DrainBack(s, 0, 0, []int32{99}, litres); return err }(),
		"no head":        func() error { _, err := n.DrainBack(s, 0, math.NaN(), nil, litres); return err }(),
		"few volumes":    func() error { _, err := n.DrainBack(s, 0, 0, nil, litres[1:]); return err }(),
		"negative":       func() error { _, err := n.DrainBack(s, 0, 0, nil, bad); return err }(),
	} {
		if err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// An open tap that lets air in at its own height gives the house's water back to a street
// that sucks; one taken as a mere outlet hides it. A hose end under water gives whatever
// it lies in.
func TestOpenEndsUnderSuction(t *testing.T) {
	b := &bench{}
	m, top, mouth := b.held("street"), b.at("top", 4), b.held("mouth")
	b.points[mouth].Z = 4
	b.join("riser", m, top)
	b.index["tap"] = b.add(Element{Name: "tap", From: top, To: mouth, OneWay: true, Law: must(NewOutlet("tap", 4e-5, 0))})
	air := b.add(must(NewAirIn("tap", mouth, top, 4e-5)))
	bucket := b.held("bucket")
	b.points[bucket].Z = 0.3
	hose := b.add(must(NewSubmerged("hose", top, bucket, 6e-5)))
	n := must(NewNet(b.points, b.elements))
	flow := func(airIn, hoseIn bool) float64 {
		s, a := n.NewState(), n.NewAnswer()
		s.Held[m] = -3
		s.Off[air], s.Off[hose] = !airIn, !hoseIn
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if c := Certify(n, s, a); !c.OK() {
			t.Fatalf("%+v", c)
		}
		return a.Flow[0]
	}
	if q := flow(false, false); q != 0 {
		t.Errorf("nothing comes in, yet %g runs", q)
	}
	if q := flow(true, false); !(q < -1e-4) {
		t.Errorf("air comes in and %g runs back", q)
	}
	if q := flow(false, true); !(q < -5e-5) {
		t.Errorf("the hose sucks and %g runs back", q)
	}
}

// Lifted 9 m above a street that holds −3 m and open nowhere, the water parts: the
// points that boil are named, the worst first, and only where −10.1 m is passed.
func TestBoils(t *testing.T) {
	b := &bench{}
	m, low, high, higher := b.held("street"), b.at("low", 6), b.at("high", 8), b.at("higher", 9)
	b.join("a", m, low)
	b.join("b", low, high)
	b.join("c", high, higher)
	b.valve("shut", higher, b.at("cut-off", 9))
	n := must(NewNet(b.points, b.elements))
	s, a := n.NewState(), n.NewAnswer()
	s.Held[m] = -3
	s.Off[b.index["shut"]] = true
	if err := n.Solve(s, a, n.NewWork()); err != nil {
		t.Fatal(err)
	}
	got := n.Boils(a, BoilingHead(0, 20))
	if len(got) != 2 || got[0].Name != "higher" || got[1].Name != "high" {
		t.Fatalf("Boils = %+v, want higher, then high", got)
	}
	if want := 9 - 10.112; math.Abs(got[0].Least-want) > 0.01 || got[0].Head != -3 {
		t.Errorf("higher: head %g, least %g; want −3 and %g", got[0].Head, got[0].Least, want)
	}
	if list := n.Boils(a, -20); list != nil {
		t.Errorf("nothing passes −20 m, yet %v", list)
	}
}
