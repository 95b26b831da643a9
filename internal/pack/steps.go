package pack

import (
	"fmt"
	"slices"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/disinfect"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
)

// hands is the assembly as hands meet it.
func (p *pack) hands() *procedure.Home {
	if p.handled == nil {
		p.handled = procedure.For(p.Assembly)
	}
	return p.handled
}

// facts are what the job tells of the work beside its parts.
func (p *pack) facts() procedure.Facts {
	return procedure.Facts{Letter: p.Job.Supply.Bypass != job.Yes, Aloft: p.aloft(), Split: p.onMainAlone() != ""}
}

// list prints a list of steps: its heading, its cautions, its boxes.
func (p *pack) list(l procedure.List, cautions []string) []paper.Block {
	b := []paper.Block{heading(l.ID)}
	for _, id := range cautions {
		warning := p.caution(id)
		warning.Keep = true
		b = append(b, warning)
	}
	return append(b, p.boxes(l))
}

// boxes are the steps of a list, each with a box to tick and who does it. The prefix of a
// step's message is the list's, whatever variant of the heading it stands under.
func (p *pack) boxes(l procedure.List) paper.Table {
	cols, anybody := []paper.Col{{Width: 5}, {Share: 1}}, true
	for _, s := range l.Steps {
		anybody = anybody && s.Who == procedure.Alone
	}
	if !anybody {
		cols = append(cols, paper.Col{Width: 27})
	}
	var rows [][]paper.Cell
	for _, s := range l.Steps {
		row := []paper.Cell{tick, cell(p.stepText(l, s))}
		if !anybody {
			who := ""
			if s.Who != procedure.Alone {
				who = say("build.who." + string(s.Who))
			}
			row = append(row, paper.Cell{Text: who, Style: paper.SmallStrong})
		}
		rows = append(rows, row)
	}
	return paper.Table{Cols: cols, Rows: rows, Gap: 0.7, Pad: 0.45}
}

// stepText is a step's sentence, filled with this assembly's tags and figures and with the
// handles the step itself turns.
func (p *pack) stepText(l procedure.List, s procedure.Step) string {
	id := strings.TrimSuffix(l.ID, "-still") + "." + s.ID
	return say(id, append(p.stepArgs(), p.actArgs(s)...)...)
}

// actArgs are what a step's own acts say: handles to turn, in the order proven where there
// is one; drains; what it is told of.
func (p *pack) actArgs(s procedure.Step) []string {
	var turns, drains, legs, taps, wiped, mouths []string
	zero := false
	for _, a := range s.Acts {
		zero = zero || a.Do == procedure.SeeZero
	}
	for _, a := range s.Acts {
		if a.Part < 0 {
			continue
		}
		part := &p.Assembly.Parts[a.Part]
		if zero && a.Do == procedure.Handle && a.To == "open" && (part.Kind == assembly.Drain || part.Kind == assembly.Outlet) {
			mouths = append(mouths, part.Tag)
			continue
		}
		switch seen := a.Do == procedure.SeeWater; {
		case part.Kind == assembly.Drain && (seen || a.Do == procedure.Handle):
			drains = append(drains, part.Tag)
		case seen && part.Kind == assembly.Outlet:
			taps = append(taps, part.Tag)
		case seen:
			legs = append(legs, part.Tag)
		case a.Do == procedure.Swab && part.Kind != assembly.Tee:
			wiped = append(wiped, part.Tag)
		case a.Do == procedure.Handle && part.Positions() != nil:
			turns = append(turns, say("card.turn", "tag", part.Tag, "to", sayOr("turn."+a.To, a.To)))
		}
	}
	list := func(tags []string) string { return strings.Join(once(tags), ", ") }
	let := ""
	if len(mouths) > 0 {
		let = say("build.let-off", "mouths", list(mouths)) + " "
	}
	return []string{"turns", upperFirst(list(turns)), "turns-low", list(turns), "let-off", let, "drains", list(drains), "new-drains", list(drains),
		"legs", list(legs), "store-taps", list(taps), "wiped", list(wiped)}
}

