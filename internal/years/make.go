package years

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/demand"
	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/site"
	"tideover/internal/words"
)

// Home is a job ready to be lived: the run's input, and what the answers need beside it.
type Home struct {
	Input *seasons.Input
	Own   int // index of the job's own store among Input.Stores
	Notes []outage.Note
	Model *outage.Model // how water and power fail
	Site  Site

	Row    *site.Row // interruptions that find the own store less than full and are the hardest; nil: the longest is
	Begins float64   // share of it that they find

	Aloft   float64      // how long a header tank feeds the taps at the mean use, the pump standing [s]; 0 none
	Battery site.Battery // how long one runs the pump, or would
	Longest float64      // interruption told of in words [s]; 0 none

	// Dry are the taps that the store's water does not get to, or too little of it; Blank is the
	// field for want of which nobody knows what a tap gets, or "".
	Dry   []string
	Blank string

	whole []float64 // water in each store when full, with what lies below the outlet [m³]
}

// What the run assumes where a job says nothing. Judgement, each.
const (
	yearsEach    = 10.0 // of a future: worst in ten years
	warmUp       = 1
	wakes, rests = 6, 23            // hours between which somebody is awake
	morning      = 9 * seasons.Hour // a routine begins
	mostSizes    = 10
	farOff       = 5.0 // times as small or as large as the own store: nobody would think of it
)

// ErrNoStore is the refusal of a home in which nothing is stored.
var ErrNoStore error = noStore{}

type noStore struct{}

// ErrNoMain is the refusal of a home whose main never presses so that it fills the store.
var ErrNoMain error = noMain{}

type noMain struct{}

func (noMain) Error() string { return words.Say("years.no-main", nil) }

func (noStore) Error() string { return words.Say("years.no-store", nil) }

// Make puts a job into the run. The error is a fault of the log, of the supply as told, or a
// home that draws nothing.
func Make(j *job.Job, a *assembly.Assembly, ci *circuit.Circuit, cat *catalogue.Catalogue, p *catalogue.Profile, logs outage.Logs, gets Gets) (*Home, error) {
	if len(a.Of(assembly.Store)) == 0 {
		return nil, ErrNoStore
	}
	model, err := outage.Read(j, logs, "")
	if err != nil {
		return nil, err
	}
	facts := site.Of(j, a, p)
	h := &Home{Notes: model.Notes, Model: model, Aloft: aloft(facts, a), Battery: site.BatteryOf(j, a), Longest: float64(facts.Interruptions.Longest())}
	in := &seasons.Input{Supply: seasons.Outages{Model: model, Seed: uint64(j.Seed)}, Watched: model.Watched, Years: yearsEach, Warm: warmUp,
		Change: change(a), Hand: hand(j, &facts.Household), Pump: pump(j, a, h.Aloft)}
	ways := h.mains(j, a, &facts.Main, in)
	h.lower(j, a, ways.at[site.Usually], in)
	if facts.Interruptions.Weak || model.After[1] > 0 {
		ways.weak = h.weak(j, a, &facts.Main, in, ways)
	}
	taps, err := h.taps(a, in, gets)
	if err != nil {
		return nil, err
	}
	household, err := demand.Read(j, cat, taps.sides(a))
	if err != nil {
		return nil, err
	}
	household.Leave(facts.Household.There())
	h.thirsty(model, j, &household)
	if more := j.Suppressed(); more > 0 {
		h.Notes = append(h.Notes, outage.Note{ID: "years.use-rationed", Args: map[string]float64{"share": more / float64(j.Home.Use.V)}})
	}
	if in.Home, err = demand.Make(household, uint64(j.Seed)); err != nil {
		return nil, err
	}
	in.WeakAfter = float64(j.Interruptions.WeakAfter.V)
	if facts.Interruptions.WCs {
		in.OnMain = []string{"wc"}
	}
	onMain := float64(facts.Interruptions.Notice) * spared(&facts.Interruptions, a)
	h.Longest -= onMain
	in.Ration = [demand.Stages - 1]float64{float64(j.Home.SavesAt.V), float64(j.Home.HardAt.V)}
	if r, ok := circuit.RoutineOf(j, a); ok {
		in.Routine = seasons.Routine{Every: float64(r.Every), At: morning, Lasts: float64(r.Lasts)}
	}
	h.Input = in
	if err := h.stores(j, a, ci, cat, p); err != nil {
		return nil, err
	}
	h.row(facts, a, ways, onMain)
	row, ok := rowOf(a)
	if !ok {
		row = cat.Stores[j.Choices.Store]
	}
	h.Site = siteOf(j, row, max(1, int(math.Round(float64(j.Choices.Stores.V)))), h.whole[h.Own])
	if err := in.Check(); errors.Is(err, seasons.ErrNoMain) {
		return nil, ErrNoMain
	} else if err != nil {
		return nil, err
	}
	return h, nil
}

