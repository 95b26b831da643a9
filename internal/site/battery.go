package site

import (
	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// Battery is how long a battery runs the pump, at least and at most.
type Battery struct {
	Least, Most quantity.Time
	Told        bool // by what it stores; else it is as long as is taken where nobody tells
}

// What a home draws through a cut lies between the mean of the day and busy times that; single taps
// take of the pump a share of its rated flow, at more power for each litre. Judgement, both.
const (
	busy     = 3.0
	tapShare = 0.25
)

// BatteryOf is how long the battery of a job, or one that is put in, runs the pump. By what it stores: at
// least one of lead through busy hours, drawn by single taps, at most one of lithium at the mean of
// the day and the pump's rated flow.
func BatteryOf(j *job.Job, a *assembly.Assembly) Battery {
	power, flow, known := rated(a)
	draw := float64(HouseholdOf(j, a).Stored) / 86400
	if !Told(j.Power.Stores) || !known || draw <= 0 {
		return Battery{Least: quantity.Time(assume.BatteryLeast.In(j.Assumed)), Most: quantity.Time(assume.BatteryMost.In(j.Assumed))}
	}
	tap := tapShare * flow
	return Battery{Told: true,
		Least: sitework.Lasts(j.Power.Stores.V, sitework.LeadDepth, power(tap), tap, min(busy*draw, tap)),
		Most:  sitework.Lasts(j.Power.Stores.V, sitework.LithiumDepth, power(flow), flow, draw)}
}

// rated is what the pumps that run at once take by flow [W], and their rated flow [m³/s]; known is false where there is
// no pump, or one nobody knows the efficiency of.
func rated(a *assembly.Assembly) (power func(flow float64) float64, flow float64, known bool) {
	for _, i := range a.Of(assembly.Pump) {
		row, is := a.Parts[i].Row.(catalogue.Pump)
		if !is || row.Wire <= 0 || row.Q1 <= 0 {
			continue
		}
		n := float64(max(1, a.Together))
		best := quantity.StandardDensity * quantity.StandardGravity * float64(row.Q1) * float64(row.H1) / row.Wire
		line, err := hydraulics.NewPumpPower(a.Parts[i].Tag, kindOf(row.Kind), best, float64(row.Q1))
		if err != nil {
			return nil, 0, false
		}
		return func(q float64) float64 { return n * line.Power(q/n, 1) }, n * float64(row.Q1), true
	}
	return nil, 0, false
}

// kindOf is the kind of power line of a row's pump; what has none is taken as a jet pump, which takes
// most at a small flow.
func kindOf(kind string) hydraulics.PumpKind {
	switch kind {
	case "multistage", "submersible":
		return hydraulics.Multistage
	case "peripheral":
		return hydraulics.Peripheral
	}
	return hydraulics.Jet
}
