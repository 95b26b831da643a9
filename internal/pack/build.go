package pack

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
)

// step is one line of the order of build.
type step struct {
	id  string
	who string // "", "two", "licensed"
	on  bool   // belongs to this job
}

// build is the order of work, the tie-in last, with cautions where the hand is.
func (p *pack) build() []paper.Block {
	tie := &p.HandOver.TieIn
	b := []paper.Block{paper.Text{Style: paper.Lead, Text: say("build.off", "time", p.time(tie.Off), "double", p.time(tie.Promise)), Gap: 0},
		para(say("build.how"))}
	joined, letter := p.Assembly.Joined, p.Job.Supply.Bypass != "yes"
	pump, vessel := p.pumped(), p.pumpVessels() != ""
	b = p.phase(b, "ready", nil, []step{
		{"letter", "", (joined || p.Assembly.Spooled()) && letter}, {"list", "", true}, {"tell", "", true}, {"stop", "", true}, {"old", "", true}, {"buckets", "", true},
	})
	stored := p.stored()
	if stored {
		b = p.phase(b, "base", p.baseHazards(), []step{
			{"base", "", !p.aloft()}, {"stand", "", p.aloft()}, {"way", "two", true}, {"store", "two", true}, {"header-tank", "two", p.lifted()}, {"lid", "", true}, {"overflow", "", true},
		})
	}
	hazards := []string{"caution.digging", "caution.dust"}
	if p.soldered() {
		hazards = append(hazards, "caution.flame")
	}
	b = p.phase(b, "pipes", hazards, []step{
		{"float", "", stored}, {"feed", "", stored}, {"pump", "two", pump && stored}, {"pump-bare", "two", pump && !stored}, {"vessel", "", vessel}, {"vessel-heater", "", !vessel && p.heaterVessel() != ""},
		{"boost", "", stored && pump && !p.headerOnly()}, {"rise", "", p.lifted()}, {"drop", "", p.falls()}, {"drop-header", "", p.lifted()}, {"boost-bare", "", pump && !stored},
		{"main-leg", "", joined && p.mainLegHeld()}, {"main-leg-bare", "", joined && !p.mainLegHeld()}, {"kitchen", "", p.onMainAlone() != "" && !joined},
		{"spool", "", p.Assembly.Spooled()}, {"cap", "", true}, {"photo", "", true}, {"tags", "", true},
	})
	if pump {
		b = p.phase(b, "power", []string{"caution.power"}, []step{{"ask", "licensed", true}, {"points", "", true}, {"turns", "", p.several()}, {"dry-run", "", stored}, {"cut-out", "", !stored}})
	}
	b = p.phase(b, "prove", []string{"caution.pressure"}, []step{
		{"pressure", "", true}, {"flush", "", stored}, {"spill", "two", stored}, {"disinfect", "", stored}, {"flush-bare", "", !stored},
	})
	b = append(b, paper.Banner{Style: paper.Strong, Text: say("build.no-return", "time", p.time(tie.Off), "double", p.time(tie.Promise)), Gap: 5, Keep: true})
	b = p.phase(b, "tie", []string{"caution.main", "caution.hot"}, []step{
		{"dry", "two", true}, {"shut", "", true}, {"drain", "", true}, {"cut", "two", true}, {"join", "two", true}, {"open", "two", true}, {"meter", "", true}, {"back", "", true},
	})
	b = p.phase(b, "after", nil, []step{{"setting", "", true}, {"check", "two", p.testedChecks() != ""}, {"taps", "", true}, {"drill", "", pump}, {"card", "", true}})
	b = append(b, paper.Fields{Labels: []string{say("build.off-at"), say("build.on-at"), say("build.leaks"), say("blank.fitter"), say("blank.second"), say("blank.date")}, Columns: 3, Gap: 5})
	return append(append(b, p.working(tie.Calc)...), deferral())
}

// baseHazards are the cautions of setting a store.
func (p *pack) baseHazards() []string {
	if p.aloft() || p.lifted() {
		return []string{"caution.lifting", "caution.structure", "caution.height"}
	}
	return []string{"caution.lifting", "caution.structure"}
}

