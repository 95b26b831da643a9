package seasons

import (
	"fmt"

	"tideover/internal/stream"
)

// Habits are what people do when the water fails beside what they do on any day. The zero is nothing.
type Habits struct {
	// Buckets is what is filled and put by, once in each interruption, as soon as the store gives
	// water, and poured away after it [m³].
	Buckets float64

	// Caught is the share of what went missing in an interruption that is asked for again (washing
	// put off), evenly over CaughtIn [s] after it. What the main serves by then, it gives.
	Caught, CaughtIn float64

	// Left is the flow of a tap somebody opened while it gave nothing and forgot [m³/s]: it runs for
	// LeftFor [s] once the store gives water, in the share Forgets of the interruptions in which taps
	// stood dry before it did.
	Left, LeftFor, Forgets float64
}

func (h *Habits) check() error {
	for _, f := range []struct {
		name    string
		v, most float64
	}{
		{"buckets", h.Buckets, 100}, {"share caught up", h.Caught, 1}, {"time to catch up", h.CaughtIn, 7 * Day},
		{"flow of a tap left open", h.Left, 0.1}, {"time it runs", h.LeftFor, 7 * Day}, {"share in which one is", h.Forgets, 1},
	} {
		if !(f.v >= 0 && f.v <= f.most) {
			return fmt.Errorf("seasons: habits: %s: %g is not accepted, 0 to %g is", f.name, f.v, f.most)
		}
	}
	if h.Caught > 0 && h.CaughtIn == 0 {
		return fmt.Errorf("seasons: habits: %g of what is missing caught up in no time: above 0 s is accepted", h.Caught)
	}
	return nil
}

// failing is one interruption as people go through it.
type failing struct {
	bare  bool    // taps have given nothing in it
	met   bool    // the store has given water in it
	open  float64 // until when a tap left open runs [s]
	over  float64 // when it ended [s]
	count uint32  // of all lived so far
}

// behave takes out of every store what habits take in a stretch, on top of its draws.
func (w *Worker) behave(n *now) {
	h, f := &w.in.Habits, &w.failing
	switch {
	case n.draws == 0:
		f.bare = f.bare || w.inOff && n.lost != 0
		return
	case w.inOff && !f.met:
		f.met = true
		w.take(h.Buckets)
		if f.bare && w.forgets() {
			f.open = n.from + h.LeftFor
		}
	}
	if n.from < f.open {
		w.take(h.Left * (min(n.to, f.open) - n.from))
	}
	if until := f.over + h.CaughtIn; !w.inOff && n.from < until {
		for i := range w.tanks {
			b := &w.tanks[i]
			b.owed -= b.gives(b.owed * (min(n.to, until) - n.from) / (until - n.from))
		}
	}
}

// forgets draws whether a tap is left open in this interruption: the same for all inputs with this seed.
func (w *Worker) forgets() bool {
	s := stream.Of(stream.Key{Seed: w.in.Home.Seed, Home: w.home, Process: stream.Forgotten, Item: w.failing.count})
	return s.Uniform() < w.in.Habits.Forgets
}

// take takes as much out of every store, or what is left.
func (w *Worker) take(volume float64) {
	for i := range w.tanks {
		w.tanks[i].gives(volume)
	}
}

func (b *tank) gives(volume float64) (gone float64) {
	gone = min(volume, b.level)
	b.level -= gone
	b.snap()
	b.n.Out += gone
	return gone
}

// begins and ends note an interruption for what people do in it and after it.
func (w *Worker) begins() {
	w.failing = failing{open: w.failing.open, count: w.failing.count + 1}
	for i := range w.tanks {
		b := &w.tanks[i]
		b.owed, b.shortAt = 0, b.n.Short
	}
}

func (w *Worker) ends(t float64) {
	w.failing.over = t
	for i := range w.tanks {
		b := &w.tanks[i]
		b.owed = w.in.Habits.Caught * (b.n.Short - b.shortAt)
	}
}
