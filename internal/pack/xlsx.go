//go:build !js

package pack

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

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
	{"stock", 12, "0.00", true},
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
func (p *pack) xlsx() ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	w := &workbook{f: f, sheet: oneLine(say("xlsx.sheet")), list: p.Buying}
	w.do(f.SetSheetName("Sheet1", w.sheet))
	made := p.made.UTC().Format(time.RFC3339)
	w.do(f.SetDocProps(&excelize.DocProperties{Title: say("xlsx.title", "job", oneLine(p.Job.Name)), Creator: p.tool, LastModifiedBy: p.tool, Created: made, Modified: made}))
	w.styles()
	w.head(orDash(p.Buying.Currency))
	row := 2
	for i := range p.Buying.Lines {
		w.line(row, &p.Buying.Lines[i])
		row++
	}
	w.total(row)
	w.do(f.SetPanes(w.sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	if w.err != nil {
		return nil, fmt.Errorf("pack: buying list as a workbook: %w", w.err)
	}
	var b bytes.Buffer
	err := f.Write(&b)
	return b.Bytes(), err
}

// workbook is one being written; the first fault stops it.
type workbook struct {
	f     *excelize.File
	sheet string
	list  *takeoff.List
	style []int
	bold  []int
	err   error
}

func (w *workbook) do(err error) {
	if w.err == nil {
		w.err = err
	}
}

// styles makes one style a column, and the same in bold for head and total.
func (w *workbook) styles() {
	for i, c := range xlsxCols {
		s := excelize.Style{Alignment: &excelize.Alignment{Vertical: "top", WrapText: c.format == ""}}
		if c.right {
			s.Alignment.Horizontal = "right"
		}
		if c.format != "" {
			s.CustomNumFmt = &c.format
		}
		plain, err := w.f.NewStyle(&s)
		w.do(err)
		s.Font = &excelize.Font{Bold: true}
		s.Border = []excelize.Border{{Type: "bottom", Color: "16202E", Style: 1}}
		bold, err := w.f.NewStyle(&s)
		w.do(err)
		w.style, w.bold = append(w.style, plain), append(w.bold, bold)
		name, err := excelize.ColumnNumberToName(i + 1)
		w.do(err)
		w.do(w.f.SetColWidth(w.sheet, name, name, c.width))
	}
}

func (w *workbook) cell(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	w.do(err)
	return name
}

// text writes a cell that stays text whatever it begins with.
func (w *workbook) text(col, row int, text string, style []int) {
	w.do(w.f.SetCellStr(w.sheet, w.cell(col, row), text))
	w.do(w.f.SetCellStyle(w.sheet, w.cell(col, row), w.cell(col, row), style[col-1]))
}

func (w *workbook) number(col, row int, v float64, style []int) {
	w.do(w.f.SetCellFloat(w.sheet, w.cell(col, row), v, -1, 64))
	w.do(w.f.SetCellStyle(w.sheet, w.cell(col, row), w.cell(col, row), style[col-1]))
}

// sum writes the value first and then its formula.
func (w *workbook) sum(col, row int, v float64, formula string, style []int) {
	w.number(col, row, v, style)
	w.do(w.f.SetCellFormula(w.sheet, w.cell(col, row), formula))
}

func (w *workbook) head(currency string) {
	for i, c := range xlsxCols {
		w.text(i+1, 1, say("xlsx."+c.id, "currency", currency), w.bold)
	}
}

// line writes one line of the list. What is there already is not reckoned.
func (w *workbook) line(row int, l *takeoff.Line) {
	w.number(xlsxPieces, row, float64(l.Count), w.style)
	kept, from := say("xlsx.no"), say("xlsx.source")
	if l.Kept {
		kept = say("xlsx.yes")
	}
	if l.Assumed {
		from = say("xlsx.trade")
	}
	w.text(2, row, l.Words, w.style)
	w.text(3, row, l.Asked(), w.style)
	w.text(5, row, strings.Join(l.Tags, " "), w.style)
	w.text(8, row, kept, w.style)
	w.text(9, row, from, w.style)
	w.text(10, row, l.Row, w.style)
	if l.Length > 0 {
		w.number(4, row, float64(l.Length), w.style)
		w.number(11, row, float64(l.Stock), w.style)
	}
	if l.Priced && !l.Kept {
		w.number(xlsxEach, row, float64(l.Price), w.style)
		w.sum(xlsxSum, row, float64(l.Count)*float64(l.Price), fmt.Sprintf("A%d*F%d", row, row), w.style)
	}
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
	w.text(2, row, say("xlsx.total"), w.bold)
	w.sum(xlsxSum, row, float64(w.list.Total), fmt.Sprintf("SUM(G2:G%d)", row-1), w.bold)
}
