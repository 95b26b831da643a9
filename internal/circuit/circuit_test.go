package circuit

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"

	"pgregory.net/rapid"
)

const barHead = 1e5 / 9806.65

func port(name string, z quantity.Length) assembly.Port { return assembly.Port{Name: name, Z: z} }

// kv is a flow factor written in m³/h at 1 bar.
func kv(m3h float64) quantity.FlowFactor { return quantity.FlowFactor(m3h / 3600) }

// row is a valve-like part of one flow factor.
func row(m3h float64) catalogue.Valve { return catalogue.Valve{Kv: kv(m3h)} }

// tap is an outlet that passes so many L/min at 3 bar.
func tap(lpm, limit float64) catalogue.Outlet {
	return catalogue.Outlet{At3Bar: quantity.Flow(lpm / 60000), Limit: quantity.Flow(limit / 60000)}
}

func chain(parts ...assembly.Part) *assembly.Assembly {
	a := &assembly.Assembly{Parts: parts, Settings: []assembly.Setting{{Name: "normal"}}}
	for i := 1; i < len(parts); i++ {
		a.Joins = append(a.Joins, assembly.Join{A: assembly.End{Part: i - 1, Port: len(parts[i-1].Ports) - 1}, B: assembly.End{Part: i, Port: 0}})
	}
	return a
}

func street() assembly.Part {
	return assembly.Part{Tag: "MAIN", Kind: assembly.Main, Ports: []assembly.Port{port("out", 0)}}
}

func two(tag string, k assembly.Kind, r catalogue.Item, z0, z1 quantity.Length) assembly.Part {
	return assembly.Part{Tag: tag, Kind: k, Row: r, Ports: []assembly.Port{port("in", z0), port("out", z1)}}
}

func hand(tag string, m3h float64, z quantity.Length) assembly.Part {
	p := two(tag, assembly.HandValve, row(m3h), z, z)
	p.Ways = []assembly.Way{{Position: "open", A: 0, B: 1}}
	return p
}

func outlet(tag string, r catalogue.Outlet, z quantity.Length) assembly.Part {
	return assembly.Part{Tag: tag, Kind: assembly.Outlet, Row: r, Ports: []assembly.Port{port("in", z)}}
}

