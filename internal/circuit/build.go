package circuit

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/hydraulics"
	"tideover/internal/site"
)

// Circuit is the hydraulic circuit of one assembly. It is immutable: many goroutines may
// solve on one, each with its own Solver.
type Circuit struct {
	Assembly *assembly.Assembly
	Net      *hydraulics.Net
	Tested   bool  // a flow test says how the main sags; without one it is taken not to
	Outlets  []int // parts that are outlets, in the assembly's order
	Store    bool  // there is a store

	Mishaps []Mishap // what the assembly can come to; empty unless built for it
	Airs    []Air    // how air gets into open mouths; empty unless built for it
	Backs   []int32  // how water gets back through a regulator; empty unless built for mishaps

	in       Inputs
	point    [][]int32  // per part and port: the point
	placed   int        // points that are ports of parts: the first; then come the street and open air
	element  []int32    // per part: its element, the first of several ways; −1 none
	ways     [][]way    // per part: the elements of a hand-turned part
	part     []int32    // per element: the part
	street   int32      // the point at which the main's head is held; −1 none
	main     int32      // element of the main; −1 none
	busy     site.Slope // how the main's sag grows while neighbours draw
	surface  []int32    // points held at the store's level
	upper    []int32    // points held at the header tank's level
	atWork   [][]int32  // per named setting: elements of the pumps that run when asked for
	pumps    []int      // parts; several stand side by side, alike
	settings [][]bool   // per named setting: elements a hand valve shuts
	touching [][]int32  // per point: its elements
	turned   []int32    // elements a mishap can leave part open
	burst    int32      // element of the home's burst pipe; −1 none
	burstAt  int        // its part
	sound    int        // elements of a sound home; those after it are Off unless a mishap opens them
}

// way is one pair of ports of a hand-turned part and the positions that join them.
type way struct {
	element   int32
	positions []string
}

// New builds the circuit of an assembly. It refuses, by tag, a part whose catalogue row
// does not fit its kind or whose figures make no law.
func New(a *assembly.Assembly, in Inputs) (*Circuit, error) { return assemble(a, in, nil) }

// assemble builds the circuit; more, if not nil, adds elements that are Off by default.
func assemble(a *assembly.Assembly, in Inputs, more func(*builder) error) (*Circuit, error) {
	b := newBuilder(a, in)
	b.place()
	if err := b.addAll(); err != nil {
		return nil, err
	}
	if more != nil {
		if err := more(b); err != nil {
			return nil, err
		}
	}
	net, err := hydraulics.NewNet(b.points, b.elements)
	if err != nil {
		return nil, err
	}
	c := b.c
	c.Net = net
	if err := c.join(); err != nil {
		return nil, err
	}
	return c, nil
}

// join works out what follows from how the parts are joined, and from no figure.
func (c *Circuit) join() (err error) {
	a := c.Assembly
	c.settings = make([][]bool, len(a.Settings))
	for i := range a.Settings {
		if c.settings[i], err = c.Shut(a.Settings[i].Positions); err != nil {
			return fmt.Errorf("circuit: setting %s: %w", a.Settings[i].Name, err)
		}
	}
	c.readWork()
	c.touching = make([][]int32, len(c.Net.Points()))
	for e, el := range c.Net.Elements() {
		for _, p := range [2]int32{el.From, el.To} {
			c.touching[p] = append(c.touching[p], int32(e))
		}
	}
	return nil
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
	b := &builder{a: a, c: &Circuit{
		Assembly: a, in: in, street: -1, main: -1, burst: -1, burstAt: -1,
		element: make([]int32, n), ways: make([][]way, n),
	}}
	for i := range b.c.element {
		b.c.element[i] = -1
	}
	return b
}

// place makes one point of every set of ports that meet.
func (b *builder) place() {
	a := b.a
	b.first = make([]int, len(a.Parts)+1)
	for i := range a.Parts {
		b.first[i+1] = b.first[i] + len(a.Parts[i].Ports)
	}
	b.root = make([]int32, b.first[len(a.Parts)])
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
	b.number()
}

// through reports whether all ports of a kind are one point: nothing is lost in it.
func through(k assembly.Kind) bool {
	return k == assembly.Tee || k == assembly.Isolator || k == assembly.Vessel || k == assembly.Switch || k == assembly.Store
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

// number makes the points, in the order of their first ports.
func (b *builder) number() {
	b.c.point = make([][]int32, len(b.a.Parts))
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
	b.c.placed = len(b.points)
}

// addAll gives every part its elements.
func (b *builder) addAll() error {
	for i := range b.a.Parts {
		if err := b.add(i); err != nil {
			return err
		}
	}
	b.c.sound = len(b.elements)
	return nil
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
