package drawing

import (
	"tideover/internal/assembly"
)

// A schematic's graph: nodes are the parts where more or fewer than two pipes meet,
// strands the chains of two-port parts between them. Each strand runs left to right
// once it is oriented; each node becomes a vertical bar, each strand a horizontal line.

// cell is one part on a strand, entered by port in and left by port out.
type cell struct {
	part     int
	in, out  int
	up, down stub // what stands on a tee that is otherwise passed straight through

	left, right, above, below float64 // extents round its centre on the line [mm]
	x                         float64 // centre
}

// stub is a dead end on a tee, from the tee outward; its last cell is the terminal.
type stub []cell

type strand struct {
	from, to         int // nodes
	fromPort, toPort int // of the nodes' parts
	cells            []cell
	row              int // place in rows; −1 until given
	first            int // smallest part on it, for a stable order
	rank             float64
	y                float64
	home             bool // one of the fan of outlets
	gone             bool // merged into another
}

type node struct {
	part    int // −1: a bend, no part
	strands []int
	gone    bool

	left, right float64 // extents round its bar [mm]
	x           float64
	top, bottom float64 // the bar's reach
}

type graph struct {
	a       *assembly.Assembly
	nodes   []node
	strands []strand
	street  int   // node of the main
	apart   []int // parts joined to nothing that leads to the main
}

// link is one used port of a part and what it meets. Port −1 is a store's open top,
// where a float valve lets its water fall through the air.
type link struct{ port, part, other int }

const air = -1

// linksOf lists, for each part, what its ports meet, in the order of its ports.
func linksOf(a *assembly.Assembly) [][]link {
	links := make([][]link, len(a.Parts))
	add := func(p, q assembly.End) {
		links[p.Part] = append(links[p.Part], link{p.Port, q.Part, q.Port})
		links[q.Part] = append(links[q.Part], link{q.Port, p.Part, p.Port})
	}
	for _, j := range a.Joins {
		add(j.A, j.B)
	}
	stores := a.Of(assembly.Store)
	for i, f := range a.Of(assembly.FloatValve) {
		if mouth := mouthOf(&a.Parts[f]); mouth >= 0 && len(stores) > 0 {
			add(assembly.End{Part: f, Port: mouth}, assembly.End{Part: stores[min(i, len(stores)-1)], Port: air})
		}
	}
	for _, l := range links {
		sortLinks(l)
	}
	return links
}

func sortLinks(l []link) {
	for i := 1; i < len(l); i++ {
		for j := i; j > 0 && l[j].port < l[j-1].port; j-- {
			l[j], l[j-1] = l[j-1], l[j]
		}
	}
}

func mouthOf(p *assembly.Part) int {
	for i, port := range p.Ports {
		if port.Name == "mouth" {
			return i
		}
	}
	return -1
}

// passes reports whether a part is passed straight through: two pipes meet in it and
// its symbol has an in and an out.
func passes(p *assembly.Part, links []link) bool {
	switch p.Kind {
	case assembly.Main, assembly.Outlet, assembly.Store, assembly.ThreeWay:
		return false
	}
	return len(links) == 2 && links[0].port != links[1].port
}

// graphOf contracts the assembly to nodes and strands and sets aside what no pipe joins
// to the street.
func graphOf(a *assembly.Assembly) *graph {
	links := linksOf(a)
	g := &graph{a: a, street: -1}
	nodeOf := make([]int, len(a.Parts))
	for i := range a.Parts {
		nodeOf[i] = -1
		if !passes(&a.Parts[i], links[i]) && len(links[i]) > 0 {
			nodeOf[i] = len(g.nodes)
			g.nodes = append(g.nodes, node{part: i})
			if g.street < 0 && a.Parts[i].Kind == assembly.Main {
				g.street = nodeOf[i]
			}
		}
	}
	g.walkAll(links, nodeOf)
	if g.street < 0 && len(g.nodes) > 0 {
		g.street = 0
	}
	g.setApart(links)
	g.contractCaps()
	return g
}

