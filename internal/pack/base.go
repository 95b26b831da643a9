package pack

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// steep is the slope from which on an engineer is asked: 1 in 5.
const steep = 0.2

// base is the sheet of whoever makes the place for the store: what it weighs, what the
// ground must carry, how level it is, and when to stop and ask an engineer.
func (p *pack) base() []paper.Block {
	row, ok := p.storeRow()
	if !ok || p.Store == nil || p.Store.Mass <= 0 {
		return []paper.Block{para(say("base.none")), deferral()}
	}
	g := sitework.Ground(row.Diameter, row.Nominal, p.Store.Mass)
	if p.aloft() {
		return p.stand(row, g)
	}
	b := []paper.Block{p.caution("caution.structure"), heading("base.load"), p.plain(p.loads(row, g)),
		heading("base.ground"), p.plain(p.ground(g)), heading("base.make"), p.ticks("base.make", []step{
			{"dig", "", true}, {"slab", "", true}, {"cure", "", true}, {"level", "", true}, {"links", "", p.onGround() > 1},
			{"drain", "", true}, {"shade", "", true}, {"wind", "", true}, {"set", "two", true},
		}, p.baseArgs(row, g)...),
	}
	upper, more := p.headerStand()
	b = append(b, upper...)
	b = append(b, paper.Banner{Style: paper.Strong, Text: say("base.stop"), Gap: 4, Keep: true}, p.stops(g))
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("base.levelled"), say("base.thumb"), say("base.poured"), say("blank.fitter"), say("base.engineer"), say("blank.date")}})
	return append(append(b, p.working(append(g.Calc.Steps, more...))...), deferral())
}

// storeRow is the catalogue row of the store.
func (p *pack) storeRow() (catalogue.Store, bool) {
	for _, i := range p.Assembly.Of(assembly.Store) {
		if row, ok := p.Assembly.Parts[i].Row.(catalogue.Store); ok && row.Diameter > 0 {
			return row, true
		}
	}
	return catalogue.Store{}, false
}

// fact is a label, its figure and where it is from.
type fact struct {
	id, figure string
	mark       paper.Mark
	note       string
}

func (p *pack) loads(row catalogue.Store, g sitework.Base) []fact {
	mark := certain(row.Certainty)
	return []fact{
		{"base.count", fmt.Sprint(p.onGround()), paper.NoMark, row.Words},
		{"base.mass", p.mass(p.Store.Mass), mark, say("base.mass-note")},
		{"base.size", say("base.round", "diameter", p.length(row.Diameter), "height", p.length(row.Height)), mark, say("base.size-note")},
		{"base.area", p.fig(quantity.AreaDim, float64(g.Footprint)), mark, say("base.area-note")},
		{"base.under", p.bearing(float64(g.Store)), mark, say("base.under-note")},
	}
}

func (p *pack) ground(g sitework.Base) []fact {
	told := p.Job.Place.Ground
	limit, from := p.Profile.Rule("bearing"), ""
	list := []fact{
		{"base.told", sayOr("ground."+orWord(told, "unknown"), told), paper.Half, say("base.told-note")},
		{"base.slope", p.fig(quantity.RatioDim, float64(p.Job.Place.Slope.V)), basisMarks[p.Job.Place.Slope.Basis], say("base.slope-note")},
		{"base.slab", say("base.slab-figure", "side", p.length(g.Side), "thick", p.length(g.Thickness)), paper.Hollow, say("base.slab-note")},
		{"base.soil", p.bearing(float64(g.Ground)), paper.NoMark, say("base.soil-note")},
	}
	if !limit.Set {
		return append(list, fact{"base.bearing", say("verdict.not-judged"), paper.NoMark, say("base.bearing-blank")})
	}
	from = say("base.bearing-holds")
	if float64(g.Ground) > limit.Value {
		from = say("base.bearing-fails")
	}
	return append(list, fact{"base.bearing", p.bearing(limit.Value), certain(limit.Certainty), from})
}

