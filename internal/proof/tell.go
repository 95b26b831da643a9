package proof

import (
	"strings"

	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Tell says a counterexample in a sentence: which valves stand how, what the world does,
// what has failed, and what comes of it.
func (r *Report) Tell(about About, c *Counterexample, sys quantity.System) string {
	id := "promise." + about.ID + ".broken"
	if f := c.Judgement.Figure; f.Dim == quantity.LengthDim && f.SI <= 0 && words.Has("promise."+about.ID+".drowned") {
		id = "promise." + about.ID + ".drowned" // no air is left: a negative gap is no figure for a person
	}
	return words.Say(id, words.Args{
		"setting": r.Space.TellSetting(c.Case.Setting), "world": r.Space.TellWorld(c.Case), "mishap": r.Space.tellMishaps(c.Case),
		"where": c.Judgement.Where, "figure": shown(c.Judgement.Figure, sys), "limit": shown(c.Judgement.Limit, sys)})
}

// shown writes a figure; one that is none is left out.
func shown(q quantity.Quantity, sys quantity.System) string {
	if q.Dim == quantity.NoDim {
		return ""
	}
	return quantity.Format(q, sys)
}

// TellSetting says how the valves stand: as a card names it, or how they differ from the
// nearest such setting.
func (s *Space) TellSetting(at []uint8) string {
	near := s.nearestNamed(at)
	name := s.Named[near].Name
	if id := "setting." + name; words.Has(id) {
		name = words.Say(id, nil)
	}
	var turned []string
	for h := range at {
		if at[h] != s.Named[near].Position[h] {
			turned = append(turned, words.Say("proof.turned", words.Args{"tag": s.Hands[h].Tag,
				"position": words.Say("position."+s.Hands[h].Positions[at[h]], nil)}))
		}
	}
	if len(turned) == 0 {
		return words.Say("proof.setting.named", words.Args{"name": name})
	}
	return words.Say("proof.setting.but", words.Args{"name": name, "turned": and(turned)})
}

// TellWorld says what main, power, store, taps and controls do, as far as it is not what
// they do on an ordinary day; the main always.
func (s *Space) TellWorld(c Case) string {
	list := []string{words.Say("world.main."+c.World.Word("main"), nil)}
	for _, name := range []string{"power", "store", "header", "draw", "frost", "heater", "regulator"} {
		if w := c.World.Word(name); w != caseValues(name)[0] {
			list = append(list, words.Say("world."+name+"."+w, nil))
		}
	}
	if c.Control.Pump != circuit.Standing {
		list = append(list, words.Say("world.pump."+caseWords[vPump].values[c.Control.Pump], nil))
	}
	if c.Control.Lock == circuit.LockedOut && s.first[len(s.Hands)+vLock]&(1<<circuit.LockedOut) != 0 {
		list = append(list, words.Say("world.lock.locked-out", nil))
	}
	return and(list)
}

func caseValues(name string) []string {
	for _, v := range caseWords {
		if v.name == name {
			return v.values
		}
	}
	panic("proof: " + name + ": no variable of a case")
}

// tellMishaps says what has failed, behind a comma; nothing where nothing has.
func (s *Space) tellMishaps(c Case) string {
	if len(c.Mishaps) == 0 {
		return ""
	}
	var list []string
	for _, m := range c.Mishaps {
		list = append(list, s.TellMishap(m))
	}
	return words.Say("proof.mishap", words.Args{"mishap": and(list)})
}

// TellMishap says one mishap by its number.
func (s *Space) TellMishap(m int) string {
	x := &s.Mishaps[m]
	return words.Say("mishap."+x.ID, words.Args{"tag": x.Tag, "other": x.Other})
}

// and joins words as a sentence does.
func and(list []string) string {
	if len(list) == 1 {
		return list[0]
	}
	last := len(list) - 1
	return words.Say("proof.and", words.Args{"list": strings.Join(list[:last], ", "), "last": list[last]})
}

// Tell says a cure: what to fit or set, and where. One that sets a field is told as any remedy is.
func (c *Cure) Tell() string {
	if id := "cure." + c.Kind; words.Has(id) {
		return words.Say(id, words.Args{"where": c.Where, "value": c.Value})
	}
	m := finding.Remedy{Edits: c.Edits}
	if len(c.Edits) == 1 {
		m.Told = []string{c.Value}
	}
	return m.Does()
}