func change(a *assembly.Assembly) seasons.Change {
	switch {
	case !circuit.CanTurn(a):
		return seasons.Never
	case a.LockOut() != nil:
		return seasons.Automatic
	}
	return seasons.ByHand
}

// spared is the share of what the store serves that runs on the main under a notice.
func spared(off *site.Interruptions, a *assembly.Assembly) float64 {
	if !off.WCs {
		return 0
	}
	return site.StoredAt(a, "wc")
}

// thirsty lays the season of outdoor use, where there is any.
func (h *Home) thirsty(m *outage.Model, j *job.Job, household *demand.Household) {
	if !slices.ContainsFunc(household.Uses, func(u demand.Use) bool { return u.Swing > 0 }) {
		return
	}
	day, known, note := thirst(m, j)
	household.Thirst(day, known)
	if note != "" {
		h.Notes = append(h.Notes, outage.Note{ID: note})
	}
}

// hand is who turns a valve: at home and awake, on working days not while away.
func hand(j *job.Job, home *site.Household) seasons.Hand {
	quick, slow := site.Hand(j)
	h := seasons.Hand{Least: float64(quick), Most: float64(slow)}
	gone := home.Gone()
	for minute := range h.There {
		hour := minute / 60 % 24
		h.There[minute] = hour >= wakes && hour < rests && !gone[minute]
	}
	return h
}

// pump is what the pump needs. A header tank that feeds the taps counts as a battery that
// lasts as long as its water does at the mean use, and is full again soon after.
func pump(j *job.Job, a *assembly.Assembly, aloft float64) seasons.Pump {
	p := seasons.Pump{Needs: len(a.Of(assembly.Pump)) > 0}
	if aloft > 0 {
		p.Battery, p.Recharge = aloft, refills
	}
	if j.Power.Battery == job.Yes {
		p = withBattery(p, site.BatteryOf(j, a))
	}
	return p
}

// withBattery is a pump with a battery beside what runs it already.
func withBattery(p seasons.Pump, b site.Battery) seasons.Pump {
	p.Most = p.Battery + float64(b.Most)
	p.Battery, p.Recharge = p.Battery+float64(b.Least), charges
	return p
}

// charges is how many seconds of its run a battery gains in one of grid. Judgement.
const charges = 0.5

// refills is how many seconds of use a pump lifts into a header tank in a second, at least:
// a pump's tens of litres a minute against a home's one. Judgement, on the low side.
const refills = 5.0

// aloft is how long a header tank feeds the taps at the mean use with the pump standing [s];
// 0 where there is none, or the pump feeds taps itself.
func aloft(facts *site.Site, a *assembly.Assembly) float64 {
	i := a.Header()
	if i < 0 || a.PumpServes() {
		return 0
	}
	row, is := a.Parts[i].Row.(catalogue.Store)
	use := float64(facts.Household.Daily)
	if !is || use <= 0 {
		return 0
	}
	return float64(row.Usable(facts.Margin, 0)) / use * 86400
}

