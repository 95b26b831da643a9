package hydraulics

import (
	"math/rand/v2"
	"testing"
)

// An element is live exactly when its ends hang together without it, all held points
// counting as one; and every live element is in one strand, whose elements follow one
// another between the strand's ends, nothing live branching off between.
func TestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 16))
	strung, rings, hanging := 0, 0, 0
	for range 3000 {
		c := random(r, 2+r.IntN(60), true)
		n := c.net()
		w := n.NewWork()
		for e := range w.gone {
			w.gone[e] = r.IntN(6) == 0
		}
		n.lay(w, &w.laid[0])
		l := w.lay
		for e := range n.elements {
			if want := onRing(n, w.gone, e); l.live[e] != want {
				t.Fatalf("element %d live %v, want %v in %+v", e, l.live[e], want, c)
			}
		}
		times, touch := make([]int, len(n.elements)), make([]int, len(n.points))
		for e, live := range l.live {
			if live {
				touch[n.ends[e][0]]++
				touch[n.ends[e][1]]++
			}
		}
		for _, s := range l.strands {
			p := s.from
			for k, m := range l.members[s.first:s.last] {
				times[m.e]++
				if k > 0 && (touch[p] != 2 || n.held[p]) {
					t.Fatalf("something joins at point %d inside a strand", p)
				}
				if from := n.ends[m.e][0]; m.back == (from == p) {
					t.Fatalf("element %d lies the other way in its strand", m.e)
				}
				p = n.across(m.e, p)
			}
			if p != s.to {
				t.Fatalf("a strand ends at point %d, want %d", p, s.to)
			}
			strung += int(s.last-s.first) - 1
			if s.from == s.to && s.i >= 0 {
				rings++
			}
		}
		for e, live := range l.live {
			if live != (times[e] == 1) || times[e] > 1 {
				t.Fatalf("element %d, live %v, is in %d strands", e, live, times[e])
			}
		}
		if len(l.plan.pair) > 0 {
			hanging++
		}
	}
	if strung < 1000 || rings < 20 || hanging < 100 {
		t.Errorf("%d strung, %d rings of their own, %d with rings: the test says little", strung, rings, hanging)
	}
}

// onRing says so from the definition.
func onRing(n *Net, gone []bool, e int) bool {
	if gone[e] {
		return false
	}
	node := func(p int32) int32 {
		if n.held[p] {
			return -1
		}
		return p
	}
	seen := map[int32]bool{node(n.ends[e][0]): true}
	for grew := true; grew; {
		grew = false
		for f, ends := range n.ends {
			a, b := node(ends[0]), node(ends[1])
			if f != e && !gone[f] && seen[a] != seen[b] {
				seen[a], seen[b], grew = true, true, true
			}
		}
	}
	return seen[node(n.ends[e][1])]
}
