// Package assembly lays out what will physically be built: every part and pipe run,
// joined port to port, each with a tag that is given once and used everywhere.
//
// Stage: job and catalogue in, Assembly out. It decides topology, sizes and heights; it
// computes no flow. Arrangements are small functions that compose legs of parts.
package assembly

import (
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// Kind is what a part is.
type Kind string

// The kinds of part. A pipe run is a part like any other.
const (
	Main       Kind = "main"       // the public main at the meter: where the job begins
	Meter      Kind = "meter"      //
	HandValve  Kind = "hand-valve" // open or shut by hand
	Isolator   Kind = "isolator"   // a valve locked open, with a drain of its own, at a vessel: shut only while its charge is read
	ThreeWay   Kind = "three-way"  // one handle, two ways in: ports a (main), b (store), c (home)
	Spool      Kind = "spool"      // a piece of pipe out in every setting but one: lies by until somebody fits it
	NonReturn  Kind = "non-return" // also a backflow assembly
	Strainer   Kind = "strainer"
	Run        Kind = "run"         // a length of pipe with its fittings
	Tee        Kind = "tee"         // one port in, the others out; also the home's header
	Regulator  Kind = "regulator"   // holds the pressure at its outlet
	FloatValve Kind = "float-valve" // ports in and mouth; the mouth is joined to nothing: the air gap
	Store      Kind = "store"       // ports outlet…; its inlet is the air under a float valve's mouth
	Pump       Kind = "pump"
	Vessel     Kind = "vessel" // one port
	Switch     Kind = "switch" // pressure switch or sensor; one port
	Heater     Kind = "heater"
	Outlet     Kind = "outlet" // one port; opens to the air at its height
	Drain      Kind = "drain"  // hand valve to the air, shut in every setting; one port
)

// Role is the leg of the arrangement a part belongs to; the schematic lays legs out by it.
type Role string

// The roles, street to home.
const (
	Service  Role = "service"  // main to the tee-off
	Feed     Role = "feed"     // tee-off to the float valve
	Storage  Role = "store"    // the stores and what links them
	Boost    Role = "boost"    // store outlet through the pump to the changeover
	MainLeg  Role = "main-leg" // tee-off straight to the changeover
	BypassBy Role = "by-pass"  // the hand by-pass round the changeover
	HomeRole Role = "home"     // changeover to the outlets
)

// Part is one piece: a valve, a pump, a run of pipe.
type Part struct {
	Tag     string // V1 (hand valve, isolator), N2, U1 (strainer), G1 (regulator), R3, F1, S1, P1, E1 (vessel), C1 (switch or controller), T1, W1 (three-way), L1 (spool), M1, H1, D1; the main is MAIN, outlets keep the job's tag
	Kind    Kind
	Role    Role
	Purpose Purpose        // what it is for: its identity among its kind
	Row     catalogue.Item // the catalogue row it is made from; nil for tees, the main and a header
	Size    quantity.Size
	Ports   []Port
	Ways    []Way // hand valves and three-way valves: which ports a position joins

	Length   quantity.Length   // runs
	Fittings []Fitting         // strung on a run; on a dead end, the bush it needs
	Count    int               // identical pieces joined side by side (stores); 0 counts as 1
	Kept     bool              // already there and kept: not bought
	Path     string            // job path that lists it, of a part listed freely; else ""
	Spill    Spill             // how a store lets off what it cannot hold
	Set      quantity.Pressure // what a regulator holds at its outlet with nothing drawn
	Under    bool              // an outlet whose mouth lies under water: a hose in a bucket
}

// Fitting is so many of one catalogue fitting on a run.
type Fitting struct {
	Row   catalogue.Fitting
	Count int
}

// Port is where a part meets another.
type Port struct {
	Name string // "in", "out", "a", "b", "c", "mouth", "outlet", "1"…
	Size quantity.Size
	End  string          // "compression", "press", "solder", "thread"; "open" to the air, "capped" not used
	Z    quantity.Length // height above the ground at the meter
}

// Way says which two ports a position of a hand-turned part joins; a position with no
// way joins nothing. "between" of a three-way valve lists both ways.
type Way struct {
	Position string // "open", "shut", "main", "store", "between", "in", "out"
	A, B     int    // ports
}

// End names one port of one part by index.
type End struct{ Part, Port int }

// Join is two ports that meet. A port meets at most one other.
type Join struct{ A, B End }

// Setting is a position for every hand-turned part, by tag.
type Setting struct {
	Name      string // "on-main", "on-store"…; message id "setting.<name>"
	Positions map[string]string
}

// Control is an automatic device that decides whether the pump may run.
type Control struct {
	Tag    string // of the switch or controller part
	Kind   ControlKind
	Senses End               // where it feels the pressure
	Acts   string            // tag of the pump, of several all
	On     quantity.Pressure // it calls for (or, a lock-out, allows) the pump below this; a cut-out allows it above
	Off    quantity.Pressure // it stops (locks out) the pump above this; a cut-out below; set pressure of a speed control
}

// Assembly is the whole: parts in order from street to home, joined.
type Assembly struct {
	Arrangement string
	Joined      bool // some pipe can join stored water and the main
	Parts       []Part
	Joins       []Join
	Settings    []Setting // the named ones; the first is the normal one
	Controls    []Control
	Sets        []Set    // of several pumps side by side, each with its valves; nil for one pump or none
	Together    int      // pumps of a set that run at once when much is drawn; 0 counts as 1
	Unplaced    []string // existing parts to be kept that have no place in this arrangement
	Assumed     assume.Values

	sides Sides  // of a whole layout: asked for again and again
	hots  []bool // of a whole layout: what carries hot water, see hot
}

// Index returns the position of the part with the given tag, or −1.
func (a *Assembly) Index(tag string) int {
	for i := range a.Parts {
		if a.Parts[i].Tag == tag {
			return i
		}
	}
	return -1
}

// Of returns the indices of all parts of a kind, street to home.
func (a *Assembly) Of(k Kind) []int {
	var list []int
	for i := range a.Parts {
		if a.Parts[i].Kind == k {
			list = append(list, i)
		}
	}
	return list
}
