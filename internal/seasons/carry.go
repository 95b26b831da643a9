package seasons

import (
	"context"
	"math"
	"sort"

	"tideover/internal/demand"
)

// Carry is how long a full store lasts from one hour of the day, if the main fails then
// and does not come back: the median, the times that one day in twenty falls short of
// and exceeds, and the time that nine days in ten last or outlast. Nobody rations. [s]
type Carry struct{ Short, Median, Long, Mostly float64 }

// Limits of the carry time: how many days are tried from each hour, and how long one is followed.
const (
	tries   = 64
	horizon = 90 * Day
)

// CarryTimes returns, for each store and each hour of the day, how long it lasts from full.
// Days are spread over the year and over homes from the one given on; all stores and hours live the
// same draws. A time that
// reaches the horizon of 90 days is given as that; where no tap gets water out of the store, it
// lasts no time.
func (w *Worker) CarryTimes(ctx context.Context, home uint32) ([][24]Carry, error) {
	lasts := make([][24][]float64, len(w.tanks))
	if w.dry() {
		return make([][24]Carry, len(w.tanks)), nil
	}
	leak := 0.0
	if w.in.Home.LeakLine != demand.OnMain {
		leak = w.in.Home.Leak
	}
	order := w.bySize()
	for k := range tries {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		w.reader.Open(home + uint32(k))
		day := (k*365/tries + k) % 365
		for h := range 24 {
			w.carry(float64(day)*Day+float64(h)*Hour, leak, order, func(i int, t float64) { lasts[i][h] = append(lasts[i][h], t) })
		}
	}
	out := make([][24]Carry, len(w.tanks))
	for i := range out {
		for h := range out[i] {
			list := lasts[i][h]
			sort.Float64s(list)
			out[i][h] = Carry{quantile(list, 0.05), quantile(list, 0.5), quantile(list, 0.95), quantile(list, 0.1)}
		}
	}
	return out, nil
}

func (w *Worker) bySize() []int {
	order := make([]int, len(w.tanks))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return w.tanks[order[a]].usable < w.tanks[order[b]].usable })
	return order
}

// carry follows the draws from one moment and tells when each store has given its last.
func (w *Worker) carry(from, leak float64, order []int, tell func(i int, lasts float64)) {
	drawn := 0.0
	mask := w.lines[demand.Either] | w.lines[demand.OnStore]
	uses := w.totals[0]
	for t := from; len(order) > 0; t += Hour {
		if t-from >= horizon {
			for _, i := range order {
				tell(i, horizon)
			}
			return
		}
		w.reader.Total(t, t+Hour, 0, uses)
		total := of(uses, mask) + leak*Hour
		if drawn+total < w.tanks[order[0]].usable {
			drawn += total
			continue
		}
		run := drawn
		for _, p := range w.reader.Pieces(t, t+Hour, 0, mask, 0) {
			q, dt := p.Flow+leak, p.To-p.From
			for len(order) > 0 && q > 0 && run+q*dt >= w.tanks[order[0]].usable {
				tell(order[0], p.From+(w.tanks[order[0]].usable-run)/q-from)
				order = order[1:]
			}
			run += q * dt
		}
		drawn = run
	}
}

func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	k := int(at)
	if k+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[k] + (at-float64(k))*(sorted[k+1]-sorted[k])
}

// Refill returns how long a store takes from empty to full, nothing drawn, when the main
// comes back at an hour of the week (0 Monday 00:00) and stands as the week has it from
// then on; +Inf where a whole week does not fill it and brings nothing.
func (in *Input) Refill(store, hour int) float64 {
	s := &in.Stores[store]
	b := tankOf(s)
	level, t := 0.0, 0.0
	for k := 0; level < b.usable; {
		main := in.Week[(hour+int(t/Hour))%168]
		left := (math.Floor(t/Hour)+1)*Hour - t
		for b.level = level; left > 0 && level < b.usable; b.level = level {
			q := b.fill[main][b.band()]
			if q == 0 {
				t += left
				break
			}
			step := math.Min(left, (b.edges[b.band()]-level)/q)
			if step < left {
				level = b.edges[b.band()]
			} else {
				level = math.Min(level+q*step, b.usable)
			}
			t, left = t+step, left-step
		}
		if k++; k > 168 && level == 0 || k > 168*520 {
			return math.Inf(1)
		}
	}
	return t
}
