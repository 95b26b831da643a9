package circuit

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// example lays out an example job in an arrangement; "" is its own.
func example(t testing.TB, name, arrangement string) (*assembly.Assembly, Inputs) {
	t.Helper()
	j := demo.Job(t, name)
	rows, p := demo.Rows(t, "generic")
	if arrangement != "" {
		j.Choices.Arrangement = arrangement
	}
	if j.Choices.LockLow.V == 0 {
		j.Choices.LockLow.V, j.Choices.LockHigh.V = 1.2e5, 1.8e5
	}
	a, err := assembly.Build(j, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return a, Read(j)
}

// laidOut is every example in every arrangement.
func laidOut(t *testing.T, each func(t *testing.T, a *assembly.Assembly, in Inputs)) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		for _, arrangement := range assembly.Arrangements() {
			t.Run(name+"/"+arrangement, func(t *testing.T) {
				a, in := example(t, name, arrangement)
				each(t, a, in)
			})
		}
	}
}

// worlds are cases in which, between them, everything that can break shows.
func worlds(c *Circuit) []Case {
	var list []Case
	all := make([]bool, len(c.Outlets))
	for n := range all {
		all[n] = true
	}
	for s := range c.Assembly.Settings {
		for _, main := range []quantity.Pressure{4e5, -0.9e5} {
			for _, pump := range []Pumping{Standing, Running} {
				for _, filling := range []bool{false, true} {
					for _, open := range [][]bool{nil, all} {
						list = append(list, Case{Setting: s, Main: main, Level: 9.4, Pump: pump, Filling: filling, Header: 0.5, Lifting: filling, Open: open})
					}
				}
			}
		}
	}
	return list
}

// Sound, the circuit built for mishaps answers as the plain one does, case by case.
func TestMishapCircuitIsTheSameWhileSound(t *testing.T) {
	laidOut(t, func(t *testing.T, a *assembly.Assembly, in Inputs) {
		plain := build(t, a, in)
		whole, err := NewWithMishaps(a, in)
		if err != nil {
			t.Fatal(err)
		}
		s, u := plain.NewSolver(), whole.NewSolver()
		for _, k := range worlds(plain) {
			solve(t, s, k)
			solve(t, u, k)
			for e := range s.Answer.Flow {
				near(t, plain.Net.Elements()[e].Name, u.Answer.Flow[e], s.Answer.Flow[e], 1e-10)
			}
			for e := len(s.Answer.Flow); e < len(u.Answer.Flow); e++ {
				if u.Answer.Flow[e] != 0 {
					t.Fatalf("%s passes %g through an extra element while sound", whole.Net.Elements()[e].Name, u.Answer.Flow[e])
				}
			}
		}
	})
}

// strike solves a case with a mishap in it, air let into open taps and the given elements
// shut by hand beforehand.
func strike(t testing.TB, s *Solver, k *Case, m *Mishap, shut ...Leak) *hydraulics.Answer {
	t.Helper()
	s.C.State(k, s.State)
	for _, l := range shut {
		s.State.Off[l.Beside] = true
	}
	s.C.Breathe(s.State)
	if m != nil {
		m.Strike(s.State)
	}
	if err := s.C.Net.Solve(s.State, s.Answer, s.work); err != nil {
		t.Fatalf("%+v with %+v: %v", k, m, err)
	}
	return s.Answer
}

// Every mishap of the pipework changes a flow by more than the certificate's doubt, or a
// standing head, in some case (a valve that leaks: shut by hand); every other one says what
// it upsets.
func TestEveryMishapShows(t *testing.T) {
	laidOut(t, func(t *testing.T, a *assembly.Assembly, in Inputs) {
		c, err := NewWithMishaps(a, in)
		if err != nil {
			t.Fatal(err)
		}
		sound, hurt := c.NewSolver(), c.NewSolver()
		list := worlds(c)
		for i := range c.Mishaps {
			m := &c.Mishaps[i]
			if m.Swap || m.Upset != NoUpset && len(m.Opens)+len(m.Shuts) == 0 && m.Sinks == 0 {
				continue
			}
			shown := false
			for k := 0; k < len(list) && !shown; k++ {
				shown = differ(strike(t, sound, &list[k], nil, m.Leaks...), strike(t, hurt, &list[k], m, m.Leaks...))
			}
			if !shown {
				t.Errorf("%s changes nothing in any of %d cases", m.Key(), len(list))
			}
		}
	})
}

// differ reports whether two answers differ in a flow by a hundredth of a mL/min, or in
// where a head stands.
func differ(a, b *hydraulics.Answer) bool {
	for e := range a.Flow {
		if math.Abs(a.Flow[e]-b.Flow[e]) > 1.7e-10 {
			return true
		}
	}
	for p := range a.Low {
		if a.Low[p] != b.Low[p] && math.Abs(a.Low[p]-b.Low[p]) > 1e-6 {
			return true
		}
	}
	return false
}