// mainLegHeld reports whether a non-return valve stands in the leg from the main straight
// to the changeover, or in the by-pass that serves as one.
func (p *pack) mainLegHeld() bool {
	for _, i := range p.Assembly.Of(assembly.NonReturn) {
		if r := p.Assembly.Parts[i].Role; r == assembly.MainLeg || r == assembly.BypassBy {
			return true
		}
	}
	return false
}

// soldered reports whether any new joint is made with a flame.
func (p *pack) soldered() bool {
	for i := range p.Assembly.Parts {
		for _, port := range p.Assembly.Parts[i].Ports {
			if port.End == "solder" && !p.Assembly.Parts[i].Kept {
				return true
			}
		}
	}
	return false
}

// phase adds one stage of the work: its cautions first, then its boxes.
func (p *pack) phase(b []paper.Block, name string, cautions []string, steps []step) []paper.Block {
	if name == "pipes" && !p.pumped() {
		b = append(b, heading("build.pipes-still"))
	} else {
		b = append(b, heading("build."+name))
	}
	for _, id := range cautions {
		warning := p.caution(id)
		warning.Keep = true
		b = append(b, warning)
	}
	var rows [][]paper.Cell
	for _, s := range steps {
		if !s.on {
			continue
		}
		who := ""
		if s.who != "" {
			who = say("build.who." + s.who)
		}
		rows = append(rows, []paper.Cell{tick, cell(p.buildText("build." + name + "." + s.id)), {Text: who, Style: paper.SmallStrong}})
	}
	return append(b, paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 27}}, Rows: rows, Gap: 0.7, Pad: 0.45})
}

// buildText fills a step with this assembly's tags and settings.
func (p *pack) buildText(id string) string {
	normal := ""
	if len(p.Assembly.Settings) > 0 {
		normal = settingName(p.Assembly.Settings[0].Name)
	}
	c := &p.Job.Choices
	mass := say("build.mass-unknown", "tonne", p.guess(quantity.MassDim, 1000), "water", p.guess(quantity.VolumeDim, 1))
	if p.Store != nil && p.Store.Mass > 0 {
		mass = p.mass(p.Store.Mass)
	}
	return say(id,
		"stop", p.stop(), "feed", p.feed(),
		"float", p.low(assembly.FloatValve), "stores", p.low(assembly.Store), "count", fmt.Sprint(p.onGround()),
		"header", p.headerTag(), "header-float", p.headerFloat(), "header-mass", p.headerMass(),
		"pump", p.tags(assembly.Pump), "vessel", orWords(p.pumpVessels(), "valves.vessel"), "also", p.heaterVessel(), "controls", orWords(p.pumpControls(), "valves.controls"),
		"drain", p.named("valves.drain", assembly.AsMainLegDrain, assembly.AsBackflowDrain, assembly.AsStoreDrain), "normal", normal, "mass", mass,
		"cut-in", p.pressure(c.CutIn.V), "cut-out", p.pressure(c.CutOut.V), "charge", p.pressure(c.Charge.V),
		"lock", p.lockOut(), "foot", p.named("valves.stop", assembly.AsHomeValve), "outlets", p.onMainAlone(), "spool", p.tags(assembly.Spool), "bar", p.bar())
}

// headerMass is what a full header tank weighs.
func (p *pack) headerMass() string {
	if p.Store == nil || p.Store.HeaderMass <= 0 {
		return ""
	}
	return p.mass(p.Store.HeaderMass)
}

func (p *pack) stores() int {
	n := 0
	for _, i := range p.Assembly.Of(assembly.Store) {
		n += max(1, p.Assembly.Parts[i].Count)
	}
	return n
}

// bar is the cut-out at the pump's inlet and where it stops the pump, or nothing.
func (p *pack) bar() string {
	if c := p.Assembly.CutOut(); c != nil {
		return say("build.bar", "tag", c.Tag, "off", p.pressure(c.Off), "on", p.pressure(c.On))
	}
	return ""
}

// lockOut is the set points of the main-side lock-out, in a sentence, or nothing.
func (p *pack) lockOut() string {
	if c := p.Assembly.LockOut(); c != nil {
		return say("build.lock", "tag", c.Tag, "on", p.pressure(c.On), "off", p.pressure(c.Off))
	}
	return ""
}

// orWords is the tags, or the words for them where the assembly has none.
func orWords(tags, id string) string {
	if tags == "" {
		return say(id)
	}
	return tags
}