// walkAll follows every port of every node to the next node.
func (g *graph) walkAll(links [][]link, nodeOf []int) {
	type port struct{ part, port, other, otherPort int }
	seen := map[port]bool{}
	for n := range g.nodes {
		p := g.nodes[n].part
		for _, l := range links[p] {
			if seen[port{p, l.port, l.part, l.other}] {
				continue
			}
			s := strand{from: n, fromPort: l.port, row: -1, first: p}
			at, entry, prev, prevPort := l.part, l.other, p, l.port
			for nodeOf[at] < 0 {
				out := links[at][0]
				if out.port == entry {
					out = links[at][1]
				}
				s.cells = append(s.cells, cell{part: at, in: entry, out: out.port})
				prev, prevPort = at, out.port
				at, entry = out.part, out.other
			}
			s.to, s.toPort = nodeOf[at], entry
			seen[port{at, entry, prev, prevPort}] = true
			g.add(s)
		}
	}
}

// add joins a strand to its nodes; a loop appears once.
func (g *graph) add(s strand) int {
	for i, c := range s.cells {
		if i == 0 || c.part < s.first {
			s.first = c.part
		}
	}
	s.rank = g.rank(s)
	id := len(g.strands)
	g.strands = append(g.strands, s)
	g.nodes[s.from].strands = append(g.nodes[s.from].strands, id)
	if s.to != s.from {
		g.nodes[s.to].strands = append(g.nodes[s.to].strands, id)
	}
	return id
}

// drop takes a strand out.
func (g *graph) drop(id int) {
	s := &g.strands[id]
	s.gone = true
	for _, n := range []int{s.from, s.to} {
		list := g.nodes[n].strands[:0]
		for _, other := range g.nodes[n].strands {
			if other != id {
				list = append(list, other)
			}
		}
		g.nodes[n].strands = list
	}
}

// far returns the node at the other end of a strand.
func (g *graph) far(id, n int) int {
	if g.strands[id].from == n {
		return g.strands[id].to
	}
	return g.strands[id].from
}

// kind is the kind of a node's part; a bend has none.
func (g *graph) kind(n int) assembly.Kind {
	if p := g.nodes[n].part; p >= 0 {
		return g.a.Parts[p].Kind
	}
	return ""
}

// ranks order the legs of a parallel group from the top down.
var ranks = map[assembly.Role]float64{
	assembly.Service: 0, assembly.MainLeg: 0, assembly.HomeRole: 0.5, assembly.BypassBy: 1,
	assembly.Feed: 2, assembly.Storage: 2, assembly.Boost: 2,
}

func (g *graph) rank(s strand) float64 {
	if len(s.cells) == 0 {
		return 0.5
	}
	sum := 0.0
	for _, c := range s.cells {
		sum += ranks[g.a.Parts[c.part].Role]
	}
	return sum / float64(len(s.cells))
}

// setApart finds what the street does not reach, keeps it out of the layout and lists it.
func (g *graph) setApart(links [][]link) {
	reached := make([]bool, len(g.a.Parts))
	if g.street >= 0 {
		queue := []int{g.nodes[g.street].part}
		reached[queue[0]] = true
		for len(queue) > 0 {
			p := queue[0]
			queue = queue[1:]
			for _, l := range links[p] {
				if !reached[l.part] {
					reached[l.part] = true
					queue = append(queue, l.part)
				}
			}
		}
	}
	for i, ok := range reached {
		if !ok {
			g.apart = append(g.apart, i)
		}
	}
	for n := range g.nodes {
		g.nodes[n].gone = !reached[g.nodes[n].part]
	}
	for s := range g.strands {
		g.strands[s].gone = g.nodes[g.strands[s].from].gone
	}
}

// reverse turns a strand round.
func (s *strand) reverse() {
	s.from, s.to = s.to, s.from
	s.fromPort, s.toPort = s.toPort, s.fromPort
	s.cells = reversed(s.cells)
}

func reversed(cells []cell) []cell {
	out := make([]cell, len(cells))
	for i, c := range cells {
		c.in, c.out = c.out, c.in
		out[len(cells)-1-i] = c
	}
	return out
}

// leave returns the cells of a strand as met when leaving node n, with the port it
// leaves by and the port and node it arrives at.
func (g *graph) leave(id, n int) (cells []cell, port, to, toPort int) {
	s := g.strands[id]
	if s.from != n {
		s.reverse()
	}
	return s.cells, s.fromPort, s.to, s.toPort
}
