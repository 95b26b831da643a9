package years

import (
	"context"
	"math"
	"slices"
	"testing"

	"tideover/internal/seasons"
)

// parcels is a second way to the age of water, in plain code that shares nothing with the one the
// tool goes: every bucket that comes in keeps the moment it came, the store is a list of such
// buckets, and what is drawn takes the same share of each. Only what flows when is the tool's.
type parcels struct {
	from  float64 // what is drawn from then on counts [s]
	dead  float64 // water that always stays [m³]
	born  []float64
	holds []float64 // of each [m³]
	ages  []float64 // of what was drawn: age [s]
	drawn []float64 // and how much [m³]
}

// See takes a stretch in steps of ten minutes at the most.
func (p *parcels) See(s *seasons.Span) {
	if p.born == nil { // it begins with new water
		p.born, p.holds = []float64{s.From}, []float64{s.Before + p.dead}
	}
	steps := math.Ceil((s.To - s.From) / 600)
	for k := range int(steps) {
		dt := (s.To - s.From) / steps
		p.step(s.From+(float64(k)+0.5)*dt, (s.Out+s.Spilled)*dt, (s.After-s.Before)/steps)
	}
}

// step draws and fills at one moment; rise is what the store has more after it.
func (p *parcels) step(now, out, rise float64) {
	held := 0.0
	for _, v := range p.holds {
		held += v
	}
	if out > 0 {
		share, age := math.Min(1, out/held), 0.0
		for i := range p.holds {
			age += (now - p.born[i]) * p.holds[i] / held
			p.holds[i] *= 1 - share
		}
		if now >= p.from { // a litre is a mixture: its age is the mean of what is in it
			p.ages, p.drawn = append(p.ages, age), append(p.drawn, out)
		}
	}
	if in := rise + out; in > 0 {
		if last := len(p.born) - 1; now-p.born[last] < 1800 { // one bucket for half an hour
			p.born[last] += (now - p.born[last]) * in / (p.holds[last] + in)
			p.holds[last] += in
		} else {
			p.born, p.holds = append(p.born, now), append(p.holds, in)
		}
	}
	kept := 0
	for i, v := range p.holds { // what is left of a bucket in a glass is forgotten
		if v > 1e-6 || i == len(p.holds)-1 {
			p.born[kept], p.holds[kept] = p.born[i], v
			kept++
		}
	}
	p.born, p.holds = p.born[:kept], p.holds[:kept]
}

// mean and the age that a share of the litres is not above.
func (p *parcels) told(share float64) (mean, quantile float64) {
	order := make([]int, len(p.ages))
	sum := 0.0
	for i := range order {
		order[i] = i
		sum += p.drawn[i]
		mean += p.ages[i] * p.drawn[i]
	}
	slices.SortFunc(order, func(a, b int) int { return int(math.Copysign(1, p.ages[a]-p.ages[b])) })
	below := 0.0
	for _, i := range order {
		if below += p.drawn[i]; below >= share*sum {
			return mean / sum, p.ages[i]
		}
	}
	return mean / sum, math.NaN()
}

// two shows a store's life to both.
type two struct{ one, other seasons.Watcher }

func (t two) See(s *seasons.Span) { t.one.See(s); t.other.See(s) }

// TestAgeBySecondProgram: at two examples the mean age of the water drawn in a year and the age that
// one litre in twenty exceeds are those of the buckets: steps of ten minutes and buckets of half an
// hour leave a hundredth open, the classes in which ages are counted a twentieth.
func TestAgeBySecondProgram(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "osprey-house"} {
		h := made(t, name)
		in := *h.Input
		in.Stores, in.Warm, in.Years = in.Stores[h.Own:h.Own+1], 0, 2
		if in.Stores[0].InTurn {
			t.Fatalf("%s has stores in turn", name)
		}
		w, err := seasons.NewWorker(&in)
		if err != nil {
			t.Fatal(err)
		}
		for future := range uint32(2) {
			f := h.follower(&in.Stores[0])
			f.from, f.years = seasons.Year, 1
			p := &parcels{from: seasons.Year, dead: f.dead}
			if _, err := w.Watched(context.Background(), future, []seasons.Watcher{two{f, p}}); err != nil {
				t.Fatal(err)
			}
			mean, most := p.told(0.95)
			got, gotMost := f.ages.Mean(), f.ages.Quantile(0.95)
			t.Logf("%s, future %d: mean %.3f d, one in twenty over %.3f d; buckets %.3f, %.3f", name, future, got/seasons.Day, gotMost/seasons.Day, mean/seasons.Day, most/seasons.Day)
			if math.Abs(got-mean) > 0.01*mean || math.Abs(gotMost-most) > 0.05*most {
				t.Errorf("%s, future %d: mean %v s, one in twenty over %v s; buckets say %v, %v", name, future, got, gotMost, mean, most)
			}
		}
	}
}
