package architecture

import (
	"encoding/csv"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/job"
	"tideover/internal/words"
)

// families are the beginnings of ids that the code composes, and what it puts after them.
var families = map[string]string{
	"accept.":                 "the shape of a field",
	"assume.":                 "the key of an assumption, then which way it errs and what settles it",
	"base.make.":              "a step of the base",
	"bearing.":                "what was made of water in the ground, or why no figure may be trusted",
	"base.stop.":              "what stops the base",
	"basis.":                  "a basis",
	"build.":                  "a step of the order of build",
	"booster.":                "whether a pump on the main may be",
	"by-pass.":                "whether a by-pass may be",
	"card.":                   "an entry of the owner's card",
	"chart.way.col-":          "a column of the table",
	"chart.strip.":            "what a strip of time shows",
	"weekday.short.":          "a day of the week, 0 Monday",
	"month.short.":            "a month of the year",
	"cli.edit.":               "an edit operation",
	"cli.headline.":           "a verdict",
	"cli.rest.against.":       "at-least or at-most",
	"commission.do.":          "a reading of the commissioning sheet",
	"commission.look.":        "a reading of the commissioning sheet",
	"cure.":                   "a kind of cure",
	"device.":                 "a category of backflow device",
	"disinfect.":              "a step, the age or the strength of the bottle",
	"drawing.":                "a kind, water or position, in the drawing and its legend",
	"electric.rcd.":           "a kind of pump control",
	"fault.":                  "a fault of the job file",
	"field.":                  "a field of the job file, then label, hint or why",
	"finding.":                "a kind of finding, then title or a verdict",
	"flush.off.":              "a step of the flush before the tie-in",
	"flush.on.":               "a step of the flush after it",
	"bad-water.":              "a step of making bad water good",
	"build.ready.":            "a step before the day",
	"build.tie.":              "a step of the tie-in",
	"card.notices.":           "a kind of notice",
	"card.return.":            "a step of coming back",
	"card.thaw.":              "a step of starting up",
	"commission.press.":       "what presses on a non-return valve",
	"disinfect.tie.":          "a step of the tie-in",
	"ground.":                 "a kind of ground",
	"hours.":                  "when the store is filled",
	"takeoff.overflow-":       "what an overflow is made of",
	"foul.":                   "what else gets into the store",
	"hangs.":                  "what hangs at an outlet",
	"gap.drill.":              "an overflow pipe that is offered, at its height or lower",
	"gap.slot.":               "a slot that is offered, at its height or lower",
	"mishap.":                 "a mishap",
	"cause.":                  "what can be in the way of the water, and how it stands",
	"cause.standing.":         "how a cause stands",
	"cause.why.":              "why it stands so",
	"need.":                   "what a home calls for",
	"mode.":                   "the normal case of a finding",
	"moves.":                  "an input that is no field",
	"outage-log.":             "what is wrong with an outage log",
	"part.":                   "what a part is for; a drain stands on a tee",
	"run.":                    "a part of a long run",
	"position.":               "a position of a hand valve",
	"promise.":                "a promise, then title, so, or what a sentence of it says",
	"proof.outcome.":          "an outcome",
	"proof.sheet.":            "promises that nothing named can break",
	"proof.verdict.":          "a verdict of a promise",
	"quantity.accepts.":       "a dimension, then the units",
	"quantity.dim.":           "a dimension",
	"do.":                     "the field that a remedy sets, and a value of it",
	"needs.":                  "who or what a remedy needs",
	"open.":                   "what a remedy was not held to",
	"refill-time.":            "what takes most of the pressure while the store fills",
	"remedy.":                 "an edit operation",
	"rest.":                   "what holds a standing pressure",
	"section.":                "a section of the work",
	"blank.":                  "a line of the blank survey sheet",
	"blank.round.":            "a stop of the survey visit",
	"blank.list.":             "a table of the blank survey sheet",
	"blank.photo.":            "a photo to take",
	"letter.":                 "a letter to somebody who signs",
	"letter.box.":             "a box of a letter's answer",
	"doubt.":                  "the reason of a row of the table of doubts",
	"ask.":                    "a question of the interview, its hint, its options",
	"ask.storeys.":            "the floors",
	"cli.call.ready.":         "what to have ready for the visit",
	"cli.call.measure.":       "what to measure before the visit",
	"arrangement.":            "an arrangement, in words",
	"proposal.":               "an alternative",
	"proposal.row.":           "a line of alternatives side by side",
	"quote.not-in.":           "what a quote leaves out",
	"boost.":                  "what boosting does to a kind of heater",
	"opens.":                  "what may open a window between too small and too old",
	"habit.":                  "what people do when the water fails",
	"years.col.":              "a column of the sizes",
	"years.means.":            "what a column of the sizes counts",
	"years.table.":            "a table of the sizes",
	"sign.":                   "who must sign, why, and how it stands",
	"sign.why.":               "why somebody must sign",
	"sign.state.":             "how a signature stands",
	"setting.":                "a named setting",
	"sheet.":                  "a sheet, then its title, question and person",
	"standing.":               "what a figure is to the place",
	"source.":                 "where a default is from",
	"survey.list.":            "a list of the job file",
	"test.off.":               "what is shut off before the pressure test",
	"test.step.":              "a step of the pressure test",
	"turn.":                   "a position to turn to",
	"law.":                    "a law of lengths",
	"ride.why-":               "what keeps a store from giving its water",
	"way.":                    "a way in which stored water moves",
	"use.":                    "a kind of draw",
	"upkeep.do.":              "a chore",
	"upkeep.again.":           "a reading that is taken again",
	"upkeep.title.":           "a chore",
	"verdict.":                "a verdict",
	"verification.proof.why.": "a mishap and the part it happens to; the report is written by a test",
	"water.":                  "a scale of water, then its grade",
	"walk.":                   "a kind of part on a walk in heads",
	"case.":                   "a variable of a case and its value",
	"web.pack.paper.":         "a paper size",
	"web.pack.set.":           "a set of sheets",
	"web.pack.stage.":         "how far a pack is",
	"web.years.stage.":        "how far the years are",
	"web.add.":                "a list of the job file",
	"web.turn.failed.":        "a kind of part that can fail",
	"web.group.":              "a part of the job file, or what stands beside it in a section",
	"web.headline.":           "a verdict",
	"web.option.":             "an answer of a field",
	"world.":                  "a variable of a case and its value",
	"xlsx.":                   "a column of the workbook",
}

