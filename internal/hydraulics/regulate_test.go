package hydraulics

import (
	"errors"
	"math"
	"slices"
	"testing"
)

func (b *bench) reducer(name string, from, to int32) {
	b.index[name] = b.add(must(NewReducer(name, from, to, 3.0/3600)))
}

// At each case the reducing valve stands where complementarity says: it holds its head,
// or is fully open short of it, or lets nothing by because the head is there already.
func TestReducer(t *testing.T) {
	tests := []struct {
		name             string
		main, set, store float64
		tap              bool
		want             float64 // head at its outlet
		x                func(float64) bool
	}{
		{"holds with a tap running", 60, 25, -5, true, 25, func(x float64) bool { return x > 0.8 && x < 1 }},
		{"holds with nothing drawn", 60, 25, -5, false, 25, func(x float64) bool { return math.Abs(x-(1-35.0/300)) < 1e-9 }},
		{"main too weak: fully open", 15, 25, -5, true, math.NaN(), func(x float64) bool { return x == 1 }},
		{"main too weak, nothing drawn", 15, 25, -5, false, 15, func(x float64) bool { return x == 1 }},
		{"another source is higher: shut", 60, 25, 30, false, 30, func(x float64) bool { return x == 0 }},
	}
	for _, test := range tests {
		b := &bench{}
		m, in, out, end, st := b.held("main"), b.at("in", 0), b.at("out", 0), b.at("end", 3), b.held("store")
		b.join("service", m, in)
		b.reducer("reducer", in, out)
		b.join("header", out, end)
		b.check("nr", st, out, 0)
		b.tap("tap", end, 3)
		n := must(NewNet(b.points, b.elements))
		s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
		s.Held[m], s.Held[st] = test.main, test.store
		s.Off[b.index["tap"]] = !test.tap
		r := Regulator{int32(b.index["reducer"]), out, test.set}
		if err := n.Regulate(s, a, w, []Regulator{r}); err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		x := s.Opening[r.Element]
		if got := a.Head[out]; !(math.Abs(got-test.want) < 1e-6) && test.want == test.want || !test.x(x) {
			t.Errorf("%s: head %.9g, opening %.9g, want head %g", test.name, got, x, test.want)
		}
		if c := Certify(n, s, a); !c.OK() {
			t.Errorf("%s: %+v", test.name, c)
		}
	}
}

// Two reducing valves, one behind the other, each hold their own head.
func TestReducersInSeries(t *testing.T) {
	b := &bench{}
	m := b.held("main")
	p := [5]int32{b.at("a", 0), b.at("b", 0), b.at("c", 0), b.at("d", 0), b.at("e", 0)}
	b.join("service", m, p[0])
	b.reducer("first", p[0], p[1])
	b.join("between", p[1], p[2])
	b.reducer("second", p[2], p[3])
	b.join("last", p[3], p[4])
	b.tap("near", p[1], 0)
	b.tap("far", p[4], 0)
	n := must(NewNet(b.points, b.elements))
	s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
	s.Held[m] = 70
	list := []Regulator{{int32(b.index["first"]), p[1], 40}, {int32(b.index["second"]), p[3], 20}}
	for range 2 {
		if err := n.Regulate(s, a, w, list); err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Head[p[1]]-40) > 1e-6 || math.Abs(a.Head[p[3]]-20) > 1e-6 {
			t.Errorf("heads %g and %g, want 40 and 20", a.Head[p[1]], a.Head[p[3]])
		}
		slices.Reverse(list)
	}
}

