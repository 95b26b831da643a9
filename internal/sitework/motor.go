package sitework

import (
	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// Assumed figures of small single-phase pump motors: trade knowledge, recalled. The
// nameplate, once there is one, goes before all of them.
const (
	MotorEfficiency = 0.60 // shaft to input, the poor end of 0.60 to 0.75
	MotorFactor     = 0.90 // power factor, the poor end of 0.90 to 0.97
	GoodEfficiency  = 0.75
	GoodFactor      = 0.97
	DirectStart     = 10.0 // starting current to running current, switched straight on: the upper end of 5 to 10, for what must bear it
	SoftStart       = 1.5  // the same behind a speed control (1.0 to 1.5)
	CableShare      = 1.25 // current a motor circuit is laid out for
	InverterLoss    = 0.90 // efficiency of an inverter at part load
	InverterIdle    = 30.0 // W it takes with nothing running (20 to 40)
	LeadDepth       = 0.50 // share of a lead battery that may be drawn
	LithiumDepth    = 0.80 // the same of a lithium iron phosphate one
)

// MotorCurrent is the running current of a single-phase motor. [A]
var MotorCurrent = calc.Register(calc.Equation{
	Key: "motor-current", Title: "Running current of the pump's motor", Section: "Electrical",
	Formula: "I = P / (U η cos φ)",
	Result:  calc.Symbol{Name: "I", Meaning: "running current", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "P", Meaning: "shaft power of the pump", Dim: quantity.PowerDim, Unit: "W"},
		{Name: "U", Meaning: "voltage", Dim: quantity.VoltageDim, Unit: "V"},
		{Name: "η", Meaning: "efficiency of the motor", Unit: "–"},
		{Name: "cos φ", Meaning: "power factor", Unit: "–"},
	},
	Range:  "single phase, a motor with its running capacitor straight on the mains, at full shaft power; not behind a speed control, whose rectifier draws in pulses; the nameplate goes before it",
	Source: "definition of power factor and efficiency; small capacitor-run motors 0.37 to 1.1 kW: η 0.60 to 0.75, cos φ 0.90 to 0.97, trade knowledge, recalled",
	Fn:     func(a []float64) float64 { return a[0] / (a[1] * a[2] * a[3]) },
})

// StartCurrent is what the motor takes for its first second or two. [A]
var StartCurrent = calc.Register(calc.Equation{
	Key: "motor-start", Title: "Starting current", Section: "Electrical",
	Formula: "I_s = k I",
	Result:  calc.Symbol{Name: "I_s", Meaning: "starting current", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "k", Meaning: "starting to running current", Unit: "–"},
		{Name: "I", Meaning: "running current", Dim: quantity.CurrentDim, Unit: "A"},
	},
	Range:  "switched straight on 5 to 10, behind a speed control 1.0 to 1.5: the upper end counts for what must bear it",
	Source: "trade knowledge, recalled",
	Fn:     func(a []float64) float64 { return a[0] * a[1] },
})

// CircuitCurrent is what the circuit is laid out for. [A]
var CircuitCurrent = calc.Register(calc.Equation{
	Key: "motor-circuit", Title: "Current the circuit is laid out for", Section: "Electrical",
	Formula: "I_c = k_c I",
	Result:  calc.Symbol{Name: "I_c", Meaning: "current of the circuit", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "k_c", Meaning: "share kept for a motor that runs long", Unit: "–"},
		{Name: "I", Meaning: "running current", Dim: quantity.CurrentDim, Unit: "A"},
	},
	Range:  "one motor alone on its circuit; the wiring rules go before it",
	Source: "NFPA 70 (National Electrical Code) 2023, 430.22 (recalled; 125 % since the 2014 edition at least): conductors of a single motor at least 125 %",
	Fn:     func(a []float64) float64 { return a[0] * a[1] },
})

