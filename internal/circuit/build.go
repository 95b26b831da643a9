package circuit

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// Circuit is the hydraulic circuit of one assembly. It is immutable: many goroutines may
// solve on one, each with its own Solver.
type Circuit struct {
	Assembly *assembly.Assembly
	Net      *hydraulics.Net
	Tested   bool  // a flow test says how the main sags; without one it is taken not to
	Outlets  []int // parts that are outlets, in the assembly's order
	Store    bool  // there is a store

	in       Inputs
	point    [][]int32 // per part and port: the point
	element  []int32   // per part: its element, the first of several ways; −1 none
	ways     [][]way   // per part: the elements of a hand-turned part
	part     []int32   // per element: the part
	street   int32     // the point at which the main's head is held; −1 none
	surface  []int32   // points held at the store's level
	pump     int       // part; −1 none
	settings [][]bool  // per named setting: elements a hand valve shuts
	touching [][]int32 // per point: its elements
}

// way is one pair of ports of a hand-turned part and the positions that join them.
type way struct {
	element   int32
	positions []string
}

// New builds the circuit of an assembly. It refuses, by tag, a part whose catalogue row
// does not fit its kind or whose figures make no law.
func New(a *assembly.Assembly, in Inputs) (*Circuit, error) {
	b := newBuilder(a, in)
	for i := range a.Parts {
		if err := b.add(i); err != nil {
			return nil, err
		}
	}
	net, err := hydraulics.NewNet(b.points, b.elements)
	if err != nil {
		return nil, err
	}
	c := b.c
	c.Net = net
	c.settings = make([][]bool, len(a.Settings))
	for i := range a.Settings {
		if c.settings[i], err = c.Shut(a.Settings[i].Positions); err != nil {
			return nil, fmt.Errorf("circuit: setting %s: %w", a.Settings[i].Name, err)
		}
	}
	c.touching = make([][]int32, len(b.points))
	for e := range b.elements {
		for _, p := range [2]int32{b.elements[e].From, b.elements[e].To} {
			c.touching[p] = append(c.touching[p], int32(e))
		}
	}
	return c, nil
}

// builder gathers points and elements.
type builder struct {
	c        *Circuit
	a        *assembly.Assembly
	first    []int   // per part: its first port's number
	root     []int32 // union of ports that meet
	points   []hydraulics.Point
	elements []hydraulics.Element
}

func newBuilder(a *assembly.Assembly, in Inputs) *builder {
	n := len(a.Parts)
	b := &builder{a: a, first: make([]int, n+1), c: &Circuit{
		Assembly: a, in: in, street: -1, pump: -1,
		point: make([][]int32, n), element: make([]int32, n), ways: make([][]way, n),
	}}
	for i := range a.Parts {
		b.first[i+1] = b.first[i] + len(a.Parts[i].Ports)
		b.c.element[i] = -1
	}
	b.root = make([]int32, b.first[n])
	for p := range b.root {
		b.root[p] = int32(p)
	}
	for _, j := range a.Joins {
		b.meet(b.first[j.A.Part]+j.A.Port, b.first[j.B.Part]+j.B.Port)
	}
	for i := range a.Parts {
		if through(a.Parts[i].Kind) {
			for k := 1; k < len(a.Parts[i].Ports); k++ {
				b.meet(b.first[i], b.first[i]+k)
			}
		}
	}
	b.place()
	return b
}

// through reports whether all ports of a kind are one point: nothing is lost in it.
func through(k assembly.Kind) bool {
	return k == assembly.Tee || k == assembly.Vessel || k == assembly.Switch || k == assembly.Store
}

func (b *builder) find(p int) int32 {
	for b.root[p] != int32(p) {
		b.root[p] = b.root[b.root[p]]
		p = int(b.root[p])
	}
	return int32(p)
}

func (b *builder) meet(p, q int) {
	if r, s := b.find(p), b.find(q); r != s {
		b.root[max(r, s)] = min(r, s)
	}
}

// place makes one point of every set of ports that meet.
func (b *builder) place() {
	number := make([]int32, len(b.root))
	for i := range b.a.Parts {
		p := &b.a.Parts[i]
		b.c.point[i] = make([]int32, len(p.Ports))
		for k := range p.Ports {
			port := b.first[i] + k
			root := b.find(port)
			if int(root) == port {
				number[root] = b.newPoint(p.Tag+"."+p.Ports[k].Name, float64(p.Ports[k].Z), false)
			}
			b.c.point[i][k] = number[root]
		}
	}
}

func (b *builder) newPoint(name string, z float64, held bool) int32 {
	b.points = append(b.points, hydraulics.Point{Name: name, Z: z, Held: held})
	return int32(len(b.points) - 1)
}

func (b *builder) newElement(part int, from, to int32, law hydraulics.Law, oneWay bool) int32 {
	e := int32(len(b.elements))
	b.elements = append(b.elements, hydraulics.Element{
		Name: b.a.Parts[part].Tag, From: from, To: to, Law: law, OneWay: oneWay, Ref: int32(part),
	})
	b.c.part = append(b.c.part, int32(part))
	if b.c.element[part] < 0 {
		b.c.element[part] = e
	}
	return e
}

// add gives one part its elements.
func (b *builder) add(i int) error {
	p := &b.a.Parts[i]
	if err := enough(p); err != nil {
		return err
	}
	switch p.Kind {
	case assembly.Main:
		return b.addMain(i)
	case assembly.Store:
		b.c.Store = true
		for _, at := range b.c.point[i] {
			b.points[at].Held = true
			b.c.surface = append(b.c.surface, at)
		}
		return nil
	case assembly.HandValve, assembly.ThreeWay:
		return b.addHand(i)
	case assembly.NonReturn:
		return b.addNonReturn(i)
	case assembly.Outlet, assembly.Drain, assembly.FloatValve:
		return b.addMouth(i)
	case assembly.Tee, assembly.Vessel, assembly.Switch:
		return nil
	}
	if len(p.Ports) == 1 { // a heater hung on the pipe
		return nil
	}
	law, err := b.plainLaw(p)
	if err != nil {
		return err
	}
	if p.Kind == assembly.Pump {
		b.c.pump = i
	}
	b.newElement(i, b.c.point[i][0], b.c.point[i][1], law, false)
	return nil
}

