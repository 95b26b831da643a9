package pack

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// card is what the owner, a tenant or a guest reads from a metre away at two in the
// morning: one side, a sign for what has happened, the handles to turn in their order,
// real tags, few words. What there is time to read is on its back.
func (p *pack) card() []paper.Block {
	b := p.cardPart(nil, "main-off", p.cardTurns("on-store"), append(p.warnings(), p.cardMainOff()...)...)
	power := p.cardPower()
	if p.pumped() {
		power = append(power, say("card.generator"))
	}
	b = p.cardPart(b, "power", nil, power...)
	if p.Job.Interruptions.Notice != job.No || p.Assembly.Setting("boil-notice") != nil {
		b = p.cardPart(b, "notice", p.turnsTo("boil-notice"), p.cardNotice(), say("card.notice.drink", p.handFigures()...))
	}
	leak := "card.leak.do"
	if !p.pumped() {
		leak = "card.leak.still"
	}
	b = p.cardPart(b, "leak", p.turnsTo("off"), say(leak, "turns", p.stopped()), say("card.leak.more", "stop", p.stop()))
	if !p.stored() {
		return p.cardFoot(b)
	}
	clean := []string{p.cardDo("clean", "store-isolated", "valves.feed"), say("card.clean.never")}
	if args, is := p.routine(); is {
		clean = append(clean, say("card.clean.routine", args...))
	}
	return p.cardFoot(p.cardPart(b, "clean", p.turnsTo("store-isolated"), clean...))
}

// cardFoot closes the card: whom to call, and what is overleaf.
func (p *pack) cardFoot(b []paper.Block) []paper.Block {
	if p.anyUntried() {
		b = append(b, paper.Banner{Style: paper.SmallStrong, Text: p.tellUntried(), Gap: 2, Keep: true})
	}
	b = append(b, paper.Fields{Labels: []string{say("card.fitter"), say("card.supplier"), say("card.electrician")}, Columns: 3, Gap: 3},
		paper.Text{Style: paper.SmallStrong, Text: say("card.overleaf"), Gap: 2})
	return append(b, deferral())
}

// cardPart is one thing that can happen: its sign on the left, what to do beside it.
func (p *pack) cardPart(b []paper.Block, name string, turns []turn, lines ...string) []paper.Block {
	if len(b) > 0 {
		b = append(b, paper.Rule{Gap: 2.5})
	}
	what := []paper.Block{
		paper.Text{Style: paper.CardStrong, Text: say("card." + name)},
		paper.Text{Style: paper.Card, Text: strings.Join(strings.Fields(strings.Join(lines, " ")), " "), Gap: 0.5},
	}
	if len(turns) > 0 {
		what = append(what, paper.Picture{Scene: *turnScene(turns), Gap: 1.5, Small: true})
	}
	return append(b, paper.Row{Gap: 2.5, Gutter: 6, Widths: []float64{22, 0},
		Cells: [][]paper.Block{{paper.Picture{Scene: *pictogram(name), Grow: 2}}, what}})
}

// turnsTo lists the handles to turn from the normal setting to a named one.
func (p *pack) turnsTo(setting string) []turn {
	if to := p.Assembly.Setting(setting); to != nil {
		return p.turns(&p.Assembly.Settings[0], to)
	}
	return nil
}

// cardTurns are the handles of the changeover, where a hand does it.
func (p *pack) cardTurns(setting string) []turn {
	if p.automatic() {
		return nil
	}
	return p.turnsTo(setting)
}

// cardNotice says what keeps bad water out. Where every interruption ends in a notice, the
// water must not come back by itself: the handles are turned as soon as the main stops.
func (p *pack) cardNotice() string {
	if p.Job.Interruptions.Notice == job.Yes && p.Assembly.Setting("boil-notice") != nil {
		lasts := p.guess(quantity.TimeDim, float64(p.Job.Interruptions.NoticeLasts.V))
		return say("card.notice.each", "turns", p.turnText("boil-notice", "valves.feed"), "lasts", lasts)
	}
	return p.cardDo("notice", "boil-notice", "valves.feed")
}

// cardDo says what to turn for a happening; without a setting for it, what can be done
// all the same.
func (p *pack) cardDo(name, setting, other string) string {
	if p.Assembly.Setting(setting) == nil && !p.stored() && name == "notice" {
		return say("card.notice.bare")
	}
	if p.Assembly.Setting(setting) == nil {
		return say("card."+name+".none", "stop", p.stop())
	}
	return say("card."+name+".do", "turns", p.turnText(setting, other))
}

