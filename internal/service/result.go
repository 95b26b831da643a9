// Package service works out what each outlet gets in each normal case: flows, pressures,
// the pump's duty and swing, velocities, pressures at rest, refill.
//
// Stage: an analysis. It takes an assembly (with its circuit) and the bare figures of a
// job and gives a Result; a second function reads findings off it. It does no input or
// output.
package service

import (
	"tideover/internal/calc"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Mode is one normal case: a named setting under named conditions.
type Mode struct {
	ID      string            // "on-main", "on-main-peak", "on-store", "power-out"; message id "mode.<ID>"
	Setting string            // name of the assembly's setting
	Main    quantity.Pressure // at rest at the meter, gauge; 0 or less: off
	Power   bool
	Pumped  bool // the pump serves the home in this mode

	Alone    []Draw        // each outlet on its own
	Together []Draw        // the profile's simultaneous draw-off
	Demand   quantity.Flow // what the profile says is drawn at once

	Duty     *Duty // nil when the pump does not run
	Velocity []Speed

	Trip *Trip // where the cut-out stops the pump; nil where it lets it run, or there is none

	Same string // id of the mode this one is a copy of, the pump being out of it either way; or ""

	ReadIn string // setting in which somebody on site reads it: the changeover cannot turn away meanwhile
	Read   []Draw // each outlet alone in that setting; base run only
}

// Trip is a draw that pulls the inlet of a pump on the main under what its cut-out allows.
type Trip struct {
	Felt quantity.Pressure // there, with the pump running
	Open string            // the outlets that draw
}

// Draw is what one outlet gets.
type Draw struct {
	Outlet       string
	Flow         quantity.Flow
	Pressure     quantity.Pressure // at the outlet, flowing
	Need         quantity.Flow
	NeedPressure quantity.Pressure
	NeedHead     quantity.Head // above the datum, at which it has NeedPressure
	Certified    bool          // false: the solve did not certify; nothing is judged on it

	Pumped quantity.Flow // of one pump meanwhile; 0 where it stands
	Speed  float64       // of it, ratio to full speed
	Worn   quantity.Flow // what the outlet gets once the pump is worn; only where the pump serves and the outlet is alone

	Open   []string          // outlets open with it, itself left out; nil when alone
	Sensor quantity.Pressure // what the main-side lock-out feels; only where there is one
	Left   bool              // that is below its lower pressure: the store takes over by itself
	Hunts  bool              // and once it has, the main stands above the higher: back again
	Felt   []calc.Step       // how Sensor follows from the head there; base run only
	Either bool              // the main or the store may serve, whichever did before: both modes count
	Calc   []calc.Step       // the walk from the source; recorded in the base run only
}

// Duty is where the pump works at the simultaneous draw-off.
type Duty struct {
	Pump      string        // of several that run together, the first
	Pumps     int           // that run together
	Flow      quantity.Flow // of all that run
	Head      quantity.Head
	Speed     float64        // ratio to full speed
	Power     quantity.Power // electrical, of all that run
	Shutoff   quantity.Head
	NPSHHas   quantity.Head
	NPSHNeeds quantity.Head
	Outlet    quantity.Pressure // gauge, at the pump outlet

	Felt  quantity.Pressure // where its controller feels it
	Asked quantity.Pressure // what the controller asks of it there
	Calc  []calc.Step       // of the suction
	Works []calc.Step       // of the head and of Felt
}

// Swing is what the controller makes of a steady draw: pressure runs between Low and High.
type Swing struct {
	Control   string            // tag
	Low, High quantity.Pressure // at the pump outlet, gauge
	Drawdown  quantity.Volume   // what the vessel gives between them, drawn from quickly
	Turns     int               // pumps that take turns to start; 1 for one alone
	Starts    float64           // an hour, of each pump, at the worst draw
	Period    quantity.Time     // between starts of one pump at that draw
	Flat      quantity.Time     // and with so much of the vessel's charge lost as it loses in some years
	Worst     quantity.Flow     // the draw that makes most starts
	Allowed   float64           // starts an hour the pump allows

	LeakDraw   quantity.Flow // a steady drip
	LeakPeriod quantity.Time // between starts of one pump at it
	Soft       bool          // a speed control starts it

	runOn float64 // s that a control runs on before it stops

	Full     quantity.Pressure // at the controller at full speed, every tap shut, store nearly empty
	Standing quantity.Pressure // at the controller: the water standing up to the highest outlet
	Top      string            // that outlet
	Lifts    bool              // it is the float valve of a header tank
	Left     quantity.Pressure // at it, at rest, at the low end of the swing

	Calc      []calc.Step // of the period
	StopCalc  []calc.Step // of Full
	StartCalc []calc.Step // of Standing and Left
}

// Speed is the velocity in one run of pipe at the simultaneous draw-off.
type Speed struct {
	Run      string
	Mode     string
	Velocity quantity.Velocity
	Flow     quantity.Flow
	Pumped   bool   // that of a switched pump while it runs, not of the taps
	Rule     string // the local rule that limits it: "max-velocity-header", "-branch", "-suction"
	Calc     []calc.Step
}

// Rest is the pressure a part can stand under with nothing drawn, over all normal
// cases: the interval Low..High when Determined.
type Rest struct {
	Part       string
	Low, High  quantity.Pressure
	Rating     quantity.Pressure
	Rated      bool // the catalogue gives a rating
	Determined bool
	Cause      string // mode and source of the highest: message id "rest.<cause>"

	Working      quantity.Pressure // the highest while the controller does its work
	WorkingCause string

	Calc        []calc.Step // of High
	WorkingCalc []calc.Step
}

// Refill is how the store fills at one hour's pressure.
type Refill struct {
	Hours    string            // message id "hours.<...>": "usual", "peak", "night"
	Pressure quantity.Pressure // at the meter, at rest
	Flow     quantity.Flow     // through the open float valve; 0: nil
	Time     quantity.Time     // for the whole usable store; +Inf when Flow is 0

	Sensor quantity.Pressure // what the main-side lock-out feels meanwhile; only where there is one
	Left   bool              // that is below its lower pressure: the store serves while it fills

	Certified bool
	Calc      []calc.Step
	Felt      []calc.Step // how Sensor follows from the head there
}

// Result is the whole analysis.
type Result struct {
	Modes    []Mode
	Swing    *Swing
	Rests    []Rest
	Refills  []Refill
	Inflow   Inflow  // the flows of Refills by how the main stands
	Lift     *Lift   // how the pump fills a header tank; nil without one
	Gap      *Gap    // under the float valve with the overflow running; nil where no main fills a store
	UpperGap *Gap    // and of the header tank; nil without one that a pump fills
	Curves   *Curves // of pump and pipework; base run only, nil where no pump serves

	Drawn []Drawn // water in every named setting; base run only

	Answers []circuit.Start // the answers, in the order found; base run only

	Crowd  bool      // more people than a dwelling has: more may be drawn at once than Demand says
	Tested bool      // a flow test says how the main sags
	Failed []Failure // what did not certify, in the order met

	partial bool // only what was asked for is in it, see Inputs.Only
}

// Failure is a case that did not certify: nothing is judged on it.
type Failure struct {
	Mode   string // id of the mode, or "rest", "refill"
	Case   string // outlets open, hours or cause
	Reason string // of the numerics, technical
}

// Mode returns the mode with the given id, or nil.
func (r *Result) Mode(id string) *Mode {
	for i := range r.Modes {
		if r.Modes[i].ID == id {
			return &r.Modes[i]
		}
	}
	return nil
}
