package proof

import (
	"context"
	"errors"
	"math/rand/v2"
	"reflect"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/words"
)

// mazed is a random assembly's input.
func mazed(t testing.TB, seed uint64, grow func(*maze)) Input {
	t.Helper()
	base, parts := kit(t)
	a := newMaze(parts, rand.New(rand.NewPCG(seed, 4)), seed%5 == 4)
	if grow != nil {
		m := &maze{a: a, kit: parts, r: rand.New(rand.NewPCG(seed, 5)), n: map[assembly.Kind]int{assembly.HandValve: 100}}
		m.tees = a.Of(assembly.Tee)
		grow(m)
		m.a.Settings = nil
		m.settings()
	}
	c, err := circuit.NewWithMishaps(a, circuit.Read(base.Job))
	if err != nil {
		t.Fatal(err)
	}
	return Input{Assembly: a, Circuit: c, Job: base.Job, Profile: base.Profile, Promises: Promises()}
}

// TestCountsAddUp: the boxes of every promise are all cases, once each.
func TestCountsAddUp(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		in := mazed(t, seed, nil)
		in.Budget = 1 << 20
		rep, err := Prove(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := rep.Space
		for i := range rep.Results {
			r := &rep.Results[i]
			for k := range 2 {
				got := total(r.Named[k]) + total(r.Other[k])
				want := s.Cases(k)
				switch r.About.Spread {
				case NamedOnly:
					want = want / s.Settings() * uint64(len(s.Named))
				case SomeNamed:
					want /= s.Settings()
				case OnceForAll:
					want = uint64(1 - k)
				}
				if got != want {
					t.Errorf("seed %d: %s: with %d mishaps %d cases are counted, want %d", seed, r.About.ID, k, got, want)
				}
			}
		}
	}
}

// TestFolding: swapped tags counted from the sound boxes come to the same as judged.
func TestFolding(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		in := mazed(t, seed, nil)
		s, err := NewSpace(&in)
		if err != nil {
			t.Fatal(err)
		}
		w := newWater(s, newMemo())
		for _, p := range in.Promises {
			if p.About().Spread != EveryCase {
				continue
			}
			var walks [2]*walk
			for k, failed := range [2][]uint64{s.all, s.unswapped()} {
				o := newOracle(s, false, failed, 0)
				o.w, o.folded = w, k == 1
				w.undo(-1)
				walks[k] = newWalk(o, p, 1<<20)
				walks[k].run(context.Background())
			}
			if walks[1].o.unfold {
				continue
			}
			a, b := s.conclude(walks[0]), s.conclude(walks[1])
			if a.Named != b.Named || a.Other != b.Other || a.Verdict != b.Verdict || !reflect.DeepEqual(a.Smallest, b.Smallest) || !reflect.DeepEqual(a.SmallestNamed, b.SmallestNamed) || len(a.Breakers) != len(b.Breakers) {
				t.Errorf("seed %d: %s: judged %v %v %v, folded %v %v %v", seed, a.About.ID, a.Verdict.ID(), a.Named, a.Other, b.Verdict.ID(), b.Named, b.Other)
			}
		}
	}
}

// TestWorkers: the report does not depend on how many work at it.
func TestWorkers(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		in := mazed(t, seed, nil)
		in.Pairs = seed == 0
		var reports [2]*Report
		for k, n := range [2]int{1, 5} {
			in.Workers = n
			var err error
			if reports[k], err = Prove(context.Background(), in, nil); err != nil {
				t.Fatal(err)
			}
			reports[k].Space = nil
		}
		if !reflect.DeepEqual(reports[0], reports[1]) {
			t.Errorf("seed %d: one worker and five do not agree", seed)
		}
	}
}