// ways is where in Input.Mains the main is as it stands by the hour, and as in a weak spell.
type ways struct {
	at   [site.Standings]uint8
	weak uint8
}

// mains lays out the ways the main may stand, off first, and which of them each hour of the week
// has. Hours that begin or end in their middle are rounded, halves up.
func (h *Home) mains(j *job.Job, a *assembly.Assembly, m *site.Main, in *seasons.Input) *ways {
	w := new(ways)
	in.Mains = []seasons.Main{{}}
	var week [168]site.Standing
	for hour := range week {
		week[hour] = m.Stands(float64(hour%24*3600 + halfPast))
	}
	for s := range site.Standings {
		if slices.Contains(week[:], s) {
			w.at[s] = uint8(len(in.Mains))
			in.Mains = append(in.Mains, mainAt(j, a, m.Rest(s)))
		}
	}
	for hour, s := range week {
		in.Week[hour] = w.at[s]
	}
	return w
}

// lower lays out how the main may stand by day on the whole of a future, where it was read once: as
// on that day or lower by up to a share (assume.ReadingYear), in the middle of each of a few equal
// parts of the range.
func (h *Home) lower(j *job.Job, a *assembly.Assembly, usual uint8, in *seasons.Input) {
	if usual == 0 || !site.ReadOnce(j) {
		return
	}
	for k := range lowers {
		share := assume.ReadingYear.High * (float64(k) + 0.5) / lowers
		in.Instead = append(in.Instead, uint8(len(in.Mains)))
		in.Mains = append(in.Mains, mainAt(j, a, quantity.Pressure(1-share)*j.Supply.Static.V))
	}
	in.Usual = usual
	h.Notes = append(h.Notes, outage.Note{ID: "years.read-once", Args: map[string]float64{"pressure": float64(j.Supply.Static.V), "share": assume.ReadingYear.High}})
}

// lowers are the parts that the range of a main read once is taken in.
const lowers = 3

const halfPast = 29 * 60 // s

// mainAt is the main at a pressure at rest.
func mainAt(j *job.Job, a *assembly.Assembly, p quantity.Pressure) seasons.Main {
	m := seasons.Main{Head: float64(p) / circuit.Weight}
	m.Serves, m.Clings = serves(j, a, float64(p))
	return m
}

// weak says how the main stands in a weak spell: as in the worst hours of the day where
// those are told, else as assumed.
func (h *Home) weak(j *job.Job, a *assembly.Assembly, m *site.Main, in *seasons.Input, w *ways) uint8 {
	if in.Weak = w.at[site.AtWorst]; in.Weak == 0 {
		in.Mains = append(in.Mains, mainAt(j, a, m.Weak()))
		in.Weak = uint8(len(in.Mains) - 1)
		h.Notes = append(h.Notes, outage.Note{ID: "years.weak-assumed", Args: map[string]float64{"pressure": float64(m.Weak())}, Of: outage.OfWeak})
	}
	return in.Weak
}

// row finds the interruptions that follow each other so closely that the own store is not full when
// one begins.
func (h *Home) row(facts *site.Site, a *assembly.Assembly, w *ways, spared float64) {
	own := &h.Input.Stores[h.Own]
	st := site.Store{Usable: quantity.Volume(own.Usable), Draws: quantity.Flow(float64(facts.Household.Stored) / seasons.Day),
		Through: h.Input.Change == seasons.Never, Held: facts.Main.Holds(a), Spared: quantity.Time(spared),
		Waits: quantity.Volume((1 - cmp.Or(own.Opens, 1)) * own.Usable)}
	var in site.Inflow
	for s, way := range w.at {
		in.At[s] = quantity.Flow(own.Fill[way][0])
	}
	in.Weak = quantity.Flow(own.Fill[w.weak][0])
	if h.Row = site.Hardest(facts.Rows(st, in), st); h.Row != nil {
		h.Begins, h.Longest = float64(h.Row.Begins)/own.Usable, float64(h.Row.Most)
	}
}

