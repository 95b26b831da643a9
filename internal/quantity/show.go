package quantity

import "math"

// scale is how one dimension is printed in one system: the unit of ordinary values, and
// smaller and larger units for values below low or from high on [SI]. An empty name means
// that the ordinary unit serves there too.
type scale struct {
	small    string
	low      float64
	ordinary string
	high     float64
	large    string
}

var (
	metricScales = map[Dim]scale{
		LengthDim:      {"mm", 0.5, "m", 10000, "km"},
		AreaDim:        {"mm²", 0.01, "m²", 0, ""},
		VolumeDim:      {"mL", 0.001, "L", 10, "m³"},
		PressureDim:    {"kPa", 5000, "bar", 0, ""},
		HeadDim:        {"", 0, "m head", 0, ""},
		FlowDim:        {"L/h", 0.0001 / 60, "L/min", 1.0 / 60, "m³/h"},
		VelocityDim:    {"mm/s", 0.01, "m/s", 0, ""},
		PowerDim:       {"W", 500, "kW", 0, ""},
		EnergyDim:      {"Wh", 360000, "kWh", 0, ""},
		VoltageDim:     {"", 0, "V", 10000, "kV"},
		CurrentDim:     {"mA", 0.1, "A", 0, ""},
		MassDim:        {"g", 1, "kg", 10000, "t"},
		TemperatureDim: {"", 0, "°C", 0, ""},
		MoneyDim:       {"", 0, "", 0, ""},
		RatioDim:       {"%", 1, "", 0, ""},
		DoseDim:        {"µg/L", 0.00001, "mg/L", 10, "g/L"},
		FlowFactorDim:  {"", 0, "m³/h", 0, ""},
		LoadDim:        {"", 0, "kPa", 0, ""},
	}
	// customaryScales holds what US customary and imperial readers see otherwise; the
	// gallon is the reader's own.
	customaryScales = map[Dim]scale{
		LengthDim:      {"in", 0.3048, "ft", 0, ""},
		AreaDim:        {"in²", 0.3048 * 0.3048, "ft²", 0, ""},
		VolumeDim:      {"fl oz", 0.001, "gal", 0, ""},
		PressureDim:    {"", 0, "psi", 0, ""},
		HeadDim:        {"", 0, "ft head", 0, ""},
		FlowDim:        {"gph", 0.0004 / 60, "gpm", 0, ""},
		VelocityDim:    {"", 0, "ft/s", 0, ""},
		MassDim:        {"oz", 0.45359237, "lb", 0, ""},
		TemperatureDim: {"", 0, "°F", 0, ""},
		FlowFactorDim:  {"", 0, "gpm", 0, ""},
		LoadDim:        {"", 0, "lb/ft²", 0, ""},
	}
)

// scaleOf returns the scale of a dimension in a system.
func scaleOf(d Dim, sys System) scale {
	if sys != Metric {
		if s, ok := customaryScales[d]; ok {
			return s
		}
	}
	return metricScales[d]
}

// shown chooses the unit q is printed in, by its size without its sign and before
// rounding. Nought is printed in the ordinary unit.
//
// Metric: mm below 0.5 m, m, km from 10 km; mL below 1 L, L, m³ from 10 m³; kPa below
// 0.05 bar, bar; L/h below 0.1 L/min, L/min, m³/h from 1000 L/min. US and imperial: in
// below 1 ft, ft; fl oz below 1 L, gal; psi; gph below 0.4 L/min, gpm. Time everywhere:
// s below 2 min, min below 2 h, h below 2 d, d. A ratio below 1 is in %.
func shown(q Quantity, sys System) *unit {
	size := math.Abs(q.SI)
	if q.Dim == TimeDim {
		return unitNamed(TimeDim, timeUnit(size), sys)
	}
	s := scaleOf(q.Dim, sys)
	name := s.ordinary
	switch {
	case size == 0:
	case size < s.low:
		name = s.small
	case s.high > 0 && size >= s.high:
		name = s.large
	}
	return unitNamed(q.Dim, name, sys)
}

// timeUnit returns the unit a span of t seconds is printed in.
func timeUnit(t float64) string {
	switch {
	case t < 120:
		return "s"
	case t < 2*3600:
		return "min"
	case t < 2*86400:
		return "h"
	}
	return "d"
}

// unitNamed returns the unit printed as name. It panics when the table has none, which
// is our own fault.
func unitNamed(d Dim, name string, sys System) *unit {
	for _, u := range units() {
		if u.dim != d {
			continue
		}
		if len(u.bare) > 0 {
			if u.of == sys && u.bare[0] == name {
				return u
			}
			continue
		}
		if u.names[0] == name {
			return u
		}
	}
	panic("quantity: no unit " + name + " of " + d.Key())
}
