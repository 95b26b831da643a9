package hydraulics

import (
	"math"
	"strings"
	"testing"
)

func contains(s, part string) bool { return strings.Contains(s, part) }

func TestNewNetRefuses(t *testing.T) {
	law := must(NewFixed("x", 1e-3))
	two := []Point{{Name: "a", Held: true}, {Name: "b"}}
	tests := []struct {
		name     string
		points   []Point
		elements []Element
		want     string
	}{
		{"nothing held", []Point{{Name: "a"}, {Name: "b"}}, nil, "no point of 2 has its head held"},
		{"height not a number", []Point{{Name: "a", Z: math.NaN(), Held: true}}, nil, "a: height"},
		{"loop to itself", two, []Element{{Name: "hose", From: 1, To: 1, Law: law}}, "hose: both ends"},
		{"dangling", two, []Element{{Name: "hose", From: 1, To: 7, Law: law}}, "hose: end"},
		{"negative end", two, []Element{{Name: "hose", From: -1, To: 1, Law: law}}, "hose: end"},
		{"no law", two, []Element{{Name: "hose", From: 0, To: 1}}, "hose: has no law"},
		{"opening head", two, []Element{{Name: "check", From: 0, To: 1, Law: law, OneWay: true, Opens: -1}}, "check: opening head"},
		{"opening head both ways", two, []Element{{Name: "check", From: 0, To: 1, Law: law, Opens: 1}}, "check: an opening head"},
		{"unnamed", two, []Element{{From: 0, To: 7, Law: law}}, "element 0: end"},
	}
	for _, test := range tests {
		_, err := NewNet(test.points, test.elements)
		if err == nil || !contains(err.Error(), test.want) {
			t.Errorf("%s: %v does not say %q", test.name, err, test.want)
		}
	}
}

func TestSolveRefusesAStateThatDoesNotFit(t *testing.T) {
	n, p := newHome()
	a, w := n.NewAnswer(), n.NewWork()
	spoil := []struct {
		name string
		do   func(s *State)
		want string
	}{
		{"held head", func(s *State) { s.Held[p.main] = math.NaN() }, "main: held head"},
		{"opening above 1", func(s *State) { s.Opening[p.float] = 1.2 }, "float: opening"},
		{"opening below 0", func(s *State) { s.Opening[p.float] = -0.1 }, "float: opening"},
		{"speed not a number", func(s *State) { s.Opening[p.pump] = math.NaN() }, "pump: opening or speed"},
		{"short", func(s *State) { s.Off = s.Off[:3] }, "state has"},
	}
	for _, test := range spoil {
		s := n.NewState()
		test.do(s)
		err := n.Solve(s, a, w)
		if err == nil || !contains(err.Error(), test.want) || a.Status != NotSolved {
			t.Errorf("%s: %v (status %d) does not say %q", test.name, err, a.Status, test.want)
		}
	}
}

func TestSolveAllocatesNothing(t *testing.T) {
	n, p := newHome()
	list := p.cases(n)
	a, w := n.NewAnswer(), n.NewWork()
	for _, s := range list { // every layout is met
		if err := n.Solve(s, a, w); err != nil {
			t.Fatal(err)
		}
	}
	i := 0
	if got := testing.AllocsPerRun(200, func() {
		if err := n.Solve(list[i%len(list)], a, w); err != nil {
			t.Fatal(err)
		}
		i++
	}); got != 0 {
		t.Errorf("a solve allocates %g times", got)
	}
}

func TestStill(t *testing.T) {
	n, p := newHome()
	s := n.NewState()
	s.Held[p.main], s.Held[p.store] = 32.6, 1.4
	s.Off[p.float], s.Off[p.pump] = true, true
	for _, o := range p.outlets {
		s.Off[o] = true
	}
	a := n.NewAnswer()
	if err := n.Solve(s, a, n.NewWork()); err != nil || a.Status != Still {
		t.Fatalf("status %d, %v", a.Status, err)
	}
	for e, q := range a.Flow {
		if q != 0 {
			t.Errorf("%s flows %g with every tap shut", n.Elements()[e].Name, q)
		}
	}
}