// enough checks that a part has the ports its kind needs.
func enough(p *assembly.Part) error {
	need := 2
	switch p.Kind {
	case assembly.Main, assembly.Store, assembly.Vessel, assembly.Switch, assembly.Outlet, assembly.Drain, assembly.Tee, assembly.Heater, assembly.FloatValve:
		need = 1
	}
	if len(p.Ports) < need {
		return fmt.Errorf("circuit: %s: a %s has %d ports, at least %d are needed", p.Tag, p.Kind, len(p.Ports), need)
	}
	return nil
}

// plainLaw makes the law of a part that only takes head, or, a pump, adds it.
func (b *builder) plainLaw(p *assembly.Part) (hydraulics.Law, error) {
	in := b.c.in
	switch p.Kind {
	case assembly.Run:
		return in.pipeLaw(p)
	case assembly.Pump:
		return checked(in.pumpLaw(p))
	}
	kv, ok := flowFactor(p.Row)
	if !ok {
		return nil, wrongRow(p)
	}
	return checked(hydraulics.NewFixed(p.Tag, in.factor(kv)))
}

func flowFactor(row catalogue.Item) (float64, bool) {
	switch r := row.(type) {
	case catalogue.Valve:
		return float64(r.Kv), true
	case catalogue.Float:
		return float64(r.Kv), true
	case catalogue.Heater:
		return float64(r.Kv), r.Kv > 0
	}
	return 0, false
}

func (b *builder) addMain(i int) error {
	law, tested, err := b.c.in.mainLaw(b.a.Parts[i].Tag)
	if err != nil {
		return err
	}
	b.c.Tested = tested
	meter := b.c.point[i][0]
	b.c.street = b.newPoint("street", b.points[meter].Z, true)
	b.newElement(i, b.c.street, meter, law, false)
	return nil
}

// addHand makes one element for every pair of ports a position can join.
func (b *builder) addHand(i int) error {
	p := &b.a.Parts[i]
	kv, ok := flowFactor(p.Row)
	if !ok {
		return wrongRow(p)
	}
	for _, w := range p.Ways {
		if w.A >= len(p.Ports) || w.B >= len(p.Ports) {
			return fmt.Errorf("circuit: %s: position %s joins ports %d and %d of %d", p.Tag, w.Position, w.A, w.B, len(p.Ports))
		}
		from, to := b.c.point[i][w.A], b.c.point[i][w.B]
		if k := wayBetween(b.c.ways[i], b.elements, from, to); k >= 0 {
			b.c.ways[i][k].positions = append(b.c.ways[i][k].positions, w.Position)
			continue
		}
		law, err := handLaw(p, b.c.in.factor(kv))
		if err != nil {
			return err
		}
		e := b.newElement(i, from, to, law, false)
		b.c.ways[i] = append(b.c.ways[i], way{e, []string{w.Position}})
	}
	return nil
}

func handLaw(p *assembly.Part, kv float64) (hydraulics.Law, error) {
	if p.Kind == assembly.ThreeWay {
		return checked(hydraulics.NewWay(p.Tag, kv))
	}
	return checked(hydraulics.NewHandValve(p.Tag, kv))
}

func wayBetween(ways []way, elements []hydraulics.Element, from, to int32) int {
	for k, w := range ways {
		if e := elements[w.element]; e.From == from && e.To == to {
			return k
		}
	}
	return -1
}

func (b *builder) addNonReturn(i int) error {
	p := &b.a.Parts[i]
	row, ok := p.Row.(catalogue.NonReturn)
	if !ok {
		return wrongRow(p)
	}
	e, err := hydraulics.NewNonReturn(p.Tag, b.c.point[i][0], b.c.point[i][1], b.c.in.factor(float64(row.Kv)), float64(row.Opens))
	if err != nil {
		return err
	}
	at := b.newElement(i, e.From, e.To, e.Law, true)
	b.elements[at].Opens = e.Opens
	return nil
}

// addMouth makes the element of a part that ends in the air: an outlet, a drain, a float
// valve. Water leaves there and never comes back.
func (b *builder) addMouth(i int) error {
	p := &b.a.Parts[i]
	law, err := b.mouthLaw(p)
	if err != nil {
		return err
	}
	from := b.c.point[i][0]
	to := int32(-1)
	if len(p.Ports) > 1 {
		to = b.c.point[i][1]
		b.points[to].Held = true
	} else {
		to = b.newPoint(p.Tag+".air", float64(p.Ports[0].Z), true)
	}
	if p.Kind == assembly.Outlet {
		b.c.Outlets = append(b.c.Outlets, i)
	}
	b.newElement(i, from, to, law, true)
	return nil
}

func (b *builder) mouthLaw(p *assembly.Part) (hydraulics.Law, error) {
	switch p.Kind {
	case assembly.Outlet:
		return b.c.in.outletLaw(p)
	case assembly.FloatValve:
		kv, ok := flowFactor(p.Row)
		if !ok {
			return nil, wrongRow(p)
		}
		return checked(hydraulics.NewFloatValve(p.Tag, b.c.in.factor(kv)))
	}
	kv, ok := flowFactor(p.Row)
	if !ok {
		return nil, wrongRow(p)
	}
	return handLaw(p, b.c.in.factor(kv))
}
