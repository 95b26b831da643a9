package appraise

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// tired is how far a reading's head may lie from its plate's before the plate is doubted.
const tired = 0.1

// plated gives the pumps the curve of the nameplate the job names, and judges whether the
// reading bears it out. The error is a fault of the job: a plate or reading no pump has.
func plated(j *job.Job, a *assembly.Assembly) ([]finding.Finding, error) {
	var list []finding.Finding
	for _, i := range a.Of(assembly.Pump) {
		row, ok := a.Parts[i].Row.(catalogue.Pump)
		if !ok {
			continue
		}
		p, given, err := circuit.FromPlate(j, row)
		if err != nil {
			return nil, assembly.Faults{{Path: "choices.pump.measured", ID: "assembly.plate", Args: words.Args{"why": err.Error()}}}
		}
		if !given {
			continue
		}
		a.Parts[i].Row = p.Row
		list = append(list, plate(j, a.Parts[i].Tag, p))
	}
	return list, nil
}

func plate(j *job.Job, tag string, p circuit.Plate) finding.Finding {
	f := finding.New("pump-plate", tag, "")
	f.Verdict = finding.Fine
	f.Figure = finding.Of(quantity.RatioDim, p.Row.HeadBand)
	f.Arg("head", j.Choices.Plate.Head.Quantity())
	f.Arg("most", j.Choices.Plate.Flow.Quantity())
	f.Name("reading", "@plate.guess")
	f.Moves = []string{"choices.pump.measured.greatest-head", "choices.pump.measured.greatest-flow"}
	if p.Read {
		f.Name("reading", "@plate.read")
	}
	if worn := p.Wear * p.Wear; math.Abs(worn-1) > tired {
		f.Verdict = finding.LookAt
		f.Figure = finding.Of(quantity.RatioDim, worn)
	}
	return f
}
