// Package quantity holds the dimensioned values everything else speaks in.
//
// Stage: the vocabulary. It takes what people write ("3.2 bar ±0.1", "14 L/min",
// "2 h 30 min", "300 gal") and gives named SI types; it prints them back in the
// reader's units with no more digits than their spread deserves. It knows nothing
// of homes, files or engineering.
package quantity

// The named quantities. Each is held in the SI unit given; pressures are gauge.
type (
	Length      float64 // m
	Area        float64 // m²
	Volume      float64 // m³
	Pressure    float64 // Pa, gauge
	Head        float64 // m of water, at the one density StandardDensity
	Flow        float64 // m³/s
	Velocity    float64 // m/s
	Power       float64 // W
	Energy      float64 // J
	Voltage     float64 // V
	Current     float64 // A
	Mass        float64 // kg
	Time        float64 // s
	Temperature float64 // °C
	Money       float64 // in the currency of the job's price list
	Ratio       float64 // 1; written as a plain number or in %
	Dose        float64 // kg/m³; written in mg/L
	FlowFactor  float64 // m³/s at a drop of 1 bar (the trade's Kv, written in m3/h; Cv in gpm at 1 psi)
	Load        float64 // Pa: pressure of what stands on ground, floor or deck; written in kPa
)

// Dim names the dimension of a value.
type Dim uint8

// The dimensions, in the order of the types above.
const (
	NoDim Dim = iota
	LengthDim
	AreaDim
	VolumeDim
	PressureDim
	HeadDim
	FlowDim
	VelocityDim
	PowerDim
	EnergyDim
	VoltageDim
	CurrentDim
	MassDim
	TimeDim
	TemperatureDim
	MoneyDim
	RatioDim
	DoseDim
	FlowFactorDim
	LoadDim
)

// System is the set of units a job is written and read in. It settles which gallon
// is meant and which units are printed.
type System uint8

// The unit systems.
const (
	Metric   System = iota
	US              // US customary; a gallon is 3.785411784 L
	Imperial        // a gallon is 4.54609 L
)

// Basis says where a value comes from. The zero value is Assumed, so that
// forgetting to say shows.
type Basis uint8

// The bases, with the syntax that states them in a job file.
const (
	Assumed  Basis = iota // absent, or written with a trailing "?"
	Stated                // "3.2 bar"
	Measured              // "3.2 bar ±0.1"
	Derived               // worked out by us
)

// Val is one value with its spread: the only place where a value and its
// uncertainty travel together (jobs, catalogue rows and findings; engines take V alone).
type Val[T ~float64] struct {
	V     T      // value, SI
	Half  T      // half-width of the 95 % interval, SI, ≥ 0
	Basis Basis  // where it comes from
	From  string // source key of an assumed or catalogue value, or ""
}

// Quantity is a value whose dimension is known only at run time: what the field
// table, the messages and the findings pass around.
type Quantity struct {
	Dim   Dim
	SI    float64 // value in the SI unit of Dim
	Half  float64 // half-width of the 95 % interval, SI, ≥ 0; 0 when exact or unknown
	Basis Basis

	// Change is set where SI is a difference of two values, not a value: one of a temperature
	// turns into °F without the 32 of a reading.
	Change bool
	// Counted is set where SI counts things: it is printed whole, whatever its spread.
	Counted bool
	// Air is set where SI is the air over water under a mouth: less than none is said as how deep
	// the mouth is under water, never as a length below nought.
	Air bool
}

// Less returns how much q is more than other: a difference, with q's half-width, worked out by us.
func (q Quantity) Less(other Quantity) Quantity {
	return Quantity{Dim: q.Dim, SI: q.SI - other.SI, Half: q.Half, Basis: Derived, Change: true, Counted: q.Counted}
}

// Size is a trade size, which is not a length: a 25 PE pipe is 25 mm outside, a 3/4
// copper tube 22.2 mm, a 3/4 thread 26.4 mm. Only the catalogue turns it into a bore.
type Size struct {
	Family string // "PE100-SDR11", "copper-L", "multilayer", "thread"
	Mark   string // "25", "3/4", "20"
}

// String writes the size as a job file does: family, space, mark.
func (s Size) String() string {
	if s.Family == "" {
		return s.Mark
	}
	return s.Family + " " + s.Mark
}
