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
func (f *reader) regulatorCures(p *assembly.Part, limit quantity.Pressure) [][]job.Edit {
	row, there := f.regulatorRow()
	if !there || len(p.Ports) == 0 || !(limit > 0) {
		return nil
	}
	low := p.Ports[0].Z
	for _, port := range p.Ports {
		low = min(low, port.Z)
	}
	// What stands higher than the valve stands under less.
	up := quantity.Pressure(float64(low-f.stopHeight()) * circuit.Weight)
	most := min(limit-spare+up, row.Most)
	if now := f.Job.Choices.RegSet.V; f.regulated() {
		most = min(most, now-setStep)
	}
	var cures [][]job.Edit
	for _, down := range []quantity.Pressure{0, 1e5} {
		set := math.Floor(float64(most-down)/setStep) * setStep
		if quantity.Pressure(set) < row.Least {
			continue
		}
		edits := []job.Edit{f.press("choices.regulator.set", set)}
		if !f.regulated() {
			edits = append([]job.Edit{f.fitted(row)}, edits...)
		}
		cures = append(cures, edits)
	}
	return cures
}

func (f *reader) regulated() bool { return len(f.Assembly.Of(assembly.Regulator)) > 0 }

// regulatorRow is the row of the regulator that is there, or of the one that goes on the
// service's pipe.
func (f *reader) regulatorRow() (catalogue.Regulator, bool) {
	if at := f.Assembly.Of(assembly.Regulator); len(at) > 0 {
		row, ok := f.Assembly.Parts[at[0]].Row.(catalogue.Regulator)
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
	for _, key := range f.Catalogue.Keys("regulators") {
		if row := f.Catalogue.Regulators[key]; row.Size.Mark == thread {
			return row, true
		}
	}
	return catalogue.Regulator{}, false
}

// fitted is the edit that puts a regulator in: the arrangements have a place for it, in a list
// of parts it goes beside the stop valve.
func (f *reader) fitted(row catalogue.Regulator) job.Edit {
	if f.Assembly.Arrangement != assembly.Free {
		return edit("choices.regulator.row", row.Key)
	}
	tag := "g1"
	for n := 2; f.Assembly.Index(tag) >= 0 || f.Assembly.Index(strings.ToUpper(tag)) >= 0; n++ {
		tag = "g" + strconv.Itoa(n)
	}
	return job.Edit{Op: job.Insert, Path: "added." + tag, Text: "kind: regulator, row: " + row.Key + ", beside: " + f.stop().Tag + ", end: " + f.stop().Ports[1].Name}
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

// stopHeight is the height of the house's stop valve, behind which a regulator stands.
func (f *reader) stopHeight() quantity.Length {
	if at := f.Assembly.Of(assembly.Regulator); len(at) > 0 {
		return f.Assembly.Parts[at[0]].Ports[1].Z
	}
	if stop := f.stop(); stop != nil {
		return stop.Ports[1].Z
	}
	return f.Job.Home.Level.V
}
