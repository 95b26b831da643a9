package seasons

import (
	"errors"
	"fmt"
	"math"

	"tideover/internal/demand"
)

// The calendar of a run, as demand and outage have it.
const (
	Hour = demand.Hour
	Day  = demand.Day
	Year = demand.Year
)

// Supply is how the main and the power may fail.
type Supply interface {
	// Future returns one course of it, the same for the same home however often asked.
	Future(home uint32) Future
}

// Future is one course of the coming years. Each method appends the spells that begin in a
// year (from 0, in order), sorted and apart; a spell may end in a later year.
type Future interface {
	Off(dst []Spell, year int) []Spell  // the main gives nothing
	Weak(dst []Spell, year int) []Spell // the main stands as Input.Weak says
	Dark(dst []Spell, year int) []Spell // no power
}

// Lingering is a Future whose main comes back weak after some spells.
type Lingering interface {
	Lingers(s Spell) float64 // how long it stays so [s]
}

// Noticing is a Future in which each interruption brings a boil-water notice of one length; it goes
// before Input.Notice.
type Noticing interface {
	Noticed() float64 // [s], 0 none
}

// Change is how the lines that may hang on either side are changed over.
type Change uint8

// The ways.
const (
	Never     Change = iota // no changeover: nothing hangs on it
	Automatic               // at once, whenever the main does not serve
	ByHand                  // in spells only, when somebody is there; back likewise. Hours of the week in which the main does not serve are lived with
)

// Main is one way the main may stand.
type Main struct {
	Serves bool    // it presses hard enough for the home; an automatic changeover stays on it
	Clings bool    // but not hard enough to bring back one that has gone over to the store
	Head   float64 // at the meter [m]: for the reader, nothing is worked out from it
}

// Store is one candidate. All candidates live through the same years.
type Store struct {
	Name    string
	Usable  float64 // between the float valve's shut level and where the outlet runs dry, reserve not counted [m³]
	Reserve float64 // kept back below that, for drawing by hand [m³]
	Dead    float64 // below the outlet [m³]

	// Edges are the upper ends of the bands of the refill table, as shares of Usable, rising,
	// the last 1. Fill is the flow in each band for each way the main may stand
	// (Fill[state][band], m³/s), never rising with the level. Bands makes both from a curve.
	Edges []float64
	Fill  [][]float64
	Opens float64 // delayed action: a float valve that has shut stays so until this share is left, then is full open until all is; 0: it follows the level. With it there is one band
	Weep  float64 // passes a float valve that is shut, to the overflow, while the main presses [m³/s]

	InTurn bool // two equal stores drawn one after the other, the lead changing at each refill
}

// Hand is who turns a hand changeover, and when. It waits until somebody is there, and then
// between Least and Most, any moment alike.
type Hand struct {
	There       [7 * 24 * 60]bool // minutes of the week, Monday 00:00 first, in which somebody is at home and awake
	Least, Most float64           // [s]
}

// Pump says what lifts the water.
type Pump struct {
	Needs    bool    // power; false for a raised store
	Battery  float64 // runs so long without the grid, used or not (the inverter idles) [s]
	Most     float64 // or up to so long: each future has its own, see Hours; 0: as Battery [s]
	Recharge float64 // seconds of that gained in a second of grid [–]
}

// Routine runs the home on the store now and then although the main serves, so that the
// water is turned over. It stops where the store is dry. Dump empties that share of
// the usable water to the drain first.
type Routine struct {
	Every float64 // from one to the next [s], 0 never
	At    float64 // of the day [s]
	Lasts float64 // [s]
	Dump  float64 // 0..1
}

// Reach is what gets water to the taps of a use. A tap that gets less than it can be used with
// is one that gets none.
type Reach struct {
	Store, Dark bool   // the store, with its pump running, and with it standing
	Main        []bool // the main, for each way it may stand; [0] is off
	Calls       []bool // opening such a tap lets the main fall so far, in each way, that an automatic changeover goes over
}

