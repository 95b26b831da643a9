package service

import (
	"math"
	"strconv"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// spare is how far below a limit a regulator is set: its spring, the gauge it is set by and
// the season move it by about as much. Judgement; what comes of it is worked out.
const spare = quantity.Pressure(0.3e5)

// setStep is how finely a regulator is set [Pa].
const setStep = 0.25e5

// regulatorCures put a pressure regulator of the service's thread behind the house's stop
// valve, or set the one that is there lower, so that a part stands under a limit: as high as
// that allows, and 1 bar lower.
func (f *reader) regulatorCures(r *Rest, limit quantity.Pressure) [][]job.Edit {
	p, there := f.part(r.Part), f.regulatorFor(r)
	row, ok := f.regulatorRow(there)
	if !ok || len(p.Ports) == 0 || !(limit > 0) {
		return nil
	}
	most := min(limit-spare+lessBy(p, f.stopHeight(there)), row.Most)
	if there != nil {
		most = min(most, there.Set-setStep)
	}
	var cures [][]job.Edit
	for _, down := range []quantity.Pressure{0, 1e5} {
		set := math.Floor(float64(most-down)/setStep) * setStep
		if quantity.Pressure(set) < row.Least {
			continue
		}
		if there != nil {
			cures = append(cures, []job.Edit{f.press(setBy(there), set)})
			continue
		}
		cures = append(cures, []job.Edit{f.fitted(row), f.press("choices.regulator.set", set)})
	}
	return cures
}

// behindPump puts a regulator behind the pump's valve, so that an outlet stands under a limit
// though the pump stops higher: what its highest tap needs can be more than a low one may have.
func (f *reader) behindPump(r *Rest, limit quantity.Pressure) [][]job.Edit {
	p := f.part(r.Part)
	if p.Kind != assembly.Outlet || !(limit > 0) {
		return nil
	}
	for i := range f.Assembly.Parts {
		valve := &f.Assembly.Parts[i]
		if valve.Purpose != assembly.AsPumpValve || len(f.Assembly.Of(assembly.Pump)) > 1 {
			continue
		}
		row, ok := f.regulatorOf(valve.Ports[1].Size.Mark)
		set := math.Floor(float64(min(limit-spare+lessBy(p, valve.Ports[1].Z), row.Most))/setStep) * setStep
		if !ok || quantity.Pressure(set) < row.Least {
			return nil
		}
		return [][]job.Edit{{{Op: job.Insert, Path: "added." + f.freeTag(), Text: "kind: regulator, row: " + row.Key + ", beside: " + valve.Tag +
			", end: " + valve.Ports[1].Name + ", set: " + quantity.Handy(quantity.PressureDim, set, f.Job.System())}}}
	}
	return nil
}

// lessBy is by how much less a part stands under than what stands at a height below it.
func lessBy(p *assembly.Part, from quantity.Length) quantity.Pressure {
	low := p.Ports[0].Z
	for _, port := range p.Ports {
		low = min(low, port.Z)
	}
	return quantity.Pressure(float64(low-from) * circuit.Weight)
}

// setBy is the field that a regulator is set by.
func setBy(p *assembly.Part) string {
	if strings.HasPrefix(p.Path, "added.") {
		return strings.TrimSuffix(p.Path, ".row") + ".set"
	}
	return "choices.regulator.set"
}

// regulatorFor is the regulator that lets on what a part stands under: of those on the side
// that presses, the one whose set head is nearest to it; nil where there is none.
func (f *reader) regulatorFor(r *Rest) *assembly.Part {
	part, high := f.part(r.Part), r.High
	if part.Kind == assembly.Outlet {
		high = r.Working
	}
	var best *assembly.Part
	off := math.Inf(1)
	for _, i := range f.Assembly.Of(assembly.Regulator) {
		p := &f.Assembly.Parts[i]
		by := math.Abs(circuit.HeadOf(p.Set, p.Ports[1].Z) - circuit.HeadOf(high, part.Ports[0].Z))
		if main := p.Role != assembly.Boost; (main || r.WorkingCause == "regulator" || r.Cause == "regulator") && by < off {
			best, off = p, by
		}
	}
	return best
}

// regulatorRow is the row of the regulator that is there or, for nil, of the one that goes on
// the service's pipe.
func (f *reader) regulatorRow(there *assembly.Part) (catalogue.Regulator, bool) {
	if there != nil {
		row, ok := there.Row.(catalogue.Regulator)
		return row, ok
	}
	thread := f.Catalogue.Pipes[f.Job.Supply.Pipe].Thread
	if f.Assembly.Arrangement == assembly.Free {
		stop := f.stop()
		if stop == nil {
			return catalogue.Regulator{}, false
		}
		thread = stop.Ports[1].Size.Mark
	}
	return f.regulatorOf(thread)
}

// regulatorOf is the first row of a regulator of a thread.
func (f *reader) regulatorOf(thread string) (catalogue.Regulator, bool) {
	for _, key := range f.Catalogue.Keys("regulators") {
		if row := f.Catalogue.Regulators[key]; row.Size.Mark == thread {
			return row, true
		}
	}
	return catalogue.Regulator{}, false
}

// freeTag is a tag for one more regulator.
func (f *reader) freeTag() string {
	tag := "g1"
	for n := 2; f.Assembly.Index(tag) >= 0 || f.Assembly.Index(strings.ToUpper(tag)) >= 0; n++ {
		tag = "g" + strconv.Itoa(n)
	}
	return tag
}

// fitted is the edit that puts a regulator in: the arrangements have a place for it, in a list
// of parts it goes beside the stop valve.
func (f *reader) fitted(row catalogue.Regulator) job.Edit {
	if f.Assembly.Arrangement != assembly.Free {
		return edit("choices.regulator.row", row.Key)
	}
	return job.Edit{Op: job.Insert, Path: "added." + f.freeTag(), Text: "kind: regulator, row: " + row.Key + ", beside: " + f.stop().Tag + ", end: " + f.stop().Ports[1].Name}
}

// stop is the house's own stop valve, or the one at the meter where that is all there is.
func (f *reader) stop() *assembly.Part {
	var at *assembly.Part
	for i := range f.Assembly.Parts {
		p := &f.Assembly.Parts[i]
		if p.Purpose == assembly.AsServiceStop || p.Purpose == assembly.AsMeterStop && at == nil {
			at = p
		}
	}
	return at
}

// stopHeight is the height of a regulator or, for nil, of the house's stop valve, behind which
// one would stand.
func (f *reader) stopHeight(there *assembly.Part) quantity.Length {
	if there != nil {
		return there.Ports[1].Z
	}
	if stop := f.stop(); stop != nil {
		return stop.Ports[1].Z
	}
	return f.Job.Home.Level.V
}
