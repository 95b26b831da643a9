package hydraulics

import (
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

// seeds is how many random circuits each property is tried on.
var seeds = flag.Int("circuits", 20000, "random circuits per property")

// campaign tries a property on many random circuits, on all cores. Each failure is named
// by its seed and the circuit saved under testdata/failed; once understood it is moved to
// testdata/pinned, where it is tried for good. salt keeps campaigns apart.
func campaign(t *testing.T, name string, salt uint64, count int, draw func(r *rand.Rand) *circuit, property func(c *circuit, r *rand.Rand) error) {
	t.Helper()
	var (
		next atomic.Int64
		wg   sync.WaitGroup
		mu   sync.Mutex
	)
	failed := map[uint64]error{}
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for seed := uint64(next.Add(1)) - 1; seed < uint64(count); seed = uint64(next.Add(1)) - 1 {
				r := rand.New(rand.NewPCG(seed, salt))
				c := draw(r)
				if err := property(c, r); err != nil {
					mu.Lock()
					failed[seed] = err
					mu.Unlock()
					save(t, fmt.Sprintf("%s-%d.json", name, seed), c)
				}
			}
		})
	}
	wg.Wait()
	shown := 0
	for seed := range uint64(count) {
		if err := failed[seed]; err != nil && shown < 10 {
			t.Errorf("%s, seed %d: %v", name, seed, err)
			shown++
		}
	}
	if len(failed) > shown {
		t.Errorf("%s: %d more", name, len(failed)-shown)
	}
	if *seeds == 20000 {
		recordCampaign(name, count)
	}
}

// kept is a circuit as a file: laws by kind and figures.
type kept struct {
	Points   []Point
	Elements []keptElement
	Held     []float64
	Opening  []float64
	Off      []bool
	Extreme  bool
}

type keptElement struct {
	Name     string
	From, To int32
	OneWay   bool
	Opens    float64
	Kind     string
	Pipe     *PipeSpec `json:",omitempty"`
	Figures  []float64 `json:",omitempty"`
}

func keep(c *circuit) kept {
	k := kept{Points: c.points, Held: c.state.Held, Opening: c.state.Opening, Off: c.state.Off, Extreme: c.extreme}
	for _, e := range c.elements {
		x := keptElement{Name: e.Name, From: e.From, To: e.To, OneWay: e.OneWay, Opens: e.Opens}
		switch l := e.Law.(type) {
		case *Pipe:
			x.Kind, x.Pipe = "pipe", &l.spec
		case *Fixed:
			x.Kind, x.Figures = "fixed", []float64{l.kv}
		case *Valve:
			x.Kind, x.Figures = "valve", []float64{l.kv, l.n}
		case *Main:
			x.Kind, x.Figures = "main", []float64{l.A, l.B}
		case *Pump:
			x.Kind, x.Figures = "pump", []float64{l.A, l.B, l.C, 0}
			if l.passage != nil {
				x.Figures[3] = l.passage.kv
			}
		case *Outlet:
			x.Kind, x.Figures = "outlet", []float64{l.c, l.limit}
		}
		k.Elements = append(k.Elements, x)
	}
	return k
}

func (k kept) circuit() (*circuit, error) {
	c := &circuit{points: k.Points, state: State{Held: k.Held, Opening: k.Opening, Off: k.Off}, extreme: k.Extreme}
	for _, x := range k.Elements {
		e := Element{Name: x.Name, From: x.From, To: x.To, OneWay: x.OneWay, Opens: x.Opens}
		var err error
		switch f := x.Figures; x.Kind {
		case "pipe":
			e.Law, err = NewPipe(x.Name, *x.Pipe)
		case "fixed":
			e.Law, err = NewFixed(x.Name, f[0])
		case "valve":
			e.Law, err = newValve(x.Name, f[0], f[1])
		case "main":
			e.Law, err = NewMainLoss(x.Name, f[0], f[1])
		case "pump":
			e.Law, err = NewPumpCurve(x.Name, f[0], f[1], f[2], f[3])
		case "outlet":
			e.Law, err = NewOutlet(x.Name, f[0], f[1])
		default:
			err = fmt.Errorf("%s: kind %q", x.Name, x.Kind)
		}
		if err != nil {
			return nil, err
		}
		c.elements = append(c.elements, e)
	}
	return c, nil
}

func save(t *testing.T, file string, c *circuit) {
	b, err := json.Marshal(keep(c))
	if err == nil {
		err = os.MkdirAll(filepath.Join("testdata", "failed"), 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join("testdata", "failed", file), b, 0o644)
	}
	if err != nil {
		t.Errorf("saving %s: %v", file, err)
	}
}

// Circuits that once failed, or came near to it, go through everything for good.
func TestPinnedCircuits(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "pinned", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%d pinned circuits, %v", len(files), err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var k kept
		if err := json.Unmarshal(b, &k); err != nil {
			t.Errorf("%s: %v", f, err)
			continue
		}
		c, err := k.circuit()
		if err != nil {
			t.Errorf("%s: %v", f, err)
			continue
		}
		if err := certifiedAndUnique(c, rand.New(rand.NewPCG(1, 1))); err != nil {
			t.Errorf("%s: %v", f, err)
		}
	}
}
