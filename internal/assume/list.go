package assume

import "tideover/internal/quantity"

const (
	litre  = 1e-3
	minute = 60.0
	hour   = 3600.0
	bar    = 1e5
	mm     = 1e-3
)

// The main and the home.
var (
	// WeakMain is the share of its pressure at rest that a main nobody tested may be left with
	// while 15 L/min run.
	WeakMain = taken(Assumption{Key: "weak-main", Dim: quantity.RatioDim, Value: 0.5, Low: 0.3, High: 0.8, Use: []string{"appraise"},
		Settles: []string{"supply.flow-test.high-flow"}})
	// TooWeak is the pressure below which a main counts as off: enough to hear, too little for a house.
	TooWeak = taken(Assumption{Key: "too-weak", Dim: quantity.PressureDim, Value: 0.3 * bar, Low: 0.1 * bar, High: 0.5 * bar, Use: []string{"site"}})
	// ReadingYear is how much lower than on the day it was read a main that was read once presses by
	// day, at the most, through the rest of the year.
	ReadingYear = taken(Assumption{Key: "reading-year", Dim: quantity.RatioDim, Value: 0, Low: 0, High: 0.2, Use: []string{"site", "years"},
		Settles: []string{"supply.peak.pressure"}})
	// StreetSag is how much of what the main loses by flow lies in pipes that neighbours draw on too,
	// where nobody read it at a bad hour with a tap open: their draw then makes the home's cost more.
	StreetSag = taken(Assumption{Key: "street-sag", Dim: quantity.RatioDim, Value: 0.5, Low: 0, High: 1, Use: []string{"site", "circuit"},
		Settles: []string{"supply.peak.open-flow"}})
	// Usable is the share of its need below which an outlet does not serve at all: a shower that
	// only drips, a tap nobody waits for.
	Usable = taken(Assumption{Key: "usable-share", Strict: 1, Dim: quantity.RatioDim, Value: 0.5, Low: 0.3, High: 0.7, Use: []string{"service", "diagnose"}})
	// FirstWater is how many times what the pipe from the street holds runs to the drain when the main
	// is back after an interruption.
	FirstWater = taken(Assumption{Key: "first-water", Dim: quantity.RatioDim, Value: 3, Low: 1, High: 20, Use: []string{"commission"}})
	// SlowHand is the longest that somebody who is at home and awake takes to turn a changeover: to
	// notice, to go there, and to know which way.
	SlowHand = taken(Assumption{Key: "slow-hand", Dim: quantity.TimeDim, Value: 45 * minute, Low: 15 * minute, High: 4 * hour, Use: []string{"day", "years"}})
	// WeakAfter is the longest that the main stays weak once it is back, where nobody tells.
	WeakAfter = taken(Assumption{Key: "weak-after", Dim: quantity.TimeDim, Value: 12 * hour, Low: 2 * hour, High: 24 * hour, Use: []string{"years"}})
	// BegunByDay is the most of all interruptions that begin by day, where nobody tells.
	BegunByDay = taken(Assumption{Key: "begun-by-day", Dim: quantity.RatioDim, Value: 0.95, Low: 0.5, High: 0.95, Use: []string{"years"}})
	// Suppressed is how much more than was read a home may use when water is there, where the use was
	// read while it was short.
	Suppressed = taken(Assumption{Key: "use-suppressed", Dim: quantity.RatioDim, Value: 0.5, Low: 0.2, High: 0.9, Use: []string{"store", "years"}})
	// Busiest is how many times the mean of a day a home draws in its busiest hour.
	Busiest = taken(Assumption{Key: "busiest-hour", Dim: quantity.RatioDim, Value: 3, Low: 2, High: 5, Use: []string{"service"}})
	// HotShare is how much of a mixed draw comes through the heater: shower water of 38 °C from
	// 60 °C hot and 15 °C cold is half hot.
	HotShare = taken(Assumption{Key: "hot-share", Dim: quantity.RatioDim, Value: 0.5, Low: 0.4, High: 0.7, Use: []string{"service"}})
	// HotStore is what a storage heater is kept at against legionella.
	HotStore = taken(Assumption{Key: "hot-store", Dim: quantity.TemperatureDim, Value: 60, Low: 55, High: 75, Use: []string{"service"}})
	// WideSwing is the ratio of the highest to the lowest flow within a pump's swing from which on
	// an instantaneous heater is felt to hunt between hot and cold.
	WideSwing = taken(Assumption{Key: "wide-swing", Strict: -1, Dim: quantity.RatioDim, Value: 1.25, Low: 1.15, High: 1.5, Use: []string{"service"}})
	// CloseRating is the share of a heater's rating above which its relief valve may lift while
	// closed-in water heats.
	CloseRating = taken(Assumption{Key: "close-rating", Dim: quantity.RatioDim, Value: 0.9, Low: 0.8, High: 1, Use: []string{"service"}})
	// Drip is a cistern or tap that never quite shuts.
	Drip = taken(Assumption{Key: "drip", Dim: quantity.FlowDim, Value: 0.2 * litre / minute, Low: 0.05 * litre / minute, High: 1 * litre / minute, Use: []string{"service"}})
	// Closing is how quickly taps shut, against the times a quick hand and a solenoid take.
	Closing = taken(Assumption{Key: "closing-time", Dim: quantity.RatioDim, Value: 1, Low: 0.5, High: 3, Use: []string{"service"}})
)

