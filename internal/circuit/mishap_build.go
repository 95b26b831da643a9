package circuit

import (
	"fmt"
	"math"
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// NewWithMishaps builds the circuit of an assembly together with everything its parts
// can come to: the elements of New first, in the same order, then the extra ones, all
// Off by default. It answers as New does until a mishap strikes.
func NewWithMishaps(a *assembly.Assembly, in Inputs) (*Circuit, error) {
	return assemble(a, in, (*builder).addMishaps)
}

// addMishaps lists the mishaps street to home, part by part, then those of one cause.
func (b *builder) addMishaps() error {
	for i := range b.a.Parts {
		if err := b.addAir(i); err != nil {
			return err
		}
	}
	if err := b.addBurst(); err != nil {
		return err
	}
	for i := range b.a.Parts {
		if err := b.mishapsOf(i); err != nil {
			return err
		}
	}
	b.controlMishaps()
	b.swapMishaps()
	return b.grit()
}

// mishap notes one of part i.
func (b *builder) mishap(i int, id string, m Mishap) {
	m.ID, m.Tag, m.Parts = id, b.a.Parts[i].Tag, []int{i}
	b.c.Mishaps = append(b.c.Mishaps, m)
}

// extra adds an element that only a mishap opens.
func (b *builder) extra(i int, e hydraulics.Element) int32 {
	at := b.newElement(i, e.From, e.To, e.Law, e.OneWay)
	b.elements[at].Opens = e.Opens
	return at
}

func (b *builder) mishapsOf(i int) error {
	p := &b.a.Parts[i]
	switch p.Kind {
	case assembly.NonReturn:
		return b.nonReturnMishaps(i)
	case assembly.HandValve, assembly.ThreeWay:
		return b.handMishaps(i)
	case assembly.Drain:
		return b.drainMishap(i)
	case assembly.FloatValve:
		return b.floatMishaps(i)
	case assembly.Outlet:
		return b.outletMishaps(i)
	case assembly.Regulator:
		return b.regulatorMishaps(i)
	case assembly.Strainer:
		b.mishap(i, "strainer-blocked", Mishap{Shuts: []int32{b.c.element[i]}})
	case assembly.Pump:
		if len(b.a.Sets) > 0 {
			b.mishap(i, "pump-no-start", Mishap{Upset: OnePumpNeverRuns})
			break
		}
		b.mishap(i, "pump-no-start", Mishap{Upset: PumpNeverRuns})
	case assembly.Vessel:
		b.mishap(i, "vessel-flat", Mishap{Upset: VesselFlat})
		b.mishap(i, "vessel-shut-off", Mishap{Upset: VesselShutOff})
	case assembly.Store:
		b.storeMishaps(i)
	case assembly.Heater:
		b.mishap(i, "relief-blocked", Mishap{Upset: ReliefBlocked})
	}
	return nil
}

// regulatorMishaps: its seat is held open, so that all the main's pressure passes; it is held
// shut; grit on its seat lets a little by, so that with nothing drawn the main's pressure
// stands behind it in the end. Sound, its spring opens it to water from behind that presses
// less than it is set to: a way back of its own, which is no mishap.
func (b *builder) regulatorMishaps(i int) error {
	p := &b.a.Parts[i]
	row, _ := p.Row.(catalogue.Regulator) // checked by addRegulator
	from, to, kv := b.c.point[i][0], b.c.point[i][1], b.c.in.factor(float64(row.Kv))
	wide, err := hydraulics.NewLeak(p.Tag, from, to, kv, 1)
	if err != nil {
		return err
	}
	back, err := hydraulics.NewLeak(p.Tag, to, from, kv, 1)
	if err != nil {
		return err
	}
	creep, err := hydraulics.NewLeak(p.Tag, from, to, kv, hydraulics.WornSeat)
	if err != nil {
		return err
	}
	back.OneWay, creep.OneWay = true, true
	way := b.extra(i, back)
	b.c.Backs = append(b.c.Backs, way)
	sound := []int32{b.c.element[i]}
	b.mishap(i, "regulator-open", Mishap{Shuts: append(sound, way), Opens: []int32{b.extra(i, wide)}})
	b.mishap(i, "regulator-shut", Mishap{Shuts: append(sound, way)})
	b.mishap(i, "regulator-creeps", Mishap{Opens: []int32{b.extra(i, creep)}})
	return nil
}

// nipple is how much more a plain nipple passes than the non-return valve that ought to
// stand in its place, as a factor on the flow factor: an assumption (a tenth of the loss).
const nipple = 3

// nonReturnMishaps are those of a non-return valve. A double check loses one of its two
// seats when something sticks: the other still holds. A reduced-pressure assembly that
// loses one still drains the water between its seats to the air.
func (b *builder) nonReturnMishaps(i int) error {
	p := &b.a.Parts[i]
	row, _ := p.Row.(catalogue.NonReturn) // checked by addNonReturn
	sound := b.c.element[i]
	from, to, kv := b.c.point[i][0], b.c.point[i][1], b.c.in.factor(float64(row.Kv))
	states, err := hydraulics.NewNonReturnStates(p.Tag, from, to, kv, float64(row.Opens), hydraulics.FouledLip)
	if err != nil {
		return err
	}
	stuck := states.Elements[1]
	if row.Kind != "single" {
		if stuck, err = hydraulics.NewNonReturn(p.Tag, from, to, kv*math.Sqrt2, float64(row.Opens)/2); err != nil {
			return err
		}
	}
	out, err := hydraulics.NewLeak(p.Tag, from, to, kv*nipple, 1)
	if err != nil {
		return err
	}
	b.mishap(i, "check-stuck-open", Mishap{Shuts: []int32{sound}, Opens: []int32{b.extra(i, stuck)}})
	b.mishap(i, "check-stuck-shut", Mishap{Shuts: []int32{sound}})
	if !slices.Contains(b.a.Reversed(), i) { // one that is reversed as it stands cannot come to be
		b.mishap(i, "check-reversed", Mishap{Shuts: []int32{sound}, Opens: []int32{b.extra(i, states.Elements[3])}})
	}
	b.mishap(i, "check-left-out", Mishap{Shuts: []int32{sound}, Opens: []int32{b.extra(i, out)}})
	return nil
}

// handMishaps: each way of a hand-turned part leaks when it is shut; a three-way valve's
// handle can come off its plug and leave it in between.
func (b *builder) handMishaps(i int) error {
	p := &b.a.Parts[i]
	kv, _ := flowFactor(p.Row) // checked by addHand
	var m Mishap
	var between []Turned
	for _, w := range b.c.ways[i] {
		e := b.elements[w.element]
		leak, err := hydraulics.NewLeak(p.Tag, e.From, e.To, b.c.in.factor(kv), hydraulics.WornSeat)
		if err != nil {
			return err
		}
		m.Leaks = append(m.Leaks, Leak{b.extra(i, leak), w.element})
		between = append(between, Turned{w.element, 0.5})
		b.c.turned = append(b.c.turned, w.element)
	}
	b.mishap(i, "valve-leaks", m)
	if len(between) > 1 {
		b.mishap(i, "stuck-midway", Mishap{Turns: between})
	}
	return nil
}

// drainMishap: a drain that drips when it is shut.
func (b *builder) drainMishap(i int) error {
	p := &b.a.Parts[i]
	kv, _ := flowFactor(p.Row)
	e := b.elements[b.c.element[i]]
	leak, err := hydraulics.NewLeak(p.Tag, e.From, e.To, b.c.in.factor(kv), hydraulics.WornSeat)
	if err != nil {
		return err
	}
	leak.OneWay = true
	b.mishap(i, "valve-leaks", Mishap{Leaks: []Leak{{b.extra(i, leak), b.c.element[i]}}})
	return nil
}

// floatMishaps: it passes when it should be shut, loses its arm, sticks shut, or its
// outlet lies under water, so that the store can siphon back.
func (b *builder) floatMishaps(i int) error {
	p := &b.a.Parts[i]
	row, ok := p.Row.(catalogue.Float)
	if !ok {
		return wrongRow(p)
	}
	e := b.elements[b.c.element[i]]
	kv := b.c.in.factor(float64(row.Kv))
	leak, err := hydraulics.NewLeak(p.Tag, e.From, e.To, kv, hydraulics.FouledLip)
	if err != nil {
		return err
	}
	leak.OneWay = true
	seat := kv
	if row.Seat > 0 {
		if seat, err = hydraulics.SeatKv(p.Tag, float64(row.Seat)); err != nil {
			return err
		}
	}
	bare, err := hydraulics.NewLeak(p.Tag, e.From, e.To, math.Max(seat, kv), 1)
	if err != nil {
		return err
	}
	bare.OneWay = true
	b.mishap(i, "float-passing", Mishap{Leaks: []Leak{{b.extra(i, leak), b.c.element[i]}}})
	b.mishap(i, "float-broken-off", Mishap{Shuts: []int32{b.c.element[i]}, Opens: []int32{b.extra(i, bare)}})
	b.mishap(i, "float-stuck-shut", Mishap{Shuts: []int32{b.c.element[i]}})
	if len(b.c.surface) == 0 || b.c.surface[0] == e.From {
		return nil
	}
	under, err := hydraulics.NewSubmerged(p.Tag, e.From, b.c.surface[0], kv/math.Sqrt(1e5/Weight))
	if err != nil {
		return err
	}
	b.mishap(i, "float-submerged", Mishap{Shuts: []int32{b.c.element[i]}, Opens: []int32{b.extra(i, under)}})
	return nil
}

// hoses are the kinds of outlet a hose is put on, or that have one.
var hoses = map[string]bool{"garden": true, "shower": true, "kitchen": true, "bath": true}

// outletMishaps: the tap is left open while nothing comes; a hose on it lies in a bucket,
// whose surface stands at the outlet's own height.
func (b *builder) outletMishaps(i int) error {
	p := &b.a.Parts[i]
	row := outletRow(p)
	e := b.elements[b.c.element[i]]
	if p.Under {
		b.mishap(i, "tap-left-open", Mishap{Upset: TapLeftOpen, Opens: []int32{b.c.element[i]}})
		return nil
	}
	b.mishap(i, "tap-left-open", Mishap{Upset: TapLeftOpen, Opens: []int32{b.c.element[i], b.airOf(i)}})
	if !hoses[row.Kind] {
		return nil
	}
	c := float64(row.At3Bar) / math.Sqrt(threeBar)
	hose, err := hydraulics.NewSubmerged(p.Tag, e.From, e.To, c)
	if err != nil {
		return err
	}
	b.mishap(i, "hose-in-bucket", Mishap{Shuts: []int32{b.c.element[i], b.airOf(i)}, Opens: []int32{b.extra(i, hose)}})
	return nil
}

func (b *builder) airOf(part int) int32 {
	for _, a := range b.c.Airs {
		if a.Part == part {
			return a.Entry
		}
	}
	panic(fmt.Sprintf("circuit: %s: an outlet without a way for air", b.a.Parts[part].Tag))
}

// addAir makes the way of air into an outlet or a drain.
func (b *builder) addAir(i int) error {
	p := &b.a.Parts[i]
	var c float64
	switch {
	case p.Under: // under water there is no air to come in
		return nil
	case p.Kind == assembly.Outlet:
		c = float64(outletRow(p).At3Bar) / math.Sqrt(threeBar)
	case p.Kind == assembly.Drain:
		kv, _ := flowFactor(p.Row)
		c = b.c.in.factor(kv) / math.Sqrt(1e5/Weight)
	default:
		return nil
	}
	return b.airInto(i, b.c.element[i], c)
}

// airInto makes the way of air into one mouth with coefficient c [m^2.5/s].
func (b *builder) airInto(i int, mouth int32, c float64) error {
	in, err := hydraulics.NewAirIn(b.a.Parts[i].Tag, b.elements[mouth].To, b.elements[mouth].From, c)
	if err != nil {
		return err
	}
	b.c.Airs = append(b.c.Airs, Air{i, mouth, b.extra(i, in)})
	return nil
}