// Input is a home, a place and the stores to be tried.
type Input struct {
	Home   *demand.Home
	Reach  []Reach // by the number of a use's taps; nil: everything reaches every tap, and without the pump nothing does
	Supply Supply

	Mains []Main     // ways the main may stand; [0] is off: it serves and fills nothing
	Week  [168]uint8 // which, in each hour of the week, where no spell says otherwise
	Weak  uint8      // which, in a weak spell

	// Instead are ways of which one takes the place of Usual in all hours of a future, any alike:
	// how the main stands on the whole of those years is not known. Empty: Usual stands.
	Usual   uint8
	Instead []uint8

	WeakAfter float64 // the main comes back weak and stays so this long [s]

	// Notice is how long after an interruption the main, though it is back, neither serves nor
	// fills (a boil-water notice) [s]; OnMain are the keys of uses that run on it all the same.
	Notice float64
	OnMain []string

	Change  Change
	Hand    Hand
	Pump    Pump
	Routine Routine
	Ration  [demand.Stages - 1]float64 // share of Usable below which people go to stage 1, 2; 0 never
	Habits  Habits

	Stores []Store

	// Watched says that the interruptions are those of a log that says when somebody kept it.
	Watched bool

	Years int // counted in each future
	Warm  int // lived before those and not counted: the store need not start full
}

// Reasons for which an input is refused beside a figure out of range.
var (
	ErrNoStore = errors.New("seasons: no store to try: at least one is wanted")
	ErrNoMain  = errors.New("seasons: the main never stands so that it fills the store: no store can help")
)

const most = 200 // stores at once

// Check names the first thing that is not usable.
func (in *Input) Check() error {
	switch {
	case in.Home == nil:
		return demand.ErrNoUse
	case in.Supply == nil:
		return errors.New("seasons: no supply")
	case len(in.Stores) == 0:
		return ErrNoStore
	case len(in.Stores) > most:
		return fmt.Errorf("seasons: %d stores at once: at most %d are accepted", len(in.Stores), most)
	case in.Years < 1 || in.Years > 10000 || in.Warm < 0 || in.Warm > 1000:
		return fmt.Errorf("seasons: %d years after %d: 1 to 10000 after 0 to 1000 are accepted", in.Years, in.Warm)
	case len(in.Mains) < 2 || len(in.Mains) > 255 || in.Mains[0].Serves:
		return errors.New("seasons: ways of the main: off comes first and serves nothing, and one more is wanted")
	}
	for h, w := range in.Week {
		if int(w) >= len(in.Mains) {
			return fmt.Errorf("seasons: hour %d of the week: way %d of %d", h, w, len(in.Mains))
		}
	}
	if err := in.reaches(); err != nil {
		return err
	}
	if int(in.Weak) >= len(in.Mains) {
		return fmt.Errorf("seasons: weak spells: way %d of %d", in.Weak, len(in.Mains))
	}
	for _, way := range append([]uint8{in.Usual}, in.Instead...) {
		if int(way) >= len(in.Mains) {
			return fmt.Errorf("seasons: instead of the usual: way %d of %d", way, len(in.Mains))
		}
	}
	if err := in.habits(); err != nil {
		return err
	}
	fills := false
	for i := range in.Stores {
		s := &in.Stores[i]
		if err := s.check(len(in.Mains)); err != nil {
			return err
		}
		for _, w := range in.Week {
			fills = fills || s.Fill[w][0] > 0
		}
		fills = fills || s.Fill[in.Weak][0] > 0
	}
	if !fills {
		return ErrNoMain
	}
	return nil
}

func (in *Input) habits() error {
	if in.Change == Never && in.hangs(demand.Either) || in.Change > ByHand {
		return fmt.Errorf("seasons: uses hang on a changeover and there is none (%d)", in.Change)
	}
	for _, f := range []struct {
		name      string
		v         float64
		low, high float64
	}{
		{"hand, least wait", in.Hand.Least, 0, 7 * Day}, {"hand, most wait", in.Hand.Most, in.Hand.Least, 7 * Day},
		{"weak after", in.WeakAfter, 0, 7 * Day}, {"notice", in.Notice, 0, 60 * Day},
		{"battery", in.Pump.Battery, 0, Year}, {"battery, most", max(in.Pump.Most, in.Pump.Battery), in.Pump.Battery, Year}, {"recharge", in.Pump.Recharge, 0, 1000},
		{"routine, every", in.Routine.Every, 0, Year}, {"routine, lasts", in.Routine.Lasts, 0, 7 * Day},
		{"routine, time of day", in.Routine.At, 0, Day}, {"routine, dump", in.Routine.Dump, 0, 1},
		{"rationing, first level", in.Ration[0], 0, 1}, {"rationing, second level", in.Ration[1], 0, in.Ration[0]},
	} {
		if !(f.v >= f.low && f.v <= f.high) {
			return fmt.Errorf("seasons: %s: %g is not accepted, %g to %g is", f.name, f.v, f.low, f.high)
		}
	}
	if err := in.Habits.check(); err != nil {
		return err
	}
	if r := in.Routine; r.Every > 0 && (r.Every < Day || r.Lasts >= r.Every) {
		return fmt.Errorf("seasons: a routine every %g s that lasts %g s: a day or more between, and shorter than that, is accepted", r.Every, r.Lasts)
	}
	return nil
}

