package service

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/words"
)

// gap judges the air under the float valve's mouth with the valve full open and the overflow
// running: an air gap is measured from the highest water. Fine is what holds with half of the
// screen blocked as well, as the proof asks.
func (f *reader) gap(g *Gap) {
	if g == nil {
		return
	}
	x := f.start("air-gap", g.Store, "")
	x.Calc = g.Calc
	x.Name("float", g.Float)
	x.Name("hours", "@hours."+g.Hours)
	x.Arg("flow", flow(g.Most))
	f.judgeGap(&x, g)
	if x.Verdict != finding.Fine && g.Most > 0 && g.Spill.Needs > 0 && !f.Bare {
		drills := f.drills(g)
		x.Name("cure", f.drillTold(g, drills))
		x.Cures = f.gapCures(g, drills)
	}
	if g.Upper && x.Verdict != finding.NotJudged {
		x.Case = strings.TrimPrefix(x.Case+"-upper", "-") // no street behind it: other words
	}
	f.add(x)
}

func (f *reader) judgeGap(x *finding.Finding, g *Gap) {
	needs := finding.Of(quantity.LengthDim, g.Spill.Needs)
	if !(g.Spill.Needs > 0) {
		x.Blank("air-gap-factor")
		if f.Profile.Rule("air-gap-factor").Set {
			x.Blank("air-gap-least")
		}
		return
	}
	x.Source, x.Standing = f.Profile.Rule("air-gap-factor").Cited()
	switch {
	case !g.Flow:
		x.Case = "flow"
		return
	case g.Most <= 0:
		x.Case = "dry" // air over a dry lip is no air gap
		return
	case !g.Known:
		x.Case, x.Limit = "overflow", needs
		x.Blank(f.unmeasured(g))
		return
	}
	x.Name("screen", f.countedOn(g.Spill, g.Upper))
	x.Against(finding.Air(g.Left), needs, finding.AtLeast, finding.MustFix)
	switch {
	case x.Verdict == finding.MustFix && g.Spill.By == "none":
		x.Case = "none"
	case x.Verdict == finding.MustFix && g.Left <= 0:
		x.Case = "drowned"
	case x.Verdict == finding.Fine && !finding.Keeps(float64(g.HalfLeft), g.Spill.Needs, finding.AtLeast):
		x.Verdict = finding.LookAt
		if g.HalfLeft <= 0 {
			x.Case = "drowned"
		}
	}
	x.Arg("under", finding.Of(quantity.LengthDim, -float64(g.Left)))
	x.Arg("half", finding.Of(quantity.LengthDim, max(float64(g.HalfLeft), -float64(g.HalfLeft))))
}

// unmeasured is the field that says what nobody has looked at.
func (f *reader) unmeasured(g *Gap) string {
	if g.Upper {
		return "choices.header.overflow"
	}
	switch g.Spill.By {
	case "pipe":
		return "choices.store.overflow"
	case "slot":
		return "choices.store.slot"
	}
	return "choices.store.spill"
}

// countedOn says what the figure rests on beside flows: the screen, and heights that are the
// catalogue's where nobody has measured this tank.
func (f *reader) countedOn(w circuit.Spill, upper bool) string {
	if f.Bare {
		return ""
	}
	told := words.Say(screenTold(w), nil)
	c := &f.Job.Choices
	if marked := c.OverHeight.V > 0 && c.Mouth.V > 0; !marked || upper { // a header's mouth has no field
		told += " " + words.Say("gap.heights.row", words.Args{
			"lip": assembly.Marked(quantity.Length(w.Lip), f.Job.System()), "mouth": assembly.Marked(quantity.Length(w.Inlet), f.Job.System())})
	}
	return told
}

// screenTold says what screen is counted on.
func screenTold(w circuit.Spill) string {
	switch {
	case w.Taken:
		return "gap.screen.taken"
	case w.Open == 0:
		return "gap.screen.none"
	case w.Open == circuit.WideMesh:
		return "gap.screen.wide"
	}
	return "gap.screen.across"
}

