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
		Outside   quantity.Length
		Bore      quantity.Length
		Roughness quantity.Length
		Rating    quantity.Pressure // at 20 °C
		Stock     quantity.Length   // length it is sold in; coils too
		Clip      quantity.Length   // horizontal support spacing
		Indoors   bool              // may carry drinking water above ground indoors
	}
	// Fitting is a loss on a run: K = K1/Re + Kinf (1 + 25.4 mm/bore) on its own bore (two-K form).
	Fitting struct {
		Row
		Kind     string // "elbow", "tee-run", "tee-branch", "coupling", "entry", "exit"
		Family   string // pipe family it belongs to, or "" for any
		K1, Kinf float64
	}
	// Valve is a hand valve, three-way valve, meter or strainer: a part with a flow factor when open.
	Valve struct {
		Row
		Kind   string // "ball", "gate", "three-way", "meter", "strainer"
		Size   quantity.Size
		Kv     quantity.FlowFactor
		Rating quantity.Pressure
	}
	// NonReturn is a non-return valve or backflow assembly.
	NonReturn struct {
		Row
		Kind   string // "single", "double", "spring"
		Size   quantity.Size
		Kv     quantity.FlowFactor
		Opens  quantity.Head // head at which it begins to open
		Rating quantity.Pressure
	}
	// Float is a float valve: its seat sets the flow.
	Float struct {
		Row
		Size   quantity.Size
		Seat   quantity.Length
		Kv     quantity.FlowFactor
		Band   quantity.Length // level band in which it closes
		Rating quantity.Pressure
	}
	// Store is a tank.
	Store struct {
		Row
		Nominal  quantity.Volume
		Diameter quantity.Length
		Height   quantity.Length // base to lid
		Inlet    quantity.Length // base to the float valve's mouth
		Overflow quantity.Length // base to the overflow's lip
		Outlet   quantity.Length // base to the outlet's centre: water below it stays
		Mass     quantity.Mass   // empty
	}
	// Pump is a generic pump: H = A − B q − C q² from three points.
	Pump struct {
		Row
		Kind     string         // "jet", "multistage", "peripheral"
		Power    quantity.Power // shaft
		Shutoff  quantity.Head  // at no flow
		Q1, Q2   quantity.Flow
		H1, H2   quantity.Head
		NPSH     quantity.Head // required at Q1
		Wire     float64       // wire-to-water efficiency at Q1, 0..1
		Starts   float64       // starts an hour allowed
		HeadBand float64       // half-width of the head as a share, 0..1
	}
	// Vessel is a pressure vessel.
	Vessel struct {
		Row
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
		Pressure quantity.Pressure // least pressure that serves
		Units    float64           // loading units
	}
	// Heater is a kind of water heater.
	Heater struct {
		Row
		Kind   string            // "storage-pressure", "storage-vented", "instant-gas", "none"
		Rating quantity.Pressure // 0: vented, takes no pressure beyond its own head
	}
)

// Catalogue is every table, keyed by row key (pipes by size).
type Catalogue struct {
	Pipes      map[quantity.Size]Pipe
	Fittings   map[string]Fitting
	Valves     map[string]Valve
	NonReturns map[string]NonReturn
	Floats     map[string]Float
	Stores     map[string]Store
	Pumps      map[string]Pump
	Vessels    map[string]Vessel
	Outlets    map[string]Outlet
	Heaters    map[string]Heater
	Profiles   map[string]Profile
	Sources    map[string]string // source key → full citation
}