// enough is the pressure at the house from which on a main serves it, where no lock-out
// decides. Judgement. [Pa]
const enough = 0.5e5

// serves reports whether the main, nothing running, keeps an automatic changeover on it, or
// serves the house at all; clings, that it is then too weak to bring a changeover back to it.
func serves(j *job.Job, a *assembly.Assembly, pressure float64) (serves, clings bool) {
	at := float64(j.Home.Level.V)
	limit, back := enough, enough
	if c := a.LockOut(); c != nil {
		limit, back, at = float64(c.On), float64(c.Off), float64(a.Parts[c.Senses.Part].Ports[c.Senses.Port].Z)
	}
	felt := pressure - (at-float64(j.Supply.Gauge.V))*circuit.Weight
	return felt > limit, felt > limit && felt < back
}

// stores are the sizes that are tried: the job's own, one to four of them linked, and the
// catalogue's that are sold by the measure of the home, the smallest first.
func (h *Home) stores(j *job.Job, a *assembly.Assembly, ci *circuit.Circuit, cat *catalogue.Catalogue, p *catalogue.Profile) error {
	fill, err := fills(a, ci, h.Input.Mains)
	if err != nil {
		return err
	}
	type size struct {
		row   catalogue.Store
		count int
	}
	var list []size
	margin, cover := site.OverflowMargin(p, j.Assumed), site.Cover(a)
	own := size{cat.Stores[j.Choices.Store], max(1, int(math.Round(float64(j.Choices.Stores.V))))}
	if row, ok := rowOf(a); ok {
		own.row = row
	}
	lower := cat.Stores[own.row.Key].Overflow - own.row.Overflow // any other tank's overflow has to be drilled as much lower
	for _, key := range cat.Keys("stores") {
		if !catalogue.SoldIn(key, j.System()) {
			continue
		}
		row := cat.Stores[key]
		row.Overflow = max(row.Overflow-lower, row.Outlet+margin+cover)
		list = append(list, size{row, 1})
	}
	for n := 1; n <= 4; n++ {
		list = append(list, size{own.row, n})
	}
	list = append(list, own)
	upper, upperDead := 0.0, 0.0 // a header tank is stored water too, whatever stands below
	if i := a.Header(); i >= 0 {
		if row, is := a.Parts[i].Row.(catalogue.Store); is {
			upper, upperDead = float64(row.Usable(margin, 0)), float64(row.Dead(0))
		}
	}
	waits := float64(site.Waits(a))
	usable := func(s size) float64 { return float64(s.count) * float64(s.row.Usable(margin, cover)) }
	slices.SortStableFunc(list, func(x, y size) int { return cmp.Compare(usable(x), usable(y)) })
	list = slices.CompactFunc(list, func(x, y size) bool {
		return x == y || x != own && y != own && math.Abs(usable(y)-usable(x)) < 0.02*usable(y)
	})
	list = slices.DeleteFunc(list, func(s size) bool {
		return s != own && (usable(s) < usable(own)/farOff || usable(s) > usable(own)*farOff)
	})
	list = around(list, slices.Index(list, own))
	for i, s := range list {
		if s == own {
			h.Own = i
		}
		dead := float64(s.count)*float64(s.row.Dead(cover)) + upperDead
		store := stored{seasons.Store{Name: sizeName(s.row, s.count), Usable: usable(s) + upper, Dead: dead, InTurn: j.Choices.InTurn == job.Yes && s.count == 2}}
		if waits > 0 {
			store.pulses(float64(s.count)*float64(s.row.Floor())*waits, fill)
			h.Input.Stores, h.whole = append(h.Input.Stores, store.Store), append(h.whole, store.Usable+dead)
			continue
		}
		for _, q := range fill {
			edges, row, err := seasons.Bands([]float64{0, 1 - band(a)/float64(s.row.Depth(margin, cover)), 1}, []float64{q, q, 0})
			if err != nil {
				return err
			}
			store.Edges, store.Fill = edges, append(store.Fill, row)
		}
		h.Input.Stores = append(h.Input.Stores, store.Store)
		h.whole = append(h.whole, store.Usable+dead)
	}
	return nil
}

