package proof

import (
	"context"
	"math/rand/v2"
	"testing"

	"tideover/internal/assembly"
)

// against checks the boxes of every promise over a start box against plain solving of cases
// drawn from it: each lies in exactly one box, and is judged alike there. It returns how
// many cases were compared and how many of them were broken.
func against(t *testing.T, name string, in Input, narrow func(s *Space, start *box), cases int, r *rand.Rand) (compared, broken int) {
	t.Helper()
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	w, newBrute := newWater(s, newMemo()), newBrutes(s)
	for _, p := range in.Promises {
		if sp := p.About().Spread; sp == OnceForAll || sp == SomeNamed {
			continue
		}
		o := newOracle(s, false, s.all, 0) // every promise over every setting: In is then asked of the hands
		o.w = w
		w.undo(-1)
		narrow(s, &o.start)
		if len(s.Mishaps) > 0 && r.IntN(3) == 0 { // pairs: one has struck in any case, the other is open
			o.fixed = 1 + r.IntN(len(s.Mishaps))
			for m := 0; m <= o.fixed; m++ {
				o.start.failed[m/64] &^= 1 << (m % 64)
			}
			if empty(o.start.failed) {
				o.fixed, o.start.failed[0] = 0, 1
			}
		}
		type sample struct {
			c    Case
			b    box
			hits int
			want Judgement
			raw  Outcome // before asking whether the controls would stay
		}
		list := make([]sample, cases)
		for k := range list {
			c := drawn(s, o.start, r)
			if o.fixed > 0 {
				c.Mishaps = append([]int{o.fixed - 1}, c.Mishaps...)
			}
			bo := newBrute(c)
			bw := &walk{o: bo, p: p, about: p.About(), view: &View{bo}}
			list[k] = sample{c: c, b: s.boxOf(c), raw: p.Judge(bw.view).Outcome, want: bw.judge()}
			if list[k].want.Outcome == Broken {
				broken++
			}
			compared++
		}
		wk := newWalk(o, p, 60000)
		fromBroken := 0
		wk.each = func(j Judgement) {
			if j.Outcome == Broken && fromBroken < 6 && r.IntN(3) == 0 { // few cases drawn at random are broken: draw some from what is
				fromBroken++
				compared, broken = compared+1, broken+1
				c := drawn(s, box{o.open, o.failed, 0}, r)
				if o.fixed > 0 {
					c.Mishaps = append([]int{o.fixed - 1}, c.Mishaps...)
				}
				bo := newBrute(c)
				bw := &walk{o: bo, p: p, about: p.About(), view: &View{bo}}
				raw, want := p.Judge(bw.view), bw.judge()
				if raw.Outcome != Broken || want.Outcome != Broken && o.stated(vPump) && o.stated(vLock) {
					t.Errorf("%s: %s: %s: the box is broken (%v), plain solving says %d, %d (%v)", name, p.About().ID, s.String(c), j, raw.Outcome, want.Outcome, raw)
				}
			}
			for k := range list {
				if !o.lies(list[k].b) {
					continue
				}
				list[k].hits++
				if j.Outcome == Broken && list[k].raw == Broken && list[k].want.Outcome == Silent &&
					(!o.stated(vPump) || !o.stated(vLock)) {
					continue // broken whatever state the control is in: it is not named in the box
				}
				if j.Outcome != list[k].want.Outcome {
					t.Errorf("%s: %s: %s: the box says %d (%v), plain solving %d (%v)", name, p.About().ID, s.String(list[k].c), j.Outcome, j, list[k].want.Outcome, list[k].want)
				}
			}
		}
		wk.run(context.Background())
		for k := range list {
			if list[k].hits > 1 || list[k].hits == 0 && !wk.cut {
				t.Errorf("%s: %s: %s lies in %d boxes", name, p.About().ID, s.String(list[k].c), list[k].hits)
			}
		}
	}
	return compared, broken
}

// TestReductionsOnArrangements: a subset of the settings and mishaps of each arrangement
// that is laid out, judged in boxes and by plain solving of cases drawn from them.
func TestReductionsOnArrangements(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(41, 4))
	for _, arrangement := range assembly.Arrangements() {
		in := laid(t, "kestrel-rise", arrangement, nil)
		in.Promises = Promises()
		for round := range 8 {
			compared, broken := against(t, arrangement, in, func(s *Space, start *box) { few(s, start, 4, 16, r) }, 12, r)
			t.Logf("%s, round %d: %d cases compared, %d of them broken", arrangement, round, compared, broken)
		}
	}
}

// few leaves so many hands and mishaps open, drawn at random; the others are as usual.
func few(s *Space, start *box, hands, mishaps int, r *rand.Rand) {
	free := map[int]bool{}
	for len(free) < min(hands, len(s.Hands)) {
		free[r.IntN(len(s.Hands))] = true
	}
	for h := range s.Hands {
		if !free[h] {
			start.open[h] = 1 << s.Named[r.IntN(len(s.Named))].Position[h]
		}
	}
	moved := false
	for _, h := range s.drains {
		if start.open[h]&s.normal[h] != 0 {
			continue
		}
		if moved {
			start.open[h] = s.normal[h]
		}
		moved = true
	}
	clear(start.failed)
	start.failed[0] = 1
	for range mishaps {
		m := r.IntN(len(s.Mishaps) + 1)
		start.failed[m/64] |= 1 << (m % 64)
	}
}
