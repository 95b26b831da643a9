package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// day is in seconds.
const day = 86400.0

// dwelling is how many people one dwelling has at most: EN 806-3's simplified method for what
// is drawn at once is for dwellings; guest houses, hostels and barracks are beyond it, and
// seldom list every room. Judgement.
const dwelling = 10

// Inputs is what the analysis needs beside the circuit: bare figures, SI.
type Inputs struct {
	Main site.Main

	// Full is the store's surface when full, above the datum, and Low when it is about to run
	// dry. Where there is no store the pump draws on the main: its heads at its strongest and
	// at its weakest, nothing running.
	Full, Low quantity.Length
	Usable    quantity.Volume // between the two, all stores
	Spill     circuit.Spill   // of the store that the main fills

	UpperSpill circuit.Spill // of the header tank

	Header quantity.Length // of a full header tank's surface above its outlet; 0 none
	Upper  quantity.Volume // what it holds above its outlet, part of Usable
	Daily  quantity.Volume // what the home uses in a day
	Drawn  quantity.Flow   // of it, what leaves the store while the store fills: nought where the main then serves

	Weak bool // interruptions follow each other with the main weak between: it then fills, or does not

	Demand      quantity.Flow // the simultaneous draw-off
	DemandKnown bool          // false: the curve has no figure for so many loading units
	Crowd       bool          // more people than a dwelling has: the rule behind Demand does not count for them

	Water    quantity.Temperature
	Altitude quantity.Length

	Vessel quantity.Volume   // of the pressure vessel; 0 none
	Charge quantity.Pressure // of its gas side, water side empty
	Starts float64           // an hour, that the pump allows; 0 unknown

	Near []circuit.Start // Result.Answers of a run with other figures: quicker, and no different

	AtOnce map[string][]string // per mode, tags of the outlets that draw at once; without: the analysis picks them

	Only *Only // work out this alone; nil: all

	Record bool // keep the calculation of every figure

	// Unwitnessed takes the solver's own word for what its last step left, in place of the
	// independent certificate: for spreads, where very many cases only say how figures move.
	Unwitnessed bool

	Ended func() error // looked at before every case; once it gives an error the analysis gives up with it. nil: nothing ends it
}

// Read takes the bare figures out of job, assembly and catalogue.
func Read(j *job.Job, a *assembly.Assembly, cat *catalogue.Catalogue, p *catalogue.Profile) Inputs {
	facts := site.Of(j, a, p)
	in := Inputs{
		Main: facts.Main, Daily: facts.Household.Daily,
		Water: j.Place.Water.V, Altitude: j.Place.Altitude.V, Charge: j.Choices.Charge.V,
	}
	in.Weak = facts.Interruptions.Rows()
	if !a.Joined {
		in.Drawn = quantity.Flow(float64(facts.Household.Stored) / day)
	}
	units, largest := 0.0, quantity.Flow(0)
	for i := range a.Parts {
		part := &a.Parts[i]
		switch row := part.Row.(type) {
		case catalogue.Outlet:
			units += row.Units
			largest = max(largest, row.Design)
		case catalogue.Store:
			if i == a.Header() {
				in.addHeader(row, facts.Margin)
				in.UpperSpill, _ = circuit.SpillOf(a, p, i)
				continue
			}
			in.addStore(part, row, facts)
			in.Spill, _ = circuit.SpillOf(a, p, i)
		case catalogue.Vessel:
			// The heater's own vessel is charged for the heater; what it gives the pump is not counted on.
			if a.Parts[i].Purpose != assembly.AsHeaterVessel {
				in.Vessel += row.Volume
			}
		case catalogue.Pump:
			in.Starts = row.Starts
		}
	}
	in.Demand, in.DemandKnown = cat.DesignFlow(units, largest)
	in.Crowd = facts.Household.People > dwelling
	if len(a.Of(assembly.Store)) == 0 {
		m := &in.Main
		in.Low = quantity.Length(circuit.HeadOf(min(m.Usual, m.Worst), m.Gauge))
		in.Full = quantity.Length(circuit.HeadOf(m.Highest(), m.Gauge))
	}
	return in
}

// addStore adds a store's levels and water. The outlet port's height fixes its base.
// Pressures are judged with the store down to its outlet: a pump is stopped before, the safe side.
func (in *Inputs) addStore(part *assembly.Part, row catalogue.Store, facts *site.Site) {
	low := part.Ports[0].Z
	for _, port := range part.Ports {
		low = min(low, port.Z)
	}
	in.Low, in.Full = low, low+row.Overflow-facts.Margin-row.Outlet
	in.Usable += quantity.Volume(float64(max(1, part.Count))) * row.Usable(facts.Margin, facts.Cover)
}

// addHeader adds a header tank's depth and water.
func (in *Inputs) addHeader(row catalogue.Store, margin quantity.Length) {
	in.Header = row.Overflow - margin - row.Outlet
	area := math.Pi / 4 * float64(row.Diameter) * float64(row.Diameter)
	in.Upper = quantity.Volume(area * float64(in.Header))
	in.Usable += in.Upper
}

// atmosphere is the air pressure at the home [Pa, absolute].
func (in *Inputs) atmosphere() float64 { return hydraulics.Atmosphere(float64(in.Altitude)) }
