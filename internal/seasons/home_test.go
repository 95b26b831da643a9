package seasons

import (
	"context"
	"math"
	"testing"

	"tideover/internal/demand"
	"tideover/internal/stream"
)

func even() (w [24]float64) {
	for h := range w {
		w[h] = 1
	}
	return w
}

func use(perDay, litres, flow float64, line demand.Line) demand.Use {
	return demand.Use{Key: "use", PerDay: perDay, Volume: litres / 1000, Flow: flow / 1000, Hours: even(), Weekend: even(),
		Week: [7]float64{1, 1, 1, 1, 1, 1, 1}, Line: line, Keep: [3]float64{1, 0.6, 0.3}, Less: [3]float64{1, 0.8, 0.6}}
}

// family draws about 520 L a day, people × 130, as homes draw.
func family(t testing.TB, people float64, line demand.Line) *demand.Home {
	t.Helper()
	peak := [24]float64{1.5, 0.7, 0.6, 0.6, 0.7, 2.5, 8, 9.5, 8, 5.5, 4.5, 4, 4.5, 4, 3.5, 3.5, 4, 5.5, 7.5, 7.5, 6, 4.5, 2.5, 1.4}
	list := []demand.Use{use(5, 6, 0.1, line), use(0.7, 45, 0.13, line), use(4, 2, 0.08, line), use(12, 3, 0.1, line), use(0.3, 50, 0.15, line)}
	list[3].Group = demand.PerHome
	for i := range list {
		list[i].Hours, list[i].Weekend, list[i].VolumeSpread, list[i].FlowSpread = peak, peak, 0.5, 0.3
	}
	h := demand.Household{People: people, Uses: list, Scale: 1, DaySpread: 0.3, Away: demand.Stay{Share: 0.03, Days: 7}}
	if err := h.Rescale(people * 0.13 / Day); err != nil {
		t.Fatal(err)
	}
	return home(t, h)
}

func home(t testing.TB, h demand.Household) *demand.Home {
	t.Helper()
	m, err := demand.Make(h, 7)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// steady draws so much all the time, as a leak does: the constant draw of the closed forms.
// A use that is never drawn makes it a home.
func steady(t testing.TB, flow float64, line demand.Line) *demand.Home {
	t.Helper()
	return home(t, demand.Household{Uses: []demand.Use{use(0, 1, 0.1, line)}, Scale: 1, Leak: flow, LeakLine: line})
}

// renewal is a main with exponential or fixed up and down times.
type renewal struct {
	up, down float64
	fixed    bool
	dark     []Spell
}

func (r renewal) Future(home uint32) Future {
	f := &lived{renewal: r, s: stream.Of(stream.Key{Seed: 99, Home: home, Process: stream.Mains})}
	f.at = f.wait(r.up)
	return f
}

type lived struct {
	renewal
	s  stream.Stream
	at float64
}

func (f *lived) wait(mean float64) float64 {
	if f.fixed {
		return mean
	}
	return mean * f.s.Exp()
}

func (f *lived) Off(dst []Spell, year int) []Spell {
	for end := float64(year+1) * Year; f.at < end; {
		to := f.at + f.wait(f.down)
		dst = append(dst, Spell{From: f.at, To: to})
		f.at = to + f.wait(f.up)
	}
	return dst
}
func (f *lived) Weak(dst []Spell, _ int) []Spell { return dst }
func (f *lived) Dark(dst []Spell, year int) []Spell {
	for _, s := range f.dark {
		if s.From >= float64(year)*Year && s.From < float64(year+1)*Year {
			dst = append(dst, s)
		}
	}
	return dst
}

// tanks are stores of so many litres with one refill in L/h.
func tanks(refill float64, litres ...float64) (list []Store) {
	for _, l := range litres {
		list = append(list, Store{Usable: l / 1000, Edges: []float64{1}, Fill: [][]float64{{0}, {refill / 3.6e6}}})
	}
	return list
}

func input(m *demand.Home, s Supply, stores []Store) *Input {
	in := &Input{Home: m, Supply: s, Mains: []Main{{}, {Serves: true, Head: 30}}, Weak: 1, Change: Automatic, Stores: stores, Years: 10}
	for h := range in.Week {
		in.Week[h] = 1
	}
	return in
}

func lives(t testing.TB, in *Input, futures int) *Answer {
	t.Helper()
	w, err := NewWorker(in)
	if err != nil {
		t.Fatal(err)
	}
	g := NewGather(in, Ask{Least: futures, Most: futures})
	for k := 0; !g.Done(); k++ {
		y, err := w.Chunk(context.Background(), uint32(k), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		g.Add(k, y)
	}
	return g.Answer()
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tol)
	}
}
