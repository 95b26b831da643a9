package proof

import (
	"context"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
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
			switch e.Path {
			case "choices.arrangement":
				j.Choices.Arrangement = e.Text
			case "choices.pump.control":
				j.Choices.Control = e.Text
			case "choices.float":
				j.Choices.Float = e.Text
			case "choices.backflow":
				j.Choices.Backflow = e.Text
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

// Juniper Flat's pump runs dry on a bare pressure switch: a controller that feels the
// flow cures it, and is proved to.
func TestCureOfADryPump(t *testing.T) {
	in, r := proved(t, laid(t, "juniper-flat", "", nil), "not-dry")
	if v := r.Of("not-dry").Verdict; v != BrokenPromise {
		t.Fatalf("verdict is %s", v.ID())
	}
	list, err := Cures(context.Background(), in, r, "not-dry", benchOf(t, in))
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

// A valve beside the non-return valves of Kestrel Rise's main leg lets one of them be
// taken out: the change is made on a copy.
func TestPutLeavesTheAssemblyAlone(t *testing.T) {
	in := laid(t, "kestrel-rise", "", nil)
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	before := in.Assembly.Dump()
	for _, kind := range []string{"check", "valve", "vessel"} {
		next, tag := Change{Kind: kind, Part: in.Assembly.Index("N3"), Port: 1}.Put(in.Assembly, rows)
		if next == nil {
			t.Fatalf("no %s can be put beside N3", kind)
		}
		if in.Assembly.Dump() != before {
			t.Fatalf("putting a %s in changes the assembly itself", kind)
		}
		if next.Index(tag) < 0 || in.Assembly.Index(tag) >= 0 {
			t.Errorf("the new %s is tagged %q", kind, tag)
		}
		if _, err := circuit.NewWithMishaps(next, circuit.Read(in.Job)); err != nil {
			t.Errorf("with a %s: %v", kind, err)
		}
		if kind == "valve" && !newMeets(next).out(next.Index("N3")) {
			t.Error("with a valve on its home side, N3 still cannot be taken out")
		}
	}
	if next, _ := (Change{Kind: "check", Part: in.Assembly.Index("kitchen"), Port: 5}).Put(in.Assembly, rows); next != nil {
		t.Error("something is put on a port that is not there")
	}
}

// A pump check left out of a by-pass: another check in its leg cures the loop.
func TestCureOfALoop(t *testing.T) {
	in := laid(t, "juniper-flat", "", nil)
	m := in.Circuit.Mishaps[in.Circuit.MishapOf("check-left-out N3")]
	in, r := proved(t, only(in, m), "no-loop")
	list, err := Cures(context.Background(), in, r, "no-loop", benchOf(t, in))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Skipf("the loop is %s", r.Of("no-loop").Verdict.ID())
	}
	if c := list[0]; c.Parts > list[len(list)-1].Parts {
		t.Errorf("the first cure buys %d pieces, the last %d", c.Parts, list[len(list)-1].Parts)
	}
}

// No wider overflow at its height saves Kestrel Rise's air gap; one drilled lower does, and
// is proved to at the night maximum.
func TestCureOfAnOverflow(t *testing.T) {
	in, r := proved(t, laid(t, "kestrel-rise", "", nil), "overflow")
	b := benchOf(t, in)
	b.Rebuild, b.Enough = nil, 1 // what the job has no field for
	list, err := Cures(context.Background(), in, r, "overflow", b)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 1 || list[0].Kind != "drill" || list[0].After != KeptAlways {
		t.Errorf("cures are %+v", list)
	}
}
