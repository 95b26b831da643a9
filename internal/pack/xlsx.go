//go:build !js

package pack

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"tideover/internal/takeoff"
)

// xlsxCol is one column of the buying list as a workbook.
type xlsxCol struct {
	id     string // message id "xlsx.<id>"
	width  float64
	format string // number format; "" for text
	right  bool
}

var xlsxCols = []xlsxCol{
	{"pieces", 8, "0", true}, {"what", 52, "", false}, {"size", 20, "", false}, {"length", 12, "0.00", true},
	{"for", 22, "", false}, {"each", 12, "#,##0.00", true}, {"sum", 13, "#,##0.00", true},
	{"there", 12, "", false}, {"from", 16, "", false}, {"row", 22, "", false},
}

// The columns that are reckoned with.
const (
	xlsxPieces = 1
	xlsxEach   = 6
	xlsxSum    = 7
)

// workbookFiles is the buying list as a workbook.
func (p *pack) workbookFiles() ([]File, error) {
	data, err := p.xlsx()
	return []File{{"buying-list.xlsx", data}}, err
}

// xlsx is the buying list as a workbook: numbers as numbers, text never as a formula,
// the head frozen, each sum with its value beside its formula so that a preview that
// does not reckon still shows it. Same list, same bytes: its times are the job's date.
//
// The parts are written out as ISO/IEC 29500-1:2016 (SpreadsheetML) has them: a library
// that can do everything costs every command its start.
func (p *pack) xlsx() ([]byte, error) {
	w := &workbook{list: p.Buying}
	w.head(orDash(p.Buying.Currency))
	row := 2
	for i := range p.Buying.Lines {
		w.line(row, &p.Buying.Lines[i])
		row++
	}
	w.total(row)
	made := p.made.UTC().Format(time.RFC3339)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range [][2]string{
		{"[Content_Types].xml", xlsxTypes},
		{"_rels/.rels", xlsxRoot},
		{"docProps/core.xml", fmt.Sprintf(xlsxCore, escaped(say("xlsx.title", "job", oneLine(p.Job.Name))), escaped(p.tool), made)},
		{"xl/workbook.xml", fmt.Sprintf(xlsxBook, escaped(oneLine(say("xlsx.sheet"))))},
		{"xl/_rels/workbook.xml.rels", xlsxBookParts},
		{"xl/styles.xml", xlsxStyles()},
		{"xl/worksheets/sheet1.xml", w.xml()},
	} {
		f, err := z.Create(part[0])
		if err != nil {
			return nil, err
		}
		if _, err := io.WriteString(f, xml.Header+part[1]); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// workbook is one being written: its rows of cells.
type workbook struct {
	rows strings.Builder
	at   int // the row begun
	list *takeoff.List
}

// The two styles of a column: the second for head and total.
const (
	plainStyle = 1
	boldStyle  = 2
)

// cell begins a row where need be and writes one cell. Within a row, columns must come in
// order.
func (w *workbook) cell(col, row, style int, kind, content string) {
	if row != w.at {
		w.end()
		fmt.Fprintf(&w.rows, `<row r="%d">`, row)
		w.at = row
	}
	fmt.Fprintf(&w.rows, `<c r="%c%d" s="%d"%s>%s</c>`, 'A'+col-1, row, 2*(col-1)+style, kind, content)
}

// end ends the row begun.
func (w *workbook) end() {
	if w.at > 0 {
		w.rows.WriteString("</row>")
	}
}

// text writes a cell that stays text whatever it begins with.
func (w *workbook) text(col, row int, text string, style int) {
	w.cell(col, row, style, ` t="inlineStr"`, `<is><t xml:space="preserve">`+escaped(text)+`</t></is>`)
}

func (w *workbook) number(col, row int, v float64, style int) {
	w.cell(col, row, style, "", "<v>"+strconv.FormatFloat(v, 'g', -1, 64)+"</v>")
}

// sum writes a formula with its value.
func (w *workbook) sum(col, row int, v float64, formula string, style int) {
	w.cell(col, row, style, "", "<f>"+escaped(formula)+"</f><v>"+strconv.FormatFloat(v, 'g', -1, 64)+"</v>")
}

// xml is the sheet: the head held, the columns' widths, the rows.
func (w *workbook) xml() string {
	w.end()
	var cols strings.Builder
	for i, c := range xlsxCols {
		fmt.Fprintf(&cols, `<col min="%d" max="%d" width="%g" customWidth="1"/>`, i+1, i+1, c.width)
	}
	return fmt.Sprintf(xlsxSheet, cols.String(), w.rows.String())
}

// xlsxStyles is one style a column, and the same in bold for head and total.
func xlsxStyles() string {
	var formats, styles strings.Builder
	count := 0
	for i, c := range xlsxCols {
		id, wrap, side := 0, ` wrapText="1"`, ""
		if c.format != "" {
			id, wrap = 164+i, ""
			count++
			fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, id, escaped(c.format))
		}
		if c.right {
			side = ` horizontal="right"`
		}
		for bold := range 2 {
			fmt.Fprintf(&styles, `<xf numFmtId="%d" fontId="%d" fillId="0" borderId="%d" xfId="0" applyNumberFormat="1" applyFont="1" applyBorder="1" applyAlignment="1"><alignment%s vertical="top"%s/></xf>`,
				id, bold, bold, side, wrap)
		}
	}
	return fmt.Sprintf(xlsxStyleSheet, count, formats.String(), 2*len(xlsxCols)+1, styles.String())
}

// escaped is text as it stands in XML.
func escaped(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(text)) // a buffer takes all
	return b.String()
}

func (w *workbook) head(currency string) {
	for i, c := range xlsxCols {
		w.text(i+1, 1, say("xlsx."+c.id, "currency", currency), boldStyle)
	}
}

// line writes one line of the list. What is there already is not reckoned.
func (w *workbook) line(row int, l *takeoff.Line) {
	w.number(xlsxPieces, row, float64(l.Count), plainStyle)
	kept, from := say("xlsx.no"), say("xlsx.source")
	if l.Kept {
		kept = say("xlsx.yes")
	}
	if l.Assumed {
		from = say("xlsx.trade")
	}
	w.text(2, row, l.Words, plainStyle)
	w.text(3, row, l.Size, plainStyle)
	if l.Length > 0 {
		w.number(4, row, float64(l.Length), plainStyle)
	}
	w.text(5, row, strings.Join(l.Tags, " "), plainStyle)
	if l.Priced && !l.Kept {
		w.number(xlsxEach, row, float64(l.Price), plainStyle)
		w.sum(xlsxSum, row, float64(l.Count)*float64(l.Price), fmt.Sprintf("A%d*F%d", row, row), plainStyle)
	}
	w.text(8, row, kept, plainStyle)
	w.text(9, row, from, plainStyle)
	w.text(10, row, l.Row, plainStyle)
}

// total closes a list that has prices.
func (w *workbook) total(row int) {
	priced := false
	for i := range w.list.Lines {
		priced = priced || w.list.Lines[i].Priced && !w.list.Lines[i].Kept
	}
	if !priced {
		return
	}
	w.text(2, row, say("xlsx.total"), boldStyle)
	w.sum(xlsxSum, row, float64(w.list.Total), fmt.Sprintf("SUM(G2:G%d)", row-1), boldStyle)
}
