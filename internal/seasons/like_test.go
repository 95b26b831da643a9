package seasons

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"tideover/internal/demand"
)

// nobody looks, and by looking has a store live the plain way: piece by piece, on its own.
type nobody struct{}

func (nobody) See(*Span) {}

// anyTown is a home, a main and sizes of store at random: any changeover, power cuts, weak
// hours, rationing, routines, refill in one band or more, stores that weep, take turns or fill in pulses.
func anyTown(t *testing.T, r *rand.Rand) *Input {
	up := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	lines := []demand.Line{demand.Either, demand.OnStore}
	in := input(family(t, up(1, 8), lines[r.IntN(2)]), renewal{up: up(20, 300) * Hour, down: up(2, 40) * Hour, dark: hours(up(0, 4000), up(4000, 4200))}, nil)
	in.Change, in.Years, in.Warm = Change(1+r.IntN(2)), 1, 0
	if in.Home.Uses[0].Line == demand.OnStore {
		in.Change = Never
	}
	in.Hand.Most = up(0, 4) * Hour
	there := false
	for m := range in.Hand.There {
		if m%60 == 0 || r.IntN(200) == 0 {
			there = r.IntN(3) > 0
		}
		in.Hand.There[m] = there
	}
	in.Mains = append(in.Mains, Main{Serves: r.IntN(2) == 0})
	for h := range in.Week {
		if h%24 >= 17 && h%24 < 20 {
			in.Week[h] = 2
		}
	}
	in.Pump.Needs = r.IntN(2) == 0
	if r.IntN(3) == 0 {
		in.Ration = [demand.Stages - 1]float64{0.5, 0.2}
	}
	if r.IntN(3) == 0 {
		in.Routine = Routine{Every: 7 * Day, At: 9 * Hour, Lasts: 12 * Hour, Dump: float64(r.IntN(2)) * 0.3}
	}
	edges := [][]float64{{1}, {0.95, 1}, {0.5, 0.8, 1}}[r.IntN(3)]
	good, weak := make([]float64, len(edges)), make([]float64, len(edges))
	flow, some := up(0.02, 0.6)/1000, float64(r.IntN(2))
	for k := range edges {
		good[k], weak[k] = flow/float64(1+k), some*flow/float64(5+5*k)
	}
	weep, inTurn, opens := 0.0, false, 0.0
	if len(edges) == 1 && r.IntN(2) == 0 {
		opens = up(0.1, 0.95)
	}
	switch r.IntN(6) {
	case 0:
		weep = 1e-7
	case 1:
		inTurn = true
	}
	for range 2 + r.IntN(9) {
		in.Stores = append(in.Stores, Store{Name: fmt.Sprint(len(in.Stores)), Usable: math.Exp(up(math.Log(0.1), math.Log(20))), Edges: edges,
			Fill: [][]float64{make([]float64, len(edges)), good, weak}, Weep: weep, InTurn: inTurn, Opens: opens})
	}
	return in
}

// TestTogetherAsAlone: what stores have in common, lived once for all, and what is taken in one
// step, is what each comes to by itself, piece by piece.
func TestTogetherAsAlone(t *testing.T) {
	shared := 0
	for seed := range uint64(20) {
		in := anyTown(t, rand.New(rand.NewPCG(seed, 8)))
		all := chunk(t, worker(t, in), uint32(seed))
		for i := range in.Stores {
			alone := *in
			alone.Stores = in.Stores[i : i+1]
			got, err := worker(t, &alone).Chunk(context.Background(), uint32(seed), nobody{}, 0)
			if err != nil {
				t.Fatal(err)
			}
			if all.Asked != got.Asked || all.Main != got.Main || all.Called != got.Called {
				t.Errorf("town %d: %g, %g, %g with all, %g, %g, %g with store %d", seed, all.Asked, all.Main, all.Called, got.Asked, got.Main, got.Called, i)
			}
			a, b := reflect.ValueOf(all.Stores[i]), reflect.ValueOf(got.Stores[0])
			for f := range a.NumField() {
				x, y := a.Field(f).Float(), b.Field(f).Float()
				if math.Abs(x-y) > 1e-9*math.Max(1, math.Abs(y)) {
					t.Errorf("town %d, store %d of %.3g m³: %s %.15g with the others, %.15g alone", seed, i, in.Stores[i].Usable, a.Type().Field(f).Name, x, y)
				}
			}
		}
		if w := worker(t, in); !w.alone(&w.tanks[0]) {
			shared++
		}
	}
	if shared < 8 {
		t.Errorf("only %d towns have stores that may share", shared)
	}
}
