package proof

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"testing"
)

// severalDrains draws a complete case in which each drain stands open or shut by the toss of a coin.
func severalDrains(s *Space, start box, r *rand.Rand) (c Case, open int) {
	c = drawn(s, start, r)
	for h := range c.Setting {
		if !s.drain[h] {
			continue
		}
		c.Setting[h] = uint8(bits.TrailingZeros8(s.normal[h]))
		if other := start.open[h] &^ s.normal[h]; other != 0 && r.IntN(2) == 0 {
			c.Setting[h] = uint8(bits.TrailingZeros8(other))
			open++
		}
	}
	return c, open
}

// TestKeptWithAnySetOfDrains: what the proof calls kept always is not broken in any case drawn with
// several drains open, whatever else stands how and with one failure, by plain solving of the
// whole net case by case.
func TestKeptWithAnySetOfDrains(t *testing.T) {
	t.Parallel()
	tried := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		in := laid(t, name, "", nil)
		rep, err := Prove(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := rep.Space
		newBrute, r := newBrutes(s), rand.New(rand.NewPCG(14, 8))
		start := newOracle(s, false, s.all, 0).start
		for k := 0; k < 400; {
			c, open := severalDrains(s, start, r)
			if open < 2 {
				continue
			}
			k++
			o := newBrute(c)
			for i := range rep.Results {
				res, p := &rep.Results[i], rep.Space.in.Promises[i]
				if p.About().Spread != EveryCase || res.Apart || res.Verdict != KeptAlways {
					continue
				}
				tried++
				if got := (&walk{o: o, p: p, about: p.About(), view: &View{o}}).judge(); got.Outcome == Broken {
					t.Errorf("%s: %s is called kept always, and is broken in %+v", name, p.About().ID, c)
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d judgements: nothing is shown", tried)
	}
}

// TestTightBounds: the flow with the drains tight is never under the flow with any set of them open,
// into the water of a store.
func TestTightBounds(t *testing.T) {
	t.Parallel()
	bounded := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		in := laid(t, name, "", nil)
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		w, newBrute, r := newWater(s, newMemo()), newBrutes(s), rand.New(rand.NewPCG(14, 9))
		start := newOracle(s, false, s.all, 0).start
		for range 300 {
			c, open := severalDrains(s, start, r)
			if open < 2 {
				continue
			}
			b := s.boxOf(c)
			for h := range c.Setting {
				if s.drain[h] {
					b.open[h] = start.open[h] // not asked about
				}
			}
			o := newOracle(s, false, s.all, 0)
			o.w, o.start, o.together = w, b, true
			w.undo(-1)
			o.begin()
			plain := newBrute(c)
			for _, f := range in.Assembly.Of("float-valve") {
				most, ok := o.flowTight(f)
				if !ok {
					continue
				}
				if q := plain.plainly.flow(f); plain.solved && q > most+1e-7 {
					t.Errorf("%s: %v m³/s through %s, bounded by %v, in %+v", name, q, in.Assembly.Parts[f].Tag, most, c)
				}
				bounded++
			}
		}
	}
	if bounded < 100 {
		t.Errorf("only %d flows were bounded: nothing is shown", bounded)
	}
}