func build(t testing.TB, a *assembly.Assembly, in Inputs) *Circuit {
	t.Helper()
	c, err := New(a, in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func solve(t testing.TB, s *Solver, k Case) {
	t.Helper()
	if err := s.Solve(&k); err != nil {
		t.Fatal(err)
	}
	if !s.OK() {
		t.Fatalf("not certified: %+v", s.Answer.Cert)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ±%g", what, got, want, tol)
	}
}

// A meter and a tap in a row: H − z = (1 bar/ρg) (q/Kv)² + (q/c)², solved by hand.
func TestMeterAndTap(t *testing.T) {
	c := build(t, chain(street(), two("M1", assembly.Meter, row(3.15), 0, 0), outlet("kitchen", tap(20, 0), 4)), Inputs{Water: 15})
	s := c.NewSolver()
	solve(t, s, Case{Main: 3e5, Open: []bool{true}})
	k, coefficient := 3.15/3600, 20.0/60000/math.Sqrt(3*barHead)
	want := math.Sqrt((3*barHead - 4) / (barHead/(k*k) + 1/(coefficient*coefficient)))
	q, p := s.Draw(0)
	near(t, "flow", float64(q), want, 2e-9) // the untested main loses a millimetre at 1 L/s
	near(t, "pressure", float64(p), 9806.65*math.Pow(want/coefficient, 2), 5)
	if c.Tested {
		t.Error("a main without a flow test passes for tested")
	}
}

// lost is what the main of a circuit loses at a flow [Pa].
func lost(c *Circuit, q quantity.Flow) float64 {
	for i := range c.Net.Elements() {
		if law, is := c.Net.Elements()[i].Law.(*hydraulics.Main); is {
			h, _ := law.Drop(float64(q), 1)
			return h * Weight
		}
	}
	return math.NaN()
}

// The flow test comes back: at the two rates tested the meter shows the readings.
func TestMainGivesTheFlowTestBack(t *testing.T) {
	in := Inputs{Water: 15, Static: 3.2e5, LowFlow: 9. / 60000, LowRes: 2.9e5, HighFlow: 20. / 60000, HighRes: 2.1e5}
	c := build(t, chain(street(), outlet("tap", tap(20, 0), 0)), in)
	near(t, "low", float64(in.Static)-lost(c, in.LowFlow), 2.9e5, 1e-6)
	near(t, "high", float64(in.Static)-lost(c, in.HighFlow), 2.1e5, 1e-6)
	in.LowFlow = 0
	near(t, "one rate", float64(in.Static)-lost(build(t, chain(street(), outlet("tap", tap(20, 0), 0)), in), in.HighFlow), 2.1e5, 1e-6)
	in.LowFlow, in.LowRes, in.HighRes = 9./60000, 3.3e5, 3.4e5
	if build(t, chain(street(), outlet("tap", tap(20, 0), 0)), in).Tested {
		t.Error("gauges that rise under flow pass for a sag")
	}
}

// threeWay is a main, a store 3 m up, a three-way valve and one tap.
func threeWay() *assembly.Assembly {
	a := &assembly.Assembly{Parts: []assembly.Part{
		street(),
		{Tag: "S1", Kind: assembly.Store, Ports: []assembly.Port{port("outlet", 3)}},
		{Tag: "W1", Kind: assembly.ThreeWay, Row: row(5), Ports: []assembly.Port{port("a", 1), port("b", 1), port("c", 1)},
			Ways: []assembly.Way{{Position: "main", A: 0, B: 2}, {Position: "store", A: 1, B: 2}, {Position: "between", A: 0, B: 2}, {Position: "between", A: 1, B: 2}}},
		outlet("tap", tap(20, 0), 0.5),
	}}
	e := func(p, q int) assembly.End { return assembly.End{Part: p, Port: q} }
	a.Joins = []assembly.Join{{A: e(0, 0), B: e(2, 0)}, {A: e(1, 0), B: e(2, 1)}, {A: e(2, 2), B: e(3, 0)}}
	for _, name := range []string{"main", "store", "between"} {
		a.Settings = append(a.Settings, assembly.Setting{Name: name, Positions: map[string]string{"W1": name}})
	}
	return a
}

// Every position joins what it says: main alone, store alone, and in between both, when
// the main pushes into the store.
func TestThreeWayPositions(t *testing.T) {
	c := build(t, threeWay(), Inputs{Water: 15})
	s := c.NewSolver()
	flows := map[string]quantity.Flow{}
	for i, name := range []string{"main", "store", "between"} {
		solve(t, s, Case{Setting: i, Main: 2e5, Level: 3.8, Open: []bool{true}})
		flows[name], _ = s.Draw(0)
		fromMain := s.Flow(0)
		if (name == "store") != (fromMain == 0) {
			t.Errorf("%s: the main gives %g", name, fromMain)
		}
		if name == "between" && fromMain <= flows[name] {
			t.Errorf("between: the main gives %g and the tap takes %g: nothing runs into the store", fromMain, flows[name])
		}
	}
	if !(flows["main"] > flows["between"] && flows["between"] > flows["store"] && flows["store"] > 0) {
		t.Errorf("flows are %v", flows)
	}
	for i, want := range [][2]bool{{true, false}, {false, true}, {true, true}} {
		if main, store := s.Serves(i); main != want[0] || store != want[1] {
			t.Errorf("setting %d: main serves %v, store %v, want %v", i, main, store, want)
		}
	}
}

// pumped is a store, a pump with its non-return valve and sensor, and one tap.
func pumped() *assembly.Assembly {
	pump := catalogue.Pump{Shutoff: 45, Q1: 0.9e-3, H1: 35, Q2: 1.4e-3, H2: 24}
	a := chain(
		assembly.Part{Tag: "S1", Kind: assembly.Store, Ports: []assembly.Port{port("outlet", 0)}},
		two("P1", assembly.Pump, pump, 0, 0),
		two("N1", assembly.NonReturn, catalogue.NonReturn{Kv: kv(5), Opens: 0.3}, 0, 0),
		assembly.Part{Tag: "C1", Kind: assembly.Switch, Ports: []assembly.Port{port("in", 0), port("out", 0)}},
		outlet("tap", tap(20, 0), 2),
	)
	a.Controls = []assembly.Control{{Tag: "C1", Kind: "speed-control", Senses: assembly.End{Part: 3, Port: 0}, Acts: "P1", On: 1.6e5, Off: 2e5}}
	return a
}

// A pump that holds makes its set pressure at its sensor; asked too much it runs flat
// out; standing, the store drains through it by gravity alone.
func TestPumpStates(t *testing.T) {
	c := build(t, pumped(), Inputs{Water: 15})
	s := c.NewSolver()
	solve(t, s, Case{Level: 1, Pump: Holding, Hold: 2e5, Open: []bool{true}})
	near(t, "held", float64(s.Pressure(3, 0)), 2e5, 0.1)
	if s.Speed <= 0 || s.Speed >= 1 {
		t.Errorf("speed is %g", s.Speed)
	}
	solve(t, s, Case{Level: 1, Pump: Holding, Hold: 9e5, Open: []bool{true}})
	full, _ := s.Draw(0)
	if s.Speed != 1 {
		t.Errorf("asked 9 bar the pump runs at %g", s.Speed)
	}
	solve(t, s, Case{Level: 1, Pump: Running, Open: []bool{true}})
	if q, _ := s.Draw(0); math.Abs(float64(q-full)) > 1e-12 {
		t.Errorf("flat out %g, held beyond reach %g", q, full)
	}
	solve(t, s, Case{Level: 1, Pump: Standing, Open: []bool{true}})
	if q, _ := s.Draw(0); q != 0 {
		t.Errorf("a store 1 m up gives a tap 2 m up %g", q)
	}
	solve(t, s, Case{Level: 4, Pump: Standing, Open: []bool{true}})
	if q, _ := s.Draw(0); q <= 0 {
		t.Error("a store 4 m up gives a tap 2 m up nothing through the standing pump")
	}
	solve(t, s, Case{Level: 4, Dry: true, Pump: Running, Open: []bool{true}})
	if q, _ := s.Draw(0); q != 0 {
		t.Errorf("a dry store gives %g", q)
	}
}

// The feed falls through the air: what the float valve passes depends on its mouth's
// height and never on the store's level.
func TestFloatValveEndsInTheAir(t *testing.T) {
	f := assembly.Part{Tag: "F1", Kind: assembly.FloatValve, Row: catalogue.Float{Kv: kv(0.65)}, Ports: []assembly.Port{port("in", 5), port("mouth", 5)}}
	a := chain(street(), two("M1", assembly.Meter, row(3.15), 0, 5), f, outlet("dummy", tap(20, 0), 5))
	a.Joins = a.Joins[:2]
	c := build(t, a, Inputs{Water: 15})
	s := c.NewSolver()
	for _, level := range []quantity.Length{0, 20} {
		solve(t, s, Case{Main: 2e5, Level: level, Filling: true})
		want := math.Sqrt((2*barHead - 5) / (barHead * (math.Pow(3600/3.15, 2) + math.Pow(3600/0.65, 2))))
		near(t, "feed", float64(s.Flow(2)), want, 1e-8)
	}
	solve(t, s, Case{Main: 2e5})
	if s.Flow(2) != 0 {
		t.Errorf("shut, the float valve passes %g", s.Flow(2))
	}
	solve(t, s, Case{Main: 0.4e5, Filling: true})
	sheet := &calc.Sheet{}
	if s.WalkMouth(2, sheet) || len(sheet.Steps) != 2 || sheet.Steps[1].After != 5 {
		t.Errorf("dry walk is %+v", sheet.Steps)
	}
}

func TestShutRefuses(t *testing.T) {
	a := chain(street(), hand("V1", 30, 0), outlet("tap", tap(20, 0), 0))
	for _, test := range []struct {
		positions map[string]string
		want      string
	}{
		{map[string]string{"V9": "open"}, "1 positions are given and 0 of their tags"},
		{map[string]string{"tap": "open"}, "nobody can turn it"},
	} {
		a.Settings[0].Positions = test.positions
		if _, err := New(a, Inputs{Water: 15}); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("positions %v: error %v, want %q", test.positions, err, test.want)
		}
	}
}

func TestNewRefusesWrongParts(t *testing.T) {
	for _, test := range []struct {
		name string
		part assembly.Part
		want string
	}{
		{"a pump made of a valve row", two("P1", assembly.Pump, row(3), 0, 0), "P1"},
		{"a run made of nothing", two("R1", assembly.Run, nil, 0, 0), "R1"},
		{"a non-return valve made of a float", two("N1", assembly.NonReturn, catalogue.Float{}, 0, 0), "N1"},
		{"a meter that passes nothing", two("M1", assembly.Meter, row(0), 0, 0), "M1"},
		{"a meter with one port", assembly.Part{Tag: "M1", Kind: assembly.Meter, Row: row(3), Ports: []assembly.Port{port("in", 0)}}, "at least 2"},
	} {
		_, err := New(chain(street(), test.part, outlet("tap", tap(20, 0), 0)), Inputs{Water: 15})
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one that names %q", test.name, err, test.want)
		}
	}
}

