package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bench is a small circuit written out by hand.
type bench struct {
	home
	index map[string]int
}

func (b *bench) at(name string, z float64) int32 {
	if b.index == nil {
		b.index = map[string]int{}
	}
	b.index[name] = len(b.points)
	return b.point(name, z, false)
}

func (b *bench) held(name string) int32 { i := b.at(name, 0); b.points[i].Held = true; return i }

func (b *bench) join(name string, from, to int32) {
	b.index[name] = b.pipe(name, from, to, 0.016, 3, 1)
}

func (b *bench) valve(name string, from, to int32) {
	b.index[name] = b.add(Element{Name: name, From: from, To: to, Law: must(NewHandValve(name, 1e-3))})
}

func (b *bench) check(name string, from, to int32, opens float64) {
	b.index[name] = b.add(must(NewNonReturn(name, from, to, 1e-3, opens)))
}

func (b *bench) booster(name string, from, to int32, head float64) {
	b.index[name] = b.add(Element{Name: name, From: from, To: to, Law: must(NewPumpCurve(name, head, 0, 2e7, 0))})
}

// relief opens at set metres over its mouth.
func (b *bench) relief(name string, from int32, mouth, set float64) {
	m := b.held(name + "-mouth")
	b.points[m].Z = mouth
	b.index[name] = b.add(must(NewRelief(name, from, m, 5e-4, set, set/10)))
}

func (b *bench) tap(name string, from int32, z float64) {
	mouth := b.held(name + "-mouth")
	b.points[mouth].Z = z
	b.index[name] = b.add(Element{Name: name, From: from, To: mouth, OneWay: true, Law: must(NewOutlet(name, 3e-5, 0))})
}

// stands is the interval a point must be found in.
type stands struct {
	point     string
	low, high float64
}

