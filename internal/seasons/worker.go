package seasons

import (
	"context"
	"fmt"
	"math"

	"tideover/internal/demand"
)

// Worker lives through futures, one after the other. It owns its buffers: one goroutine
// uses it at a time, and each has its own. What it counts depends on the future's number
// alone, not on what it did before.
type Worker struct {
	in     *Input
	reader *demand.Reader
	tanks  []tank
	week   [168]uint8           // Input.Week in this future
	stays  [168]float64         // hours until the main stands otherwise by the week; +Inf never
	fills  []bool               // for each way of the main: anything comes into any store
	lines  [demand.Lines]uint64 // uses that hang on each line
	store  uint64               // uses that get water out of the store,
	still  uint64               // and out of it with the pump standing
	mains  []uint64             // uses that get water from the main, for each way it may stand
	spare  uint64               // uses that run on the main under a notice
	calls  []uint64             // uses that turn the changeover to the store, for each way

	home        uint32
	off, weak   queue
	notice      queue // the main is back and not to be drawn on
	called      queue // hand changeover: the valve stands on the store
	dead        queue // the pump has no power
	dark        []Spell
	charge, lit float64 // battery left, and since when the grid is there
	hours       float64 // that the battery of this future runs the pump
	inOff       bool
	gone        bool // the automatic changeover has gone over to the store
	offFrom     float64
	failing     failing
	day         int
	touched     bool // a tap went without today, or
	failed      bool // the main did
	dumped      float64
	tally       *Tally
	time        []float64                // spent in each way of the main
	totals      [demand.Stages][]float64 // by use
	summed      [demand.Stages]bool
	pieces      []demand.Piece
	laid        int     // stage whose pieces are laid out; −1 none
	timed       int     // stage of which is known
	open        float64 // how long any tap is open [s]
	like        like
	watch       []Watcher // of each store; nil while nobody looks
	one         []Watcher // of Chunk
	span        Span
}

// Watcher is shown every stretch of one store's life, in order and without gaps: age,
// residual and temperature of its water are worked out from them.
type Watcher interface{ See(s *Span) }

// Span is a stretch in which nothing changes; where an hour was lived by its total alone,
// Out is spread evenly over it. The pointer a Watcher gets is good for the call only.
type Span struct {
	From, To float64 // s from the start of the run
	Before   float64 // usable water at From [m³]; Store.Reserve and Dead lie below it
	After    float64 // at To
	In, Out  float64 // flows [m³/s]
	Spilled  float64 // by the overflow or the drain, out of what came in [m³/s]
	Main     uint8   // how the main stands
	Lead     uint8   // of two stores in turn, the one drawn first: 0 or 1
	Lost     bool    // what should hang on the store gets nothing: no power, or nobody has turned the valve
	Hangs    bool    // the home hangs on the store, and not for a routine
}

// NewWorker checks an input and returns a worker for it. The input must not change after.
func NewWorker(in *Input) (*Worker, error) {
	if err := in.Check(); err != nil {
		return nil, err
	}
	w := &Worker{in: in, reader: demand.NewReader(in.Home), tanks: make([]tank, len(in.Stores)), time: make([]float64, len(in.Mains))}
	for i := range w.tanks {
		w.tanks[i] = tankOf(&in.Stores[i])
	}
	for m := range in.Mains {
		w.fills = append(w.fills, false)
		for i := range w.tanks {
			w.fills[m] = w.fills[m] || w.tanks[i].fill[m][0] > 0
		}
	}
	w.reach()
	for h := range w.stays {
		w.stays[h] = math.Inf(1)
		for n := 1; n < 168; n++ {
			if in.Week[(h+n)%168] != in.Week[h] {
				w.stays[h] = float64(n)
				break
			}
		}
	}
	return w, nil
}

// Chunk lives through one future and returns what it counted. watch, if not nil, sees the
// life of one store in the years counted.
func (w *Worker) Chunk(ctx context.Context, home uint32, watch Watcher, store int) (*Tally, error) {
	if watch == nil {
		return w.Watched(ctx, home, nil)
	}
	if store < 0 || store >= len(w.tanks) {
		return nil, fmt.Errorf("seasons: store %d of %d is to be watched", store, len(w.tanks))
	}
	if w.one == nil {
		w.one = make([]Watcher, len(w.tanks))
	}
	clear(w.one)
	w.one[store] = watch
	return w.Watched(ctx, home, w.one)
}

// Watched is Chunk with a watcher for each store, nil for one that nobody looks at.
func (w *Worker) Watched(ctx context.Context, home uint32, watch []Watcher) (*Tally, error) {
	if watch != nil && len(watch) != len(w.tanks) {
		return nil, fmt.Errorf("seasons: %d watchers for %d stores", len(watch), len(w.tanks))
	}
	w.reset(home)
	future := w.in.Supply.Future(home)
	for y := range w.in.Warm + w.in.Years {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if y == w.in.Warm {
			w.begin(watch)
		}
		w.year(future, y)
		w.live(float64(y)*Year, float64(y+1)*Year)
	}
	return w.finish(), nil
}

func (w *Worker) reset(home uint32) {
	w.home = home
	w.reader.Open(home)
	for _, q := range []*queue{&w.off, &w.notice, &w.weak, &w.called, &w.dead} {
		q.list, q.i = q.list[:0], 0
	}
	w.hours, w.week = w.in.BatteryHours(home), w.in.WeekOf(home)
	w.charge, w.lit, w.dumped = w.hours, 0, -1
	w.inOff, w.gone, w.touched, w.failed, w.watch, w.day, w.failing = false, false, false, false, nil, 0, failing{over: math.Inf(-1)}
	for i := range w.tanks {
		w.tanks[i].fresh()
	}
	w.tally = newTally(len(w.tanks))
	clear(w.time)
}

// begin starts the counting.
func (w *Worker) begin(watch []Watcher) {
	w.watch = watch
	clear(w.time)
	for i := range w.tanks {
		t := &w.tanks[i]
		t.n, t.begun, t.dry, t.shortAt = Count{}, t.level, 0, 0
	}
	w.tally = newTally(len(w.tanks))
}

// finish puts the counts of the tanks into the tally.
func (w *Worker) finish() *Tally {
	w.closeDay(-1)
	y := w.tally
	y.Years = float64(w.in.Years)
	for i := range w.tanks {
		t := &w.tanks[i]
		t.n.Stored = t.level - t.begun
		for m, s := range w.time {
			t.n.Potential += s * t.fill[m][0]
		}
		y.Stores[i] = t.n
	}
	w.tally = nil
	return y
}