// A certificate that cannot object is worth nothing: any flow or head moved by a
// millionth must be noticed.
func TestCertificateObjects(t *testing.T) {
	n, p := newHome()
	for i, s := range p.cases(n)[:12] {
		a := n.NewAnswer()
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		if c := Certify(n, s, a); !c.OK() {
			t.Fatalf("case %d: %+v", i, c)
		}
		most := leastFlow
		for _, q := range a.Flow {
			most = math.Max(most, math.Abs(q))
		}
		for e := range a.Flow {
			old := a.Flow[e]
			a.Flow[e] += 1e-6 * most
			if Certify(n, s, a).OK() {
				t.Errorf("case %d: flow of %s moved, not noticed", i, n.Elements()[e].Name)
			}
			a.Flow[e] = old
		}
		for pt := range a.Head {
			if a.Low[pt] != a.High[pt] {
				continue // one of many heads it can stand at
			}
			old := a.Head[pt]
			a.Head[pt] += 1e-6 * math.Max(1, math.Abs(old))
			joined := n.Points()[pt].Held
			for _, e := range n.linkTo[n.link[pt]:n.link[pt+1]] {
				// A shut part holds back any head; only an open one can tell.
				joined = joined || n.passes(s, e) && (a.Flow[e] != 0 || !n.ways[e].stiff(s.Opening[e]))
			}
			if joined && Certify(n, s, a).OK() {
				t.Errorf("case %d: head at %s moved, not noticed", i, n.Points()[pt].Name)
			}
			a.Head[pt] = old
		}
	}
}

// The state is part of what is certified: an answer held against one with a bit, an
// opening or a held head changed must be objected to, wherever the change matters.
func TestCertificateObjectsToAnotherState(t *testing.T) {
	n, p := newHome()
	bits, openings, helds := 0, 0, 0
	for i, s := range p.cases(n) {
		a := n.NewAnswer()
		if err := n.Solve(s, a, n.NewWork()); err != nil {
			t.Fatal(err)
		}
		most, head := largest(a)
		object := func(what, name string) {
			if Certify(n, s, a).OK() {
				t.Errorf("case %d: %s of %s changed, not noticed", i, what, name)
			}
		}
		for e, el := range n.Elements() {
			drop := a.Head[el.From] - a.Head[el.To]
			known := a.Low[el.From] == a.High[el.From] && a.Low[el.To] == a.High[el.To]
			if a.Flow[e] > 1e-3*most || s.Off[e] && known && drop > 0.01*head && !n.ways[e].closed(s.Opening[e]) {
				s.Off[e] = !s.Off[e]
				object("the bit", el.Name)
				s.Off[e] = !s.Off[e]
				bits++
			}
			if a.Flow[e] > 0 && drop > 0.01*head && n.ways[e].closer != nil && n.ways[e].pump == nil {
				s.Opening[e] -= 1e-6
				object("the opening", el.Name)
				s.Opening[e] += 1e-6
				openings++
			}
		}
		for pt, point := range n.Points() {
			if point.Held {
				old := s.Held[pt]
				s.Held[pt] += 1e-6 * math.Max(1, math.Abs(old))
				object("the held head", point.Name)
				s.Held[pt] = old
				helds++
			}
		}
	}
	if bits < 500 || openings < 50 || helds < 500 {
		t.Errorf("%d bits, %d openings, %d heads tried: the test says little", bits, openings, helds)
	}
}

func TestQuickCertificateAgrees(t *testing.T) {
	n, p := newHome()
	quick, full := n.NewWork(), n.NewWork()
	quick.Quick = true
	a, b := n.NewAnswer(), n.NewAnswer()
	for i, s := range p.cases(n) {
		if err := n.Solve(s, a, quick); err != nil {
			t.Errorf("case %d: %v", i, err)
		}
		if err := n.Solve(s, b, full); err != nil {
			t.Errorf("case %d: %v", i, err)
		}
	}
}
