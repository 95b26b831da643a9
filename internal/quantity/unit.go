package quantity

import (
	"math/big"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// StandardDensity is the one density [kg/m³] and StandardGravity the one acceleration
// [m/s²] at which a head of water and a pressure stand for each other:
// 1 m head = 9806.65 Pa. It is the "conventional" water column of NIST SP 811 (2008),
// Appendix B.8, chosen because a written value must not change with the temperature of
// the water; engines that need the true density work with it themselves.
const (
	StandardDensity = 1000.0
	StandardGravity = 9.80665
)

// unit is one unit of one dimension: SI = (number + shift) × factor.
//
// Factors are exact. Sources: NIST SP 811 (2008), Appendix B.8 and B.9; the inch, pound
// and US gallon are exact by definition there, the imperial gallon (4.54609 L) by the
// UK Units of Measurement Regulations 1995.
type unit struct {
	dim    Dim
	names  []string // what people write, the printed one first
	factor *big.Rat // shared between units, never changed
	shift  *big.Rat // likewise
	per    float64  // factor, nearest float
	offset float64  // shift, nearest float
	// A unit with several sizes of one name: the bare names mean this one only where
	// the job's system is of.
	bare []string
	of   System
}

// Exact factors that several units share.
const (
	inch      = "0.0254"
	foot      = "0.3048"
	pound     = "0.45359237"
	usGallon  = "0.003785411784"
	impGallon = "0.00454609"
	headMetre = "9806.65" // StandardDensity × StandardGravity
	psi       = pound + "*9.80665/" + inch + "/" + inch
	// A valve coefficient in gallons a minute at 1 psi is one at 1 bar times
	// √(1 bar / 1 psi): the flow through a fixed opening goes with the root of the drop
	// (IEC 60534-1). The root is irrational; it is given here to 32 digits.
	rootBarPerPSI = "3.8083820413688700088437421701011"
)

// units is the whole table, in the order of the dimensions; small before large. It is
// made when it is first asked for: a command need not wait for it to start.
var units = sync.OnceValue(buildUnits)

func buildUnits() []*unit {
	var t []*unit
	factors := map[string]*big.Rat{}
	zero := new(big.Rat)
	add := func(d Dim, factor string, names ...string) *unit {
		if factors[factor] == nil {
			factors[factor] = product(factor)
		}
		u := &unit{dim: d, names: names, factor: factors[factor], shift: zero}
		u.per, _ = u.factor.Float64()
		t = append(t, u)
		return u
	}
	addPlain(add)
	addPressures(add)
	addGallons(add)

	add(TemperatureDim, "1", "°C", "℃", "ºC", "C", "degC", "deg C")
	f := add(TemperatureDim, "5/9", "°F", "℉", "ºF", "F", "degF", "deg F")
	f.shift = big.NewRat(-32, 1)
	f.offset = -32
	return t
}

// addFunc adds one unit to the table.
type addFunc func(d Dim, factor string, names ...string) *unit

// addPlain adds the units that mean the same everywhere. It is one table, so one piece.
func addPlain(add addFunc) {
	add(LengthDim, "0.001", "mm", "millimetre", "millimetres", "millimeter", "millimeters")
	add(LengthDim, "0.01", "cm")
	add(LengthDim, inch, "in", "inch", "inches", `"`, "″", "in.")
	add(LengthDim, foot, "ft", "foot", "feet", "'", "′", "ft.")
	add(LengthDim, foot+"*3", "yd", "yard", "yards")
	add(LengthDim, "1", "m", "metre", "metres", "meter", "meters")
	add(LengthDim, "1000", "km")

	add(AreaDim, "0.000001", "mm²", "mm2")
	add(AreaDim, "0.0001", "cm²", "cm2")
	add(AreaDim, inch+"*"+inch, "in²", "in2", "sq in")
	add(AreaDim, foot+"*"+foot, "ft²", "ft2", "sq ft")
	add(AreaDim, "1", "m²", "m2", "sq m")

	add(VolumeDim, "0.000001", "mL", "ml", "cm³", "cm3")
	add(VolumeDim, "0.00001", "cL", "cl")
	add(VolumeDim, "0.001", "L", "l", "ℓ", "litre", "litres", "liter", "liters", "dm³", "dm3")
	add(VolumeDim, inch+"*"+inch+"*"+inch, "in³", "in3", "cu in")
	add(VolumeDim, foot+"*"+foot+"*"+foot, "ft³", "ft3", "cu ft")
	add(VolumeDim, "1", "m³", "m3", "cu m")

	for _, d := range []Dim{FlowDim, FlowFactorDim} {
		add(d, "0.000001/60", "mL/min", "ml/min")
		add(d, "0.000001", "mL/s", "ml/s")
		add(d, "0.001/3600", "L/h", "l/h", "L/hr", "l/hr", "lph")
		add(d, "0.001/60", "L/min", "l/min", "lpm", "litres/min", "liters/min")
		add(d, "0.001", "L/s", "l/s", "lps")
		add(d, "1/3600", "m³/h", "m3/h", "m³/hr", "m3/hr")
		add(d, "1", "m³/s", "m3/s")
	}
	add(FlowDim, "0.001/86400", "L/d", "l/d", "L/day", "l/day")
	add(FlowDim, "1/86400", "m³/d", "m3/d", "m³/day", "m3/day")

	add(VelocityDim, "0.001", "mm/s")
	add(VelocityDim, foot, "ft/s", "fps")
	add(VelocityDim, "1/3.6", "km/h")
	add(VelocityDim, "1609.344/3600", "mph")
	add(VelocityDim, "1", "m/s")

	add(PowerDim, "1", "W", "watt", "watts")
	add(PowerDim, "1055.05585262/3600", "Btu/h", "BTU/h", "BTU/hr", "Btu/hr")
	add(PowerDim, "550*"+foot+"*"+pound+"*9.80665", "hp", "HP", "horsepower")
	add(PowerDim, "1000", "kW")

	add(EnergyDim, "1", "J")
	add(EnergyDim, "1000", "kJ")
	add(EnergyDim, "1055.05585262", "Btu", "BTU")
	add(EnergyDim, "3600", "Wh", "W h")
	add(EnergyDim, "1000000", "MJ")
	add(EnergyDim, "3600000", "kWh", "kW h")

	add(VoltageDim, "1", "V", "volt", "volts")
	add(VoltageDim, "1000", "kV")
	add(CurrentDim, "0.001", "mA")
	add(CurrentDim, "1", "A", "amp", "amps")

	add(MassDim, "0.000001", "mg")
	add(MassDim, "0.001", "g", "gram", "grams")
	add(MassDim, pound+"/16", "oz", "ounce", "ounces")
	add(MassDim, pound, "lb", "lbs", "pound", "pounds")
	add(MassDim, "1", "kg", "kilo", "kilos")
	add(MassDim, "1000", "t", "tonne", "tonnes")

	add(TimeDim, "1", "s", "sec", "second", "seconds")
	add(TimeDim, "60", "min", "mins", "minute", "minutes")
	add(TimeDim, "3600", "h", "hr", "hrs", "hour", "hours")
	add(TimeDim, "86400", "d", "day", "days")
	add(TimeDim, "604800", "week", "weeks", "wk")

	add(MoneyDim, "1", "")
	add(RatioDim, "0.01", "%", "percent", "per cent")
	add(RatioDim, "1", "")

	add(DoseDim, "0.000001", "µg/L", "μg/L", "ug/L", "µg/l", "ug/l")
	// 1 ppm is 1 mg in 1 kg of water, which at StandardDensity is 1 L.
	add(DoseDim, "0.001", "mg/L", "mg/l", "g/m³", "g/m3", "ppm")
	add(LoadDim, "1", "Pa")
	add(LoadDim, pound+"*9.80665/"+foot+"/"+foot, "lb/ft²", "lb/ft2", "psf")
	add(LoadDim, "1000", "kPa", "kN/m²", "kN/m2")
	add(LoadDim, psi, "psi", "lb/in²", "lb/in2")
	add(LoadDim, "98066.5", "kgf/cm²", "kgf/cm2")
	add(LoadDim, "100000", "bar", "bars")
	add(LoadDim, "1000000", "MPa")

	add(DoseDim, "1", "g/L", "g/l", "kg/m³", "kg/m3")
}

// addPressures adds the units of pressure and of head, each of which reads both.
func addPressures(add addFunc) {
	for _, d := range []Dim{PressureDim, HeadDim} {
		per := ""
		if d == HeadDim {
			per = "/" + headMetre
			add(d, "0.001", "mm head", "mm", "mm water")
			add(d, foot, "ft head", "ft of head", "ft water", "ft of water", "ft", "foot", "feet")
			add(d, "1", "m head", "m of head", "m water", "m of water", "m", "metre", "metres", "meter", "meters")
		} else {
			add(d, headMetre+"*"+foot, "ft head", "ft of head", "ft water", "ft of water")
			add(d, headMetre, "m head", "m of head", "m water", "m of water")
			add(d, headMetre+"/1000", "mm head", "mm water")
		}
		add(d, "1"+per, "Pa")
		add(d, "100"+per, "mbar")
		add(d, "1000"+per, "kPa")
		add(d, psi+per, "psi", "psig", "lb/in²", "lb/in2")
		add(d, "98066.5"+per, "kgf/cm²", "kgf/cm2", "kg/cm²", "kg/cm2")
		add(d, "100000"+per, "bar", "bars")
		add(d, "1000000"+per, "MPa")
	}
}

// addGallons adds the units that have a US and an imperial size.
func addGallons(add addFunc) {
	for _, g := range []struct {
		of     System
		gallon string
		ounces string // fluid ounces in a gallon
		marks  []string
	}{
		{US, usGallon, "128", []string{"US", "us", "U.S."}},
		{Imperial, impGallon, "160", []string{"imperial", "imp", "UK", "Imp"}},
	} {
		two := func(d Dim, factor string, bare ...string) {
			u := add(d, factor, marked(bare, g.marks)...)
			u.bare, u.of = bare, g.of
		}
		two(VolumeDim, g.gallon+"/"+g.ounces, "fl oz")
		two(VolumeDim, g.gallon+"/8", "pt", "pint", "pints")
		two(VolumeDim, g.gallon+"/4", "qt", "quart", "quarts")
		two(VolumeDim, g.gallon, "gal", "gallon", "gallons", "gal.")
		two(FlowDim, g.gallon+"/86400", "gpd", "gal/d", "gal/day")
		two(FlowDim, g.gallon+"/3600", "gph", "gal/h", "gal/hr")
		two(FlowDim, g.gallon+"/60", "gpm", "gal/min")
		two(FlowFactorDim, g.gallon+"/60*"+rootBarPerPSI, "gpm", "gal/min")
	}
}

// marked returns every bare name with every mark, as in "gal (US)" and "US gal".
func marked(bare, marks []string) []string {
	var names []string
	for _, b := range bare {
		for _, m := range marks {
			names = append(names, b+" ("+m+")", b+"("+m+")", m+" "+b, b+" "+m)
		}
	}
	return names
}

// product evaluates "a*b/c" exactly. The text is our own table: a fault in it panics.
func product(text string) *big.Rat {
	r := big.NewRat(1, 1)
	for _, term := range strings.SplitAfter(strings.ReplaceAll(text, "/", "*/"), "*") {
		term = strings.TrimSuffix(term, "*")
		inverse := strings.HasPrefix(term, "/")
		x, ok := new(big.Rat).SetString(strings.TrimPrefix(term, "/"))
		if !ok {
			panic("quantity: factor " + text + ": not a product of numbers")
		}
		if inverse {
			x.Inv(x)
		}
		r.Mul(r, x)
	}
	return r
}

// name is one spelling with the units it may stand for.
type name struct {
	text  string
	runes []rune
	units []*unit
}

// spellings holds every name once under its first letter in lower case, the longest
// first, so that the first one that fits a text is the right one: "m3/h" before "m3"
// before "m".
var spellings = sync.OnceValue(buildSpellings)

func buildSpellings() map[rune][]name {
	at := make(map[string]int, 512) // of the list
	list := make([]name, 0, 512)
	for _, u := range units() {
		for _, names := range [2][]string{u.names, u.bare} {
			for _, text := range names {
				if text == "" {
					continue
				}
				n, known := at[text]
				if !known {
					n = len(list)
					at[text] = n
					list = append(list, name{text: text, runes: []rune(text)})
				}
				list[n].units = append(list[n].units, u)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b name) int { return len(b.runes) - len(a.runes) })
	under := make(map[rune][]name, 64)
	for _, n := range list {
		first := unicode.ToLower(n.runes[0])
		under[first] = append(under[first], n)
	}
	return under
}

// si returns the value of number n of this unit, exactly.
func (u *unit) si(n *big.Rat) *big.Rat {
	r := new(big.Rat).Add(n, u.shift)
	return r.Mul(r, u.factor)
}

// span returns the size of a difference of n of this unit, exactly: no shift.
func (u *unit) span(n *big.Rat) *big.Rat { return new(big.Rat).Mul(n, u.factor) }

// number returns how many of this unit an SI value is.
func (u *unit) number(si float64) float64 { return si/u.per - u.offset }

// isBare reports whether n is a name of u that only the job's system settles.
func (u *unit) isBare(n string) bool {
	for _, b := range u.bare {
		if b == n {
			return true
		}
	}
	return false
}