// Pump, vessel and controls.
var (
	// HeadLost is what a pump's head loses as its wheel and rings wear: half a per cent of it a
	// year, 0.2 to 2 in clean water, more in gritty.
	HeadLost = taken(Assumption{Key: "pump-worn", Dim: quantity.RatioDim, Value: 0.2, Low: 0.05, High: 0.3, Use: []string{"service"}})
	// ChargeLost is what a vessel loses of its charge through membrane and valve between two checks.
	ChargeLost = taken(Assumption{Key: "charge-lost", Dim: quantity.RatioDim, Value: 0.3, Low: 0, High: 0.5, Use: []string{"service"}})
	// GasExponent is how the gas of a vessel takes a cycle of minutes.
	GasExponent = taken(Assumption{Key: "gas-exponent", Dim: quantity.RatioDim, Value: 1.2, Low: 1, High: 1.4, Use: []string{"service"},
		Source: "Wylie & Streeter 1993"})
	// SwitchDrift is what the pressures of a pump's switch have drifted to either side since they were set.
	SwitchDrift = taken(Assumption{Key: "switch-drift", Dim: quantity.PressureDim, Change: true, Value: 0, Low: -0.2 * bar, High: 0.2 * bar, Use: []string{"circuit", "service", "day"}})
	// LockDrift is that of the lock-out on the main's side, or of a booster's cut-out.
	LockDrift = taken(Assumption{Key: "lock-drift", Dim: quantity.PressureDim, Change: true, Value: 0, Low: -0.2 * bar, High: 0.2 * bar, Use: []string{"circuit", "service", "day"}})
	// Droop is how far below its set pressure a speed control holds while water is drawn.
	Droop = taken(Assumption{Key: "speed-droop", Dim: quantity.PressureDim, Change: true, Value: 0, Low: 0, High: 0.2 * bar, Use: []string{"service"}})
	// Sleep is the draw below which a speed control puts the pump to sleep.
	Sleep = taken(Assumption{Key: "sleep-flow", Dim: quantity.FlowDim, Value: 2 * litre / minute, Low: 1 * litre / minute, High: 4 * litre / minute, Use: []string{"service", "day"}})
	// RunOn is how long it runs on before it does.
	RunOn = taken(Assumption{Key: "run-on", Dim: quantity.TimeDim, Value: 10, Low: 3, High: minute, Use: []string{"service", "day"}})
	// FlowStop is the draw below which a flow control stops the pump: its paddle or piston falls back.
	FlowStop = taken(Assumption{Key: "flow-stop", Dim: quantity.FlowDim, Value: 1.5 * litre / minute, Low: 0.7 * litre / minute, High: 2.5 * litre / minute, Use: []string{"service", "day"}})
	// FlowRunOn is how long a flow control runs on, by its own clock.
	FlowRunOn = taken(Assumption{Key: "flow-run-on", Dim: quantity.TimeDim, Value: 10, Low: 5, High: 20, Use: []string{"service", "day"}})
	// BatteryLeast and BatteryMost are between what a battery of which nobody tells what it stores
	// runs the pump: a box of 1 kWh that is old, and one of 5 kWh through a quiet day.
	BatteryLeast = taken(Assumption{Key: "battery-least", Dim: quantity.TimeDim, Value: hour, Low: 0.5 * hour, High: 2 * hour, Use: []string{"day", "years"},
		Settles: []string{"power.battery-stores"}})
	BatteryMost = taken(Assumption{Key: "battery-most", Dim: quantity.TimeDim, Value: 12 * hour, Low: 6 * hour, High: 24 * hour, Use: []string{"years"},
		Settles: []string{"power.battery-stores"}})
	// Idle is the share of its power at the rated point that a pump takes at no flow.
	Idle = taken(Assumption{Key: "idle-power", Dim: quantity.RatioDim, Value: 0.6, Low: 0.4, High: 0.8, Use: []string{"day"}})
	// DryStop is how long a pump runs without water before its guard stops it.
	DryStop = taken(Assumption{Key: "dry-stop", Dim: quantity.TimeDim, Value: 30, Low: 5, High: 2 * minute, Use: []string{"day"}})
	// LockWait is how long the main is weak before the pump is allowed.
	LockWait = taken(Assumption{Key: "lock-wait", Dim: quantity.TimeDim, Value: 30, Low: 5, High: 2 * minute, Use: []string{"day"}})
	// LockHold is how long the main is strong again before the pump is locked out.
	LockHold = taken(Assumption{Key: "lock-hold", Dim: quantity.TimeDim, Value: 10 * minute, Low: 1 * minute, High: 30 * minute, Use: []string{"day"}})
)

