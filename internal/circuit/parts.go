package circuit

import (
	"fmt"
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// add gives one part its elements.
func (b *builder) add(i int) error {
	p := &b.a.Parts[i]
	if err := enough(p); err != nil {
		return err
	}
	switch p.Kind {
	case assembly.Main:
		return b.addMain(i)
	case assembly.Store:
		b.c.Store = true
		for _, at := range b.c.point[i] {
			b.points[at].Held = true
			if i == b.a.Header() {
				b.c.upper = append(b.c.upper, at)
			} else {
				b.c.surface = append(b.c.surface, at)
			}
		}
		return nil
	case assembly.HandValve, assembly.ThreeWay, assembly.Spool:
		return b.addHand(i)
	case assembly.NonReturn:
		return b.addNonReturn(i)
	case assembly.Regulator:
		return b.addRegulator(i)
	case assembly.Outlet, assembly.Drain, assembly.FloatValve:
		return b.addMouth(i)
	case assembly.Tee, assembly.Vessel, assembly.Switch, assembly.Isolator:
		return nil
	}
	if len(p.Ports) == 1 { // a heater hung on the pipe
		return nil
	}
	law, err := b.plainLaw(p)
	if err != nil {
		return err
	}
	if p.Kind == assembly.Pump {
		b.c.pumps = append(b.c.pumps, i)
	}
	b.newElement(i, b.c.point[i][0], b.c.point[i][1], law, false)
	return nil
}

// enough checks that a part has the ports its kind needs.
func enough(p *assembly.Part) error {
	need := 2
	switch p.Kind {
	case assembly.Main, assembly.Store, assembly.Vessel, assembly.Switch, assembly.Outlet, assembly.Drain, assembly.Tee, assembly.Heater, assembly.FloatValve:
		need = 1
	}
	if len(p.Ports) < need {
		return fmt.Errorf("circuit: %s: a %s has %d ports, at least %d are needed", p.Tag, p.Kind, len(p.Ports), need)
	}
	return nil
}

// plainLaw makes the law of a part that only takes head, or, a pump, adds it.
func (b *builder) plainLaw(p *assembly.Part) (hydraulics.Law, error) {
	in := b.c.in
	switch p.Kind {
	case assembly.Run:
		return in.pipeLaw(p)
	case assembly.Pump:
		return checked(in.pumpLaw(p))
	}
	kv, ok := flowFactor(p.Row)
	if !ok {
		return nil, wrongRow(p)
	}
	return checked(hydraulics.NewFixed(p.Tag, in.factor(kv)))
}

func flowFactor(row catalogue.Item) (float64, bool) {
	switch r := row.(type) {
	case catalogue.Valve:
		return float64(r.Kv), true
	case catalogue.Float:
		return float64(r.Kv), true
	case catalogue.Heater:
		return float64(r.Kv), r.Kv > 0
	}
	return 0, false
}

func (b *builder) addMain(i int) error {
	law, tested, err := b.c.in.sag().Law(b.a.Parts[i].Tag)
	if err != nil {
		return err
	}
	b.c.Tested = tested
	if b.c.busy, err = b.c.in.sag().Steeper(); err != nil {
		return err
	}
	b.c.main = int32(len(b.elements))
	law = law.Crowded(b.c.busy.Most())
	meter := b.c.point[i][0]
	b.c.street = b.newPoint("street", b.points[meter].Z, true)
	b.newElement(i, b.c.street, meter, law, false)
	return nil
}

// addHand makes one element for every pair of ports a position can join.
func (b *builder) addHand(i int) error {
	p := &b.a.Parts[i]
	kv, ok := flowFactor(p.Row)
	if !ok {
		return wrongRow(p)
	}
	for _, w := range p.Ways {
		if w.A >= len(p.Ports) || w.B >= len(p.Ports) {
			return fmt.Errorf("circuit: %s: position %s joins ports %d and %d of %d", p.Tag, w.Position, w.A, w.B, len(p.Ports))
		}
		from, to := b.c.point[i][w.A], b.c.point[i][w.B]
		if k := wayBetween(b.c.ways[i], b.elements, from, to); k >= 0 {
			b.c.ways[i][k].positions = append(b.c.ways[i][k].positions, w.Position)
			continue
		}
		law, err := handLaw(p, b.c.in.factor(kv))
		if err != nil {
			return err
		}
		e := b.newElement(i, from, to, law, false)
		b.c.ways[i] = append(b.c.ways[i], way{e, []string{w.Position}})
	}
	return nil
}

func handLaw(p *assembly.Part, kv float64) (hydraulics.Law, error) {
	if p.Kind == assembly.ThreeWay {
		return checked(hydraulics.NewWay(p.Tag, kv))
	}
	return checked(hydraulics.NewHandValve(p.Tag, kv))
}

func wayBetween(ways []way, elements []hydraulics.Element, from, to int32) int {
	for k, w := range ways {
		if e := elements[w.element]; e.From == from && e.To == to {
			return k
		}
	}
	return -1
}

func (b *builder) addNonReturn(i int) error {
	p := &b.a.Parts[i]
	row, ok := p.Row.(catalogue.NonReturn)
	if !ok {
		return wrongRow(p)
	}
	e, err := hydraulics.NewNonReturn(p.Tag, b.c.point[i][0], b.c.point[i][1], b.c.in.factor(float64(row.Kv)), float64(row.Opens))
	if err != nil {
		return err
	}
	at := b.newElement(i, e.From, e.To, e.Law, true)
	b.elements[at].Opens = e.Opens
	return nil
}

// addRegulator makes the element of a pressure regulator: it holds what it is set to with
// nothing drawn, less a fall in proportion to the flow, and is taken to let nothing back.
// A proof does not rely on that (see Backs).
func (b *builder) addRegulator(i int) error {
	p := &b.a.Parts[i]
	row, ok := p.Row.(catalogue.Regulator)
	if !ok {
		return wrongRow(p)
	}
	fall := float64(row.Fall) / Weight / float64(row.Flow)
	e, err := hydraulics.NewSetReducer(p.Tag, b.c.point[i][0], b.c.point[i][1], b.c.in.factor(float64(row.Kv)), HeadOf(p.Set, p.Ports[1].Z), fall)
	if err != nil {
		return err
	}
	b.newElement(i, e.From, e.To, e.Law, e.OneWay)
	return nil
}

// addMouth makes the element of a part that ends in the air: an outlet, a drain, a float
// valve. Water leaves there and never comes back.
func (b *builder) addMouth(i int) error {
	p := &b.a.Parts[i]
	law, err := b.mouthLaw(p)
	if err != nil {
		return err
	}
	from := b.c.point[i][0]
	to := int32(-1)
	if len(p.Ports) > 1 {
		to = b.c.point[i][1]
		b.points[to].Held = true
	} else {
		to = b.newPoint(p.Tag+".air", float64(p.Ports[0].Z), true)
	}
	if p.Kind != assembly.Outlet {
		b.newElement(i, from, to, law, true)
		return nil
	}
	b.c.Outlets = append(b.c.Outlets, i)
	if !p.Under {
		b.newElement(i, from, to, law, true)
		return nil
	}
	// A hose in a bucket, seen on site: what it lies in comes back the same way.
	hose, err := hydraulics.NewSubmerged(p.Tag, from, to, b.c.in.hoseFactor(p))
	if err != nil {
		return err
	}
	b.newElement(i, from, to, hose.Law, hose.OneWay)
	return nil
}

// hoseFactor is the coefficient of a draw-off without its regulator [m^2.5/s].
func (in Inputs) hoseFactor(p *assembly.Part) float64 {
	return float64(outletRow(p).At3Bar) * scale(in.OutletScale) / math.Sqrt(threeBar)
}

func (b *builder) mouthLaw(p *assembly.Part) (hydraulics.Law, error) {
	switch p.Kind {
	case assembly.Outlet:
		return b.c.in.outletLaw(p)
	case assembly.FloatValve:
		kv, ok := flowFactor(p.Row)
		if !ok {
			return nil, wrongRow(p)
		}
		return checked(hydraulics.NewFloatValve(p.Tag, b.c.in.factor(kv)*scale(b.c.in.FloatScale)))
	}
	kv, ok := flowFactor(p.Row)
	if !ok {
		return nil, wrongRow(p)
	}
	return handLaw(p, b.c.in.factor(kv))
}
