package proof

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// sequencesOf proves an example with nothing failed and finds its orders of movements.
func sequencesOf(t *testing.T, name, arrangement string, edit func(*job.Job)) (Input, *Report, []Sequence) {
	t.Helper()
	in := laid(t, name, arrangement, edit)
	in.Circuit.Mishaps = nil
	r, err := Prove(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	list, err := r.Sequences(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return in, r, list
}

// TestSequencesHold walks every order movement by movement: it begins and ends where it
// says, opens nothing before the taps were looked at, is judged complete, and keeps in every
// single world every safety promise that neither end breaks.
func TestSequencesHold(t *testing.T) {
	t.Parallel()
	for _, e := range []struct{ name, arrangement string }{{"juniper-flat", ""}, {"juniper-flat", "through-store"}, {"lantern-row", ""}} {
		in, r, list := sequencesOf(t, e.name, e.arrangement, nil)
		if want := 2 * (len(r.Space.Named) - 1); len(list) != want {
			t.Errorf("%s %s: %d orders, want %d", e.name, e.arrangement, len(list), want)
		}
		for i := range list {
			walkSequence(t, in, r, &list[i])
		}
	}
}

func walkSequence(t *testing.T, in Input, r *Report, s *Sequence) {
	t.Helper()
	p, _ := r.planner(in)
	from, to := r.Space.named(s.From), r.Space.named(s.To)
	if !s.Judged || len(s.Blocks) > 0 {
		t.Errorf("%s to %s: judged %v, blocked %v", s.From, s.To, s.Judged, s.Blocks)
	}
	at := standing{at: append([]uint8(nil), from.Position...)}
	if p.pumped && plugOut(s.From) {
		at.guard = Unplugged
	}
	end := standing{at: to.Position}
	if p.pumped && plugOut(s.To) {
		end.guard = Unplugged
	}
	excused := p.harm(at) | p.harm(end)
	for n, m := range s.Moves {
		switch m.Act {
		case PullPlug:
			at.guard |= Unplugged
		case PutPlug:
			at.guard &^= Unplugged
		case LookTaps:
			at.guard |= TapsShut
		case OpenTaps:
			at.guard |= TapsOpen
			for h, k := range at.at {
				if k != end.at[h] && r.Space.Hands[h].Positions[end.at[h]] == "shut" {
					t.Errorf("%s to %s: movement %d opens the taps before %s is shut", s.From, s.To, n+1, r.Space.Hands[h].Tag)
				}
			}
		case Turn:
			for h := range r.Space.Hands {
				if r.Space.Hands[h].Tag == m.Tag {
					at.at[h] = r.Space.Hands[h].at(m.To)
				}
			}
			if m.To != "shut" && at.guard&(TapsShut|TapsOpen) == 0 {
				t.Errorf("%s to %s: movement %d opens %s before the taps were looked at", s.From, s.To, n+1, m.Tag)
			}
		}
		if n+1 < len(s.Moves) {
			oneByOne(t, p, at, excused, s)
		}
	}
	if !p.there(at, end) {
		t.Errorf("%s to %s ends elsewhere", s.From, s.To)
	}
}

// oneByOne judges a standing case by case.
func oneByOne(t *testing.T, p *planner, at standing, excused uint64, s *Sequence) {
	t.Helper()
	c := Case{Setting: at.at, Control: Control{Lock: circuit.Allowed}}
	n := len(p.s.Hands)
	for _, main := range []Main{Good, Dry, High, Sucking} {
		for store := Normal; store <= Empty; store++ {
			for draw := DrawNone; draw <= DrawMany; draw++ {
				header := store
				if p.s.first[n+vHeader] == 1 {
					header = Normal
				}
				for _, pump := range []circuit.Pumping{circuit.Standing, circuit.Running} {
					if at.guard&TapsShut != 0 && draw != DrawNone || at.guard&Unplugged != 0 && pump != circuit.Standing ||
						p.s.first[n+vStore]>>store&1 == 0 || p.s.first[n+vPump]>>pump&1 == 0 {
						continue
					}
					c.World, c.Control.Pump = World{Main: main, Store: store, Header: header, Draw: draw}, pump
					for k, promise := range p.safety {
						if excused>>k&1 == 0 && p.s.Of(promise, c).Outcome == Broken {
							t.Errorf("%s to %s: %s breaks %s on the way", s.From, s.To, p.s.String(c), promise.About().ID)
							return
						}
					}
				}
			}
		}
	}
}

// TestStandingsForgetWater: what a standing breaks does not depend on the standing that was
// judged before it. Home 13 of seed 43 has some whose water hangs on more forks than another's:
// with the water of the one before, such a judgement ends beyond the forks of its own.
func TestStandingsForgetWater(t *testing.T) {
	t.Parallel()
	in := homeOf(t, homes.Random(43, 13))
	in.Circuit.Mishaps = nil
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	p := &planner{s: s, water: newWater(s, newMemo())}
	for _, promise := range Promises() {
		if about := promise.About(); about.Safety && about.Spread == EveryCase {
			p.safety = append(p.safety, promise)
		}
	}
	r, broken := rand.New(rand.NewPCG(43, 13)), 0
	for n := range 60 {
		at := standing{at: slices.Clone(s.Named[n%len(s.Named)].Position), guard: Guard(r.IntN(4))}
		h := r.IntN(len(at.at))
		at.at[h] = uint8(r.IntN(len(s.Hands[h].Positions)))
		for k, promise := range p.safety {
			alone := &planner{s: s, water: newWater(s, newMemo()), safety: p.safety}
			want := alone.breaks(k, at)
			if got := p.breaks(k, at); got != want {
				t.Errorf("%s, guard %d: %s broken: %v, alone %v", s.TellSetting(at.at), at.guard, promise.About().ID, got, want)
			}
			if want {
				broken++
			}
		}
	}
	if broken == 0 {
		t.Error("no standing breaks anything: the test says little")
	}
}

// homeOf lays a random home out under its own profile.
func homeOf(t *testing.T, h homes.Home) Input {
	t.Helper()
	j := h.Doc(t).Job
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, err := rows.Profile(j.Profile)
	if err != nil {
		t.Fatal(err)
	}
	a, err := assembly.Build(j, rows, p)
	if err != nil {
		t.Fatal(err)
	}
	return inputOf(t, j, a, p)
}

// TestSequencesAreShortest: no order with fewer movements keeps the promises; tried by
// breadth over every standing that so many movements lead to.
func TestSequencesAreShortest(t *testing.T) {
	in, r, list := sequencesOf(t, "lantern-row", "", nil)
	p, _ := r.planner(in)
	for i := range list {
		s := &list[i]
		from, to := r.Space.named(s.From), r.Space.named(s.To)
		start, goal := standing{at: from.Position}, standing{at: to.Position}
		if p.pumped && plugOut(s.From) {
			start.guard = Unplugged
		}
		if p.pumped && plugOut(s.To) {
			goal.guard = Unplugged
		}
		excused := p.harm(start) | p.harm(goal)
		front, been := []standing{start}, map[uint64]bool{p.key(start): true}
		moves := 0
		for found := false; !found; moves++ {
			var next []standing
			for _, at := range front {
				for _, step := range p.steps(at, goal) {
					found = found || p.there(step.standing, goal)
					if key := p.key(step.standing); !been[key] && p.harm(step.standing)&^excused == 0 {
						been[key] = true
						next = append(next, step.standing)
					}
				}
			}
			if front = next; len(front) == 0 && !found {
				t.Fatalf("%s to %s: breadth finds no order", s.From, s.To)
			}
		}
		if len(s.Moves) != moves {
			t.Errorf("%s to %s: %d movements, breadth finds %d", s.From, s.To, len(s.Moves), moves)
		}
	}
}

// TestSequenceBlocked: where every standing between breaks a promise, the order says which
// one, and for how long.
func TestSequenceBlocked(t *testing.T) {
	in, r, _ := sequencesOf(t, "juniper-flat", "", nil)
	p, _ := r.planner(in)
	from, to := r.Space.named("on-main"), r.Space.named("on-store")
	ends := map[uint64]bool{p.key(standing{at: from.Position}): true, p.key(standing{at: to.Position}): true}
	s, err := p.search(context.Background(), from, to)
	if err != nil || !s.Judged || len(s.Blocks) > 0 || len(s.Moves) != 2 || s.Moves[0].Act != LookTaps {
		t.Fatalf("%+v, %v", s, err)
	}
	clean := 0
	for p.safety[clean].About().ID != "main-clean" {
		clean++
	}
	for h := range 1 << 2 { // as if every standing between hurt, whatever the guard
		for k := range p.known {
			if k = k&^3 | uint64(h); !ends[k] {
				p.known[k] |= 1 << clean
			}
		}
	}
	forced, err := p.search(context.Background(), from, to)
	if err != nil || len(forced.Blocks) != 1 || forced.Blocks[0].Promise != "main-clean" || forced.Blocks[0].For < HandTime {
		t.Errorf("blocked: %+v, %v", forced.Blocks, err)
	}
	if forced.Judged {
		t.Error("a standing whose second judgement differs counts as judged")
	}
}
