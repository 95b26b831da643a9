package hydraulics

import (
	"math"
	"testing"
)

// Flow through a non-return valve in each of its states, pressed forward and backward by
// 10 m. By hand: q = Kv √(10/10.197) with Kv 1 m³/h-ish; leaking, the share of it.
func TestNonReturnStates(t *testing.T) {
	const kv, share = 1e-3, 0.005
	full := kv * math.Sqrt(10/(1e5/9806.65))
	opening := kv * math.Sqrt(9.7/(1e5/9806.65)) // after 0.3 m to open
	tests := []struct {
		state             NonReturnState
		forward, backward float64
	}{
		{Sound, opening, 0},
		{StuckOpen, full, -full},
		{StuckShut, 0, 0},
		{LeaksBack, opening + share*full, -share * full},
		{BuiltWrong, 0, -opening},
		{99, 0, 0},
	}
	for _, test := range tests {
		for _, up := range []bool{true, false} {
			v := must(NewNonReturnStates("check", 0, 1, kv, 0.3, share))
			n := must(NewNet([]Point{{Name: "up", Held: true}, {Name: "down", Held: true}}, v.Elements[:]))
			s, a := n.NewState(), n.NewAnswer()
			off := test.state.Off()
			copy(s.Off, off[:])
			want := test.forward
			if s.Held[0] = 10; !up {
				s.Held[0], want = -10, test.backward
			}
			if err := n.Solve(s, a, n.NewWork()); err != nil {
				t.Fatal(err)
			}
			got := a.Flow[0] + a.Flow[1] + a.Flow[2] - a.Flow[3]
			if math.Abs(got-want) > 1e-9*full {
				t.Errorf("state %d, forward %t: %g, want %g", test.state, up, got, want)
			}
		}
	}
}

// Between its positions a three-way valve joins both sides: half of Kv each way in turn,
// in series Kv/(2√2) from side to side.
func TestThreeWayBetween(t *testing.T) {
	const kv = 1e-3
	first, second, err := ThreeWay("diverter", 0.5)
	if err != nil || first != 0.5 || second != 0.5 {
		t.Fatalf("ThreeWay(0.5) = %g, %g, %v", first, second, err)
	}
	b := &bench{}
	main, store, common := b.held("main"), b.held("store"), b.at("common", 0)
	b.index["first"] = b.add(Element{Name: "first", From: main, To: common, Law: must(NewWay("first", kv))})
	b.index["second"] = b.add(Element{Name: "second", From: store, To: common, Law: must(NewWay("second", kv))})
	n := must(NewNet(b.points, b.elements))
	for _, test := range []struct{ turn, want float64 }{{0, 0}, {0.5, kv / (2 * math.Sqrt2)}, {1, 0}} {
		s, a := n.NewState(), n.NewAnswer()
		s.Held[main], s.Held[store] = 1e5/9806.65, 0
		s.Opening[0], s.Opening[1], err = ThreeWay("diverter", test.turn)
		if err != nil {
			t.Fatal(err)
		}
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Flow[0]-test.want) > 1e-9*kv || a.Flow[1] != -a.Flow[0] {
			t.Errorf("turn %g: %g out of the main into the store, want %g", test.turn, a.Flow[0], test.want)
		}
	}
}

// Hand-worked figures of the small parts.
func TestPartFigures(t *testing.T) {
	hour := 1.0 / 3600
	must2 := func(v float64, err error) float64 { return must(v, err) }
	tests := []struct {
		name           string
		got, want, tol float64
		src            string
	}{
		{"meter Q3 2.5", must2(MeterKv("m", 2.5*hour, 63e3)), 3.15 * hour, 2e-3, "2.5/√0.63"},
		{"seat 3.2 mm", must2(SeatKv("f", 3.2e-3)), 0.29 * hour, 2e-2, "0.7·8.042 mm²·14.142 m/s"},
		{"seat 4.8 mm", must2(SeatKv("f", 4.8e-3)), 0.645 * hour, 1e-2, "the same"},
		{"seat 6.4 mm", must2(SeatKv("f", 6.4e-3)), 1.147 * hour, 1e-2, "the same"},
		{"seat 9.5 mm", must2(SeatKv("f", 9.5e-3)), 2.53 * hour, 1e-2, "the same"},
		{"travel begun", must2(Travel("v", 0.2, 1, 3, 10)), 0.5, 1e-12, "0.2 + 0.3"},
		{"travel done", must2(Travel("v", 0.2, 1, 30, 10)), 1, 1e-12, "there"},
		{"travel back", must2(Travel("v", 1, 0, 4, 10)), 0.6, 1e-12, "1 − 0.4"},
		{"no power", must2(Travel("v", 0.4, 1, 0, 10)), 0.4, 1e-12, "stuck midway"},
		{"boils at sea level, 20 °C", BoilingHead(0, 20), -10.112, 1e-3, "(2339 − 101325)/(998.20·9.80665)"},
		{"boils at 1500 m, 30 °C", BoilingHead(1500, 30), -8.225, 1e-3, "(4247 − 84556)/(995.65·9.80665)"},
		{"swell of 100 L, 10 to 60 °C", Swell(0.1, 10, 60), 1.678e-3, 2e-3, "0.1 (999.70/983.20 − 1)"},
	}
	for _, test := range tests {
		if !(math.Abs(test.got-test.want) <= test.tol*math.Abs(test.want)) {
			t.Errorf("%s: %.6g, want %.6g (%s)", test.name, test.got, test.want, test.src)
		}
	}
}