// drills are the overflows that keep the gap with half of the screen blocked, the least loss
// of water first.
func (f *reader) drills(g *Gap) []circuit.Drill {
	row, _ := f.part(g.Store).Row.(catalogue.Store)
	most := float64(max(g.Broken, g.Most))
	return g.Spill.Drills(most, float64(row.Outlet), tankOf(g), f.Job.System())
}

// tankOf is the job's path of what a store's overflow and mouth are told by.
func tankOf(g *Gap) string {
	if g.Upper {
		return "choices.header"
	}
	return "choices.store"
}

// drillTold says the first of them to the fitter, with the litres and hours it costs.
func (f *reader) drillTold(g *Gap, drills []circuit.Drill) string {
	if len(drills) == 0 {
		return words.Say("gap.no-drill", nil)
	}
	d, sys := drills[0], f.Job.System()
	say := func(dim quantity.Dim, si float64) string { return quantity.Format(finding.Of(dim, si), sys) }
	lost := f.lost(g, d)
	id := map[string]string{"pipe": "gap.drill", "slot": "gap.slot"}[d.By] + ".lower"
	if d.Lower <= 0 {
		id = map[string]string{"pipe": "gap.drill", "slot": "gap.slot"}[d.By] + ".same"
	}
	hours := 0.0
	if daily := float64(site.Daily(f.Job)); daily > 0 {
		hours = float64(lost) / daily * 86400
	}
	return words.Say(id, words.Args{"bore": d.Wide, "lip": d.High,
		"high": say(quantity.LengthDim, circuit.SlotHigh), "lost": say(quantity.VolumeDim, float64(lost)),
		"hours": say(quantity.TimeDim, hours), "care": words.Say("gap.care", nil), "screen": words.Say(housing(d), nil)})
}

// housing says which screen an overflow is counted with.
func housing(d circuit.Drill) string {
	switch {
	case d.Housed && d.By == "slot":
		return "gap.mesh.slot"
	case d.Housed:
		return "gap.mesh.wide"
	}
	return "gap.mesh.across"
}

// lost is the water that a lower overflow costs, in all linked tanks: their levels are one.
func (f *reader) lost(g *Gap, d circuit.Drill) quantity.Volume {
	p := f.part(g.Store)
	row, _ := p.Row.(catalogue.Store)
	return quantity.Volume(float64(max(1, p.Count)) * float64(row.Floor()) * float64(d.Lower))
}

// gapCures are what a fitter can do, the least first: a wider screen, another overflow, a
// float valve that passes less, alone or with another overflow, the mouth higher up.
func (f *reader) gapCures(g *Gap, drills []circuit.Drill) [][]job.Edit {
	var list [][]job.Edit
	wide := g.Spill
	wide.Open = circuit.WideMesh
	if g.Known && g.Spill.Open > 0 && g.Spill.Open < circuit.WideMesh && wide.HalfBlocked().Left(float64(g.Broken), nil) >= g.Spill.Needs {
		list = append(list, []job.Edit{edit("choices.store.screen", "wide")})
	}
	for _, d := range drills {
		list = append(list, d.Edits)
	}
	if g.Upper {
		return append(list, f.headerFloats(false)...)
	}
	list = append(list, f.floatCures(false)...)
	if row, ok := f.part(g.Store).Row.(catalogue.Store); ok && g.Known {
		up := g.Spill.Needs + g.Spill.Lip + g.Spill.HalfBlocked().Head(float64(g.Broken), nil)
		if mouth := ceilTo(up, 0.005); mouth <= float64(row.Height)-underLid {
			list = append(list, []job.Edit{edit("choices.store.mouth-height", assembly.Marked(quantity.Length(mouth), f.Job.System()))})
		}
	}
	return list
}

// underLid is the room a float valve's body needs between its mouth and the lid: judgement. [m]
const underLid = 0.06

func ceilTo(x, step float64) float64 {
	n := int(x/step - 1e-9)
	return float64(n+1) * step
}
