package proof

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"tideover/internal/circuit"
)

// TestSomeNamed: promises that one named setting is enough for, in boxes and by plain
// solving of every named setting in every state of its controls.
func TestSomeNamed(t *testing.T) {
	t.Parallel()
	base, parts := kit(t)
	compared, broken := 0, 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 9))
		a := newMaze(parts, r, seed%5 == 4)
		c, err := circuit.NewWithMishaps(a, circuit.Read(base.Job))
		if err != nil {
			t.Fatal(err)
		}
		in := Input{Assembly: a, Circuit: c, Job: base.Job, Profile: base.Profile}
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range Promises() {
			if p.About().Spread != SomeNamed {
				continue
			}
			n, b := someAgainst(t, fmt.Sprint("seed ", seed), s, p, r)
			compared, broken = compared+n, broken+b
		}
	}
	t.Logf("%d worlds compared, %d of them broken", compared, broken)
	if broken < 20 {
		t.Error("too few are broken to test anything")
	}
}

func someAgainst(t *testing.T, name string, s *Space, p Promise, r *rand.Rand) (compared, broken int) {
	t.Helper()
	newBrute := newBrutes(s)
	o := newOracle(s, true, s.all, 0)
	o.w = newWater(s, newMemo())
	few(s, &o.start, len(s.Hands), 6, r)
	var list [4]Case
	var want [4]Outcome
	for k := range list {
		list[k] = drawn(s, o.start, r)
		want[k] = somePlain(s, p, list[k], newBrute)
	}
	wk := newWalk(o, p, 60000)
	wk.each = func(j Judgement) {
		for k := range list {
			b := s.boxOf(list[k])
			copy(b.open, s.first[:len(s.Hands)])
			b.open[len(s.Hands)+vPump], b.open[len(s.Hands)+vLock] = 0xff, 0xff
			if !o.lies(b) {
				continue
			}
			compared++
			if j.Outcome == Broken {
				broken++
			}
			if j.Outcome != want[k] {
				t.Errorf("%s: %s: %s: the box says %d, plain solving %d", name, p.About().ID, s.String(list[k]), j.Outcome, want[k])
			}
		}
	}
	wk.run(context.Background())
	return compared, broken
}

// somePlain judges every named setting in every state of the controls that stays.
func somePlain(s *Space, p Promise, c Case, newBrute func(Case) *oracle) Outcome {
	first := Silent
	for n := range s.Named {
		worst := Silent
		for pump := range uint8(3) {
			for lock := range uint8(2) {
				if s.first[len(s.Hands)+vPump]>>pump&1 == 0 || s.first[len(s.Hands)+vLock]>>lock&1 == 0 {
					continue
				}
				c.Setting = s.Named[n].Position
				c.put(vPump, pump)
				c.put(vLock, lock)
				o := newBrute(c)
				if j := p.Judge(&View{o}); j.Outcome > worst && o.steady() {
					worst = j.Outcome
				}
			}
		}
		switch {
		case worst == Kept:
			return Kept
		case first == Silent, first == Broken && worst == Unjudged:
			first = worst
		}
	}
	return first
}