// Fifteen cases worked by hand. now is set on the state solved, ever on the most that could
// have been before (all open and at full speed unless it says otherwise).
func TestStandingWater(t *testing.T) {
	inf := math.Inf(1)
	type set func(b *bench, s *State)
	held := func(name string, h float64) set { return func(b *bench, s *State) { s.Held[b.index[name]] = h } }
	off := func(names ...string) set {
		return func(b *bench, s *State) {
			for _, n := range names {
				s.Off[b.index[n]] = true
			}
		}
	}
	tests := []struct {
		name      string
		build     func(b *bench)
		now, ever []set
		want      []stands
	}{
		{"1. open to the main: stands at the main's head, however high the point",
			func(b *bench) {
				m, a, up := b.held("main"), b.at("a", 0), b.at("up", 6)
				b.join("p", m, a)
				b.join("q", a, up)
				b.tap("tap", up, 6)
			},
			[]set{held("main", 32), off("tap")}, []set{held("main", 42), off("tap")},
			[]stands{{"a", 32, 32}, {"up", 32, 32}}},
		{"2. trap behind a non-return valve: from what presses now to the night's highest",
			func(b *bench) {
				m, a, h := b.held("main"), b.at("a", 0), b.at("house", 4)
				b.join("p", m, a)
				b.check("nr", a, h, 0)
				b.tap("tap", h, 4)
			},
			[]set{held("main", 30), off("tap")}, []set{held("main", 41)},
			[]stands{{"a", 30, 30}, {"house", 30, 41}}},
		{"3. the same with an opening head of 0.5 m: it comes off both ends",
			func(b *bench) {
				m, h := b.held("main"), b.at("house", 4)
				b.check("nr", m, h, 0.5)
				b.tap("tap", h, 4)
			},
			[]set{held("main", 30), off("tap")}, []set{held("main", 41)},
			[]stands{{"house", 29.5, 40.5}}},
		{"4. main gone, store low: the house keeps what it had, at least the store's press",
			func(b *bench) {
				m, s, h := b.held("main"), b.held("store"), b.at("house", 4)
				b.check("nr-main", m, h, 0)
				b.check("nr-store", s, h, 0)
				b.tap("tap", h, 4)
			},
			[]set{held("main", -2), held("store", 1.5), off("tap")}, []set{held("main", 41), held("store", 2)},
			[]stands{{"house", 1.5, 41}}},
		{"5. pump at shut-off behind its non-return valve",
			func(b *bench) {
				s, d, h := b.held("store"), b.at("delivery", 0.4), b.at("house", 4)
				b.booster("pump", s, d, 45)
				b.check("nr", d, h, 0.3)
				b.tap("tap", h, 4)
			},
			[]set{held("store", 1.5), off("tap")}, []set{held("store", 2)},
			[]stands{{"delivery", 46.5, 47}, {"house", 46.2, 46.7}}},
		{"6. pump standing now, could have run: its peak stays trapped",
			func(b *bench) {
				s, d, h := b.held("store"), b.at("delivery", 0.4), b.at("house", 4)
				b.booster("pump", s, d, 45)
				b.check("nr", d, h, 0)
				b.tap("tap", h, 4)
			},
			[]set{held("store", 1.5), off("tap"), func(b *bench, s *State) { s.Opening[b.index["pump"]] = 0 }},
			[]set{held("store", 2)},
			[]stands{{"house", -inf, 47}}},
		{"7. float valve shut: its pipe stands at the main's head",
			func(b *bench) {
				m, in, air := b.held("main"), b.at("inlet", 1.6), b.held("air")
				b.join("fill", m, in)
				b.index["float"] = b.add(Element{Name: "float", From: in, To: air, OneWay: true, Law: must(NewFloatValve("float", 2e-4))})
			},
			[]set{held("main", 32), held("air", 1.6), func(b *bench, s *State) { s.Opening[b.index["float"]] = 0 }},
			[]set{held("main", 41), held("air", 1.6)},
			[]stands{{"inlet", 32, 32}}},
		{"8. heater between two shut valves: not pressed now, was pressed once",
			func(b *bench) {
				m, in, out := b.held("main"), b.at("in", 0), b.at("out", 3)
				b.valve("cold", m, in)
				b.join("heater", in, out)
				b.valve("hot", out, b.at("basin", 3))
				b.tap("tap", int32(b.index["basin"]), 3)
			},
			[]set{held("main", 32), off("cold", "hot", "tap")}, []set{held("main", 41)},
			[]stands{{"in", -inf, 41}, {"out", -inf, 41}, {"basin", -inf, 41}}},
		{"9. cut off upstream of a non-return valve: no higher than what it drains to",
			func(b *bench) {
				m, a, h, st := b.held("main"), b.at("a", 0), b.at("house", 1), b.held("header-tank")
				b.valve("stop", m, a)
				b.check("nr", a, h, 0.2)
				b.join("p", h, st)
			},
			[]set{held("main", 32), held("header-tank", 9), off("stop")}, []set{held("main", 41), held("header-tank", 9)},
			[]stands{{"a", -inf, 9.2}, {"house", 9, 9}}},
		{"10. a piece nothing ever pressed: not determined",
			func(b *bench) {
				m, a, z := b.held("main"), b.at("a", 0), b.at("z", 2)
				b.join("p", m, a)
				b.valve("stub", a, z)
			},
			[]set{held("main", 32), off("stub")}, []set{held("main", 41), off("stub")},
			[]stands{{"a", 32, 32}, {"z", -inf, inf}}},
		{"11. between two non-return valves: between both sides, not above the far one",
			func(b *bench) {
				m, mid, h := b.held("main"), b.at("between", 0), b.held("house")
				b.check("first", m, mid, 0)
				b.check("second", mid, h, 0)
			},
			[]set{held("main", 10), held("house", 25)}, []set{held("main", 41), held("house", 25)},
			[]stands{{"between", 10, 25}}},
		{"12. two pumps, once each though a return valve made a ring; the second lifts the first's trap",
			func(b *bench) {
				s, a, d, h := b.held("store"), b.at("a", 0), b.at("d", 0), b.at("house", 0)
				b.booster("one", s, a, 20)
				b.booster("two", a, d, 10)
				b.valve("return", d, a)
				b.check("nr", d, h, 0)
			},
			[]set{held("store", 1), off("return")}, []set{held("store", 1)},
			[]stands{{"a", 21, 31}, {"d", 31, 41}, {"house", 31, 41}}},
		{"13. heater behind a shut non-return valve, relief at 60 m over its mouth at 2 m: the night's 41 m stays, not more",
			func(b *bench) {
				m, cold, heater, hot := b.held("main"), b.at("cold", 1), b.at("heater", 1.5), b.at("hot", 4)
				b.check("nr", m, cold, 0)
				b.join("in", cold, heater)
				b.join("out", heater, hot)
				b.tap("tap", hot, 4)
				b.relief("relief", heater, 2, 60)
			},
			[]set{held("main", 28), off("tap")}, []set{held("main", 41)},
			[]stands{{"cold", 28, 41}, {"heater", 28, 41}, {"hot", 28, 41}}},
		{"14. thermal swell: the heater presses as hard as it must; the relief valve, 62 m with its mouth, is the end of it",
			func(b *bench) {
				m, heater, hot, swell := b.held("main"), b.at("heater", 1.5), b.at("hot", 4), b.held("swell")
				b.check("nr", m, heater, 0)
				b.join("out", heater, hot)
				b.tap("tap", hot, 4)
				b.check("heating", swell, heater, 0)
				b.relief("relief", heater, 2, 60)
			},
			[]set{held("main", 28), held("swell", -50), off("tap")}, []set{held("main", 41), held("swell", 900)},
			[]stands{{"heater", 28, 62}, {"hot", 28, 62}}},
		{"15. thermal swell with no relief valve: nothing ends it but what breaks",
			func(b *bench) {
				m, heater, swell := b.held("main"), b.at("heater", 1.5), b.held("swell")
				b.check("nr", m, heater, 0)
				b.check("heating", swell, heater, 0)
			},
			[]set{held("main", 28), held("swell", -50)}, []set{held("main", 41), held("swell", 900)},
			[]stands{{"heater", 28, 900}}},
	}
	for _, test := range tests {
		b := &bench{}
		test.build(b)
		n := must(NewNet(b.points, b.elements))
		s, ever := n.NewState(), n.NewState()
		for _, f := range test.now {
			f(b, s)
		}
		for _, f := range test.ever {
			f(b, ever)
		}
		a, w := n.NewAnswer(), n.NewWork()
		if err := n.Solve(s, a, w); err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if c := Certify(n, s, a); !c.OK() {
			t.Errorf("%s: %+v", test.name, c)
		}
		for range 2 { // asking twice changes nothing
			if err := n.Rest(s, ever, a, w); err != nil {
				t.Errorf("%s: %v", test.name, err)
			}
		}
		for _, want := range test.want {
			p := b.index[want.point]
			if !near(a.Low[p], want.low) || !near(a.High[p], want.high) {
				t.Errorf("%s: %s stands %g to %g, want %g to %g", test.name, want.point, a.Low[p], a.High[p], want.low, want.high)
			}
			record("Standing water, worked by hand", test.name, want.point+", lowest head, m", want.low, a.Low[p], 1e-9)
			record("Standing water, worked by hand", test.name, want.point+", highest head, m", want.high, a.High[p], 1e-9)
			if a.Head[p] < a.Low[p]-1e-9 || a.Head[p] > a.High[p]+1e-9 {
				t.Errorf("%s: head at %s %g outside %g to %g", test.name, want.point, a.Head[p], a.Low[p], a.High[p])
			}
		}
	}
}

