package proposal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"runtime"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

func input(t testing.TB, name string, edits ...job.Edit) appraise.Input {
	t.Helper()
	doc := demo.Doc(t, name)
	if len(edits) > 0 {
		next, _, err := doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		doc = next
	}
	rows, _ := demo.Rows(t, doc.Job.Profile)
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func proposed(t testing.TB, in appraise.Input) []Alternative {
	t.Helper()
	list, err := Propose(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// TestAlternatives: every example gets two or three designs, each whole, within its limits,
// with nothing to fix where the site allows it, and the more assured never lasts shorter.
func TestAlternatives(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		list := proposed(t, input(t, name))
		if len(list) < 2 || len(list) > 3 {
			t.Errorf("%s: %d alternatives", name, len(list))
		}
		for i := range list {
			a := &list[i]
			if len(a.Must) > 0 {
				t.Errorf("%s: %s leaves %s to fix", name, a.Name, a.Must[0].ID)
			}
			if i > 0 && a.Appraisal.Store.Usable < list[i-1].Appraisal.Store.Usable {
				t.Errorf("%s: %s stores less than %s", name, a.Name, list[i-1].Name)
			}
			if len(a.Doc.Faults()) > 0 {
				t.Errorf("%s: %s cannot be read: %v", name, a.Name, a.Doc.Faults())
			}
		}
	}
}

// TestJoint: a refusal, or nobody's answer, gives no design that joins store and main.
func TestJoint(t *testing.T) {
	for _, answer := range []string{"no", "unknown", "asked"} {
		for _, a := range proposed(t, input(t, "kestrel-rise", set("supply.by-pass", answer))) {
			if a.Appraisal.Assembly.Joined && answer != "asked" {
				t.Errorf("answered %s: %s joins store and main", answer, a.Name)
			}
		}
	}
}

// TestLimits: a tank passes the door and stands on the floor, or the limits that fight are
// named; the tank that just passes does.
func TestLimits(t *testing.T) {
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	door := float64(rows.Stores["tank-1000"].Diameter) + beside
	for _, x := range []struct{ door float64 }{{door}, {door - 1e-4}} {
		in := input(t, "kestrel-rise", set("access.door", fmt.Sprintf("%.4f m", x.door)))
		most := 0.0
		for _, a := range proposed(t, in) {
			most = max(most, float64(rows.Stores[a.Doc.Job.Choices.Store].Diameter))
		}
		if most > x.door-beside+1e-9 {
			t.Errorf("door %.4f m: a tank of %.2f m", x.door, most)
		}
	}
	for name, e := range map[string]job.Edit{
		"a door no tank passes": set("access.door", "0.4 m"), "a floor that carries none": set("access.floor-load", "2 kPa"), "a budget of nothing": set("budget.most", "0"),
	} {
		_, err := Propose(context.Background(), input(t, "kestrel-rise", e))
		var c *Conflict
		if !errors.As(err, &c) || len(c.Fight) == 0 {
			t.Errorf("%s: %v, want a conflict", name, err)
		}
	}
}

// TestBudget: more money never leaves the most assured with fewer taps in a power cut.
func TestBudget(t *testing.T) {
	last := -1
	for _, most := range []string{"100", "2000", "100000"} {
		in := input(t, "kestrel-rise", set("budget.most", most))
		in.Prices, in.Currency = map[string]float64{}, "demo"
		for _, table := range []string{"stores", "pumps", "valves", "floats", "vessels"} {
			for _, key := range in.Catalogue.Keys(table) {
				in.Prices[key] = 50
			}
		}
		list := proposed(t, in)
		a := &list[len(list)-1]
		n, _, _ := a.Served("power-out")
		if n < last {
			t.Errorf("with %s the most assured serves %d taps, with less money %d", most, n, last)
		}
		last = n
	}
}

// TestSameOnAnyCores: the same alternatives whatever the number of workers.
func TestSameOnAnyCores(t *testing.T) {
	var first []byte
	for _, cores := range []int{1, 2, 5} {
		was := runtime.GOMAXPROCS(cores)
		in := input(t, "juniper-flat")
		doc, err := Document{Job: in.Job, List: proposed(t, in)}.JSON()
		runtime.GOMAXPROCS(was)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = doc
		}
		if !bytes.Equal(first, doc) {
			t.Errorf("%d cores: other alternatives", cores)
		}
	}
}

// TestSwap: the stronger part makes nothing worse that the weaker did not, there and back
// again nothing has changed, and what does not exist is refused with what does.
func TestSwap(t *testing.T) {
	in := input(t, "kestrel-rise")
	down, err := Swap(in, "P1", "jet-0.37")
	if err != nil {
		t.Fatal(err)
	}
	worse := 0
	for _, c := range down.Changes {
		if c.Worse {
			worse++
		}
	}
	if worse == 0 || down.Path != "choices.pump.row" {
		t.Errorf("a weak pump makes %d findings worse by %s", worse, down.Path)
	}
	next := in
	next.Doc, next.Job = down.Doc, down.Doc.Job
	back, err := Swap(next, "p1", in.Job.Choices.Pump)
	if err != nil {
		t.Fatal(err)
	}
	if got := Compare(down.Before, back.After); len(got) != 0 {
		t.Errorf("there and back again %d findings have changed", len(got))
	}
	for _, bad := range [][2]string{{"V99", "jet-0.37"}, {"V1", "jet-0.37"}, {"P1", "no-such-pump"}} {
		if _, err := Swap(in, bad[0], bad[1]); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
}

// TestBought: what was bought stands in the file, once, with every comment left.
func TestBought(t *testing.T) {
	in := input(t, "kestrel-rise")
	s, err := Swap(in, "F1", "float-15-medium")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := s.Bought("F1", "float-15-medium", "the merchant", "31.50")
	if err != nil {
		t.Fatal(err)
	}
	if b := doc.Job.Bought; len(b) != 1 || b[0].Row != "float-15-medium" || b[0].From != "the merchant" || b[0].For != "choices.float" {
		t.Errorf("bought: %+v", doc.Job.Bought)
	}
	if doc.Job.Choices.Float != "float-15-medium" || !bytes.Contains(doc.Bytes(), []byte("# letter sent, no answer yet")) {
		t.Error("the swap, or a comment, is lost")
	}
	again := &Swapped{Doc: doc, Path: s.Path}
	if twice, err := again.Bought("F1", "float-15-low", "", ""); err != nil || len(twice.Job.Bought) != 1 {
		t.Errorf("bought again: %v", err)
	}
}

func BenchmarkPropose(b *testing.B) {
	in := input(b, "kestrel-rise")
	for b.Loop() {
		if _, err := Propose(context.Background(), in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSwap(b *testing.B) {
	in := input(b, "kestrel-rise")
	for b.Loop() {
		if _, err := Swap(in, "F1", "float-15-medium"); err != nil {
			b.Fatal(err)
		}
	}
}
