package pack

import (
	"fmt"
	"time"

	"tideover/internal/job"
	"tideover/internal/pack/paper"
	"tideover/internal/proposal"
)

// quoteDays is how long a quote holds from the job's date: a habit of the trade; write
// over it where yours is another.
const quoteDays = 30

// mostOptions is how many alternatives a quote sets side by side: more than two and nobody
// decides.
const mostOptions = 2

// Quote makes the one-page quote of the first two alternatives. Money stands on it only
// where the customer's own price list gave it; what has no price there is counted, and the
// total says so; without prices the lines are left to be written.
func Quote(j *job.Job, list []proposal.Alternative, size Paper, version string) ([]byte, error) {
	made, err := time.Parse(time.DateOnly, j.Date)
	if err != nil {
		return nil, err
	}
	list = list[:min(len(list), mostOptions)]
	tool := say("pack.tool", "version", version)
	p := &pack{sys: j.System()}
	name := oneLine(j.Name)
	d := &paper.Document{
		Size: paper.A4, Made: made, Lang: "en", Maker: tool, Title: say("quote.title", "job", name), Subject: say("quote.title", "job", name),
		Left: say("pack.foot", "tool", tool, "date", j.Date), Mark: p.pageMark, Lacks: lacksNote,
		Sheets: []paper.Sheet{{ID: say("quote.id"), Title: say("quote.question"), Who: say("quote.who"), Right: name, OneSide: true,
			Blocks: p.quote(j.Place.Address, list, made.AddDate(0, 0, quoteDays).Format(time.DateOnly))}},
	}
	if size == Letter {
		d.Size = paper.Letter
	}
	return paper.Write(d)
}

// onQuote are the lines of the side-by-side table a customer asks about.
var onQuote = map[string]bool{"arrangement": true, "store": true, "pump": true, "usable": true, "carry": true, "fresh": true,
	"on-main": true, "on-store": true, "power-out": true, "mass": true, "must": true}

func (p *pack) quote(address string, list []proposal.Alternative, until string) []paper.Block {
	b := []paper.Block{
		paper.Fields{Columns: 2, Gap: 0, Labels: []string{say("quote.from"), say("quote.for")}},
		paper.Fields{Columns: 3, Gap: 1.5, Labels: []string{say("letter.place"), say("quote.number"), say("quote.until", "date", until)}, Values: []string{oneLine(address)}},
		p.options(list),
		heading("quote.money"),
		p.money2(list),
		small(p.unpriced(list)),
		heading("quote.not-in"),
		paper.Columns{N: 2, Gap: 1, Blocks: p.exclusions()},
	}
	b = append(b, paper.Text{Style: paper.Small, Text: say("quote.terms", "date", until), Gap: 3},
		p.tickOptions(list),
		paper.Fields{Columns: 3, Gap: 2, Labels: []string{say("blank.owner"), say("blank.fitter"), say("blank.date")}})
	return append(b, deferral())
}

// options is the table of what each option is and keeps.
func (p *pack) options(list []proposal.Alternative) paper.Block {
	t := paper.Table{Cols: []paper.Col{{Share: 0.8}}, Head: []string{""}, Gap: 4, Pad: 0.5}
	for i := range list {
		t.Cols, t.Head = append(t.Cols, paper.Col{Share: 1.1}), append(t.Head, p.option(list, i))
	}
	for _, l := range proposal.Table(list, p.sys) {
		if !onQuote[l.ID] {
			continue
		}
		row := []paper.Cell{{Text: upperFirst(l.Label()), Style: paper.SmallStrong}}
		for _, text := range l.Texts {
			row = append(row, paper.Cell{Text: text, Style: paper.Small})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// option is an option's letter and name.
func (p *pack) option(list []proposal.Alternative, i int) string {
	return say("quote.option", "letter", string(rune('A'+i)), "name", say("proposal."+string(list[i].Name)))
}

// money2 is the price of each option: parts as the price list has them, the rest to be
// written.
func (p *pack) money2(list []proposal.Alternative) paper.Block {
	t := paper.Table{Cols: []paper.Col{{Share: 0.8}}, Pad: 0.5, Gap: 1}
	for range list {
		t.Cols = append(t.Cols, paper.Col{Share: 1.1})
	}
	parts := []paper.Cell{{Text: say("quote.parts"), Style: paper.SmallStrong}}
	for i := range list {
		b := list[i].Buying
		if b.Total == 0 {
			parts = append(parts, write)
			continue
		}
		parts = append(parts, paper.Cell{Text: say("quote.sum", "total", p.money(b.Total), "currency", b.Currency), Style: paper.SmallStrong})
	}
	t.Rows = append(t.Rows, parts)
	for _, line := range []string{"quote.unpriced-parts", "quote.work", "quote.base", "quote.electrician", "quote.tax", "quote.total"} {
		row := []paper.Cell{{Text: say(line), Style: paper.SmallStrong}}
		for range list {
			row = append(row, write)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// unpriced says how many lines of each option have no price, and names them where they
// are few.
func (p *pack) unpriced(list []proposal.Alternative) string {
	text := ""
	for i := range list {
		b := list[i].Buying
		if text != "" {
			text += " "
		}
		switch {
		case b.Total == 0:
			text += say("quote.no-prices", "option", string(rune('A'+i)))
		case b.Unpriced > 0:
			text += say("quote.some", "option", string(rune('A'+i)), "n", fmt.Sprint(b.Unpriced), "list", p.unpricedLines(list, i))
		default:
			text += say("quote.all", "option", string(rune('A'+i)))
		}
	}
	return text
}

// mostNamed is how many lines without a price are named.
const mostNamed = 6

func (p *pack) unpricedLines(list []proposal.Alternative, i int) string {
	text, n := "", 0
	for k := range list[i].Buying.Lines {
		l := &list[i].Buying.Lines[k]
		if l.Kept || l.Priced {
			continue
		}
		if n++; n > mostNamed {
			return text + "…"
		}
		if text != "" {
			text += ", "
		}
		text += l.Words
	}
	return text
}

func (p *pack) exclusions() []paper.Block {
	var b []paper.Block
	for _, id := range []string{"permit", "ground", "walls", "wiring", "old", "water", "repair", "access"} {
		b = append(b, paper.Text{Style: paper.Small, Text: "– " + say("quote.not-in."+id), Gap: 0.6})
	}
	return b
}

// tickOptions is where the customer says which.
func (p *pack) tickOptions(list []proposal.Alternative) paper.Block {
	t := paper.Table{Plain: true, Gap: 2}
	var row []paper.Cell
	for i := range list {
		t.Cols = append(t.Cols, paper.Col{Share: 1})
		row = append(row, paper.Cell{Text: p.option(list, i), Mark: paper.Tick, Style: paper.Strong})
	}
	t.Rows = [][]paper.Cell{row}
	return t
}