// Store, ground and water.
var (
	// ShutBelowLip is how far below the overflow's lip the float valve is set shut where the local
	// rules leave it blank.
	ShutBelowLip = taken(Assumption{Key: "shut-below-lip", Dim: quantity.LengthDim, Value: 25 * mm, Low: 10 * mm, High: 50 * mm, Use: []string{"site"}})
	// LowFloat is how far above the outlet's centre the low float of a level switch stops the pump.
	LowFloat = taken(Assumption{Key: "low-float", Dim: quantity.LengthDim, Value: 75 * mm, Low: 40 * mm, High: 150 * mm, Use: []string{"site"}})
	// AirDepth is how much sooner than out of still water a pump draws air out of a store: swirl,
	// gulps and waves.
	AirDepth = taken(Assumption{Key: "air-depth", Dim: quantity.RatioDim, Value: 2, Low: 1, High: 5, Use: []string{"site"}})
	// MeshOpen is the share of its area that fine mesh across an overflow leaves free.
	MeshOpen = taken(Assumption{Key: "mesh-open", Dim: quantity.RatioDim, Value: 0.4, Low: 0.25, High: 0.55, Use: []string{"circuit"},
		Settles: []string{"choices.store.screen"}})
	// Steep is the slope of the ground from which on an engineer is asked.
	Steep = taken(Assumption{Key: "steep", Strict: -1, Dim: quantity.RatioDim, Value: 0.2, Low: 0.1, High: 0.33, Use: []string{"base"}})
	// Decay is the rate at which chlorine goes at 20 °C in the water of the main, a day.
	Decay = taken(Assumption{Key: "chlorine-decay", Dim: quantity.RatioDim, Value: 0.5, Low: 0.1, High: 1.5, Use: []string{"years"},
		Settles: []string{"supply.chlorine-left"}, Source: "Vasconcelos, Rossman, Grayman, Boulos & Clark 1997"})
	// HotDays is by how much a hot day is warmer than the mean day of the same weeks, as a difference.
	HotDays = taken(Assumption{Key: "hot-days", Dim: quantity.TemperatureDim, Change: true, Value: 5, Low: 2, High: 8, Use: []string{"years"}})
)
