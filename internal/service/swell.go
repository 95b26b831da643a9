package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// heatedRoom judges whether the vessel beside a storage heater takes up what its water
// swells when it heats from cold with every tap shut: by Boyle, from the pressure that
// stands on it cold, to which it is charged, to where its relief valve begins to lift. Less
// room, and the valve drips at every heating, scales up, and one day does not shut or lift.
func (f *reader) heatedRoom(p *assembly.Part, row catalogue.Heater, r *Rest) {
	vessel, made := f.heaterVessel()
	if vessel == nil || row.Least > 0 || r == nil || !r.Determined || math.IsInf(float64(r.Working), 0) {
		return // whether a heater without one is shut in, the proof says
	}
	x := f.start("heater-room", p.Tag, "")
	x.Source = made.Source
	x.Name("vessel", vessel.Tag)
	limit := f.heaterLimit(row)
	switch {
	case f.Job.Home.HotVolume.V <= 0:
		x.Blank("home.heater.volume")
		f.add(x)
		return
	case limit.SI <= 0:
		x.Blank("home.heater.rating")
		f.add(x)
		return
	}
	var sheet *calc.Sheet
	if r.Calc != nil { // the run records
		sheet = &calc.Sheet{}
	}
	hotStore := assume.HotStore.In(f.Job.Assumed)
	air := hydraulics.Atmosphere(float64(f.Job.Place.Altitude.V))
	cold := float64(r.Working) + air
	hot := math.Max(cold, math.Min(assume.CloseRating.In(f.Job.Assumed)*limit.SI, float64(made.Rating))+air)
	swell := sheet.Eval(hydraulics.SwellEq, float64(f.Job.Home.HotVolume.V), float64(f.Job.Place.Water.V), math.Max(hotStore, float64(f.Job.Place.Water.V)))
	takes := sheet.Eval(hydraulics.DrawdownEq, float64(made.Volume), cold, cold, hot)
	x.Calc = steps(sheet)
	x.Against(finding.Of(quantity.VolumeDim, takes), finding.Of(quantity.VolumeDim, swell), finding.AtLeast, finding.LookAt)
	x.Arg("volume", f.Job.Home.HotVolume.Quantity())
	x.Arg("from", f.Job.Place.Water.Quantity())
	x.Arg("to", stated(quantity.TemperatureDim, hotStore))
	x.Arg("cold", pressure(r.Working))
	x.Arg("hot", pressure(quantity.Pressure(hot-air)))
	if x.Verdict == finding.LookAt {
		x.Cures = f.roomierVessels(made)
	}
	f.add(x)
}

// heaterVessel is the expansion vessel beside the water heater, or nil.
func (f *reader) heaterVessel() (*assembly.Part, catalogue.Vessel) {
	for i := range f.Assembly.Parts {
		p := &f.Assembly.Parts[i]
		if row, is := p.Row.(catalogue.Vessel); is && p.Purpose == assembly.AsHeaterVessel {
			return p, row
		}
	}
	return nil, catalogue.Vessel{}
}

// heaterLimit is the pressure the heater is made for: as the job tells, else as its row has it.
func (f *reader) heaterLimit(row catalogue.Heater) quantity.Quantity {
	if given := f.Job.Home.Rating; given.V > 0 {
		return given.Quantity()
	}
	return stated(quantity.PressureDim, float64(row.Rating))
}

// roomierVessels are the next larger vessels for the heater.
func (f *reader) roomierVessels(now catalogue.Vessel) [][]job.Edit {
	keys := larger(f.Catalogue.Vessels, func(v catalogue.Vessel) (float64, bool) {
		return float64(v.Volume), v.Volume > now.Volume && catalogue.VesselIn(v.Key, f.Job.System())
	})
	return sets("choices.heater-vessel", keys, 4)
}
