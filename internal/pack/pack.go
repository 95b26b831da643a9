// Package pack makes everything printed for site and owner: the sheets as one PDF, the
// schematic of each setting as SVG, the buying list as CSV and the findings as JSON.
//
// Stage: the end. It takes an Appraisal and gives files as bytes. It places values and
// sentences; it computes no engineering value and writes no file. Same appraisal and
// options, same bytes.
package pack

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"

	"tideover/internal/appraise"
	"tideover/internal/consent"
	"tideover/internal/drawing"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Paper is a paper size.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// ParsePaper reads a paper size as a person writes it.
func ParsePaper(text string) (Paper, error) {
	switch p := Paper(strings.ToLower(strings.TrimSpace(text))); p {
	case A4, Letter:
		return p, nil
	case "":
		return A4, nil
	}
	return "", errors.New(words.Say("pack.paper", words.Args{"text": text}))
}

// Options says how the pack is wanted. The zero value is every sheet on A4.
type Options struct {
	Paper   Paper
	Sheets  []string // names out of Sheets() or of Sets(); none means all
	Date    string   // ISO date on every sheet; "" is the job's own
	Version string   // of the tool, for the foot of every sheet

	Photos  map[string][]byte // bytes of the job's photos by file name; JPEG or PNG
	Missing map[string]string // why a photo could not be read, by file name
}

// File is one file of the pack.
type File struct {
	Name string
	Data []byte
}

// Make makes the pack. The sheets always stand in their own order, however they are named.
func Make(a *appraise.Appraisal, o Options) ([]File, error) {
	p, err := newPack(a, o)
	if err != nil {
		return nil, err
	}
	pdf, err := p.pdf()
	if err != nil {
		return nil, err
	}
	files := []File{{"pack.pdf", pdf}}
	for _, s := range a.Assembly.Settings {
		scene := p.schematic(s.Name)
		var b bytes.Buffer
		if err := drawing.WriteSVG(&b, scene, drawing.Screen); err != nil {
			return nil, err
		}
		files = append(files, File{"schematic-" + s.Name + ".svg", b.Bytes()})
	}
	charts, err := p.chartFiles()
	if err != nil {
		return nil, err
	}
	files = append(files, charts...)
	book, err := p.workbookFiles()
	if err != nil {
		return nil, err
	}
	files = append(files, book...)
	list, err := p.csv()
	if err != nil {
		return nil, err
	}
	findings, err := p.findingsJSON()
	if err != nil {
		return nil, err
	}
	return append(files, File{"buying-list.csv", list}, File{"findings.json", findings}, File{"upkeep.ics", p.calendar()}), nil
}

// pack is one run: the appraisal, the reader's units, the sheets wanted.
type pack struct {
	*appraise.Appraisal
	sys    quantity.System
	size   paper.Size
	date   string
	made   time.Time
	tool   string
	wanted []string
	photos []picture
	making string          // name of the sheet being made
	said   map[string]bool // equations whose formula stands on it already
	sums   []sum           // of the sheets made so far

	handled *procedure.Home // the assembly as hands meet it, worked out once
	placed  []string        // what every step's sentence can say of it
}

func newPack(a *appraise.Appraisal, o Options) (*pack, error) {
	p := &pack{Appraisal: a, sys: a.Job.System(), size: paper.A4, date: o.Date, wanted: o.Sheets}
	if o.Paper == Letter {
		p.size = paper.Letter
	}
	if p.date == "" {
		p.date = a.Job.Date
	}
	var err error
	if p.made, err = time.Parse(time.DateOnly, p.date); err != nil {
		return nil, errors.New(words.Say("pack.date", words.Args{"text": p.date}))
	}
	p.tool = strings.TrimSpace(words.Say("pack.tool", words.Args{"version": o.Version}))
	if p.wanted, err = chosen(o.Sheets); err != nil {
		return nil, err
	}
	p.readPhotos(o)
	return p, nil
}

// Known reports, as an error, the first name that is neither a sheet nor a set of sheets.
func Known(sheets []string) error {
	_, err := chosen(sheets)
	return err
}

// chosen turns names of sheets and sets into names of sheets; none means all but those
// made only when asked for.
func chosen(names []string) ([]string, error) {
	var list []string
	for _, name := range names {
		switch {
		case slices.Contains(Sheets(), name):
			list = append(list, name)
		case sets[name] != nil:
			list = append(list, sets[name]...)
		default:
			return nil, errors.New(words.Say("pack.sheet", words.Args{"text": name,
				"list": strings.Join(Sheets(), ", "), "sets": strings.Join(Sets(), ", ")}))
		}
	}
	if slices.Contains(list, "card") && !slices.Contains(list, "card-back") {
		list = append(list, "card-back") // one card, printed on both sides
	}
	if len(names) == 0 {
		for _, s := range sheets {
			if !s.apart() {
				list = append(list, s.name)
			}
		}
	}
	return list, nil
}

