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
	"slices"
	"strings"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/drawing"
	"tideover/internal/pack/paper"
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
	Sheets  []string // names out of Sheets(); none means all
	Date    string   // ISO date on every sheet; "" is the job's own
	Version string   // of the tool, for the foot of every sheet
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
	list, err := p.csv()
	if err != nil {
		return nil, err
	}
	findings, err := p.findingsJSON()
	if err != nil {
		return nil, err
	}
	return append(files, File{"buying-list.csv", list}, File{"findings.json", findings}), nil
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
	for _, name := range o.Sheets {
		if !slices.Contains(Sheets(), name) {
			return nil, errors.New(words.Say("pack.sheet", words.Args{"text": name, "list": strings.Join(Sheets(), ", ")}))
		}
	}
	return p, nil
}

// sheet is one entry of the pack: a question, who asks it, and what answers it.
type sheet struct {
	name    string
	oneSide bool
	blocks  func(*pack) []paper.Block
}

// sheets is the whole pack in the order of the work.
var sheets = []sheet{
	{"verdict", false, (*pack).verdict},
	{"survey", false, (*pack).survey},
	{"system", false, (*pack).system},
	{"valves", false, (*pack).valves},
	{"outlets", false, (*pack).outlets},
	{"charts", false, (*pack).why},
	{"findings", false, (*pack).findings},
	{"buying", false, (*pack).buying},
	{"build", false, (*pack).build},
	{"disinfect", false, (*pack).disinfect},
	{"card", true, (*pack).card},
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
	}
	for i, s := range sheets {
		if len(p.wanted) > 0 && !slices.Contains(p.wanted, s.name) {
			continue
		}
		id := "sheet." + s.name
		d.Sheets = append(d.Sheets, paper.Sheet{
			ID:    say("pack.sheet-id", "n", fmt.Sprint(i+1), "name", say(id+".name")),
			Title: say(id + ".question"), Who: say(id + ".who"), Right: name,
			OneSide: s.oneSide, Blocks: s.blocks(p),
		})
	}
	return paper.Write(d)
}

func (p *pack) pageMark(number, of, n, all int) string {
	return say("pack.page", "p", fmt.Sprint(number), "of", fmt.Sprint(of), "n", fmt.Sprint(n), "all", fmt.Sprint(all))
}
