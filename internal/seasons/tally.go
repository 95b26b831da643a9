package seasons

// Count is what was counted of one store in one future. Volumes in m³, times in s.
type Count struct {
	Outages, Ridden  float64 // interruptions that ended; those in which no draw that may hang on the store went short
	PersonDays, Fine float64 // people times days on which the main did not serve for a while or a draw went short; those without one short
	Short            float64 // asked of the store's side and not given: dry, no power, nobody had turned the valve
	Barred           float64 // of that, asked while the store could not give whatever it held: no power, or nobody had turned the valve
	Empty            float64 // no usable water left while the home hung on the store
	Unserved         float64 // at least one tap of the store's side was open and gave less than was asked
	Worst            float64 // longest unbroken time of Empty
	In, Out, Spilled float64 // into the store, to the home (leak too), over the overflow or to the drain
	Stored           float64 // level at the end less level at the start
	Potential        float64 // could have come in had the store always been low
}

// Tally is what one future counted.
type Tally struct {
	Stores []Count // as Input.Stores
	Years  float64
	Asked  float64 // of the store's side while the home hung on it, or should have; nobody rationing [m³]
	Main   float64 // asked of taps that only the main feeds, while it did not serve [m³]
	Called float64 // time in which the main did not serve and there was something to live through [s]
}

func newTally(stores int) *Tally { return &Tally{Stores: make([]Count, stores)} }

// Measure is one figure the run answers with.
type Measure uint8

// The measures, each with its definition.
const (
	RideThrough  Measure = iota // share of the interruptions ridden out: Ridden / Outages. The main off for a while is one, however long; weak hours are none
	PersonDays                  // share of the person-days on which the main failed and nobody went short: Fine / PersonDays
	ShortYear                   // litres short in a year [m³/a]
	ShortShare                  // litres short of those asked of the store's side
	EmptyYear                   // time in a year in which the store is empty and the home hangs on it [s/a]
	UnservedYear                // time in a year in which an open tap goes unserved [s/a]; far less than EmptyYear, as taps are mostly shut
	WorstSpell                  // longest time in one go that the store is empty and the home hangs on it, in as many years as a future has (ten: "worst in ten years") [s]
	ThroughYear                 // water out of the store in a year [m³/a]
	SpilledYear                 // water spilled in a year [m³/a]
	Measures
)

// pair gives a measure as one count over another, of one future.
func (m Measure) pair(c *Count, t *Tally) (num, den float64) {
	switch m {
	case RideThrough:
		return c.Ridden, c.Outages
	case PersonDays:
		return c.Fine, c.PersonDays
	case ShortYear:
		return c.Short, t.Years
	case ShortShare:
		return c.Short, t.Asked
	case EmptyYear:
		return c.Empty, t.Years
	case UnservedYear:
		return c.Unserved, t.Years
	case WorstSpell:
		return c.Worst, 1
	case ThroughYear:
		return c.Out, t.Years
	case SpilledYear:
		return c.Spilled, t.Years
	}
	panic("seasons: measure: not known")
}

// share says whether a measure lies between 0 and 1 by its nature.
func (m Measure) share() bool { return m == RideThrough || m == PersonDays || m == ShortShare }
