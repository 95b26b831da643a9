package seasons

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"tideover/internal/demand"
)

// TestCrewAsWorkers: changes lived side by side on shared draws count, bit for bit, what each
// counts with a worker of its own; two homes that draw differently do not meet.
func TestCrewAsWorkers(t *testing.T) {
	h := family(t, 4, demand.Either).Household
	h.Uses = slices.Clone(h.Uses)
	h.Uses[0].Key, h.Uses[1].Key = "wc", "shower"
	in := town(t, 4, ByHand)
	in.Home, in.Stores, in.Years, in.Warm = home(t, h), in.Stores[3:6], 2, 1
	list, err := Variants(in)
	if err != nil {
		t.Fatal(err)
	}
	other := *in
	other.Home, other.Years = family(t, 5, demand.Either), 1
	inputs := []*Input{in, &other}
	for i := range list {
		if !list[i].Input.Home.Alike(in.Home) {
			t.Errorf("%s: the home draws differently", list[i].ID)
		}
		inputs = append(inputs, list[i].Input)
	}
	if other.Home.Alike(in.Home) {
		t.Error("five people draw as four")
	}
	c, err := NewCrew(inputs)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []uint32{3, 1} {
		got, err := c.Chunk(context.Background(), k)
		if err != nil {
			t.Fatal(err)
		}
		for i, in := range inputs {
			if want := chunk(t, worker(t, in), k); !reflect.DeepEqual(got[i], want) {
				t.Errorf("future %d, input %d: %+v with the others, %+v by itself", k, i, got[i], want)
			}
		}
	}
}
