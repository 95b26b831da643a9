package pack

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/takeoff"
)

// buying is the list a merchant can work from.
func (p *pack) buying() []paper.Block {
	b := []paper.Block{para(say("buying.how"))}
	priced := false
	var rows, kept [][]paper.Cell
	for i := range p.Buying.Lines {
		l := &p.Buying.Lines[i]
		if l.Kept {
			kept = append(kept, []paper.Cell{{Text: l.Words, Style: paper.Tiny}, {Text: l.Asked(), Style: paper.Tiny}, {Text: strings.Join(l.Tags, ", "), Style: paper.Tiny}})
			continue
		}
		priced = priced || l.Priced
		rows = append(rows, p.line(l))
	}
	t := paper.Table{
		Cols: []paper.Col{{Width: 5}, {Width: 12, Right: true}, {Share: 1.5}, {Width: 24}, {Share: 1.1}, {Width: 12}},
		Head: []string{"", say("buying.count"), say("buying.what"), say("buying.size"), say("buying.for"), say("buying.basis")},
		Rows: rows, Gap: 2, Pad: 0.2,
	}
	if priced {
		t.Cols = append(t.Cols, paper.Col{Width: 20, Right: true})
		t.Head = append(t.Head, say("buying.each", "currency", p.Buying.Currency))
	} else {
		for i := range t.Rows {
			t.Rows[i] = t.Rows[i][:6]
		}
	}
	b = append(b, t)
	if priced {
		b = append(b, paper.Text{Style: paper.Strong, Gap: 3, Text: say("buying.total",
			"total", p.money(p.Buying.Total), "currency", p.Buying.Currency, "unpriced", fmt.Sprint(p.Buying.Unpriced))})
	}
	if len(kept) > 0 {
		b = append(b, heading("buying.kept"), paper.Columns{N: 2, Gap: 1, Blocks: []paper.Block{paper.Table{Cols: []paper.Col{{Share: 1.3}, {Width: 24}, {Share: 0.8}},
			Head: []string{say("buying.what"), say("buying.size"), say("buying.for")}, Rows: kept, Pad: 0.15, Close: true}}})
	}
	return append(b, small(say("buying.assumed")),
		paper.Fields{Labels: []string{say("blank.merchant"), say("blank.ordered"), say("blank.date")}, Columns: 3, Gap: 6})
}

func (p *pack) money(m quantity.Money) string { return p.fig(quantity.MoneyDim, float64(m)) }

func (p *pack) line(l *takeoff.Line) []paper.Cell {
	what, basis := cell(l.Words), paper.Cell{Mark: paper.Full}
	if l.Assumed {
		basis.Mark = paper.Hollow
	}
	if l.Length > 0 {
		what.Text += " " + say("buying.metres", "length", p.length(l.Length), "stock", p.length(l.Stock))
	}
	price := ""
	if l.Priced {
		price = p.money(l.Price)
	}
	what.Style, basis.Style = paper.Small, paper.Small
	return []paper.Cell{{Mark: paper.Tick, Style: paper.Small}, strong(fmt.Sprint(l.Count)), what, {Text: l.Asked(), Style: paper.Small}, {Text: strings.Join(l.Tags, ", "), Style: paper.Tiny}, basis, {Text: price, Style: paper.Small}}
}

// csv is the buying list for a merchant's spreadsheet (RFC 4180: comma, CRLF, quotes
// where needed). A cell that a spreadsheet would run as a formula gets an apostrophe.
func (p *pack) csv() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	rows := [][]string{{"pieces", "ask for", "size", "length needed (m)", "for", "price each (" + orDash(p.Buying.Currency) + ")",
		"already there", "figures from", "catalogue row", "sold in (m)"}}
	for i := range p.Buying.Lines {
		rows = append(rows, csvRow(&p.Buying.Lines[i]))
	}
	for _, row := range rows {
		for i := range row {
			row[i] = guard(row[i])
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func orDash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

func csvRow(l *takeoff.Line) []string {
	length, stock, price, kept, from := "", "", "", "no", "source"
	if l.Length > 0 {
		length, stock = quantity.Fixed(float64(l.Length), 2), quantity.Fixed(float64(l.Stock), 2)
	}
	if l.Priced {
		price = quantity.Fixed(float64(l.Price), 2)
	}
	if l.Kept {
		kept = "yes"
	}
	if l.Assumed {
		from = "trade knowledge"
	}
	return []string{fmt.Sprint(l.Count), l.Words, l.Asked(), length, strings.Join(l.Tags, " "), price, kept, from, l.Row, stock}
}

// guard keeps a spreadsheet from running a cell.
func guard(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}