// SetCurrent is what motors alike take together. [A]
var SetCurrent = calc.Register(calc.Equation{
	Key: "motor-set", Title: "Running current of pumps that run together", Section: "Electrical",
	Formula: "I_n = n I",
	Result:  calc.Symbol{Name: "I_n", Meaning: "running current of all", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "pumps that run together", Unit: "–"},
		{Name: "I", Meaning: "running current of one", Dim: quantity.CurrentDim, Unit: "A"},
	},
	Range: "pumps alike", Source: "conservation of charge, one phase",
	Fn: func(a []float64) float64 { return a[0] * a[1] },
})

// LastStart is what a set takes while its last pump starts and the others run. [A]
var LastStart = calc.Register(calc.Equation{
	Key: "motor-set-start", Title: "Current while the last pump of a set starts", Section: "Electrical",
	Formula: "I_ns = I_s + (n − 1) I",
	Result:  calc.Symbol{Name: "I_ns", Meaning: "starting current of the set", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "I_s", Meaning: "starting current of one", Dim: quantity.CurrentDim, Unit: "A"},
		{Name: "n", Meaning: "pumps that run together", Unit: "–"},
		{Name: "I", Meaning: "running current of one", Dim: quantity.CurrentDim, Unit: "A"},
	},
	Range:  "they start one after the other: a control that starts them at once takes n I_s",
	Source: "conservation of charge, one phase",
	Fn:     func(a []float64) float64 { return a[0] + (a[1]-1)*a[2] },
})

// SetCircuit is what the feed of several motors is laid out for. [A]
var SetCircuit = calc.Register(calc.Equation{
	Key: "motor-set-circuit", Title: "Current the feed of a set is laid out for", Section: "Electrical",
	Formula: "I_nc = k_c I + (n − 1) I",
	Result:  calc.Symbol{Name: "I_nc", Meaning: "current of the feed", Dim: quantity.CurrentDim, Unit: "A"},
	Args: []calc.Symbol{
		{Name: "k_c", Meaning: "share kept for a motor that runs long", Unit: "–"},
		{Name: "I", Meaning: "running current of one", Dim: quantity.CurrentDim, Unit: "A"},
		{Name: "n", Meaning: "pumps that run together", Unit: "–"},
	},
	Range:  "motors alike and nothing else on the feed; the wiring rules go before it",
	Source: "NFPA 70 (National Electrical Code) 2023, 430.24 (recalled): 125 % of the largest motor and the sum of the others",
	Fn:     func(a []float64) float64 { return a[0]*a[1] + (a[2]-1)*a[1] },
})

// Apparent is what a source must be able to give. [W, as volt-amperes]
var Apparent = calc.Register(calc.Equation{
	Key: "apparent-power", Title: "What the source must give (volts times amperes)", Section: "Electrical",
	Formula: "S = U I",
	Result:  calc.Symbol{Name: "S", Meaning: "apparent power, in volt-amperes", Dim: quantity.PowerDim, Unit: "W"},
	Args: []calc.Symbol{
		{Name: "U", Meaning: "voltage", Dim: quantity.VoltageDim, Unit: "V"},
		{Name: "I", Meaning: "current", Dim: quantity.CurrentDim, Unit: "A"},
	},
	Range: "single phase", Source: "definition",
	Fn: func(a []float64) float64 { return a[0] * a[1] },
})

// CutEnergy is what a battery holds for one power cut. [J]
var CutEnergy = calc.Register(calc.Equation{
	Key: "cut-energy", Title: "Battery for one power cut", Section: "Electrical",
	Formula: "E = (P_p V / q + P_0 t) / (η_i d)",
	Result:  calc.Symbol{Name: "E", Meaning: "what is written on the battery", Dim: quantity.EnergyDim, Unit: "J"},
	Args: []calc.Symbol{
		{Name: "P_p", Meaning: "electrical power of the pump at its duty", Dim: quantity.PowerDim, Unit: "W"},
		{Name: "V", Meaning: "water used in the cut", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "q", Meaning: "flow at that duty", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "P_0", Meaning: "what the inverter takes idle", Dim: quantity.PowerDim, Unit: "W"},
		{Name: "t", Meaning: "length of the cut", Dim: quantity.TimeDim, Unit: "s"},
		{Name: "η_i", Meaning: "efficiency of the inverter", Unit: "–"},
		{Name: "d", Meaning: "share of the battery that may be drawn", Unit: "–"},
	},
	Range:  "pump and inverter alone, a new battery at about 25 °C; cold and age take more",
	Source: "conservation of energy; idle 20 to 40 W, lead 50 %, lithium iron phosphate 80 %: trade knowledge, recalled",
	Fn: func(a []float64) float64 {
		return (a[0]*a[1]/a[2] + a[3]*a[4]) / (a[5] * a[6])
	},
})