// bearing prints a pressure on the ground as those who build on it do: in kPa, or in
// pounds a square foot.
func (p *pack) bearing(pa float64) string {
	if p.sys == quantity.US {
		return say("base.psf", "n", fmt.Sprintf("%.0f", pa/47.880259))
	}
	return say("base.kpa", "n", fmt.Sprintf("%.0f", pa/1e3))
}

// certain is the mark of a catalogue figure: checked at a source, seen quoted, or recalled.
func certain(c catalogue.Certainty) paper.Mark {
	switch c {
	case catalogue.Checked, catalogue.Worked:
		return paper.Full
	case catalogue.Secondary:
		return paper.Half
	}
	return paper.Hollow
}

func orWord(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// plain is a table of labels, figures and notes.
func (p *pack) plain(list []fact) paper.Table {
	var rows [][]paper.Cell
	for _, l := range list {
		rows = append(rows, []paper.Cell{cell(say(l.id)), {Text: l.figure, Style: paper.Strong, Mark: l.mark}, {Text: l.note, Style: paper.Small}})
	}
	return paper.Table{Cols: []paper.Col{{Width: 48}, {Width: 44}, {Share: 1}}, Rows: rows, Gap: 0.7, Pad: 0.4}
}

func (p *pack) baseArgs(row catalogue.Store, g sitework.Base) []string {
	return []string{
		"side", p.length(g.Side), "thick", p.length(g.Thickness), "over", p.length(sitework.Overhang),
		"dip", p.guess(quantity.LengthDim, 0.005), "edge", p.guess(quantity.LengthDim, 1),
		"bed", p.guess(quantity.LengthDim, 0.1), "warm", p.fig(quantity.TemperatureDim, 10),
		"mass", p.mass(row.Mass), "stores", p.low(assembly.Store),
	}
}

// ticks is a list of boxes; a step's message is the prefix and its id.
func (p *pack) ticks(prefix string, steps []step, args ...string) paper.Table {
	var rows [][]paper.Cell
	for _, s := range steps {
		if !s.on {
			continue
		}
		who := ""
		if s.who != "" {
			who = say("build.who." + s.who)
		}
		rows = append(rows, []paper.Cell{tick, cell(say(prefix+"."+s.id, args...)), {Text: who, Style: paper.SmallStrong}})
	}
	return paper.Table{Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 26}}, Rows: rows, Gap: 0.7, Pad: 0.4}
}

// stops is the list of what ends the work until an engineer has looked; what the job
// already says is there stands in bold.
func (p *pack) stops(g sitework.Base) paper.Table {
	limit := p.Profile.Rule("bearing")
	here := map[string]bool{
		"platform": p.aloft() || p.lifted(), "roof": p.aloft() && p.Job.Access.Place == "roof",
		"clay":  p.Job.Place.Ground == "soft-clay",
		"fill":  p.Job.Place.Ground == "made-ground",
		"slope": float64(p.Job.Place.Slope.V) > steep,
		"soft":  limit.Set && float64(g.Ground) > limit.Value,
	}
	var rows [][]paper.Cell
	list := []string{"clay", "fill", "peat", "slope", "platform", "roof", "edge", "water", "soft"}
	for i := 0; i < len(list); i += 2 {
		row := make([]paper.Cell, 2)
		for side := range row {
			if i+side < len(list) {
				row[side] = p.stopCell(list[i+side], here[list[i+side]])
			}
		}
		rows = append(rows, row)
	}
	return paper.Table{Cols: []paper.Col{{Share: 1}, {Share: 1}}, Rows: rows, Gap: 1, Pad: 0.4}
}

func (p *pack) stopCell(id string, here bool) paper.Cell {
	c := paper.Cell{Text: say("base.stop."+id, "slope", p.ratio(steep), "high", p.guess(quantity.LengthDim, 0.3)), Mark: paper.Tick}
	if here {
		c.Text, c.Style = say("base.stop.here", "what", c.Text), paper.Strong
	}
	return c
}