// sizeName is a size as a merchant sells it: "1500 L", "300 gal", "2 × 1500 L".
func sizeName(row catalogue.Store, count int) string {
	litres, id := 1000*float64(row.Nominal), "years.litres"
	n := math.Round(litres)
	if gallons := float64(row.Nominal) / gallon; math.Abs(litres/10-math.Round(litres/10)) > 1e-6 && math.Abs(gallons/10-math.Round(gallons/10)) < 0.01 {
		n, id = math.Round(gallons), "years.gallons"
	}
	name := words.Say(id, words.Args{"n": quantity.Fixed(n, 0)})
	if count > 1 {
		name = words.Say("years.several", words.Args{"n": strconv.Itoa(count), "size": name})
	}
	return name
}

const gallon = 3.785411784e-3 // m³, US

// Busy says that a home draws so much through its store, hour by hour, that years of it take
// long: more than a household does.
func (h *Home) Busy() bool {
	return h.Input.Change == seasons.Never && h.Input.Home.Mean()*seasons.Day > busy
}

const busy = 1.5 // m³/d

// Thin keeps at most so many sizes, spread over all of them, the own among them.
func (h *Home) Thin(most int) {
	n := len(h.Input.Stores)
	if n <= most {
		return
	}
	var stores []seasons.Store
	var whole []float64
	own := h.Own
	nearest := int(math.Round(float64(own) * float64(most-1) / float64(n-1)))
	for k := range most {
		i := int(math.Round(float64(k) * float64(n-1) / float64(most-1)))
		if k == nearest {
			i, h.Own = own, k
		}
		stores, whole = append(stores, h.Input.Stores[i]), append(whole, h.whole[i])
	}
	h.Input.Stores, h.whole = stores, whole
}

// Alone leaves the job's own size alone.
func (h *Home) Alone() {
	h.Input.Stores, h.whole = h.Input.Stores[h.Own:h.Own+1], h.whole[h.Own:h.Own+1]
	h.Own = 0
}

// around keeps at most so many sizes, the own and those nearest to it.
func around[T any](list []T, own int) []T {
	first := max(0, min(own-mostSizes/2, len(list)-mostSizes))
	return list[first:min(first+mostSizes, len(list))]
}

// stored is a size in the making.
type stored struct{ seasons.Store }

// atLeast is the share of a store that is left when a delayed float valve opens, in one so low that
// the valve would hang below its outlet. Judgement: nobody fits one there.
const atLeast = 0.02

// pulses gives a store a float valve that opens once so much is missing [m³], with what each way of the
// main then lets in.
func (s *stored) pulses(missing float64, fill []float64) {
	s.Edges, s.Opens = []float64{1}, math.Max(atLeast, 1-missing/s.Usable)
	for _, q := range fill {
		s.Fill = append(s.Fill, []float64{q})
	}
}

// band is the height over which the float valve shuts. [m]
func band(a *assembly.Assembly) float64 {
	for _, i := range a.Of(assembly.FloatValve) {
		if row, ok := a.Parts[i].Row.(catalogue.Float); ok {
			return math.Max(float64(row.Band), 0.01)
		}
	}
	return 0.04
}

// fills is what the float valve, fully open, lets in for each way the main stands, every tap
// shut: the circuit's answer. [m³/s]
func fills(a *assembly.Assembly, ci *circuit.Circuit, mains []seasons.Main) ([]float64, error) {
	s := ci.NewSolver()
	floats := a.Of(assembly.FloatValve)
	list := make([]float64, len(mains))
	for m := 1; m < len(mains) && len(floats) > 0; m++ {
		k := circuit.Case{Main: circuit.PressureOf(mains[m].Head, 0), Filling: true}
		if err := s.Solve(&k); err != nil {
			return nil, err
		}
		list[m] = math.Max(float64(s.Flow(floats[0])), 0)
	}
	return list, nil
}
