package hydraulics

import (
	"fmt"
	"math"
)

// Drained is the water standing in a house that can run back to the street when the
// street sucks and air gets in.
type Drained struct {
	// Swept is what lies on a way from where air comes in to the street, above the head
	// in the street: air follows it down and it runs back.
	Swept float64 // m³
	// Falls is what hangs off those ways, higher than where it joins them: held up by
	// the air's pressure while its end is shut tight, and gone once a bubble finds it.
	Falls float64 // m³
	// PerElement is Swept and Falls together, per element.
	PerElement []float64 // m³
}

// Volume is Swept and Falls together [m³]: the most that can run back.
func (d Drained) Volume() float64 { return d.Swept + d.Falls }

// DrainBack counts the water that can run back to a point, the street, when the head there
// has fallen to head [m above the datum] and air comes in at the points air: the inner
// side of open taps, vents and vacuum reliefs. volume is the water in each element [m³].
//
// Water runs back through everything that passes in the state s, one-way parts and
// running pumps forward only. An element is swept when a way from air to street runs
// through it that passes no point twice; what else can reach the street falls as far as
// it stands above the highest point of its lowest way there. Nothing runs back from below
// the street's own head. Between the heights of its two ends an element's volume is taken
// as evenly spread; one between two points of one height counts whole.
//
// It is an upper bound, on the side of those who drink further down: fine bores hold
// water that a wide one would let fall, and a trap may keep some of what is swept.
// Water that runs on from an open store is not in it: that has no end, and is a flow.
// Source: hydrostatics; ways by blocks of the graph (Hopcroft & Tarjan 1973).
func (n *Net) DrainBack(s *State, street int32, head float64, air []int32, volume []float64) (Drained, error) {
	if err := n.checkDrain(s, street, head, air, volume); err != nil {
		return Drained{}, err
	}
	d := Drained{PerElement: make([]float64, len(n.elements))}
	down := n.drainsTo(s, street)
	swept := n.swept(s, street, air, down)
	lip := n.lips(s, street, down, swept)
	for e := range n.elements {
		el := &n.elements[e]
		if !n.passes(s, int32(e)) || !down[el.From] && !down[el.To] {
			continue
		}
		z1, z2 := n.points[el.From].Z, n.points[el.To].Z
		if swept[e] {
			d.PerElement[e] = volume[e] * above(z1, z2, head)
			d.Swept += d.PerElement[e]
		} else if over := math.Min(lip[el.From], lip[el.To]); !math.IsInf(over, 1) {
			d.PerElement[e] = volume[e] * above(z1, z2, math.Max(over, head))
			d.Falls += d.PerElement[e]
		}
	}
	return d, nil
}

// above is the share of what is spread between two heights that lies above a third; at
// one height, all of it unless it lies below.
func above(z1, z2, from float64) float64 {
	lo, hi := math.Min(z1, z2), math.Max(z1, z2)
	switch {
	case from <= lo:
		return 1
	case from >= hi:
		return 0
	}
	return (hi - from) / (hi - lo)
}

func (n *Net) checkDrain(s *State, street int32, head float64, air []int32, volume []float64) error {
	if err := n.checkState(s); err != nil {
		return err
	}
	for _, p := range append([]int32{street}, air...) {
		if p < 0 || int(p) >= len(n.points) {
			return fmt.Errorf("hydraulics: drain-back: point %d of %d: there is none", p, len(n.points))
		}
	}
	if math.IsNaN(head) || math.IsInf(head, 0) {
		return &Refusal{named("point", int(street), n.points[street].Name), "head", head, "a number"}
	}
	if len(volume) != len(n.elements) {
		return fmt.Errorf("hydraulics: drain-back: %d volumes for %d elements", len(volume), len(n.elements))
	}
	for e, v := range volume {
		if !(v >= 0 && v <= 1e6) {
			return &Refusal{named("element", e, n.elements[e].Name), "volume", v, "0 to 1000000 m³"}
		}
	}
	return nil
}

// lets reports whether element e passes water out of point u.
func (n *Net) lets(s *State, e, u int32) bool {
	return n.passes(s, e) && (n.elements[e].From == u || !n.ways[e].stiff(s.Opening[e]))
}

// drainsTo marks the points from which water can run to the street, no held point but the
// street itself passed on the way: an open surface keeps what comes to it.
func (n *Net) drainsTo(s *State, street int32) []bool {
	down := make([]bool, len(n.points))
	down[street] = true
	queue := []int32{street}
	for i := 0; i < len(queue); i++ {
		v := queue[i]
		for _, e := range n.linkTo[n.link[v]:n.link[v+1]] {
			u := n.elements[e].From + n.elements[e].To - v
			if !down[u] && !n.points[u].Held && n.lets(s, e, u) {
				down[u] = true
				queue = append(queue, u)
			}
		}
	}
	return down
}

// swept marks the elements on a way from air to the street.
func (n *Net) swept(s *State, street int32, air []int32, down []bool) []bool {
	reached := make([]bool, len(n.points)) // from air, running down
	var queue []int32
	for _, p := range air {
		if down[p] && !reached[p] {
			reached[p] = true
			queue = append(queue, p)
		}
	}
	on := make([]bool, len(n.elements))
	for i := 0; i < len(queue); i++ {
		u := queue[i]
		for _, e := range n.linkTo[n.link[u]:n.link[u+1]] {
			v := n.elements[e].From + n.elements[e].To - u
			if !down[v] || u == street || !n.lets(s, e, u) {
				continue
			}
			on[e] = true
			if !reached[v] {
				reached[v] = true
				queue = append(queue, v)
			}
		}
	}
	return n.onTheWay(street, air, on)
}

// onTheWay keeps of the elements marked those on a way that passes no point twice: they
// share a block with an element laid from all the air to the street.
func (n *Net) onTheWay(street int32, air []int32, on []bool) []bool {
	node := make([]int32, len(n.points))
	for p := range node {
		node[p] = int32(p) + 1
	}
	for _, p := range air {
		node[p] = 0
	}
	block, _ := n.ringBlocks(node, func(e int32) bool { return on[e] }, [][2]int32{{0, node[street]}})
	way := block[len(n.elements)]
	for e := range on {
		on[e] = on[e] && way != 0 && block[e] == way
	}
	return on
}

// lips returns per point the height of the highest point on its lowest way to what is
// swept, its own included; +Inf where it has none.
func (n *Net) lips(s *State, street int32, down, swept []bool) []float64 {
	lip := make([]float64, len(n.points))
	for p := range lip {
		lip[p] = math.Inf(1)
	}
	for e, yes := range swept {
		if yes {
			for _, p := range [2]int32{n.elements[e].From, n.elements[e].To} {
				lip[p] = n.points[p].Z
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for e := range n.elements {
			for _, u := range [2]int32{n.elements[e].From, n.elements[e].To} {
				v := n.elements[e].From + n.elements[e].To - u
				if !down[u] || u == street || !n.lets(s, int32(e), u) {
					continue
				}
				if h := math.Max(n.points[u].Z, lip[v]); h < lip[u] {
					lip[u], changed = h, true
				}
			}
		}
	}
	return lip
}