// sets are the sheets one person takes along. The short set is four sheets of paper for a
// job of three hours: the answer, what is built and how the handles stand, what to buy, the
// card, which has two sides.
var sets = map[string][]string{
	"letters": {"letter-supplier", "letter-landlord", "letter-insurer"},
	"short":   {"verdict", "plan", "buying", "card"},
	"owner":   {"verdict", "outlets", "card", "bad-water", "upkeep"},
	"site":    {"system", "valves", "buying", "electric", "base", "build", "pressure", "flush", "disinfect", "bad-water", "commission", "card", "tags"},
}

// Sets returns the names of the sets of sheets, in order.
func Sets() []string { return slices.Sorted(maps.Keys(sets)) }

// sheet is one entry of the pack: a question, who asks it, and what answers it.
type sheet struct {
	name    string
	oneSide bool
	blocks  func(*pack) []paper.Block
}

// apart reports whether a sheet is made only when it is asked for: the short form says
// again what others say, and a letter goes to somebody else.
func (s sheet) apart() bool { return s.name == "plan" || strings.HasPrefix(s.name, "letter-") }

// sheets is the whole pack in the order of the work, the sums at the end.
var sheets []sheet

func init() { // the sheets ask one another's names
	sheets = []sheet{
		{"verdict", true, (*pack).verdict},
		{"survey", false, (*pack).survey},
		{"plan", false, (*pack).plan},
		{"system", false, (*pack).system},
		{"valves", false, (*pack).valves},
		{"proof", false, (*pack).proof},
		{"outlets", false, (*pack).outlets},
		{"charts", false, (*pack).why},
		{"seasons", false, (*pack).seasons},
		{"buying", false, (*pack).buying},
		{"electric", false, (*pack).electric},
		{"base", false, (*pack).base},
		{"build", false, (*pack).build},
		{"pressure", false, (*pack).pressureTest},
		{"flush", false, (*pack).flush},
		{"disinfect", false, (*pack).disinfect},
		{"commission", false, (*pack).commission},
		{"bad-water", false, (*pack).badWater},
		{"card", true, (*pack).card},
		{"card-back", true, (*pack).cardBack},
		{"tags", false, (*pack).labels},
		{"upkeep", false, (*pack).upkeep},
		{"findings", false, (*pack).findings},
		{"letter-supplier", true, letterTo(consent.Supplier)},
		{"letter-landlord", true, letterTo(consent.Landlord)},
		{"letter-insurer", true, letterTo(consent.Insurer)},
	}
}

// Sheets returns the names of the sheets in their order.
func Sheets() []string {
	var names []string
	for _, s := range sheets {
		names = append(names, s.name)
	}
	return names
}

// pdf sets the wanted sheets into one PDF.
func (p *pack) pdf() ([]byte, error) {
	name := oneLine(p.Job.Name)
	d := &paper.Document{
		Size: p.size, Made: p.made, Lang: "en", Maker: p.tool,
		Title:   say("pack.title", "job", name),
		Subject: say("pack.subject", "date", p.date),
		Left:    say("pack.foot", "tool", p.tool, "date", p.date),
		Mark:    p.pageMark,
		Lacks:   lacksNote,
	}
	number := 1
	for _, s := range sheets {
		id, n := "sheet."+s.name, number
		if s.name != "plan" { // it is the next sheet in short, and has its number
			number++
		}
		if !slices.Contains(p.wanted, s.name) {
			continue
		}
		d.Sheets = append(d.Sheets, paper.Sheet{
			ID:    say("pack.sheet-id", "n", fmt.Sprint(n), "name", say(id+".name")),
			Title: say(id + ".question"), Who: say(id + ".who"), Right: name,
			OneSide: s.oneSide, Blocks: p.sheetBlocks(s),
		})
	}
	return paper.Write(d)
}

func (p *pack) pageMark(number, of, n, all int) string {
	return say("pack.page", "p", fmt.Sprint(number), "of", fmt.Sprint(of), "n", fmt.Sprint(n), "all", fmt.Sprint(all))
}

// sheetBlocks are a sheet's own blocks, its photos at the end, and where something must
// be fixed the word that it is a draft at its head: a sheet may be pulled out alone.
func (p *pack) sheetBlocks(s sheet) []paper.Block {
	p.said, p.making = map[string]bool{}, s.name
	var b []paper.Block
	if n := p.count(finding.MustFix); n > 0 && s.name != "verdict" {
		b = append(b, paper.Banner{Style: paper.Must, Text: say("pack.draft", "n", fmt.Sprint(n))}, paper.Text{Text: " ", Style: paper.Small})
	}
	own := s.blocks(p)
	if len(own) > 0 && len(b) > 0 {
		if first, on := own[0].(paper.Turned); on { // the word goes on the page that is turned
			own[0], b = paper.Turned{Blocks: append(b, first.Blocks...)}, nil
		}
	}
	return append(append(b, own...), p.pictures(s.name)...)
}

// lacksNote says at the foot of a page which scripts the face could not print there.
func lacksNote(letters []rune) string {
	var names []string
	for _, r := range letters {
		name := say("pack.other-script")
		for _, script := range slices.Sorted(maps.Keys(unicode.Scripts)) {
			if script != "Common" && script != "Inherited" && unicode.Is(unicode.Scripts[script], r) {
				name = strings.ReplaceAll(script, "_", " ")
			}
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return say("pack.lacks", "scripts", strings.Join(names, ", "))
}