// Regulators that can answer one another round a ring are named, and only those.
func TestRegulatorsInARing(t *testing.T) {
	type build func(b *bench, m int32) []string
	tests := []struct {
		name  string
		build build
		want  []string
	}{
		{"side by side into one header", func(b *bench, m int32) []string {
			x, y := b.at("x", 0), b.at("y", 0)
			b.reducer("left", m, x)
			b.reducer("right", m, y)
			b.join("header", x, y)
			b.tap("tap", y, 0)
			return []string{"left", "right"}
		}, []string{"left", "right"}},
		{"from main and store into one header: the ring closes through the world", func(b *bench, m int32) []string {
			x, y, st := b.at("x", 0), b.at("y", 0), b.held("store")
			b.reducer("left", m, x)
			b.reducer("right", st, y)
			b.join("header", x, y)
			b.tap("tap", y, 0)
			return []string{"left", "right"}
		}, []string{"left", "right"}},
		{"on branches of their own", func(b *bench, m int32) []string {
			j, x, y := b.at("j", 0), b.at("x", 0), b.at("y", 0)
			b.join("service", m, j)
			b.reducer("left", j, x)
			b.reducer("right", j, y)
			b.tap("one", x, 0)
			b.tap("two", y, 0)
			return []string{"left", "right"}
		}, nil},
		{"in series, taps between and behind", func(b *bench, m int32) []string {
			x, y := b.at("x", 0), b.at("y", 0)
			b.reducer("left", m, x)
			b.reducer("right", x, y)
			b.tap("one", x, 0)
			b.tap("two", y, 0)
			return []string{"left", "right"}
		}, nil},
		{"in series on one leg of a ring", func(b *bench, m int32) []string {
			x, y := b.at("x", 0), b.at("y", 0)
			b.reducer("left", m, x)
			b.reducer("right", x, y)
			b.join("by-pass", m, y)
			b.tap("two", y, 0)
			return []string{"left", "right"}
		}, nil},
		{"the ring is shut off", func(b *bench, m int32) []string {
			x, y := b.at("x", 0), b.at("y", 0)
			b.reducer("left", m, x)
			b.reducer("right", m, y)
			b.valve("shut", x, y)
			b.tap("one", x, 0)
			b.tap("two", y, 0)
			return []string{"left", "right"}
		}, nil},
	}
	for _, test := range tests {
		b := &bench{}
		m := b.held("main")
		names := test.build(b, m)
		n := must(NewNet(b.points, b.elements))
		s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
		s.Held[m] = 60
		if i, is := b.index["store"]; is {
			s.Held[i] = 50
		}
		if i, is := b.index["shut"]; is {
			s.Opening[i] = 0
		}
		var list []Regulator
		for _, name := range names {
			e := b.index[name]
			list = append(list, Regulator{int32(e), b.elements[e].To, 20})
		}
		err := n.Regulate(s, a, w, list)
		var several *Several
		switch {
		case test.want == nil && err != nil:
			t.Errorf("%s: %v", test.name, err)
		case test.want != nil && (!errors.As(err, &several) || !slices.Equal(several.Parts, test.want) || a.Status != NotUnique):
			t.Errorf("%s: error %v, status %d, want %v named", test.name, err, a.Status, test.want)
		}
	}
}

func TestRegulateRefuses(t *testing.T) {
	b := &bench{}
	m, in, out := b.held("main"), b.at("in", 0), b.at("out", 0)
	b.join("service", m, in)
	b.reducer("reducer", in, out)
	n := must(NewNet(b.points, b.elements))
	s, a, w := n.NewState(), n.NewAnswer(), n.NewWork()
	for _, r := range []Regulator{{0, out, 20}, {9, out, 20}, {-1, out, 20}, {1, in, 20}, {1, m, 20}, {1, 9, 20}, {1, out, math.NaN()}} {
		if err := n.Regulate(s, a, w, []Regulator{r}); err == nil {
			t.Errorf("Regulate(%v) was accepted", r)
		}
	}
}

// droopBench is a pump with a drooping curve on a pipe up to a held head.
func droopBench(d Droop, lift float64) (*Net, *State, int32) {
	b := &bench{}
	st, del, top := b.held("store"), b.at("delivery", 0), b.held("top")
	b.index["pump"] = b.add(d.NewLift("pump", st, del))
	b.index["riser"] = b.add(Element{Name: "riser", From: del, To: top, Law: must(NewFixed("riser", 1e-3))})
	n := must(NewNet(b.points, b.elements))
	s := n.NewState()
	s.Held[top] = lift
	return n, s, int32(b.index["pump"])
}

// Where curve and pipe meet is worked out here by the quadratic formula:
// A + B q − C q² = lift + k q², k = 10.197 m/Kv².
func TestDuties(t *testing.T) {
	d := must(NewDroop("pump", 30, 0.3e-3, 33, 1e-3, 20))
	k := 1e5 / 9806.65 / 1e-6
	roots := func(lift float64) (lo, hi float64) {
		disc := math.Sqrt(d.B*d.B + 4*(d.C+k)*(d.A-lift))
		return (d.B - disc) / (2 * (d.C + k)), (d.B + disc) / (2 * (d.C + k))
	}
	q1, q2 := roots(31)
	_, only := roots(20)
	tests := []struct {
		name string
		lift float64
		want []float64
	}{
		{"low lift: one duty", 20, []float64{only}},
		{"between shut-off and the hump: standing, unsteady and running", 31, []float64{0, q1, q2}},
		{"above the hump: it stands", 40, []float64{0}},
	}
	for _, test := range tests {
		n, s, e := droopBench(d, test.lift)
		a, w := n.NewAnswer(), n.NewWork()
		err := n.Duties(s, a, w, e, d)
		var several *Several
		got := []float64{a.Flow[e]}
		if len(test.want) > 1 {
			if !errors.As(err, &several) || a.Status != NotUnique || !slices.Equal(several.Parts, []string{"pump"}) {
				t.Errorf("%s: error %v, status %d", test.name, err, a.Status)
				continue
			}
			got = several.Duties
		} else if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if !slices.EqualFunc(got, test.want, func(x, y float64) bool { return math.Abs(x-y) < 1e-9 }) {
			t.Errorf("%s: duties %v, want %v", test.name, got, test.want)
		}
	}
	n, s, e := droopBench(d, 20)
	if err := n.Duties(s, n.NewAnswer(), n.NewWork(), e+1, d); err == nil {
		t.Error("a pipe has duties")
	}
}
