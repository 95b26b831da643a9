// Package catalogue holds cited tables: pipes, fittings, valves, meters, floats, stores,
// pumps, vessels, outlets, heaters and the local-rules profiles.
//
// Stage: beside the job. It takes embedded CSV, each row with a source key and a
// certainty (a row without them is refused), merges a user's own CSV over it, and gives
// typed rows. It knows nothing of jobs.
package catalogue

import "tideover/internal/quantity"

// Certainty says how far a row can be trusted.
type Certainty uint8

// The certainties, weakest first. The zero value is Recalled: an editable default.
const (
	Recalled  Certainty = iota // trade knowledge, not seen at a source; shown as such
	Worked                     // worked out here from first equations
	Secondary                  // seen quoted in a secondary text
	Checked                    // seen at the source named
)

// Row is what every catalogue row carries.
type Row struct {
	Key       string // unique in its table
	Words     string // what a merchant calls it, generic: "ball valve, full bore"
	Source    string // key into Sources
	Certainty Certainty
}

// Ref returns the row itself: every item can say where it comes from.
func (r Row) Ref() Row { return r }

// Item is any catalogue row.
type Item interface{ Ref() Row }

type (
	// Pipe is one trade size of one pipe family.
	Pipe struct {
		Row
		Size      quantity.Size
		Thread    string // thread mark its usual adapter offers
		Joint     string // how its fittings hold it: "compression", "press", "solder"
		Outside   quantity.Length
		Bore      quantity.Length
		Roughness quantity.Length
		Rating    quantity.Pressure // at 20 °C
		Hot       quantity.Pressure // of hot water; 0: as cold
		Stock     quantity.Length   // length it is sold in; coils too
		Clip      quantity.Length   // horizontal support spacing
		Indoors   bool              // may carry drinking water above ground indoors
	}
	// Fitting is a loss on a run: K = K1/Re + Kinf (1 + 25.4 mm/bore) on its own bore (two-K form).
	Fitting struct {
		Row
		Kind     string // "elbow", "tee-run", "tee-branch", "adapter", "bush", "nipple", "entry", "exit"
		Family   string // pipe family it belongs to, or "" for any
		Mark     string // pipe mark it belongs to, or "" for any; a bush's larger thread
		Thread   string // an adapter's thread; a bush's smaller thread
		K1, Kinf float64
		K        float64         // loss that does not follow the bore; Strung turns it into Kinf
		Insert   quantity.Length // bore the loss was worked out from: the insert, a bush's smaller bore; 0 for none
	}
	// Valve is a hand valve, three-way valve, meter or strainer: a part with a flow factor when open.
	Valve struct {
		Row
		Kind   string // "ball", "screw-down", "gate", "angle", "three-way", "spool", "isolator", "meter", "strainer", "drain"
		Size   quantity.Size
		Kv     quantity.FlowFactor
		Rating quantity.Pressure
	}
	// NonReturn is a non-return valve or backflow assembly.
	NonReturn struct {
		Row
		Kind   string // "single", "double", "reduced-pressure"
		Size   quantity.Size
		Kv     quantity.FlowFactor
		Opens  quantity.Head // head at which it begins to open
		Rating quantity.Pressure
	}
	// Regulator is a pressure regulator (a reducing valve): it holds its outlet at what its
	// spring is set to, less a fall in proportion to the flow.
	Regulator struct {
		Row
		Size        quantity.Size
		Kv          quantity.FlowFactor // fully open
		Least, Most quantity.Pressure   // it can be set to
		Flow        quantity.Flow       // that it is made for
		Fall        quantity.Pressure   // of its outlet at that flow
		Rating      quantity.Pressure   // of its inlet
	}
	// Float is a float valve: its seat sets the flow.
	Float struct {
		Row
		Size   quantity.Size
		Seat   quantity.Length
		Kv     quantity.FlowFactor
		Band   quantity.Length // level band in which it closes
		Opens  quantity.Length // delayed action: shut until the level has fallen so far, then full open until it is full; 0: it follows the level
		Rating quantity.Pressure
	}
	// Store is a tank.
	Store struct {
		Row
		Size     quantity.Size // of the outlet's thread
		Nominal  quantity.Volume
		Diameter quantity.Length
		Height   quantity.Length // base to lid
		Inlet    quantity.Length // base to the float valve's mouth
		Overflow quantity.Length // base to the overflow's lip
		Outlet   quantity.Length // base to the outlet's centre: water below it stays
		Mass     quantity.Mass   // empty

		OverflowBore quantity.Length // of the overflow to drill into a new one; 0 when the row does not say
	}
	// Pump is a generic pump: H = A − B q − C q² from three points.
	Pump struct {
		Row
		Kind     string         // "jet", "multistage", "peripheral"
		Size     quantity.Size  // of its threads
		Power    quantity.Power // shaft
		Shutoff  quantity.Head  // at no flow
		Q1, Q2   quantity.Flow
		H1, H2   quantity.Head
		NPSH     quantity.Head     // required at Q1
		Wire     float64           // wire-to-water efficiency at Q1, 0..1
		Starts   float64           // starts an hour allowed
		HeadBand float64           // half-width of the head as a share, 0..1
		Rating   quantity.Pressure // of the casing
	}
	// Vessel is a pressure vessel.
	Vessel struct {
		Row
		Size   quantity.Size
		Volume quantity.Volume
		Rating quantity.Pressure
	}
	// Outlet is a kind of draw-off: an orifice q = c √h, up to Limit where a regulator holds it.
	Outlet struct {
		Row
		Kind     string            // "shower", "basin", "kitchen", "wc", "bath", "washing-machine", "garden"
		At3Bar   quantity.Flow     // flow at 3 bar: sets c
		Limit    quantity.Flow     // regulator; 0 for none
		Need     quantity.Flow     // least flow that serves
		Design   quantity.Flow     // draw-off flow it is sized for
		Pressure quantity.Pressure // least pressure that serves
		Units    float64           // loading units
	}
	// Heater is a kind of water heater.
	Heater struct {
		Row
		Kind   string // "storage-pressure", "storage-vented", "instant-gas", "electric-shower"
		Size   quantity.Size
		Rating quantity.Pressure   // 0: vented, takes no pressure beyond its own head
		Kv     quantity.FlowFactor // water through it
		Least  quantity.Flow       // flow below which it does not light or switch on; 0 for none
	}
	// Control is a device that starts and stops a pump.
	Control struct {
		Row
		Kind   string // "pressure-switch", "flow-control", "speed-control", "lock-out", "cut-out"
		Size   quantity.Size
		Rating quantity.Pressure
	}
	// Use is one way a home draws water: how often, how much, how fast, when.
	Use struct {
		Row
		Kind    string  // of the outlet it is drawn at; "" for what runs by itself
		Group   string  // "person", "home", "outside", "steady"
		PerDay  float64 // draws a day of a person or of the home
		Volume  quantity.Volume
		Flow    quantity.Flow
		Swing   float64 // 0..1 of the rate, by the season
		Hours   [24]float64
		Weekend [24]float64

		VolumeSpread, FlowSpread float64    // coefficients of variation
		Keep, Less               [2]float64 // share of the draws and of a draw's water left when people are careful, and hard put
	}
	// Together is one point of the curve from loading units to design flow.
	Together struct {
		Row
		Units float64
		Flow  quantity.Flow
	}
)

// Sundry is a thing that is bought with the rest and carries no water in the plan.
type Sundry struct{ Row }

// Catalogue is every table, keyed by row key (pipes by size).
type Catalogue struct {
	Pipes      map[quantity.Size]Pipe
	Fittings   map[string]Fitting
	Valves     map[string]Valve
	NonReturns map[string]NonReturn
	Regulators map[string]Regulator
	Floats     map[string]Float
	Stores     map[string]Store
	Pumps      map[string]Pump
	Vessels    map[string]Vessel
	Joints     map[quantity.Size]Joint
	Soils      map[string]Soil    // by the job's place.ground
	Elastic    map[string]Elastic // by pipe family
	Outlets    map[string]Outlet
	Heaters    map[string]Heater
	Controls   map[string]Control
	Sundries   map[string]Sundry
	Uses       map[string]Use
	Together   map[string]Together // the simultaneity curve
	Profiles   map[string]Profile
	Sources    map[string]string // source key → full citation

	kinds map[string][]*Fitting // by kind, in the order of their keys; nil: not listed yet
}
