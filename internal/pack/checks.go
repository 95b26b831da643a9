package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
)

// checkTrials is a row for each non-return valve and each pressure it can be tried at, with
// a drain of its own to watch and the handles that put pressure on it and on no other.
func (p *pack) checkTrials() []trial {
	nothing := say("commission.nothing")
	var list []trial
	for _, t := range p.hands().Checks() {
		if t.High != nil {
			list = append(list, trial{"check-high", nothing, nothing, p.checkArgs(t.Check, t.High), true})
		}
		if t.Low != nil {
			list = append(list, trial{"check-low", nothing, nothing, p.checkArgs(t.Check, t.Low), true})
		}
	}
	return list
}

// checkArgs fill the sentence of one trial.
func (p *pack) checkArgs(c int, t *procedure.CheckTrial) []string {
	part := func(i int) *assembly.Part { return &p.Assembly.Parts[i] }
	args := []string{"check", part(c).Tag, "what", lowerFirst(shortName(part(c))), "drain", part(t.Drain).Tag, "minutes", p.time(120),
		"shutoff", p.shutoff(), "pressure", p.pressure(p.Job.Supply.Static.V), "pump", p.tags(assembly.Pump), "stores", p.low(assembly.Store), "head", p.length(t.Head)}
	if t.Pump >= 0 {
		args = append(args, "at", part(t.Pump).Tag)
	}
	if t.Mouth >= 0 {
		args = append(args, "mouth", part(t.Mouth).Tag)
	}
	press := "commission.press." + string(t.By)
	if t.By == procedure.ByColumn {
		press = "commission.press.tap"
		if part(t.Mouth).Kind == assembly.FloatValve {
			press = "commission.press.float"
		}
	}
	also := ""
	for _, i := range t.Also {
		also += " " + say("commission.check.also", "other", part(i).Tag)
	}
	return append(args, "turns", p.saidTurns(t.Turns), "press", say(press, args...), "also", also, "off", p.pumpOff(t.By))
}

// pumpOff says that the pump is switched off, where a trial does not need it.
func (p *pack) pumpOff(by procedure.Source) string {
	if by == procedure.ByPump || !p.pumped() {
		return ""
	}
	return say("commission.check.off", "pump", p.tags(assembly.Pump)) + " "
}

// saidTurns are handles to turn, in a sentence of their own.
func (p *pack) saidTurns(turns []procedure.Turn) string {
	var list []string
	for _, t := range turns {
		list = append(list, say("card.turn", "tag", p.Assembly.Parts[t.Part].Tag, "to", sayOr("turn."+t.To, t.To)))
	}
	if len(list) == 0 {
		return ""
	}
	return upperFirst(strings.Join(list, ", ")) + ". "
}

// unshown says below the tests which non-return valves no test here shows, and what a test
// of one that has two seats cannot find.
func (p *pack) unshown() []paper.Block {
	var none, twins []string
	for _, t := range p.hands().Checks() {
		part := &p.Assembly.Parts[t.Check]
		row, _ := part.Row.(catalogue.NonReturn)
		switch {
		case !t.Tested():
			none = append(none, part.Tag)
		case row.Kind != "single":
			twins = append(twins, part.Tag)
		}
	}
	var b []paper.Block
	if len(none) > 0 {
		b = append(b, small(say("commission.check.none", "list", strings.Join(none, ", "))))
	}
	if len(twins) > 0 {
		b = append(b, small(say("commission.check.twin", "list", strings.Join(twins, ", "))))
	}
	return b
}

// testedChecks are the tags of the non-return valves that a test here shows.
func (p *pack) testedChecks() string {
	var list []string
	for _, t := range p.hands().Checks() {
		if t.Tested() {
			list = append(list, p.Assembly.Parts[t.Check].Tag)
		}
	}
	return strings.Join(list, ", ")
}