// once is a list without what it names again: a drain that a step opens and shuts.
func once(list []string) []string {
	var out []string
	for _, x := range list {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// stepArgs are the places a step's sentence can have, whatever sheet it is on.
func (p *pack) stepArgs() []string {
	if p.placed == nil {
		p.placed = p.stepPlaces()
	}
	return slices.Clip(p.placed)
}

func (p *pack) stepPlaces() []string {
	normal := ""
	if len(p.Assembly.Settings) > 0 {
		normal = settingName(p.Assembly.Settings[0].Name)
	}
	c := &p.Job.Choices
	mass := say("build.mass-unknown", "tonne", p.guess(quantity.MassDim, 1000), "water", p.guess(quantity.VolumeDim, 1))
	if p.Store != nil && p.Store.Mass > 0 {
		mass = p.mass(p.Store.Mass)
	}
	args := []string{
		"stop", p.stop(), "feed", p.feed(), "normal", normal, "mass", mass,
		"float", p.low(assembly.FloatValve), "stores", p.low(assembly.Store), "count", fmt.Sprint(p.onGround()),
		"header", p.headerTag(), "header-float", p.headerFloat(), "header-mass", p.headerMass(),
		"pump", p.tags(assembly.Pump), "vessel", orWords(p.pumpVessels(), "valves.vessel"), "also", p.heaterVessel(), "controls", orWords(p.pumpControls(), "valves.controls"),
		"drain", p.named("valves.drain", assembly.AsMainLegDrain, assembly.AsBackflowDrain, assembly.AsStoreDrain),
		"store-drain", p.allAs(assembly.AsStoreDrain, "valves.drain"), "store-valve", p.allAs(assembly.AsStoreValve, "valves.store"),
		"cut-in", p.pressure(c.CutIn.V), "cut-out", p.pressure(c.CutOut.V), "charge", p.pressure(c.Charge.V),
		"lock", p.lockOut(), "foot", p.named("valves.stop", assembly.AsHomeValve), "outlets", p.onMainAlone(), "spool", p.tags(assembly.Spool), "bar", p.bar(),
		"pump-off", p.pumpLocked(), "pump-rest", p.ofPump("build.pump-rest"), "pump-again", p.ofPump("build.pump-again"), "pump-stop", p.ofPump("build.pump-stop"), "fill-pump", strings.TrimSuffix(p.ofPump("build.fill-pump"), " "), "swab-parts", p.swabParts(), "flush-at", p.flushAt(), "feed-first", p.feedFirst(),
		"tap", p.lowTap(), "back", p.backToNormal(), "full", p.stillFull(), "drink", p.drinkable(),
	}
	return append(args, p.handFigures()...)
}

// handFigures are figures that steps and cautions share.
func (p *pack) handFigures() []string {
	return []string{
		"rinse", p.time(1200),
		"strip-high", p.fig(quantity.DoseDim, 0.1), "strip-low", p.fig(quantity.DoseDim, 2e-3), "strip-drink", p.fig(quantity.DoseDim, 0.5e-3),
		"hot", p.fig(quantity.TemperatureDim, 60), "mixed", p.fig(quantity.TemperatureDim, 49),
		"high", p.guess(quantity.LengthDim, 2000),
		"swab-time", p.time(disinfect.SwabTime), "cold-time", p.time(300), "hot-time", p.time(180),
	}
}

// tagsAs are the tags of every part with a purpose.
func (p *pack) tagsAs(purpose assembly.Purpose) string {
	var list []string
	for i := range p.Assembly.Parts {
		if p.Assembly.Parts[i].Purpose == purpose {
			list = append(list, p.Assembly.Parts[i].Tag)
		}
	}
	return strings.Join(list, ", ")
}

// allAs are those tags, or words for them where there is none.
func (p *pack) allAs(purpose assembly.Purpose, other string) string {
	return orWords(p.tagsAs(purpose), other)
}

// pumpLocked says that the pump is off before the water is.
func (p *pack) pumpLocked() string {
	return p.ofPump("build.pump-off")
}

// ofPump is a sentence about the pump, with a space after it; nothing where there is none.
func (p *pack) ofPump(id string) string {
	if !p.pumped() {
		return ""
	}
	return say(id, "pump", p.tags(assembly.Pump)) + " "
}

// swabParts are the new parts that are cut into the old pipe, which no dosed water reaches.
func (p *pack) swabParts() string {
	var list []string
	for _, l := range p.hands().Build(p.facts()) {
		for _, s := range l.Steps {
			if l.ID != "build.tie" {
				continue
			}
			for _, a := range s.Acts {
				if part := a.Part; a.Do == procedure.Swab && p.Assembly.Parts[part].Kind != assembly.Tee {
					list = append(list, p.Assembly.Parts[part].Tag)
				}
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return say("build.swab-parts", "parts", strings.Join(list, ", "))
}

// flushAt is the tap by which the main's first dirty water is let off.
func (p *pack) flushAt() string {
	if i := p.hands().FlushAt(); i >= 0 {
		return p.Assembly.Parts[i].Tag
	}
	return say("valves.flush")
}

// feedFirst says which parts of the feed the water of the street end goes through.
func (p *pack) feedFirst() string {
	if !p.stored() {
		return ""
	}
	return say("flush.feed-first", "feed", p.feed(), "float", p.low(assembly.FloatValve)) + " "
}

func (p *pack) lowTap() string {
	if i := p.hands().LowTap(); i >= 0 {
		return p.Assembly.Parts[i].Tag
	}
	return ""
}

// backToNormal are the handles that go back where bad water has been made good.
func (p *pack) backToNormal() string {
	s := p.Assembly.Setting("boil-notice")
	if s == nil || len(p.Assembly.Settings) == 0 {
		return say("card.turn", "tag", p.feed(), "to", say("turn.open"))
	}
	var list []string
	for _, t := range p.turns(s, &p.Assembly.Settings[0]) {
		list = append(list, say("card.turn", "tag", t.tag, "to", sayOr("turn."+t.to, t.to)))
	}
	return strings.Join(list, ", ")
}

// stillFull are what a frost's drain-down leaves full, by tag.
func (p *pack) stillFull() string {
	var list []string
	for _, i := range p.hands().Frost().Full {
		if part := &p.Assembly.Parts[i]; part.Tag != "" && !slices.Contains(list, part.Tag) {
			list = append(list, part.Tag)
		}
	}
	return strings.Join(list, ", ")
}
