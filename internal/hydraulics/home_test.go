package hydraulics

import (
	"fmt"
	"testing"
)

// home is a plain two-storey home with a main, a store, a booster and ten outlets: about
// sixty elements. It is what the benchmarks run.
type home struct {
	points   []Point
	elements []Element
}

func (h *home) point(name string, z float64, held bool) int32 {
	h.points = append(h.points, Point{Name: name, Z: z, Held: held})
	return int32(len(h.points) - 1)
}

func (h *home) add(e Element) int { h.elements = append(h.elements, e); return len(h.elements) - 1 }

func (h *home) pipe(name string, from, to int32, bore, length float64, bends float64) int {
	law := must(NewPipe(name, PipeSpec{Bore: bore, Length: length, Roughness: 7e-6, Viscosity: 1.08e-6,
		Fittings: []Loss{{K1: 800, Kinf: 0.4, Count: bends}}}))
	return h.add(Element{Name: name, From: from, To: to, Law: law})
}

// homeParts are the indices a test wants.
type homeParts struct {
	main, store, delivery, header int32 // points
	pump, float, bypass           int   // elements
	outlets, stops                []int
	mouths                        []int32
}

func newHome() (*Net, homeParts) {
	h := &home{}
	var p homeParts
	p.main = h.point("main", 0, true)
	meter := h.point("meter", 0, false)
	gate := h.point("gate", 0, false)
	tee := h.point("tee", 0.5, false)
	h.add(Element{Name: "street", From: p.main, To: meter, Law: must(NewMain("street", 32.6, 1.5e-4, 29.6, 3.33e-4, 21.4))})
	after := h.point("after-meter", 0, false)
	h.add(Element{Name: "meter", From: meter, To: after, Law: must(NewFixed("meter", 3.15/3600))})
	h.add(must(NewNonReturn("main-nr", after, gate, 5.0/3600, 0.3)))
	h.pipe("feed", gate, tee, 0.0204, 12, 4)
	// Filling the store.
	p.store = h.point("store", 0.8, true)
	air := h.point("float-mouth", 1.6, true)
	inlet := h.point("inlet", 1.6, false)
	h.pipe("fill", tee, inlet, 0.016, 4, 3)
	p.float = h.add(Element{Name: "float", From: inlet, To: air, Law: must(NewFloatValve("float", 0.65/3600)), OneWay: true})
	// Booster.
	suction := h.point("suction", 0.4, false)
	p.delivery = h.point("delivery", 0.4, false)
	h.pipe("suction-pipe", p.store, suction, 0.026, 2, 2)
	p.pump = h.add(Element{Name: "pump", From: suction, To: p.delivery, OneWay: true,
		Law: must(NewPump("pump", 45, 0.9e-3, 35, 1.4e-3, 24, 0))})
	p.header = h.point("header", 1, false)
	joint := h.point("joint", 0.8, false)
	h.pipe("delivery-pipe", p.delivery, joint, 0.0204, 6, 4)
	h.add(must(NewNonReturn("pump-nr", joint, p.header, 5.0/3600, 0.3)))
	// By-pass.
	side := h.point("by-pass-joint", 0.8, false)
	p.bypass = h.add(Element{Name: "by-pass", From: tee, To: side, Law: must(NewHandValve("by-pass", 20.0/3600))})
	h.add(must(NewNonReturn("by-pass-nr", side, p.header, 5.0/3600, 0.3)))
	// Two floors, ten outlets: riser pieces, branch, stop valve, mouth.
	at := p.header
	for i := range 10 {
		z := 1 + float64(i/5)*3
		next := h.point(fmt.Sprintf("tee-%d", i), z, false)
		h.pipe(fmt.Sprintf("run-%d", i), at, next, 0.016, 2.5, 2)
		at = next
		branch := h.point(fmt.Sprintf("branch-%d", i), z, false)
		h.pipe(fmt.Sprintf("branch-%d", i), at, branch, 0.012, 3, 3)
		tail := h.point(fmt.Sprintf("tail-%d", i), z, false)
		p.stops = append(p.stops, len(h.elements))
		h.add(Element{Name: fmt.Sprintf("stop-%d", i), From: branch, To: tail, Law: must(NewHandValve("stop", 3.0/3600))})
		hose := h.point(fmt.Sprintf("hose-%d", i), z, false)
		h.add(Element{Name: fmt.Sprintf("hose-%d", i), From: tail, To: hose, Law: must(NewFixed("hose", 1.5/3600))})
		mouth := h.point(fmt.Sprintf("mouth-%d", i), z+0.2, true)
		o := h.add(Element{Name: fmt.Sprintf("tap-%d", i), From: hose, To: mouth, OneWay: true,
			Law: must(NewOutlet("tap", 4e-5, 2e-4))})
		p.outlets = append(p.outlets, o)
		p.mouths = append(p.mouths, mouth)
	}
	return must(NewNet(h.points, h.elements)), p
}

