package takeoff

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

// buyable are the catalogue tables whose rows can be priced.
var buyable = []string{"pipes", "fittings", "valves", "non-returns", "regulators", "floats", "stores", "pumps", "vessels", "heaters", "controls", "sundries"}

// ReadPrices reads a merchant's prices: a CSV whose first line is "currency,<name>", then
// "row,price" lines; "#" begins a comment. A row is a catalogue row, or a catalogue row
// and a size after a blank ("elbow-PE 32") where sizes cost differently. Pipe is priced
// by the stock length or coil. name is the file's name in messages. An error is a
// *catalogue.Fault with its place; a row the catalogue does not hold is one.
func ReadPrices(name string, data []byte, c *catalogue.Catalogue) (prices map[string]float64, currency string, err error) {
	rd := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff")))
	rd.Comment, rd.FieldsPerRecord, rd.TrimLeadingSpace = '#', -1, true
	p := priceReader{name: name, rd: rd, rows: c, prices: map[string]float64{}, lines: map[string]int{}}
	for {
		rec, err := rd.Read()
		var bad *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return p.finish()
		case errors.As(err, &bad):
			return nil, "", &catalogue.Fault{File: name, Line: bad.Line, Column: bad.Column, ID: "catalogue.csv", Args: words.Args{"why": bad.Err.Error()}}
		case err != nil:
			return nil, "", err
		}
		if err := p.line(rec); err != nil {
			return nil, "", err
		}
	}
}

type priceReader struct {
	name     string
	rd       *csv.Reader
	rows     *catalogue.Catalogue
	currency string
	prices   map[string]float64
	lines    map[string]int
}

func (p *priceReader) finish() (map[string]float64, string, error) {
	if p.currency == "" {
		return nil, "", &catalogue.Fault{File: p.name, Line: 1, Column: 1, ID: "prices.currency"}
	}
	return p.prices, p.currency, nil
}

func (p *priceReader) fault(field int, id string, args words.Args) error {
	line, col := p.rd.FieldPos(field)
	return &catalogue.Fault{File: p.name, Line: line, Column: col, ID: id, Args: args}
}

// line reads one record: the currency, the head or a price.
func (p *priceReader) line(rec []string) error {
	if len(rec) != 2 {
		return p.fault(0, "prices.cells", words.Args{"got": strconv.Itoa(len(rec))})
	}
	row, text := strings.TrimSpace(rec[0]), strings.TrimSpace(rec[1])
	switch {
	case p.currency == "" && (row != "currency" || text == "" || len(text) > 12):
		return p.fault(0, "prices.currency", nil)
	case p.currency == "":
		p.currency = text
		return nil
	case row == "row" && text == "price":
		return nil
	}
	if err := p.known(row); err != nil {
		return err
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || v < 0 || v > 1e12 {
		return p.fault(1, "prices.price", words.Args{"value": text})
	}
	if before, twice := p.lines[row]; twice {
		return p.fault(0, "catalogue.twice", words.Args{"key": row, "line": strconv.Itoa(before)})
	}
	line, _ := p.rd.FieldPos(0)
	p.prices[row], p.lines[row] = v, line
	return nil
}

// known refuses a row that the catalogue does not hold, with or without a size after it.
func (p *priceReader) known(row string) error {
	bare, _, sized := strings.Cut(row, " ")
	near := ""
	for _, t := range buyable {
		has, hint := p.rows.Has(t, row)
		if !has && sized && t != "pipes" {
			has, _ = p.rows.Has(t, bare)
		}
		if has {
			return nil
		}
		if near == "" {
			near = hint
		}
	}
	hint := ""
	if near != "" {
		hint = " " + words.Say("catalogue.near", words.Args{"near": near})
	}
	return p.fault(0, "prices.row", words.Args{"row": row, "hint": hint})
}