func near(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-9 }

func TestReach(t *testing.T) {
	b := &bench{}
	m, a, h, s := b.held("main"), b.at("a", 0), b.at("house", 3), b.held("store")
	b.valve("stop", m, a)
	b.check("nr", a, h, 0)
	b.booster("pump", s, h, 40)
	n := must(NewNet(b.points, b.elements))
	state, w := n.NewState(), n.NewWork()
	mask := make([]bool, 4)
	tests := []struct {
		name string
		from int32
		off  []string
		want [4]bool
	}{
		{"main presses into the house", m, nil, [4]bool{true, true, true, false}},
		{"house presses nowhere", h, nil, [4]bool{false, false, true, false}},
		{"store presses into the house only", s, nil, [4]bool{false, false, true, true}},
		{"shut stop valve", m, []string{"stop"}, [4]bool{true, false, false, false}},
	}
	for _, test := range tests {
		clear(state.Off)
		for _, name := range test.off {
			state.Off[b.index[name]] = true
		}
		n.Reach(state, test.from, mask, w)
		if [4]bool(mask) != test.want {
			t.Errorf("%s: %v, want %v", test.name, mask, test.want)
		}
	}
}

// On random circuits: intervals are not empty, the head given lies inside, and heads as
// Rest leaves them still certify.
func TestStandingWaterOfRandomCircuits(t *testing.T) {
	found := 0
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 7))
		c := random(r, 2+r.IntN(80), seed%2 == 0)
		n := c.net()
		a, w := n.NewAnswer(), n.NewWork()
		if err := n.Solve(&c.state, a, w); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		before := append([]float64(nil), a.Head...)
		ever := n.NewState()
		for p := range ever.Held {
			ever.Held[p] = c.state.Held[p] + uniform(r, 0, 5)
		}
		if err := n.Rest(&c.state, ever, a, w); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if cert := Certify(n, &c.state, a); !cert.OK() {
			t.Errorf("seed %d: %+v", seed, cert)
		}
		for p := range a.Head {
			low, high := a.Low[p], a.High[p]
			if low != high {
				found++
			}
			if !(low <= high+1e-9) || a.Head[p] < low-1e-9 || a.Head[p] > high+1e-9 {
				t.Errorf("seed %d: %s stands at %g in %g to %g", seed, c.points[p].Name, a.Head[p], low, high)
			}
			if low == high && math.Abs(before[p]-a.Head[p]) > 1e-9 {
				t.Errorf("seed %d: Rest moved a determined head", seed)
			}
		}
	}
	if found < 1000 {
		t.Errorf("only %d points stood undetermined: the test says little", found)
	}
}
