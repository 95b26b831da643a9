package hydraulics

import (
	"errors"
	"math"
	"slices"
	"testing"
)

var inf = math.Inf(1)

// lockout is a store with a booster and a main, feeding one tap, and a lock-out that
// feels the main's head at the tee: locked out it stays at on or more, allowed at off or
// less. taps is how wide the tap is.
func lockout(on, off float64) (*bench, *Net, []Controller) {
	b := &bench{}
	m, tee, s, house := b.held("main"), b.at("tee", 0), b.held("store"), b.at("house", 1)
	b.join("service", m, tee)
	b.check("nr-main", tee, house, 0)
	b.booster("pump", s, house, 30)
	b.tap("tap", house, 1)
	pump := int32(b.index["pump"])
	c := Controller{Name: "lock-out", Point: tee, States: []ControlState{
		{Name: "locked out", Low: on, High: inf, Set: []Setting{{Element: pump, Off: true}}},
		{Name: "allowed", Low: -inf, High: off, Set: []Setting{{Element: pump, Opening: 1}}},
	}}
	return b, must(NewNet(b.points, b.elements)), []Controller{c}
}

func TestLockOutStates(t *testing.T) {
	tests := []struct {
		name          string
		main, on, off float64
		want          []string
	}{
		// The tap takes some 0.15 L/s from a main of 20 m: the tee sags by 1 to 2 m; with the
		// pump at 31 m the main's non-return valve is shut and the tee stands at 20 m.
		{"good main: locked out only", 28, 15, 17, []string{"locked out"}},
		{"weak main: the pump only", 10, 15, 17, []string{"allowed"}},
		{"between the two limits both stay", 16.9, 14, 17, []string{"locked out", "allowed"}},
		{"sagging below on, at rest above off: neither stays", 20, 19.9, 19.95, nil},
	}
	for _, test := range tests {
		b, n, list := lockout(test.on, test.off)
		s := n.NewState()
		s.Held[b.index["main"]], s.Held[b.index["store"]] = test.main, 1
		found, err := n.Settle(s, nil, list, n.NewWork())
		var got []string
		for _, f := range found {
			got = append(got, list[0].States[f.Rows[0]].Name)
			if !f.Answer.Cert.OK() {
				t.Errorf("%s: %+v", test.name, f.Answer.Cert)
			}
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %v stay, want %v", test.name, got, test.want)
		}
		var hunting *Hunting
		if hunts := errors.As(err, &hunting); hunts != (test.want == nil) || err != nil && !hunts {
			t.Errorf("%s: %v", test.name, err)
		}
		if hunting != nil && !slices.Equal(hunting.Parts, []string{"lock-out"}) {
			t.Errorf("%s: %v hunt", test.name, hunting.Parts)
		}
		if s.Off[b.index["pump"]] || s.Opening[b.index["pump"]] != 1 {
			t.Errorf("%s: the caller's state was changed", test.name)
		}
	}
}

// Two tables at once: a lock-out and a pump that starts when the flow through the tap is
// above its least. Every combination is looked at and the two that stay are given.
func TestTwoControllers(t *testing.T) {
	b, n, list := lockout(14, 17)
	tap := int32(b.index["tap"])
	list = append(list, Controller{Name: "alarm", Point: -1, Element: tap, States: []ControlState{
		{Name: "quiet", Low: -inf, High: 1e-5},
		{Name: "sounding", Low: 1e-5, High: inf},
	}})
	s := n.NewState()
	s.Held[b.index["main"]], s.Held[b.index["store"]] = 16.9, 1
	found, err := n.Settle(s, nil, list, n.NewWork())
	if err != nil || len(found) != 2 {
		t.Fatalf("%d states, %v", len(found), err)
	}
	if !slices.Equal(found[0].Rows, []int{0, 1}) || !slices.Equal(found[1].Rows, []int{1, 1}) {
		t.Errorf("rows %v, %v", found[0].Rows, found[1].Rows)
	}
	if found[1].Answer.Flow[tap] <= found[0].Answer.Flow[tap] {
		t.Error("the pump gives no more than the main")
	}
}

// A pressure switch that feels a trap: it may stand at any head from its cut-in to where
// it was shut off, and so both its states stay.
func TestControllerOnStandingWater(t *testing.T) {
	b := &bench{}
	s, house := b.held("store"), b.at("house", 1)
	b.booster("pump", s, house, 40)
	b.tap("tap", house, 1)
	n := must(NewNet(b.points, b.elements))
	pump := int32(b.index["pump"])
	list := []Controller{{Name: "switch", Point: house, States: []ControlState{
		{Name: "standing", Low: 20, High: inf, Set: []Setting{{Element: pump, Opening: 0}}},
		{Name: "running", Low: -inf, High: 30, Set: []Setting{{Element: pump, Opening: 1}}},
	}}}
	state, ever := n.NewState(), n.NewState()
	state.Off[b.index["tap"]] = true
	found, err := n.Settle(state, ever, list, n.NewWork())
	if err != nil || len(found) != 1 || found[0].Rows[0] != 0 {
		t.Fatalf("%v, %v: want the standing state alone, held by what was pumped", found, err)
	}
}

func TestControllerRefusals(t *testing.T) {
	b, n, _ := lockout(14, 17)
	tee := int32(b.index["tee"])
	row := []ControlState{{Name: "a", Low: 0, High: 1}}
	many := make([]ControlState, 70)
	for i := range many {
		many[i] = ControlState{Low: -inf, High: inf}
	}
	tests := []struct {
		name string
		list []Controller
	}{
		{"no state", []Controller{{Name: "c", Point: tee}}},
		{"no such point", []Controller{{Name: "c", Point: 99, States: row}}},
		{"no such flow", []Controller{{Name: "c", Point: -1, Element: 99, States: row}}},
		{"limits crossed", []Controller{{Name: "c", Point: tee, States: []ControlState{{Low: 2, High: 1}}}}},
		{"limit not a number", []Controller{{Name: "c", Point: tee, States: []ControlState{{Low: math.NaN(), High: 1}}}}},
		{"sets no such part", []Controller{{Name: "c", Point: tee, States: []ControlState{{High: 1, Set: []Setting{{Element: 99}}}}}}},
		{"opening above 1", []Controller{{Name: "c", Point: tee, States: []ControlState{{High: 1, Set: []Setting{{Opening: 1.1}}}}}}},
		{"too many together", []Controller{{Name: "c", Point: tee, States: many}, {Name: "d", Point: tee, States: many}}},
	}
	for _, test := range tests {
		var hunting *Hunting
		if _, err := n.Settle(n.NewState(), nil, test.list, n.NewWork()); err == nil || errors.As(err, &hunting) {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}
