package catalogue

import "tideover/internal/quantity"

// unit is what a column or a rule may be written in.
type unit struct {
	dim    quantity.Dim
	factor float64 // to SI
}

// units are the unit names of columns and rules. A pump's starts stay "an hour".
var units = map[string]unit{
	"":       {quantity.NoDim, 1},
	"1/h":    {quantity.NoDim, 1},
	"%":      {quantity.RatioDim, 0.01},
	"mm":     {quantity.LengthDim, 1e-3},
	"m":      {quantity.LengthDim, 1},
	"in":     {quantity.LengthDim, 0.0254},
	"ft":     {quantity.LengthDim, 0.3048},
	"L":      {quantity.VolumeDim, 1e-3},
	"m3":     {quantity.VolumeDim, 1},
	"us-gal": {quantity.VolumeDim, 3.785411784e-3},
	"bar":    {quantity.PressureDim, 1e5},
	"kPa":    {quantity.PressureDim, 1e3},
	"GPa":    {quantity.PressureDim, 1e9},
	"psi":    {quantity.PressureDim, 6894.757293168},
	"L/s":    {quantity.FlowDim, 1e-3},
	"L/min":  {quantity.FlowDim, 1e-3 / 60},
	"us-gpm": {quantity.FlowDim, 3.785411784e-3 / 60},
	"m3/h":   {quantity.FlowFactorDim, 1.0 / 3600},
	"m/s":    {quantity.VelocityDim, 1},
	"kW":     {quantity.PowerDim, 1e3},
	"kg":     {quantity.MassDim, 1},
	"s":      {quantity.TimeDim, 1},
	"min":    {quantity.TimeDim, 60},
	"h":      {quantity.TimeDim, 3600},
	"d":      {quantity.TimeDim, 86400},
	"mg/L":   {quantity.DoseDim, 1e-3},
}

// isDim reports whether u may stand in a column of dimension d. A head is written in
// metres and a share in % or as a plain number.
func (u unit) isDim(d quantity.Dim) bool {
	switch {
	case u.dim == d, d == quantity.HeadDim && u.dim == quantity.LengthDim:
		return true
	}
	return d == quantity.RatioDim && u.dim == quantity.NoDim && u.factor == 1
}