// TestMessagesAreReached: every message can be read by somebody. Its id is written out in
// the code, or it belongs to a family and each piece of what follows is written in the
// code or stands in a table of the catalogue.
func TestMessagesAreReached(t *testing.T) {
	said := written(t)
	composed := map[string]int{}
	for _, id := range words.IDs() {
		if said[id] {
			continue
		}
		family, rest := familyOf(id)
		switch {
		case family == "":
			t.Errorf("message %q is written out nowhere and belongs to no family: take it out, or name its family", id)
		case !spelt(rest, said):
			t.Errorf("message %q: nothing in the code or the catalogue says %q after %q: take it out", id, rest, family)
		}
		composed[family]++
	}
	for family := range families {
		if composed[family] == 0 {
			t.Errorf("family %q composes no id: take it out", family)
		}
	}
}

func familyOf(id string) (family, rest string) {
	for head := range families {
		if strings.HasPrefix(id, head) && len(head) > len(family) {
			family = head
		}
	}
	return family, strings.TrimPrefix(id, family)
}

// spelt reports whether text is made of written pieces, joined by points or hyphens.
func spelt(text string, said map[string]bool) bool {
	if said[text] {
		return true
	}
	for i, c := range text {
		if (c == '.' || c == '-') && said[text[:i]] && spelt(text[i+1:], said) {
			return true
		}
	}
	return false
}

// written are the texts of all string literals of the programme, whole and by their
// words, and the cells of the catalogue.
func written(t *testing.T) map[string]bool {
	t.Helper()
	said := map[string]bool{}
	note := func(text string) {
		said[text] = true
		said[strings.TrimPrefix(text, "@")] = true // a name in a finding that is itself an id
		for _, word := range strings.Fields(text) {
			said[word], said[strings.Trim(word, ".-")] = true, true
		}
	}
	for _, p := range packages(t) {
		for _, text := range literals(t, p.Dir, p.GoFiles) {
			note(text)
		}
		for _, text := range quotedInPages(t, p.Dir) {
			note(text)
		}
		for _, text := range literals(t, p.Dir, p.TestGoFiles) {
			if strings.HasPrefix(text, "verification.") { // reports are written by tests
				note(text)
			}
		}
	}
	for _, f := range job.Fields() { // a page names the parts of a job file they stand in
		if i := strings.LastIndexByte(f.Path, '.'); i > 0 {
			note(f.Path[:i])
		}
	}
	tables, err := filepath.Glob("../catalogue/data/*.csv")
	if err != nil || len(tables) == 0 {
		t.Fatal("no tables of the catalogue", err)
	}
	for _, table := range tables {
		b, err := os.ReadFile(table)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(strings.NewReader(string(b)))
		r.Comment, r.FieldsPerRecord = '#', -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, cell := range row {
				note(cell)
			}
		}
	}
	return said
}

// literals are the texts of the string literals of some files.
func literals(t *testing.T, dir string, names []string) []string {
	t.Helper()
	var list []string
	for _, name := range names {
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(dir, name), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				text, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				list = append(list, text)
			}
			return true
		})
	}
	return list
}

var quotedText = regexp.MustCompile(`(?:say|define|template|print|eq|\S)\s+"([^"]+)"`)

// quotedInPages are the quoted texts of a package's page templates, ids of messages among
// them.
func quotedInPages(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "pages", "*.html"))
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range quotedText.FindAllStringSubmatch(string(b), -1) {
			list = append(list, m[1])
		}
	}
	return list
}
