package day

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// Findings reads the judgements off a day; none where there is no day to judge.
func Findings(d *Day, a *assembly.Assembly) []finding.Finding {
	if d == nil {
		return nil
	}
	if d.Result == nil {
		x := finding.New("circuit-undetermined", "day", "day-failing")
		x.Name("reason", d.Restless)
		return []finding.Finding{x}
	}
	var list []finding.Finding
	if d.Plant.Pump != nil {
		list = append(list, starts(d, a))
	}
	if d.Failing {
		list = append(list, lasts(d), refills(d))
		if d.Plant.Lock != nil {
			list = append(list, hunts(d, a))
		}
	}
	return list
}

func number(n float64) quantity.Quantity { return finding.Of(quantity.RatioDim, n) }

func span(s float64) quantity.Quantity { return finding.Of(quantity.TimeDim, s) }

func (d *Day) mode() string {
	if d.Failing {
		return "day-failing"
	}
	return "day-usual"
}

func tagOf(a *assembly.Assembly, k assembly.Kind) string {
	if at := a.Of(k); len(at) > 0 {
		return a.Parts[at[0]].Tag
	}
	return ""
}

// starts judges the busiest hour of the pump against what it allows.
func starts(d *Day, a *assembly.Assembly) finding.Finding {
	x := finding.New("day-starts", tagOf(a, assembly.Pump), d.mode())
	_, from := d.Result.Busiest()
	x.Name("who", "@starts.one")
	if d.In.Turns > 1 {
		x.Name("who", "@starts.turns")
	}
	x.Figure = finding.Count(d.busiest())
	x.Arg("all", finding.Count(len(d.Result.Starts)))
	x.Arg("run", span(d.Result.RunTime))
	x.Arg("energy", finding.Of(quantity.EnergyDim, d.Result.Socket))
	x.Name("clock", clockText(from))
	if d.In.Starts <= 0 {
		x.Blank(d.In.StartsRule)
		return x
	}
	x.Source, x.Standing = d.In.StartsOf, d.In.StartsStanding
	x.Against(x.Figure, number(d.In.Starts), finding.AtMost, finding.LookAt)
	return x
}

// lasts judges whether the store gave water to the end of the interruption.
func lasts(d *Day) finding.Finding {
	id := "day-dry"
	if d.Plant.Pump == nil || len(d.Plant.Header.Surface) > 0 {
		id = "day-empty" // the taps live on height: no pump runs dry for them
	}
	x := finding.New(id, "", d.mode())
	x.Against(span(d.Lasted()), span(d.In.Fails), finding.AtLeast, finding.LookAt)
	x.Arg("left", finding.Of(quantity.VolumeDim, d.Left()))
	x.Name("at", clockText(d.In.At))
	if d.Row != nil {
		x.Case = "row"
		x.Arg("begins", finding.Of(quantity.VolumeDim, float64(d.Row.Begins)))
		x.Arg("between", span(d.In.Between))
	}
	if dry := d.without(); dry > mostDry && x.Verdict == finding.Fine {
		x.Verdict, x.Case = finding.LookAt, "hand"
		x.Arg("dry", span(d.Schedule.Dry.To-d.Schedule.Dry.From))
		x.Name("share", quantity.Fixed(100*dry, 0))
	}
	x.Arg("stops", finding.Count(len(d.Judged().Stops)))
	wait := 0.0
	if d.Plant.Pump != nil {
		wait = d.Plant.Pump.Retry
	}
	x.Arg("wait", span(wait))
	return x
}

// refills judges whether the store was full again when the next interruption is due.
func refills(d *Day) finding.Finding {
	x := finding.New("day-refill", "", d.mode())
	took := d.Refilled()
	x.Against(span(took), span(d.In.Between), finding.AtMost, finding.LookAt)
	x.Arg("missing", finding.Of(quantity.VolumeDim, d.missing()))
	return x
}

// hunts judges whether the changeover goes back and forth while the store is filled.
func hunts(d *Day, a *assembly.Assembly) finding.Finding {
	where := ""
	if c := a.LockOut(); c != nil {
		where = c.Tag
	}
	x := finding.New("day-hunting", where, d.mode())
	times, period := d.Result.Hunts()
	x.Against(finding.Count(times), finding.Count(1), finding.AtMost, finding.LookAt)
	x.Arg("period", span(period))
	x.Arg("below", span(d.Plant.Lock.Wait))
	x.Arg("above", span(d.Plant.Lock.Hold))
	return x
}

// clockText is a time of day as people read a clock.
func clockText(at float64) string {
	m := int(math.Mod(at, dayLength)) / 60
	return string([]byte{byte('0' + m/60/10), byte('0' + m/60%10), ':', byte('0' + m%60/10), byte('0' + m%10)})
}