// The mishaps an assembly can have are its own: each kind of part brings its list.
func TestMishapsByPart(t *testing.T) {
	a, in := example(t, "kestrel-rise", "")
	c, err := NewWithMishaps(a, in)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{
		"check-stuck-open N1", "check-stuck-shut N2", "check-reversed N3", "check-left-out N4",
		"valve-leaks V3", "valve-leaks D2", "float-passing F1", "float-broken-off F1", "float-stuck-shut F1", "float-submerged F1",
		"control-stuck-on C1", "control-stuck-off C1", "lock-out-stuck-on C2", "lock-out-stuck-off C2",
		"vessel-flat E1", "vessel-shut-off E1", "overflow-blocked S1", "vent-blocked S1", "screens-blocked S1",
		"strainer-blocked U1", "pump-no-start P1", "relief-blocked H1", "tags-swapped V3 V7",
		"hose-in-bucket garden", "tap-left-open shower-up", "grit",
	} {
		if c.MishapOf(key) < 0 {
			t.Errorf("%s is missing", key)
		}
	}
	seen := map[string]bool{}
	for i := range c.Mishaps {
		if key := c.Mishaps[i].Key(); seen[key] {
			t.Errorf("%s is listed twice", key)
		} else {
			seen[key] = true
		}
	}
	j, in := example(t, "juniper-flat", "")
	if c, err = NewWithMishaps(j, in); err != nil {
		t.Fatal(err)
	}
	if c.MishapOf("stuck-midway W1") < 0 || c.MishapOf("lock-out-stuck-on C2") >= 0 {
		t.Error("a three-way valve brings no stuck handle, or a lock-out comes from nowhere")
	}
}

// One seat of a double check stuck open still holds; both lips fouled do not: the main
// that sucks takes water, and of a single check one failure is enough.
func TestDoubleCheckLosesOneSeat(t *testing.T) {
	for _, test := range []struct {
		kind, id string
		back     bool
	}{
		{"double", "check-stuck-open N1", false}, {"double", "grit", true}, {"double", "check-left-out N1", true}, {"double", "check-reversed N1", true},
		{"single", "check-stuck-open N1", true}, {"single", "check-stuck-shut N1", false},
		{"reduced-pressure", "grit", false},
	} {
		a := &assembly.Assembly{Parts: []assembly.Part{
			street(),
			two("N1", assembly.NonReturn, catalogue.NonReturn{Kind: test.kind, Kv: kv(5), Opens: 0.6}, 0, 0),
			{Tag: "S1", Kind: assembly.Store, Ports: []assembly.Port{port("outlet", 2)}},
		}, Settings: []assembly.Setting{{Name: "normal"}}}
		e := func(p, q int) assembly.End { return assembly.End{Part: p, Port: q} }
		a.Parts = append(a.Parts, two("M1", assembly.Meter, row(3), 0, 2))
		a.Joins = []assembly.Join{{A: e(0, 0), B: e(1, 0)}, {A: e(1, 1), B: e(3, 0)}, {A: e(3, 1), B: e(2, 0)}}
		c, err := NewWithMishaps(a, Inputs{Water: 15})
		if err != nil {
			t.Fatal(err)
		}
		s := c.NewSolver()
		ans := strike(t, s, &Case{Main: -0.5e5, Level: 3}, &c.Mishaps[c.MishapOf(test.id)])
		if got := ans.Flow[c.StreetElement()] < -1e-9; got != test.back {
			t.Errorf("%s, %s: flow to the street %g m³/s, want back %v", test.kind, test.id, ans.Flow[c.StreetElement()], test.back)
		}
	}
}

// An open tap upstairs lets air in when the street sucks: flow runs back to the street by
// it; with the air's way shut, nothing does.
func TestOpenTapBreathes(t *testing.T) {
	a := chain(street(), two("M1", assembly.Meter, row(3), 0, 5), outlet("tap", tap(20, 0), 5))
	c, err := NewWithMishaps(a, Inputs{Water: 15})
	if err != nil {
		t.Fatal(err)
	}
	s := c.NewSolver()
	k := Case{Main: -0.2e5, Open: []bool{true}}
	if q := strike(t, s, &k, nil).Flow[c.StreetElement()]; !(q < -1e-4) {
		t.Errorf("through an open tap the street draws %g", q)
	}
	k.Open = nil
	if q := strike(t, s, &k, nil).Flow[c.StreetElement()]; q != 0 {
		t.Errorf("with the tap shut the street draws %g", q)
	}
}

// A struck state is written afresh by the next sound case: nothing of the mishap stays.
func TestStrikeLeavesNothing(t *testing.T) {
	a, in := example(t, "juniper-flat", "")
	c, err := NewWithMishaps(a, in)
	if err != nil {
		t.Fatal(err)
	}
	k := Case{Main: 3e5, Level: 2}
	clean, s := c.Net.NewState(), c.Net.NewState()
	c.State(&k, clean)
	for i := range c.Mishaps {
		c.State(&k, s)
		c.Breathe(s)
		c.Mishaps[i].Strike(s)
		c.State(&k, s)
		for e := range s.Off {
			if s.Off[e] != clean.Off[e] || s.Opening[e] != clean.Opening[e] {
				t.Fatalf("%s leaves element %d (%s) struck", c.Mishaps[i].Key(), e, c.Net.Elements()[e].Name)
			}
		}
		for p := range s.Held {
			if s.Held[p] != clean.Held[p] {
				t.Fatalf("%s leaves a held head at point %d", c.Mishaps[i].Key(), p)
			}
		}
	}
}