func TestDelayedFloat(t *testing.T) {
	f := must(NewDelayedFloat("float", 1.1, 1.4))
	open := false
	for _, step := range []struct {
		level float64
		want  bool
	}{{1.5, false}, {1.2, false}, {1.1, true}, {1.2, true}, {1.39, true}, {1.4, false}, {1.3, false}, {0.5, true}} {
		if open = f.Next(open, step.level); open != step.want {
			t.Errorf("at %g: open %t, want %t", step.level, open, step.want)
		}
	}
	if !f.Stays(true, 1.25) || !f.Stays(false, 1.25) {
		t.Error("between its levels both states stay")
	}
}

// A relief valve on a trapped heater: shut below its set head; at set and band it passes
// its rated flow Kv √((S + b)/10.197).
func TestReliefOpens(t *testing.T) {
	const kv, set, band = 5e-4, 60.0, 6.0
	b := &bench{}
	src, air := b.held("heater"), b.held("air")
	b.add(must(NewRelief("relief", src, air, kv, set, band)))
	n := must(NewNet(b.points, b.elements))
	for _, test := range []struct{ head, want float64 }{
		{59.9, 0}, {60, 0}, {66, kv * math.Sqrt(66/(1e5/9806.65))}, {100, kv * math.Sqrt(100/(1e5/9806.65))}, {-5, 0},
	} {
		s, a := n.NewState(), n.NewAnswer()
		s.Held[src] = test.head
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Flow[0]-test.want) > 1e-9*kv {
			t.Errorf("at %g m: %g, want %g", test.head, a.Flow[0], test.want)
		}
	}
}

// A vent spills over its mouth and lets air in at its root, and between does neither.
func TestVent(t *testing.T) {
	for _, test := range []struct {
		main    float64
		out, in bool
		highest float64 // head where the vent leaves
		lowest  float64
	}{
		{main: 20, out: true, lowest: 7, highest: 7.9},
		{main: 5, lowest: 5, highest: 5},
		{main: -4, in: true, lowest: 1.9, highest: 2},
	} {
		b := &bench{}
		m, at, mouth, root := b.held("main"), b.at("heater", 2), b.held("mouth"), b.held("root")
		b.points[mouth].Z, b.points[root].Z = 7, 2
		b.join("feed", m, at)
		v := must(NewVent("vent", at, mouth, root, 2e-2))
		out, in := b.add(v[0]), b.add(v[1])
		n := must(NewNet(b.points, b.elements))
		s, a := n.NewState(), n.NewAnswer()
		s.Held[m] = test.main
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if (a.Flow[out] > 0) != test.out || (a.Flow[in] > 0) != test.in || a.Head[at] < test.lowest-1e-9 || a.Head[at] > test.highest+1e-9 {
			t.Errorf("main %g: out %g, in %g, head %g", test.main, a.Flow[out], a.Flow[in], a.Head[at])
		}
	}
}

func TestHeater(t *testing.T) {
	h := must(NewHeater("geyser", 1e-3, 40, 0.05e-3))
	vented := must(h.WithVent("geyser", 6))
	if h.Fires(0.04e-3) || !h.Fires(0.05e-3) || h.Fires(-1e-3) {
		t.Error("fires at its least flow and above, forward only")
	}
	if got := h.Over(45, 3); got != 2 {
		t.Errorf("45 m at a height of 3 m is %g over a rating of 40 m, want 2", got)
	}
	if h.Spills(100) || vented.Spills(6) || !vented.Spills(6.01) {
		t.Error("only a vented heater spills, over the height of its vent")
	}
	if !must(NewHeater("tank", 1e-3, 40, 0)).Fires(1e-9) {
		t.Error("a storage heater asks for no flow")
	}
}
