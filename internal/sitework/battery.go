package sitework

import (
	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// BatteryTime is how long a battery runs a pump that serves a home at a mean draw: CutEnergy solved
// for the time, with V = Q t. [s]
var BatteryTime = calc.Register(calc.Equation{
	Key: "battery-time", Title: "How long a battery runs the pump", Section: "Electrical",
	Formula: "t = E η_i d / (P_p Q / q + P_0)",
	Result:  calc.Symbol{Name: "t", Meaning: "time it runs the pump", Dim: quantity.TimeDim, Unit: "s"},
	Args: []calc.Symbol{
		{Name: "E", Meaning: "what is written on the battery", Dim: quantity.EnergyDim, Unit: "J"},
		{Name: "η_i", Meaning: "efficiency of the inverter", Unit: "–"},
		{Name: "d", Meaning: "share of the battery that may be drawn", Unit: "–"},
		{Name: "P_p", Meaning: "electrical power of the pump while it runs", Dim: quantity.PowerDim, Unit: "W"},
		{Name: "Q", Meaning: "water the home draws, on the mean", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "q", Meaning: "flow at which the pump gives it", Dim: quantity.FlowDim, Unit: "m³/s"},
		{Name: "P_0", Meaning: "what the inverter takes idle", Dim: quantity.PowerDim, Unit: "W"},
	},
	Range:  "Q ≤ q; pump and inverter alone, a new battery at about 25 °C; cold and age take more",
	Source: "conservation of energy; idle 20 to 40 W, lead 50 %, lithium iron phosphate 80 %: trade knowledge, recalled",
	Fn: func(a []float64) float64 {
		return a[0] * a[1] * a[2] / (a[3]*a[4]/a[5] + a[6])
	},
})

// Lasts is how long a battery of so much on its label runs a pump of a power at a flow [W, m³/s] that
// gives a mean draw [m³/s], of which a share may be drawn (LeadDepth, LithiumDepth).
func Lasts(label quantity.Energy, depth float64, power, flow, draw float64) quantity.Time {
	return quantity.Time(BatteryTime.Fn([]float64{float64(label), InverterLoss, depth, power, draw, flow, InverterIdle}))
}