// TestText: every case is read back from its text.
func TestText(t *testing.T) {
	in := laid(t, "kestrel-rise", "three-way", nil)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 1))
	start := newOracle(s, false, s.all, 0).start
	for range 500 {
		c := drawn(s, start, r)
		got, err := s.Parse(s.String(c))
		if err != nil || !reflect.DeepEqual(got, c) {
			t.Fatalf("%q is read as %+v, %v; want %+v", s.String(c), got, err, c)
		}
	}
	for _, text := range []string{"nowhere", "main=wet", "V1=ajar", "V99=open", "failed=nothing", "lock=locked-out"} {
		var refused *Refusal
		if _, err := s.Parse(text); !errors.As(err, &refused) {
			t.Errorf("%q is taken: %v", text, err)
		} else if !words.Has(refused.ID) {
			t.Errorf("%q is refused without words: %s", text, refused.ID)
		}
	}
}

// TestRefusals: what makes a proof meaningless is refused by name.
func TestRefusals(t *testing.T) {
	without := func(k assembly.Kind) func(a *assembly.Assembly) {
		return func(a *assembly.Assembly) {
			for i := range a.Parts {
				if a.Parts[i].Kind == k {
					a.Parts[i].Kind = assembly.Vessel
				}
			}
		}
	}
	loop := func(a *assembly.Assembly) {
		tees := a.Of(assembly.Tee)
		_, parts := kit(t)
		m := &maze{a: a, kit: parts, r: rand.New(rand.NewPCG(1, 1)), n: map[assembly.Kind]int{assembly.Run: 50}, tees: tees[:2]}
		m.between(assembly.Run)
		m.between(assembly.Run)
	}
	for id, change := range map[string]func(*assembly.Assembly){
		"proof.refuse.no-main": without(assembly.Main), "proof.refuse.no-outlet": without(assembly.Outlet), "proof.refuse.pipe-loop": loop,
	} {
		in := mazed(t, 3, nil)
		change(in.Assembly)
		c, err := circuit.NewWithMishaps(in.Assembly, circuit.Read(in.Job))
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		in.Circuit = c
		_, err = Prove(context.Background(), in, nil)
		var refused *Refusal
		if !errors.As(err, &refused) || refused.ID != id || !words.Has(id) {
			t.Errorf("got %v, want %s in words", err, id)
		}
	}
}

// TestFortyValves: with forty hand valves the number is shown, what was covered is said,
// nothing that was not covered is called kept, and it ends.
func TestFortyValves(t *testing.T) {
	t.Parallel()
	in := mazed(t, 5, func(m *maze) {
		for len(m.a.Of(assembly.HandValve)) < 40 {
			m.between(assembly.HandValve)
		}
	})
	rep, err := Prove(context.Background(), in, nil) // no budget given: it ends by itself
	if err != nil {
		t.Fatal(err)
	}
	if got := rep.Space.Settings(); got != 1<<40 {
		t.Errorf("%d settings, want 2^40", got)
	}
	partly := 0
	for _, r := range rep.Results {
		if r.Covered < 1 {
			partly++
			if r.Verdict != NotJudged && r.Verdict != BrokenPromise {
				t.Errorf("%s: %.3g of the cases covered and the verdict is %s", r.About.ID, r.Covered, r.Verdict.ID())
			}
		}
	}
	if partly == 0 {
		t.Error("nothing was left uncovered: the test does not test")
	}
}

// TestCancelled: a cancelled proof calls nothing kept.
func TestCancelled(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	rep, err := Prove(ctx, in, func(p Progress) {
		if p.Broken != nil {
			told++
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || rep == nil || told == 0 {
		t.Fatalf("got %v, report %v, told %d", err, rep != nil, told)
	}
	cut := 0
	for _, r := range rep.Results {
		if r.Covered < 1 {
			cut++
			if r.Verdict == KeptAlways || r.Verdict == WhileHandsObey || r.Verdict == UnlessPartFails {
				t.Errorf("%s: %s with %.3g covered", r.About.ID, r.Verdict.ID(), r.Covered)
			}
		}
	}
	if cut == 0 {
		t.Error("everything was covered: the test does not test")
	}
}
