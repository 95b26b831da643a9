package seasons

import (
	"slices"
	"testing"

	"tideover/internal/demand"
)

// TestVariants: each variant runs, meets the same outages, and does what it is tried for:
// more water through the store, or fewer litres short.
func TestVariants(t *testing.T) {
	h := family(t, 4, demand.Either).Household
	h.Uses = slices.Clone(h.Uses)
	h.Uses[0].Key, h.Uses[1].Key = "wc", "shower"
	in := town(t, 4, Automatic)
	in.Home = home(t, h)
	in.Stores = in.Stores[3:6]
	base := lives(t, in, 2)
	list, err := Variants(in)
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]int{}
	for _, v := range list {
		ids[v.ID]++
		a := lives(t, v.Input, 2)
		for i := range a.Stores {
			was, now := base.Stores[i].Total, a.Stores[i].Total
			switch {
			case now.Outages != was.Outages:
				t.Errorf("%s: other outages", v.ID)
			case (v.ID == "through" || v.ID == "routine") && now.Out < 1.1*was.Out:
				t.Errorf("%s %v: %g m³ through the store, %g without", v.ID, v.Uses, now.Out, was.Out)
			case v.ID == "ration" && now.Short > was.Short, v.ID == "in-turn" && now != was:
				t.Errorf("%s: short %g m³, %g without", v.ID, now.Short, was.Short)
			}
			if now.balance() > 1e-9 {
				t.Errorf("%s: balance misses %g", v.ID, now.balance())
			}
		}
	}
	if ids["through"] != 2 || ids["in-turn"] != 1 || ids["routine"] != 3 || ids["ration"] != 1 {
		t.Errorf("variants %v", ids)
	}
}

// TestTwoAtOnce: two changes at once are both in the input, whichever comes first.
func TestTwoAtOnce(t *testing.T) {
	in := town(t, 4, Automatic)
	list, err := Variants(in)
	if err != nil {
		t.Fatal(err)
	}
	of := func(id string) *Variant {
		for i := range list {
			if list[i].ID == id {
				return &list[i]
			}
		}
		t.Fatalf("no %s", id)
		return nil
	}
	ration, routine := of("ration"), of("routine")
	a, b := ration.And(routine), routine.And(ration)
	for _, v := range []Variant{a, b} {
		if v.Input.Ration != ration.Input.Ration || v.Input.Routine != routine.Input.Routine || v.Input.Check() != nil {
			t.Errorf("%+v", v.Input)
		}
	}
	if in.Ration[0] != 0 || routine.Input.Ration[0] != 0 {
		t.Error("the input itself was changed")
	}
}
