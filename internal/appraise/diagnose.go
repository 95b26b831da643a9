package appraise

import (
	"encoding/json"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/diagnose"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// Diagnosis is what stands in the way of the water and what the home calls for, in
// quantities and ids that a page or a command can show.
type Diagnosis struct {
	Tested, RestKnown         bool
	Expected, Low, Measured   quantity.Quantity // flows at the house
	RestWants, RestFound      quantity.Quantity // pressures at the house
	Tried                     []Cause
	Outlets, Served, AtPeak   int
	PeakSeen                  bool
	Worst                     string
	Gets, Wants, Basic        quantity.Quantity
	Need                      string
	Findings                  []finding.Finding
	name, date, profile, unit string
	sys                       quantity.System
}

// Cause is one thing tried; its words are "cause.<Cause>".
type Cause struct {
	Cause, Standing, Why string
	Degree               *Degree // how bad it would have to be; nil where that means nothing
}

// Degree is how bad a cause would have to be: the message ID has one Place.
type Degree struct {
	ID, Place string
	Value     quantity.Quantity
}

// Diagnose asks whether something is in the way and whether the home needs a store. The
// error is a fault of the input.
func Diagnose(in Input) (*Diagnosis, error) {
	r, err := diagnose.Diagnose(in.Job, in.Catalogue, in.Profile, in.figures())
	if err != nil {
		return nil, err
	}
	flow := func(q quantity.Flow) quantity.Quantity { return finding.Of(quantity.FlowDim, float64(q)) }
	press := func(p quantity.Pressure) quantity.Quantity { return finding.Of(quantity.PressureDim, float64(p)) }
	h := &r.Home
	d := &Diagnosis{
		Tested: r.Tested, RestKnown: r.RestKnown,
		Expected: flow(r.Expected), Low: flow(r.Low), Measured: flow(r.Measured),
		RestWants: press(r.RestWants), RestFound: press(r.RestFound),
		Outlets: h.Outlets, Served: h.Served, AtPeak: h.AtPeak, PeakSeen: h.PeakSeen,
		Worst: h.Worst, Gets: flow(h.Gets), Wants: flow(h.Wants),
		Basic: finding.Of(quantity.VolumeDim, float64(h.Basic)),
		Need:  string(h.Need), Findings: diagnose.Findings(r),
		name: in.Job.Name, date: in.Job.Date, profile: in.Job.Profile, unit: in.Job.Units, sys: in.Job.System(),
	}
	cite(in, d.Findings)
	for _, t := range r.Tried {
		d.Tried = append(d.Tried, Cause{Cause: string(t.Cause), Standing: t.Standing.ID(), Why: t.Why, Degree: degree(&t, flow, press)})
	}
	return d, nil
}

func degree(t *diagnose.Tried, flow func(quantity.Flow) quantity.Quantity, press func(quantity.Pressure) quantity.Quantity) *Degree {
	switch {
	case !t.Fits:
		return nil
	case t.Cause == diagnose.Shared:
		return &Degree{"diagnose.draws", "flow", flow(t.Draws)}
	case t.Cause == diagnose.Reducer:
		return &Degree{"diagnose.holds", "pressure", press(t.Holds)}
	case t.Cause == diagnose.Pipe:
		return &Degree{"diagnose.bore", "share", finding.Of(quantity.RatioDim, t.Share)}
	default:
		return &Degree{"diagnose.share", "share", finding.Of(quantity.RatioDim, t.Share)}
	}
}

// ask is the diagnosis as one of the run's analyses: in the base run only, for its
// figures are readings held against each other, not a design that moves.
func ask(in Input, _ *Appraisal) ([]finding.Finding, error) {
	r, err := diagnose.Diagnose(in.Job, in.Catalogue, in.Profile, in.figures())
	if err != nil {
		return nil, err
	}
	return diagnose.Findings(r), nil
}

// circuit is the circuit of an assembly with the input's figures.
func (in Input) circuit(a *assembly.Assembly) (*circuit.Circuit, error) {
	if in.base != nil {
		return in.base.circuit.Like(a, in.figures())
	}
	return circuit.New(a, in.figures())
}

// JSON returns the diagnosis as indented JSON; docs/json.md describes it.
func (d *Diagnosis) JSON() ([]byte, error) {
	list, err := finding.JSON(d.Findings, d.sys)
	if err != nil {
		return nil, err
	}
	type amount struct {
		SI   float64 `json:"si"`
		Text string  `json:"text"`
	}
	show := func(q quantity.Quantity) amount { return amount{q.SI, quantity.Format(q, d.sys)} }
	type tried struct {
		Cause    string  `json:"cause"`
		Standing string  `json:"standing"`
		Why      string  `json:"why"`
		Degree   *amount `json:"degree"` // null: it cannot explain the readings
	}
	type test struct {
		Expected amount `json:"expected"`
		Low      amount `json:"at-least"`
		Measured amount `json:"measured"`
	}
	type rest struct {
		Wants amount `json:"expected"`
		Found amount `json:"measured"`
	}
	doc := struct {
		Format   int             `json:"format"`
		Name     string          `json:"name"`
		Date     string          `json:"date"`
		Profile  string          `json:"profile"`
		Units    string          `json:"units"`
		Test     *test           `json:"test"` // null: the house was not tested
		Rest     *rest           `json:"rest"`
		Tried    []tried         `json:"tried"`
		Outlets  int             `json:"outlets"`
		Served   int             `json:"served"`
		AtPeak   *int            `json:"served-at-peak"` // null: the worst hours are not known
		Worst    string          `json:"worst-off"`
		Need     string          `json:"need"`
		Basic    amount          `json:"reserve-wanted"`
		Findings json.RawMessage `json:"findings"`
	}{Format: 1, Name: d.name, Date: d.date, Profile: d.profile, Units: d.unit, Outlets: d.Outlets, Served: d.Served,
		Worst: d.Worst, Need: d.Need, Basic: show(d.Basic), Findings: list, Tried: []tried{}}
	if d.Tested {
		doc.Test = &test{show(d.Expected), show(d.Low), show(d.Measured)}
	}
	if d.RestKnown {
		doc.Rest = &rest{show(d.RestWants), show(d.RestFound)}
	}
	if d.PeakSeen {
		doc.AtPeak = &d.AtPeak
	}
	for _, t := range d.Tried {
		row := tried{Cause: t.Cause, Standing: t.Standing, Why: t.Why}
		if t.Degree != nil {
			a := show(t.Degree.Value)
			row.Degree = &a
		}
		doc.Tried = append(doc.Tried, row)
	}
	return indented(doc)
}