func (in *Input) hangs(l demand.Line) bool {
	for i := range in.Home.Uses {
		if in.Home.Uses[i].Line == l {
			return true
		}
	}
	return in.Home.Leak > 0 && in.Home.LeakLine == l
}

func (s *Store) check(mains int) error {
	who := "seasons: store " + s.Name
	switch {
	case !(s.Usable > 0 && s.Usable <= 1e4):
		return fmt.Errorf("%s: %g m³ usable: above 0 and to 10000 is accepted", who, s.Usable)
	case !(s.Reserve >= 0 && s.Dead >= 0 && s.Weep >= 0 && s.Weep < 0.1):
		return fmt.Errorf("%s: reserve %g, dead %g, weep %g: 0 or more is accepted", who, s.Reserve, s.Dead, s.Weep)
	case len(s.Edges) == 0 || s.Edges[len(s.Edges)-1] != 1 || len(s.Fill) != mains:
		return fmt.Errorf("%s: refill table: %d bands up to the whole, one row for each of %d ways of the main, are wanted", who, len(s.Edges), mains)
	}
	if s.Opens != 0 && (!(s.Opens > 0 && s.Opens < 1) || len(s.Edges) != 1) {
		return fmt.Errorf("%s: delayed float valve that opens at %g of the whole, %d bands: below the whole, and one band, is accepted", who, s.Opens, len(s.Edges))
	}
	for k, e := range s.Edges {
		if !(e > 0) || k > 0 && e <= s.Edges[k-1] {
			return fmt.Errorf("%s: refill table: edge %d does not rise", who, k)
		}
	}
	for m, row := range s.Fill {
		if len(row) != len(s.Edges) {
			return fmt.Errorf("%s: refill table: row %d has %d of %d bands", who, m, len(row), len(s.Edges))
		}
		for k, q := range row {
			if !(q >= 0 && q < 1) || m == 0 && q != 0 || k > 0 && q > row[k-1] || math.IsInf(q, 0) {
				return fmt.Errorf("%s: refill table: row %d, band %d: %g m³/s: 0 or more, off nothing, and never rising with the level is accepted", who, m, k, q)
			}
		}
	}
	return nil
}

// Bands makes the edges and one row of a refill table from a curve: levels from 0 to 1 as
// shares of the usable water, rising, and the flow at each [m³/s]. In each band the flow is
// held at the logarithmic mean (a − b)/ln(a/b) of its ends, for which the time to fill the
// band is exactly that of a flow falling in a straight line from a to b. Where the
// valve shuts altogether at the last level the band ends at a twentieth of its first flow:
// a float valve takes for ever over the last millimetres, and counts as shut at 95 %.
func Bands(levels, flows []float64) (edges, row []float64, err error) {
	if len(levels) < 2 || len(levels) != len(flows) || levels[0] != 0 || levels[len(levels)-1] != 1 {
		return nil, nil, fmt.Errorf("seasons: refill curve: %d levels and %d flows: as many of both, from level 0 to 1, are wanted", len(levels), len(flows))
	}
	for k := 1; k < len(levels); k++ {
		a, b := flows[k-1], flows[k]
		if !(levels[k] > levels[k-1]) || !(a >= b && b >= 0) || math.IsInf(a, 0) {
			return nil, nil, fmt.Errorf("seasons: refill curve: point %d: levels that rise and flows of 0 or more that do not are accepted", k)
		}
		edges, row = append(edges, levels[k]), append(row, logMean(a, math.Max(b, a/20)))
	}
	return edges, row, nil
}

func logMean(a, b float64) float64 {
	if a-b <= 1e-9*a {
		return (a + b) / 2
	}
	return (a - b) / math.Log(a/b)
}