// Motor is what the electrician asks about a pump, and about all that run together.
type Motor struct {
	Together        int // pumps that run together
	All, LastStart  quantity.Current
	Feed            quantity.Current // of all
	Least, Running  quantity.Current // with a good and with a poor motor
	Starting        quantity.Current
	Circuit         quantity.Current
	Carries, Surges quantity.Power // volt-amperes, running and for the first two seconds
	Calc            calc.Sheet
}

// Drive works out the currents of a pump of a shaft power [W] at a voltage [V], switched
// Drive works out what a motor of a shaft power [W] takes at a voltage [V], switched
// straight on. Both must be above zero.
func Drive(power quantity.Power, voltage quantity.Voltage) Motor {
	return DriveTogether(power, voltage, 1)
}

// DriveTogether is Drive for so many pumps alike, 1 or more, that run together and start
// one after the other. What a source carries is that of all; the rest is of each.
func DriveTogether(power quantity.Power, voltage quantity.Voltage, together int) Motor {
	var m Motor
	p, u := float64(power), float64(voltage)
	m.Least = quantity.Current(m.Calc.Eval(MotorCurrent, p, u, GoodEfficiency, GoodFactor))
	m.Running = quantity.Current(m.Calc.Eval(MotorCurrent, p, u, MotorEfficiency, MotorFactor))
	m.feed(u, DirectStart, together)
	return m
}

// Plated is DriveTogether from the running current on the nameplate [A]: of the motor, or
// of the speed control it hangs on.
func Plated(plate quantity.Current, voltage quantity.Voltage, soft bool, together int) Motor {
	m := Motor{Least: plate, Running: plate}
	start := DirectStart
	if soft {
		start = SoftStart
	}
	m.feed(float64(voltage), start, together)
	return m
}

// feed works out what feeds motors of a running current that take start times as much for
// their first second.
func (m *Motor) feed(volts, start float64, together int) {
	m.Together = together
	s, i := &m.Calc, float64(m.Running)
	first := s.Eval(StartCurrent, start, i)
	m.Starting = quantity.Current(first)
	m.Circuit = quantity.Current(s.Eval(CircuitCurrent, CableShare, i))
	all, last, feed := i, first, float64(m.Circuit)
	if n := float64(together); together > 1 {
		all, last = s.Eval(SetCurrent, n, i), s.Eval(LastStart, first, n, i)
		feed = s.Eval(SetCircuit, CableShare, i, n)
	}
	m.All, m.LastStart, m.Feed = quantity.Current(all), quantity.Current(last), quantity.Current(feed)
	m.Carries = quantity.Power(s.Eval(Apparent, volts, all))
	m.Surges = quantity.Power(s.Eval(Apparent, volts, last))
}

// Cut is one power cut a battery is to bridge.
type Cut struct {
	Power quantity.Power // electrical, of the pump at its duty
	Flow  quantity.Flow  // at that duty
	Water quantity.Volume
	Time  quantity.Time
}

// Battery works out what stands on the battery for one cut, of lead and of lithium. The
// flow must be above zero.
func Battery(c Cut) (lead, lithium quantity.Energy, s calc.Sheet) {
	of := func(depth float64) quantity.Energy {
		return quantity.Energy(s.Eval(CutEnergy, float64(c.Power), float64(c.Water), float64(c.Flow), InverterIdle, float64(c.Time), InverterLoss, depth))
	}
	lead = of(LeadDepth)
	lithium = of(LithiumDepth)
	return lead, lithium, s
}
