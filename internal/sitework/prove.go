package sitework

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// What a flush takes: trade knowledge, recalled.
const (
	FlushTimes  = 10.0 // volumes of the pipe, where it does not run fast enough to scour
	FlushSpeed  = 2.0  // m/s that scours
	FlushLeast  = 60.0 // s, so that somebody can see it run clear
	LeakDrop    = 1e4  // Pa, that may be lost in LeakTime with the vessel shut off
	LeakTime    = 600  // s
	StretchTime = 1800 // s for which a plastic pipe is pumped up again
	StretchHold = 5400 // s it then holds at a third
)

// TestPressure is what new pipe is tested at. [Pa]
var TestPressure = calc.Register(calc.Equation{
	Key: "test-pressure", Title: "Test pressure", Section: "Building",
	Formula: "p_t = max(k p, p_l)",
	Result:  calc.Symbol{Name: "p_t", Meaning: "test pressure", Dim: quantity.PressureDim, Unit: "Pa"},
	Args: []calc.Symbol{
		{Name: "k", Meaning: "multiple of the local rules", Unit: "–"},
		{Name: "p", Meaning: "highest pressure in use", Dim: quantity.PressureDim, Unit: "Pa"},
		{Name: "p_l", Meaning: "least the local rules ask for, whatever the use", Dim: quantity.PressureDim, Unit: "Pa"},
	},
	Range:  "water, never air; parts rated for less are shut off or tested apart",
	Source: "The Water Supply (Water Fittings) Regulations 1999 (SI 1999/1148), schedule 2, paragraph 12: 1.5 times the highest operating pressure; a least pressure as AS/NZS 3500.1 has it",
	Fn:     func(a []float64) float64 { return math.Max(a[0]*a[1], a[2]) },
})

// FlushTime is how long an outlet runs to change its water so many times. [s]
var FlushTime = calc.Register(calc.Equation{
	Key: "flush-time", Title: "Flushing an outlet", Section: "Building",
	Formula: "t = n V / q",
	Result:  calc.Symbol{Name: "t", Meaning: "time to run", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "n", Meaning: "times the pipe's water is changed", Unit: "–"},
		{Name: "V", Meaning: "water in the pipe to the outlet", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "q", Meaning: "flow of the outlet alone", Dim: quantity.FlowDim, Unit: "m³/s"},
	},
	Range:  "and until it runs clear, whichever is longer",
	Source: "continuity; ten volumes or 2 m/s: trade knowledge, recalled",
	Fn:     func(a []float64) float64 { return a[0] * a[1] / a[2] },
})

// Flush is how one outlet is flushed.
type Flush struct {
	Volume quantity.Volume // to run
	Time   quantity.Time   // to run it, at least FlushLeast; +Inf without flow
	Calc   calc.Sheet
}

// Rinse works out how long an outlet runs whose pipe holds a volume [m³] and which gives
// a flow [m³/s].
func Rinse(pipe quantity.Volume, flow quantity.Flow) Flush {
	f := Flush{Volume: FlushTimes * pipe, Time: quantity.Time(math.Inf(1))}
	if flow <= 0 {
		return f
	}
	t := f.Calc.Eval(FlushTime, FlushTimes, float64(pipe), float64(flow))
	f.Time = quantity.Time(max(t, FlushLeast))
	return f
}

// Test works out the test pressure from the local rules' multiple and least, and the
// highest pressure in use.
func Test(multiple float64, highest, least quantity.Pressure) (quantity.Pressure, calc.Sheet) {
	var s calc.Sheet
	return quantity.Pressure(s.Eval(TestPressure, multiple, float64(highest), float64(least))), s
}
