package job

import (
	"math"
	"slices"
	"strings"

	"tideover/internal/assume"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Band is how far a value may really lie below and above what is written: the greater of a
// share of its size and a least, on each side.
type Band struct {
	Down, Up  float64 // share of the value's size
	Low, High float64 // and at least so much [SI]
}

// Reach returns how far the band goes below and above v [SI].
func (b Band) Reach(v float64) (down, up float64) {
	v = math.Abs(v)
	return math.Max(b.Down*v, b.Low), math.Max(b.Up*v, b.High)
}

// Doubt is the spread that is taken for values of one kind where the job file writes none:
// all it says of "3.2 bar" and of "3.2 bar ?". It is judgement, and shown as assumed.
type Doubt struct {
	Key      string // its reason is the message "doubt.<Key>"
	Paths    []string
	Told     Band
	Guessed  Band     // never narrower than Told
	Left     Band     // of a value left out that is taken on the cautious side
	Together bool     // values of the kind err alike: who paces one distance paces all
	Along    []string // what was read on the same gauge or stands on the same ground moves by as much
	Ground   bool     // that moves along also where the spread is written: it stands on the same ground
}

// Text is the band of a quantity of a dimension in words: "±15 %, at least 0.3 m".
func (b Band) Text(dim quantity.Dim, sys quantity.System) string {
	side := func(share, least float64) string {
		q := quantity.Format(quantity.Quantity{Dim: quantity.RatioDim, SI: share}, sys)
		l := quantity.Format(quantity.Quantity{Dim: dim, SI: least, Change: true}, sys)
		switch {
		case share == 0 && least == 0:
			return "0"
		case share == 0:
			return l
		case least == 0:
			return q
		}
		return words.Say("doubt.least", words.Args{"share": q, "least": l})
	}
	down, up := side(b.Down, b.Low), side(b.Up, b.High)
	switch {
	case b == (Band{}):
		return words.Say("doubt.none", nil)
	case down == up:
		return words.Say("doubt.both", words.Args{"by": down})
	}
	return words.Say("doubt.sides", words.Args{"down": down, "up": up})
}

// Reason says why the spread is what it is.
func (d *Doubt) Reason() string { return words.Say("doubt."+d.Key, nil) }

func share(s, least float64) Band { return Band{s, s, least, least} }

// doubts is the table. A path that is in no row has no spread but the one it is written
// with: numbers of things and catalogue rows are not guesses, and what no analysis feels that
// is run again (money, bleach, voltage, what the years alone ask) need not move.
var doubts = []Doubt{
	{Key: "altitude", Paths: []string{"place.altitude"}, Told: Band{Low: 50, High: 50}, Guessed: Band{Low: 200, High: 200}},
	{Key: "water", Paths: []string{"place.water"}, Told: Band{Low: 3, High: 3}, Guessed: Band{Low: 8, High: 8}},
	{Key: "static", Paths: []string{"supply.static"},
		Told: Band{0.2, 0.05, 0.1 * bar, 0.1 * bar}, Guessed: share(0.3, 0.5*bar),
		Along: []string{"supply.flow-test.low-pressure", "supply.flow-test.high-pressure"}},
	{Key: "gauge", Paths: []string{"supply.flow-test.low-pressure", "supply.flow-test.high-pressure", "supply.peak.open-pressure"}, Told: share(0, 0.1*bar), Guessed: share(0.1, 0.3*bar)},
	{Key: "bucket", Paths: []string{"supply.flow-test.low-flow", "supply.flow-test.high-flow", "supply.peak.flow", "supply.peak.open-flow"}, Told: share(0.1, 0), Guessed: share(0.3, 0)},
	{Key: "peak", Paths: []string{"supply.peak.pressure"}, Told: Band{0.25, 0.1, 0.1 * bar, 0.1 * bar}, Guessed: share(0.4, 0.4*bar),
		Along: []string{"supply.peak.open-pressure"}},
	{Key: "night", Paths: []string{"supply.night-maximum"}, Told: Band{0.05, 0.1, 0.1 * bar, 0.2 * bar}, Guessed: share(0.3, 0.5*bar), Left: Band{Down: 0.3}},
	{Key: "gauge-height", Paths: []string{"supply.gauge-height"}, Told: share(0, 0.1), Guessed: share(0, 0.5)},
	{Key: "service-length", Paths: []string{"supply.service.length"}, Told: share(0.15, 0), Guessed: share(0.5, 0)},
	{Key: "weak-after", Paths: []string{"interruptions.weak-after"}, Told: share(0.5, 0), Guessed: share(0.8, 0)},
	{Key: "use", Paths: []string{"home.use"}, Told: share(0.2, 0), Guessed: share(0.35, 0)},
	{Key: "ground", Paths: []string{"home.level"}, Told: share(0.05, 0.3), Guessed: share(0.3, 2), Ground: true,
		Along: []string{"choices.store.level", "choices.pump.level", "choices.header.level"}},
	{Key: "set", Paths: []string{"choices.store.level", "choices.pump.level", "choices.header.level"}, Together: true, Told: share(0, 0.1), Guessed: share(0, 0.5)},
	{Key: "height", Paths: []string{"outlets.*.height", "parts.*.height"}, Together: true, Told: share(0, 0.1), Guessed: share(0.1, 0.5)},
	{Key: "distance", Paths: []string{"outlets.*.distance", "parts.*.length"}, Together: true, Told: share(0.15, 0.3), Guessed: share(0.4, 1)},
	{Key: "pipework", Together: true, Told: share(0.15, 0.3), Guessed: share(0.4, 1),
		Paths: []string{"pipework.tee-to-store", "pipework.store-to-pump", "pipework.pump-to-home", "pipework.store-to-home", "pipework.changeover-to-header"}},
	{Key: "bends", Paths: []string{"pipework.bends-per-run"}, Told: share(0.25, 0), Guessed: share(0.5, 0)},
	{Key: "pump-set", Paths: []string{"choices.pump.cut-in", "choices.pump.cut-out", "choices.lock-out.low", "choices.lock-out.high"}, Together: true, Told: share(0, 0.1*bar), Guessed: share(0, 0.2*bar)},
	{Key: "regulator", Paths: []string{"choices.regulator.set", "added.*.set"}, Told: share(0, 0.2*bar), Guessed: share(0.1, 0.3*bar)},
	{Key: "charge", Paths: []string{"choices.vessel.charge"}, Told: Band{0.1, 0, 0, 0.05 * bar}, Guessed: share(0.2, 0.1*bar)},
	{Key: "people", Paths: []string{"home.people"}, Guessed: share(0.2, 0)},
	{Key: "rating", Paths: []string{"home.heater.rating"}, Guessed: share(0.2, 0)},
	{Key: "plate", Paths: []string{"choices.pump.measured.greatest-head", "choices.pump.measured.greatest-flow", "choices.pump.measured.flow", "choices.pump.measured.pressure"},
		Told: share(0.05, 0), Guessed: share(0.15, 0)},
	{Key: "overflow", Paths: []string{"choices.store.overflow", "choices.header.overflow"}, Told: share(0, 0.001), Guessed: share(0.1, 0.003)},
	{Key: "mouth", Paths: []string{"choices.store.mouth-height"}, Told: share(0, 0.002), Guessed: share(0.1, 0.01)},
	{Key: "floor", Paths: []string{"access.floor-load"}, Guessed: share(0.3, 0)},
	{Key: "slope", Paths: []string{"place.slope"}, Told: share(0.25, 0.01), Guessed: share(0.5, 0.02)},
	{Key: "routine", Paths: []string{"choices.store.exercise", "choices.store.exercise-for"}, Guessed: share(0.2, 0)},
	{Key: HabitPath, Paths: []string{HabitPath}, Told: Band{Down: 0.1, Up: 0.1}, Guessed: Band{Down: 0.1, Up: 0.1}},
}

// HabitPath is where the lengths of interruptions are told in words. They move together, as
// a share of themselves.
const HabitPath = "interruptions.habit"

// Doubts returns the table.
func Doubts() []Doubt { return slices.Clone(doubts) }

// DoubtOf returns the row of a starred path; ok is false where it has none.
func DoubtOf(path string) (d Doubt, ok bool) {
	for _, d := range doubts {
		if slices.Contains(d.Paths, path) {
			return d, true
		}
	}
	return Doubt{}, false
}

// Leaf is one thing a job does not know exactly, and what moves with it.
type Leaf struct {
	Path  string // of the first that moves; with "*" where items of a list move together
	Taken bool   // the spread is taken from the table of doubts: the job writes none
	Moves []Move
}

// Move is one quantity of a leaf and how far it goes below and above its value [SI, ≥ 0].
type Move struct {
	Path     string
	Down, Up float64
}

// At returns how far each quantity of the leaf is moved when the leaf stands at x, from −1,
// as far down as it goes, to 1, as far up.
func (l *Leaf) At(x float64) []Shift {
	list := make([]Shift, len(l.Moves))
	for i, m := range l.Moves {
		by := m.Up
		if x < 0 {
			by = m.Down
		}
		list[i] = Shift{m.Path, x * by}
	}
	return list
}

// Across returns where a leaf stands for a share u of its whole range, 0 to 1, so that its
// first quantity is spread evenly over the range.
func (l *Leaf) Across(u float64) float64 {
	m := l.Moves[0]
	by := u*(m.Down+m.Up) - m.Down
	switch {
	case by < 0:
		return by / m.Down
	case by > 0:
		return by / m.Up
	}
	return 0
}

// Inexact lists what a job does not know exactly, in the order of the field table and of
// the items within a field: what has a spread of its own, then by the table of doubts what
// has none. A quantity that is assumed from another field is left out, it moves with that
// field; so is one whose spread is nought.
func (j *Job) Inexact() []Leaf {
	var own []Leaf
	grouped := make([][]Move, len(doubts))
	single := map[int][]Leaf{}
	for _, f := range theIndex().fields {
		l := plan()[f.Path]
		if l.dim == quantity.NoDim {
			continue
		}
		for _, path := range j.paths(f.Path) {
			place := l.at(j, j.item(path))
			q, from := l.quantityAt(place), place.Field(valFrom).String()
			if f.Same != "" && from == f.Same {
				continue
			}
			more := 0.0
			if path == "home.use" {
				more = j.Suppressed()
			}
			if q.Half > 0 {
				if m := f.within(path, q.SI, q.Half, q.Half+more); m.Down > 0 || m.Up > 0 {
					moves := []Move{m}
					if d, ok := DoubtOf(f.Path); ok && d.Ground {
						moves = append(moves, j.along(&d, m.Down, m.Up)...)
					}
					own = append(own, Leaf{Path: path, Moves: moves})
				}
				continue
			}
			k := slices.IndexFunc(doubts, func(d Doubt) bool { return slices.Contains(d.Paths, f.Path) })
			if k < 0 {
				continue
			}
			down, up := doubts[k].band(q.Basis, from).Reach(q.SI)
			m := f.within(path, q.SI, down, up+more)
			switch {
			case m.Down == 0 && m.Up == 0:
			case doubts[k].Together:
				grouped[k] = append(grouped[k], m)
			default:
				single[k] = append(single[k], Leaf{Path: path, Taken: true, Moves: append([]Move{m}, j.along(&doubts[k], down, up)...)})
			}
		}
	}
	for k := range doubts {
		own = append(own, single[k]...)
		if len(grouped[k]) > 0 {
			own = append(own, Leaf{Path: starred(grouped[k][0].Path), Taken: true, Moves: grouped[k]})
		}
	}
	if len(j.Interruptions.Habit) > 0 {
		d, _ := DoubtOf(HabitPath)
		own = append(own, Leaf{Path: HabitPath, Taken: true, Moves: []Move{{HabitPath, d.Told.Down, d.Told.Up}}})
	}
	return own
}

// Suppressed is by how much a person may use more in a day than was read, because water was short
// then; 0 where it was not, or nothing was read [m³].
func (j *Job) Suppressed() float64 {
	use := &j.Home.Use
	if j.Home.Short != Yes && j.Home.Short != Unknown || use.Basis == quantity.Assumed && use.From != FromFile {
		return 0
	}
	return assume.Suppressed.In(j.Assumed) * float64(use.V)
}

// band is the one for a value of a basis. A value left out that is taken on the cautious side
// does not lie further out, and one taken as nothing, or from a rule, has the spread it says.
func (d *Doubt) band(basis quantity.Basis, from string) Band {
	switch {
	case basis == quantity.Stated:
		return d.Told
	case basis == quantity.Assumed && (from == FromFile || from == FromUsual || from == FromPractice):
		return d.Guessed
	case basis == quantity.Assumed && from != FromNothing:
		return d.Left
	}
	return Band{}
}

// within cuts a reach where the limits of the field end: beyond them a value has no sense.
func (f Field) within(path string, v, down, up float64) Move {
	return Move{path, math.Max(0, math.Min(down, v-f.Low)), math.Max(0, math.Min(up, f.High-v))}
}

// along lists what moves with a leaf of a doubt, where the file gives it.
func (j *Job) along(d *Doubt, down, up float64) []Move {
	var list []Move
	for _, path := range d.Along {
		place := plan()[path].at(j, -1)
		q, from := plan()[path].quantityAt(place), place.Field(valFrom).String()
		given := q.Basis == quantity.Stated || q.Basis == quantity.Measured || from == FromFile
		if given {
			list = append(list, Move{path, down, up})
		}
	}
	return list
}

// Shifted returns a copy in which quantities are moved by so much [SI]; those that several
// shifts name are moved by their sum. What would leave the limits of its field stays on them.
func (j *Job) Shifted(shifts ...Shift) (*Job, error) {
	sums, order := map[string]float64{}, []string(nil)
	for _, s := range shifts {
		if _, twice := sums[s.Path]; !twice {
			order = append(order, s.Path)
		}
		sums[s.Path] += s.V
	}
	c := j.Clone()
	for _, path := range order {
		if path == HabitPath {
			for i := range c.Interruptions.Habit {
				s := &c.Interruptions.Habit[i]
				s.Least *= quantity.Time(1 + sums[path])
				s.Most *= quantity.Time(1 + sums[path])
			}
			continue
		}
		l, item, err := j.leafAt(path)
		if err != nil {
			return nil, err
		}
		f, _ := FieldFor(path)
		was := l.at(j, item).Field(valV).Float()
		c.move(l, item, math.Min(math.Max(was+sums[path], math.Min(f.Low, was)), math.Max(f.High, was)))
	}
	return c, nil
}

// Unmoved lists the fields that are not known and not moved either: words and trade sizes
// nobody found out, taken as the table says, and a timetable taken to the minute. What an
// arrangement has no use for is left out.
func (j *Job) Unmoved() []string {
	var list []string
	for _, f := range theIndex().fields {
		l := plan()[f.Path]
		if l.dim != quantity.NoDim || f.Idle(j.Choices.Arrangement) || strings.Contains(f.Path, "*") {
			continue
		}
		if f.Shape == Choice || f.Shape == Row {
			if l.at(j, -1).String() == "unknown" && f.Unknown != "" {
				list = append(list, f.Path)
			}
		}
	}
	if len(j.Interruptions.Timetable) > 0 {
		list = append(list, "interruptions.timetable")
	}
	return list
}