// cases are states of the home: on the main, on the store, both, with taps open by turns.
func (p homeParts) cases(n *Net) []*State {
	var list []*State
	for i := range 64 {
		s := n.NewState()
		s.Held[p.main] = []float64{32.6, 21, 8, -1}[i%4]
		s.Held[p.store] = 1.4
		s.Off[p.pump] = i&4 != 0
		s.Off[p.bypass] = i&8 == 0
		s.Opening[p.float] = float64(i%3) / 2
		for k, o := range p.outlets {
			s.Off[o] = (i*7+k*3)%5 > 1
		}
		list = append(list, s)
	}
	return list
}

func BenchmarkSolveCold(b *testing.B) { benchmarkSolve(b, false) }

func BenchmarkSolveWarm(b *testing.B) { benchmarkSolve(b, true) }

func benchmarkSolve(b *testing.B, warm bool) {
	n, p := newHome()
	list := p.cases(n)
	w, a := n.NewWork(), n.NewAnswer()
	w.Warm = warm
	steps := 0
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		if err := n.Solve(list[i%len(list)], a, w); err != nil {
			b.Fatal(err)
		}
		steps += a.Iterations
	}
	b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(max(steps, 1)), "ns/step")
}

// BenchmarkSolveMoved is what a spread run does: the same state with one input moved.
func BenchmarkSolveMoved(b *testing.B) {
	n, p := newHome()
	s := p.cases(n)[4]
	w, a := n.NewWork(), n.NewAnswer()
	w.Warm = true
	b.ReportAllocs()
	for i := range b.N {
		s.Held[p.main] = 30 + float64(i%7)*0.1
		if err := n.Solve(s, a, w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveHeadsOnly(b *testing.B) {
	n, p := newHome()
	list := p.cases(n)
	w, a := n.NewWork(), n.NewAnswer()
	for i := range b.N {
		if err := n.solveByHeads(list[i%len(list)], a, w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCertify(b *testing.B) {
	n, p := newHome()
	s := p.cases(n)[4]
	a := n.NewAnswer()
	if err := n.Solve(s, a, n.NewWork()); err != nil {
		b.Fatal(err)
	}
	for range b.N {
		if c := Certify(n, s, a); !c.OK() {
			b.Fatal(c)
		}
	}
}

// flats is a block: a riser with floors of branches, about size elements.
func flats(size int) (*Net, *State) {
	h := &home{}
	main := h.point("main", 0, true)
	at := h.point("riser-0", 0, false)
	h.pipe("service", main, at, 0.05, 20, 4)
	for i := 0; len(h.elements) < size; i++ {
		z := 3 * float64(i/50)
		next := h.point(fmt.Sprintf("riser-%d", i+1), z, false)
		h.pipe(fmt.Sprintf("riser-%d", i+1), at, next, 0.04, 0.5, 0)
		at = next
		tail := h.point(fmt.Sprintf("tail-%d", i), z, false)
		h.pipe(fmt.Sprintf("branch-%d", i), at, tail, 0.016, 4, 4)
		mouth := h.point(fmt.Sprintf("mouth-%d", i), z+0.5, true)
		h.add(Element{Name: fmt.Sprintf("tap-%d", i), From: tail, To: mouth, OneWay: true, Law: must(NewOutlet("tap", 1e-5, 0))})
	}
	n := must(NewNet(h.points, h.elements))
	s := n.NewState()
	s.Held[main] = 60
	return n, s
}

// BenchmarkFlats shows whether the cost of an element and step grows with the size.
func BenchmarkFlats(b *testing.B) {
	for _, size := range []int{60, 2000} {
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			n, s := flats(size)
			w, a := n.NewWork(), n.NewAnswer()
			steps := 0
			for range b.N {
				if err := n.Solve(s, a, w); err != nil {
					b.Fatal(err)
				}
				steps += a.Iterations
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(steps*len(n.elements)), "ns/element/step")
			b.ReportMetric(float64(steps)/float64(b.N), "steps/op")
		})
	}
}

func BenchmarkNewNet(b *testing.B) {
	n, _ := newHome()
	for range b.N {
		if _, err := NewNet(n.points, n.elements); err != nil {
			b.Fatal(err)
		}
	}
}
