package proof

import (
	"context"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// benchOf is what trying cures needs, for an example job edited by hand first.
func benchOf(t testing.TB, in Input) Bench {
	t.Helper()
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	rebuild := func(edits []job.Edit) (*job.Job, *assembly.Assembly, error) {
		j := in.Job.Clone()
		for _, e := range edits {
			if e.Op == job.Insert {
				j.Added = append(j.Added, addedBy(e))
				continue
			}
			switch e.Path {
			case "choices.arrangement":
				j.Choices.Arrangement = e.Text
			case "choices.pump.control":
				j.Choices.Control = e.Text
			case "choices.pump.guard":
				j.Choices.Guard = e.Text
			case "choices.float":
				j.Choices.Float = e.Text
			case "choices.backflow":
				j.Choices.Backflow = e.Text
			case "choices.store.screen":
				j.Choices.Screen = e.Text
			case "choices.store.overflow", "choices.store.overflow-height":
				v, err := quantity.Parse(e.Text, quantity.LengthDim, quantity.Metric)
				if err != nil {
					t.Fatal(err)
				}
				field := map[string]*quantity.Length{"choices.store.overflow": &j.Choices.Overflow.V, "choices.store.overflow-height": &j.Choices.OverHeight.V}[e.Path]
				*field = quantity.Length(v.SI)
			default:
				t.Fatalf("an edit of %s is tried", e.Path)
			}
		}
		a, err := assembly.Build(j, rows, in.Profile)
		return j, a, err
	}
	return Bench{Rows: rows, Figures: circuit.Read(in.Job), Rebuild: rebuild}
}

func proved(t testing.TB, in Input, ids ...string) (Input, *Report) {
	t.Helper()
	in.Promises = nil
	for _, id := range ids {
		in.Promises = append(in.Promises, byID(t, id))
	}
	r, err := Prove(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	return in, r
}

// Juniper Flat's pump without its level switch runs dry on a bare pressure switch: a controller that feels the
// flow cures it, and is proved to.
func TestCureOfADryPump(t *testing.T) {
	t.Parallel()
	in, r := proved(t, laid(t, "juniper-flat", "", bare), "not-dry")
	if v := r.Of("not-dry").Verdict; v != BrokenPromise {
		t.Fatalf("verdict is %s", v.ID())
	}
	list, _, err := Cures(context.Background(), in, r, "not-dry", benchOf(t, in))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Fatal("no cure is found")
	}
	for i, c := range list {
		if c.After <= c.Before || c.Parts < 1 {
			t.Errorf("cure %+v does not help or costs nothing", c)
		}
		if i > 0 && c.Parts < list[i-1].Parts {
			t.Errorf("cures are not in order: %+v", list)
		}
	}
}

// addedBy is the part that an edit puts in.
func addedBy(e job.Edit) job.Added {
	x := job.Added{Tag: strings.TrimPrefix(e.Path, "added.")}
	for _, field := range strings.Split(e.Text, ", ") {
		key, text, _ := strings.Cut(field, ": ")
		*map[string]*string{"kind": &x.Kind, "row": &x.Row, "beside": &x.Beside, "end": &x.End}[key] = text
	}
	return x
}

// A valve beside a non-return valve of Kestrel Rise's main leg lets it be taken out.
func TestCureByAValve(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	n := in.Assembly.Index("N3")
	out := func(port int) bool {
		c := in.added("valve", "hand-valve", n, port, "")
		next, ok := c.make(in, benchOf(t, in))
		if !ok || next.Assembly.Index(c.Value) < 0 || in.Assembly.Index(c.Value) >= 0 {
			t.Fatalf("no valve can be put at port %d of N3", port)
		}
		return newMeets(next.Assembly).out(n)
	}
	if newMeets(in.Assembly).out(n) || !(out(0) || out(1)) {
		t.Error("a valve beside N3 does not let it be taken out")
	}
}

// One non-return valve alone keeps what Juniper Flat's pump lifts out of the store where
// main and store are joined: fouled, it lets the loop run. A second one in the same leg
// cures that, and is proved to.
func TestCureOfALoop(t *testing.T) {
	t.Parallel()
	in, r := proved(t, laid(t, "juniper-flat", assembly.MainFirst, nil), "no-loop")
	if v := r.Of("no-loop").Verdict; v != UnlessPartFails {
		t.Fatalf("with its check fouled the loop is %s", v.ID())
	}
	b := benchOf(t, in)
	b.Enough = 1
	list, _, err := Cures(context.Background(), in, r, "no-loop", b)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 1 || list[0].Kind != "check" || list[0].Parts != 3 {
		t.Fatalf("cures are %+v", list)
	}
	next, ok := list[0].make(in, b)
	if !ok {
		t.Fatal("the cure cannot be made")
	}
	_, cured := proved(t, next, "no-loop")
	before, after := breakersOf(r, "no-loop"), breakersOf(cured, "no-loop")
	if key := "check-stuck-open N3"; !before[key] || after[key] || len(after) >= len(before) {
		t.Errorf("broken before by %v, after the cure by %v", before, after)
	}
}

// breakersOf lists the failures that break a promise alone.
func breakersOf(r *Report, id string) map[string]bool {
	keys := map[string]bool{}
	for _, x := range r.Of(id).Breakers {
		keys[r.Space.Mishaps[x.Case.Mishaps[0]].Key()] = true
	}
	return keys
}

// Where a handle keeps apart what a missing check does not, the promise hangs on the hands:
// no card leads to the loop, a wrong position does.
func TestOnlyWhileHandsObey(t *testing.T) {
	t.Parallel()
	in := laid(t, "juniper-flat", assembly.ByHand, nil)
	m := in.Circuit.Mishaps[in.Circuit.MishapOf("check-left-out N3")]
	_, r := proved(t, only(in, m), "no-loop")
	x := r.Of("no-loop")
	if x.Verdict != WhileHandsObey {
		t.Fatalf("the verdict is %s", x.Verdict.ID())
	}
	if x.Named[1].Broken > 0 || x.Other[1].Broken == 0 || x.Smallest == nil || x.SmallestNamed != nil {
		t.Errorf("on the card %+v, off it %+v, smallest %+v", x.Named, x.Other, x.Smallest)
	}
	if x.Smallest != nil && r.Space.NameOf(x.Smallest.Case.Setting) != "" {
		t.Errorf("the case that breaks it is on the card: %s", r.Space.String(x.Smallest.Case))
	}
}

// A narrow overflow drowns Kestrel Rise's float valve; the one that is offered in its place is
// proved to carry a broken float at the night maximum, and says what it costs.
func TestCureOfAnOverflow(t *testing.T) {
	t.Parallel()
	in, r := proved(t, laid(t, "kestrel-rise", "", narrow), "overflow")
	b := benchOf(t, in)
	b.Enough = 1
	list, _, err := Cures(context.Background(), in, r, "overflow", b)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 1 || list[0].Kind != "drill" || list[0].After != KeptAlways || !strings.Contains(list[0].Value, "nobody climbs in") {
		t.Errorf("cures are %+v", list)
	}
}
