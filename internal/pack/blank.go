package pack

import (
	"errors"
	"fmt"
	"time"

	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// round is one stop of the survey visit: what is read there, in the order of the work.
// A name with a dot is a field of the job; another is a line of its own, "blank.<name>".
type round struct {
	name  string
	lines []string
}

// rounds are the survey from the telephone to the photos. The gauge goes to the meter
// first, at two rates, and stays overnight; a bucket at a mixer measures its aerator.
var rounds = []round{
	{"call", []string{"home.people", "last-failure", "worst-failure", "interruptions.habit", "weak-hours", "consent.tenure", "supply.by-pass", "call-space"}},
	{"meter", []string{"supply.meter", "supply.service.pipe", "supply.stop-valve", "supply.gauge-height", "supply.static", "supply.flow-test.low-flow", "supply.flow-test.low-pressure",
		"supply.flow-test.high-flow", "supply.flow-test.high-pressure", "dial", "supply.night-maximum", "supply.non-return", "supply.meter-strainer", "strip"}},
	{"house", []string{"home.level", "supply.service.length", "supply.house-test.level", "supply.house-test.static", "supply.house-test.flow", "supply.house-test.pressure",
		"supply.second-stop", "supply.shared", "supply.neighbour"}},
	{"bad-hour", []string{"supply.peak.pressure", "supply.peak.flow", "supply.peak.open-flow", "supply.peak.open-pressure", "supply.peak.from", "supply.peak.to"}},
	{"home", []string{"home.use", "home.away", "home.heater.type", "home.heater.rating", "home.heater.vent", "shower-heads", "interruptions.boil-notice", "interruptions.notice-lasts"}},
	{"place", []string{"gate", "door", "stair", "truck", "wall", "place.ground", "place.slope", "water-table", "services", "overhead", "septic", "overflow-to", "shade", "place.frost", "noise"}},
	{"power", []string{"power.voltage", "interruptions.power-cuts", "circuit", "power.battery"}},
	{"routes", []string{"pipework.tee-to-store", "pipework.store-to-pump", "pipework.pump-to-home", "pipework.changeover-to-header", "pipework.indoors"}},
}

// pictures to take on the visit.
var photographs = []string{"meter", "plate-heater", "plate-pump", "place", "gate", "wall", "board", "shower", "pipe-print"}

// tapLines is how many taps the sheet has lines for, partLines how many old parts.
const tapLines, partLines = 9, 5

// Blank makes the survey sheet to take along before there is a job: the order of the
// tests, what to read at each, with boxes. date stands at the foot; it may be empty.
func Blank(sys quantity.System, size Paper, date, version string) ([]byte, error) {
	made := time.Time{}
	if date != "" {
		var err error
		if made, err = time.Parse(time.DateOnly, date); err != nil {
			return nil, errors.New(words.Say("pack.date", words.Args{"text": date}))
		}
	}
	tool := say("pack.tool", "version", version)
	foot := tool
	if date != "" {
		foot = say("pack.foot", "tool", tool, "date", date)
	}
	d := &paper.Document{
		Size: paper.A4, Made: made, Lang: "en", Maker: tool, Title: say("blank.title"), Subject: say("blank.subject"), Left: foot,
		Mark: (&pack{}).pageMark, Lacks: lacksNote,
		Sheets: []paper.Sheet{{ID: say("blank.title"), Title: say("blank.question"), Who: say("blank.who"), Blocks: blank(sys)}},
	}
	if size == Letter {
		d.Size = paper.Letter
	}
	return paper.Write(d)
}

func blank(sys quantity.System) []paper.Block {
	p := &pack{sys: sys}
	b := []paper.Block{
		paper.Fields{Columns: 3, Gap: 0, Labels: []string{say("blank.customer"), say("letter.place"), say("blank.visit")}},
		paper.Text{Style: paper.Small, Text: say("blank.how", "told", p.fig(quantity.PressureDim, 3.2e5)), Gap: 2},
		p.caution("caution.survey"),
	}
	for i, r := range rounds {
		t := paper.Table{Cols: []paper.Col{{Share: 1.15}, {Share: 1.75}, {Width: 34}, {Width: 9}}, Gap: 1, Pad: 0.35, Close: true}
		for _, name := range r.lines {
			t.Rows = append(t.Rows, blankLine(name, sys))
		}
		b = append(b, paper.Text{Style: paper.Strong, Text: say("blank.round", "n", fmt.Sprint(i+1), "what", say("blank.round."+r.name)), Gap: 4, Keep: true},
			paper.Text{Style: paper.Small, Text: say("blank.round." + r.name + ".how"), Gap: 0.5, Keep: true}, t)
	}
	b = append(b, blankList("outlets", tapLines, "outlets.*.kind", "outlets.*.height", "outlets.*.distance", "outlets.*.pipe", "outlets.*.water")...)
	b = append(b, blankList("existing", partLines, "existing.*.kind", "existing.*.row", "existing.*.condition", "existing.*.decision")...)
	b = append(b, heading("blank.photos"), blankPhotos())
	return append(b, paper.Fields{Columns: 3, Gap: 3, Labels: []string{say("blank.fitter"), say("blank.owner"), say("blank.date")}}, deferral())
}

// blankLine is one thing to read: what, how, and a box with its unit.
func blankLine(name string, sys quantity.System) []paper.Cell {
	label, hint, unit := say("blank."+name), say("blank."+name+".how"), ""
	if f, ok := job.FieldFor(name); ok {
		label, hint, unit = f.Label(), f.Hint(), unitOf(f, sys)
	}
	return []paper.Cell{{Text: upperFirst(label), Style: paper.SmallStrong}, {Text: hint, Style: paper.Small}, write, {Text: unit, Style: paper.Small}}
}

// unitOf is the unit a field is as a rule written in, in words of the reader's system.
func unitOf(f job.Field, sys quantity.System) string {
	if f.Shape != job.Quantity {
		return ""
	}
	_, unit := quantity.Shown(quantity.Quantity{Dim: f.Dim, SI: (f.Low + f.High) / 4, Basis: quantity.Stated}, sys)
	return unit
}

// blankList is a table with a row for each item and its columns' names from the fields.
func blankList(name string, rows int, paths ...string) []paper.Block {
	t := paper.Table{Cols: []paper.Col{{Share: 1.2}}, Head: []string{say("survey.item")}, Gap: 1, Pad: 1}
	for _, path := range paths {
		f, _ := job.FieldFor(path)
		t.Cols, t.Head = append(t.Cols, paper.Col{Share: 1}), append(t.Head, f.Label())
	}
	for range rows {
		row := make([]paper.Cell, len(t.Cols))
		for i := range row {
			row[i] = write
		}
		t.Rows = append(t.Rows, row)
	}
	return []paper.Block{paper.Text{Style: paper.Strong, Text: say("blank.list." + name), Gap: 4, Keep: true}, t}
}

func blankPhotos() paper.Block {
	const across = 3
	t := paper.Table{Plain: true, Gap: 1, Pad: 0.3}
	for range across {
		t.Cols = append(t.Cols, paper.Col{Share: 1})
	}
	for i := 0; i < len(photographs); i += across {
		row := make([]paper.Cell, across)
		for k := range row {
			if i+k < len(photographs) {
				row[k] = paper.Cell{Text: say("blank.photo." + photographs[i+k]), Mark: paper.Tick, Style: paper.Small}
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
