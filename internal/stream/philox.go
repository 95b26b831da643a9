// Package stream gives random numbers that depend on nothing but their key: the seed of
// the job, the home, the year, the process and the item in it.
//
// Stage: a leaf. It takes a Key and gives draws. There is no state to share and none to
// hand on: any worker may open any stream at any time, in any order, and finds the same
// numbers, for they are a function of the key and of a counter. Two different keys never
// meet, as each owns its own part of the counter.
package stream

// The constants of Philox4x32: two odd multipliers and the two Weyl steps of the key.
// Source: Salmon, Moraes, Dror & Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3",
// Proc. SC11, section 3.3.
const (
	multiplier0 = 0xD2511F53
	multiplier1 = 0xCD9E8D57
	weyl0       = 0x9E3779B9 // golden ratio
	weyl1       = 0xBB67AE85 // √3 − 1
	rounds      = 10
)

// philox is the block function: 128 bits of counter and 64 of key to 128 bits that
// look random. Source: Salmon & others 2011, Philox4x32-10.
func philox(c [4]uint32, k [2]uint32) [4]uint32 {
	a, b, d, e := mix(c[0], c[1], c[2], c[3], k[0], k[1])
	return [4]uint32{a, b, d, e}
}

// mix is philox on single words, which stay in registers.
func mix(c0, c1, c2, c3, k0, k1 uint32) (uint32, uint32, uint32, uint32) {
	for range rounds {
		p0, p1 := multiplier0*uint64(c0), multiplier1*uint64(c2)
		c0, c1 = uint32(p1>>32)^c1^k0, uint32(p1)
		c2, c3 = uint32(p0>>32)^c3^k1, uint32(p0)
		k0 += weyl0
		k1 += weyl1
	}
	return c0, c1, c2, c3
}

// Process says what a stream is drawn for, so that a change in one thing never shifts
// the numbers of another.
type Process uint8

// The processes of the seasons run. Their numbers are part of the answers: never
// renumber, add at the end.
const (
	Posterior Process = iota + 1 // this future's own parameters
	Mains                        // interruptions of the water
	Cuts                         // power cuts
	Joint                        // which power cuts stop the main
	Day                          // kind of day: multiplier, away, guests
	Count                        // how many draws
	Volume                       // how much each takes
	Time                         // when each begins
	Ration                       // what people cut
	Hand                         // how long a hand changeover waits
	Weather                      // air, sun
	Weak                         // times in which the water is weak
	Household                    // how much this home draws against others like it
	Forgotten                    // taps left open
)

// Key names one stream. Every field may take every value it can hold, Item up to
// 2²⁴ − 1 (what is above is our own fault and panics).
type Key struct {
	Seed    uint64
	Home    uint32
	Year    uint32
	Process Process
	Item    uint32 // day of the year, number of the outage…
}

const items = 1 << 24

// Stream is one sequence of random numbers. It is small and holds no pointer: keep it
// on the stack. It is a rand/v2 Source. One stream gives 2³⁴ words of 32 bits before it
// would come round.
type Stream struct {
	key   [2]uint32
	count [4]uint32
	block [4]uint32
	left  int
}

// Of returns the stream of a key, at its beginning.
func Of(k Key) Stream {
	if k.Item >= items {
		panic("stream: item: must be below 2^24")
	}
	return Stream{
		key:   [2]uint32{uint32(k.Seed), uint32(k.Seed >> 32)},
		count: [4]uint32{0, uint32(k.Process)<<24 | k.Item, k.Year, k.Home},
	}
}

// Uint32 returns the next 32 bits.
func (s *Stream) Uint32() uint32 {
	if s.left == 0 {
		s.block = philox(s.count, s.key)
		s.count[0]++
		s.left = 4
	}
	s.left--
	return s.block[3-s.left]
}

// Block returns the next four words of 32 bits, the first word first: what four calls of
// Uint32 return on a stream that was never asked for fewer, at a third of the cost. A word
// left of an earlier block is passed over.
func (s *Stream) Block() (w0, w1, w2, w3 uint32) {
	w0, w1, w2, w3 = mix(s.count[0], s.count[1], s.count[2], s.count[3], s.key[0], s.key[1])
	s.count[0]++
	s.left = 0
	return w0, w1, w2, w3
}

// Uint64 returns the next 64 bits: what makes a Stream a rand/v2 Source.
func (s *Stream) Uint64() uint64 {
	high := uint64(s.Uint32())
	return high<<32 | uint64(s.Uint32())
}