// turnText says which handles to turn from the normal setting to a named one; without
// such a setting, or where nothing moves, that part's valve is named in words.
func (p *pack) turnText(setting, other string) string {
	var parts []string
	if to := p.Assembly.Setting(setting); to != nil {
		parts = p.cardMoves(to)
	}
	if len(parts) > 0 {
		return strings.Join(parts, ", ")
	}
	for _, t := range p.turnsTo(setting) {
		parts = append(parts, say("card.turn", "tag", t.tag, "to", sayOr("turn."+t.to, t.to)))
	}
	if len(parts) == 0 {
		return say(other)
	}
	return strings.Join(parts, ", ")
}

// stopped says which handles stop all water: the card has said before that the pump goes off.
func (p *pack) stopped() string {
	var parts []string
	for _, t := range p.turnsTo("off") {
		parts = append(parts, say("card.turn", "tag", t.tag, "to", sayOr("turn."+t.to, t.to)))
	}
	if len(parts) == 0 {
		return say("valves.stop")
	}
	return strings.Join(parts, ", ")
}

func (p *pack) cardMainOff() []string {
	if !p.stored() {
		return []string{say("card.main-off.none")}
	}
	dirty := p.cardDirty()
	lasts := ""
	if p.Store != nil && p.Store.Carry > 0 {
		carry, _ := p.carry()
		lasts = say("card.lasts", "carry", carry)
		if y := p.Years; y != nil { // who stands before the card wants to know the least of it
			lasts = say("card.lasts-lived", "carry", carry, "low", p.guess(quantity.TimeDim, y.Lasts.Short))
		}
	}
	if !p.automatic() {
		return []string{say("card.main-off.turn", "turns", p.turnText("on-store", "valves.stop")), lasts,
			say("card.main-off.back", "setting", settingName(p.Assembly.Settings[0].Name)), dirty}
	}
	lines := []string{say("card.main-off.nothing")}
	if dry := p.onMainAlone(); dry != "" {
		lines = []string{say("card.main-off.split", "outlets", dry)}
	}
	return append(lines, lasts, say("card.main-off.save"), dirty)
}

// onMainAlone names the outlets that stored water never gets to.
func (p *pack) onMainAlone() string {
	sides := p.Assembly.Sides()
	var tags []string
	for _, i := range p.Assembly.Of(assembly.Outlet) {
		if sides.Main[i] && !sides.Store[i] {
			tags = append(tags, p.Assembly.Parts[i].Tag)
		}
	}
	return strings.Join(tags, ", ")
}

// stored reports whether there is a store at all.
func (p *pack) stored() bool { return len(p.Assembly.Of(assembly.Store)) > 0 }

// pumped reports whether there is a pump at all.
func (p *pack) pumped() bool { return len(p.Assembly.Of(assembly.Pump)) > 0 }

// falls reports whether height alone brings stored water to the taps.
func (p *pack) falls() bool { return p.stored() && !p.pumped() }

// automatic reports whether the changeover needs no hand.
func (p *pack) automatic() bool {
	if p.Assembly.LockOut() != nil {
		return true
	}
	return len(p.Assembly.Of(assembly.ThreeWay)) == 0 && !p.Assembly.Joined
}

// cardPower says what the taps do without power.
func (p *pack) cardPower() []string {
	lines := []string{say("card.power.stops")}
	switch {
	case !p.stored():
		lines = []string{say("card.power.bare")}
	case !p.pumped():
		return []string{say("card.power.falls")}
	case p.headerOnly() && p.Store != nil:
		return []string{say("card.power.header", "header", p.headerTag(), "carry", p.time(p.Store.HeaderCarry))}
	}
	if p.Assembly.Setting(assembly.Emergency) != nil {
		lines = append(lines, say("card.power.spool", "turns", p.turnText(assembly.Emergency, "valves.stop")))
	}
	for _, m := range p.modes() {
		f := p.found("power-out", "", m)
		if f == nil {
			continue
		}
		id := "card.power.some"
		switch {
		case f.Verdict == finding.Fine:
			id = "card.power.all"
		case f.Figure.SI == 0:
			id = "card.power.none"
		}
		lines = append(lines, say(id, "mode", upperFirst(sayOr("mode."+m, m)), "dry", f.Names["dry"]))
	}
	return lines
}

// modes are the ids of the normal cases in their order.
func (p *pack) modes() []string {
	if p.Service == nil {
		return nil
	}
	var list []string
	for i := range p.Service.Modes {
		list = append(list, p.Service.Modes[i].ID)
	}
	return list
}