func TestLock(t *testing.T) {
	l := Lock{On: 1.2e5, Off: 1.8e5}
	for _, test := range []struct {
		state LockState
		felt  quantity.Pressure
		want  LockState
	}{
		{LockedOut, 1.2e5, LockedOut}, {LockedOut, 1.19e5, Allowed},
		{Allowed, 1.8e5, Allowed}, {Allowed, 1.81e5, LockedOut},
		{LockedOut, 1.5e5, LockedOut}, {Allowed, 1.5e5, Allowed},
	} {
		if got := l.Next(test.state, test.felt); got != test.want {
			t.Errorf("Next(%d, %g) = %d, want %d", test.state, test.felt, got, test.want)
		}
	}
}

// Whatever is open at whatever pressure: every answer is certified, and what the sources
// give is what the taps take.
func TestAnyCaseBalances(t *testing.T) {
	a := threeWay()
	c := build(t, a, Inputs{Water: 15})
	s := c.NewSolver()
	rapid.Check(t, func(r *rapid.T) {
		k := Case{
			Setting: rapid.IntRange(0, 2).Draw(r, "setting"),
			Main:    quantity.Pressure(rapid.Float64Range(-0.5e5, 8e5).Draw(r, "main")),
			MainOff: rapid.Bool().Draw(r, "off"),
			Level:   quantity.Length(rapid.Float64Range(3, 5).Draw(r, "level")),
			Open:    []bool{rapid.Bool().Draw(r, "open")},
		}
		if err := s.Solve(&k); err != nil || !s.OK() {
			r.Fatalf("%+v: %v %+v", k, err, s.Answer.Cert)
		}
		taken := s.Answer.Flow[c.element[3]]
		if out := float64(s.Flow(2)); math.Abs(out-taken) > 1e-9 {
			r.Fatalf("%+v: the valve gives %g and the tap takes %g", k, out, taken)
		}
	})
}

func TestSolveAllocatesNothing(t *testing.T) {
	c := build(t, pumped(), Inputs{Water: 15})
	s := c.NewSolver()
	k := Case{Level: 1, Pump: Running, Open: []bool{true}}
	if n := testing.AllocsPerRun(20, func() { _ = s.Solve(&k) }); n > 0 {
		t.Errorf("a solve allocates %g times", n)
	}
}

func BenchmarkSolve(b *testing.B) {
	c := build(b, pumped(), Inputs{Water: 15})
	s := c.NewSolver()
	k := Case{Level: 1, Pump: Holding, Hold: 2e5, Open: []bool{true}}
	for b.Loop() {
		if err := s.Solve(&k); err != nil {
			b.Fatal(err)
		}
	}
}
