package proof

import (
	"math"
	"sync"
)

// key names a circuit: which elements pass and how far, and what holds its heads. It is a
// sum over what is in it, so that the order in which the water was followed does not show.
// With 128 bits, two of a million different circuits share a key with chance 1e-27.
type key struct{ a, b uint64 }

// Salts keep apart what is added for other reasons than an element.
const (
	saltPump   uint64 = 1 << 60
	saltMain   uint64 = 2 << 60
	saltHeader uint64 = 7 << 60
	saltRest   uint64 = 3 << 60
)

func (k *key) add(x uint64) {
	k.a += mix(x ^ 0x9e3779b97f4a7c15)
	k.b += mix(x + 0x632be59bd9b4e019)
}

func (k *key) float(x float64) { k.add(math.Float64bits(x) ^ 5<<60) }

// mix is the finaliser of SplitMix64 (Steele, Lea & Flood 2014).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// memo remembers what was worked out, for all workers. It remembers answers of circuits,
// never of cases. What it holds never depends on who came first: every answer is worked out
// from nothing.
type memo struct {
	shard    [64]shard
	circuits [64]seenCircuits
}

type asked struct {
	key
	what int32 // a part, or −1 − a point
}

type answered struct {
	low, high float64
	ok        bool
}

type shard struct {
	sync.Mutex
	m map[asked]answered
}

type seenCircuits struct {
	sync.Mutex
	m map[key]struct{}
}

// shardMost bounds what a shard remembers, and with it the memory of a proof: beyond it
// circuits are solved again.
const shardMost = 12000

func newMemo() *memo { return &memo{} }

func (m *memo) get(k key, what int32) (low, high float64, ok, known bool) {
	s := &m.shard[k.a>>58]
	s.Lock()
	defer s.Unlock()
	v, known := s.m[asked{k, what}]
	return v.low, v.high, v.ok, known
}

func (m *memo) put(k key, what int32, low, high float64, ok bool) {
	s := &m.shard[k.a>>58]
	s.Lock()
	if s.m == nil {
		s.m = map[asked]answered{}
	}
	if len(s.m) < shardMost {
		s.m[asked{k, what}] = answered{low, high, ok}
	}
	s.Unlock()
}

// met counts a circuit that is solved. Whoever solves it does so: what is asked of it, and whether
// the answer is kept, hangs on who came first.
func (m *memo) met(k key) {
	c := &m.circuits[k.a>>58]
	c.Lock()
	if c.m == nil {
		c.m = map[key]struct{}{}
	}
	if len(c.m) < shardMost {
		c.m[k] = struct{}{}
	}
	c.Unlock()
}

// distinct is the number of different circuits solved.
func (m *memo) distinct() int {
	n := 0
	for i := range m.circuits {
		n += len(m.circuits[i].m)
	}
	return n
}
