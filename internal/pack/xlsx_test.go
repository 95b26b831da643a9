//go:build !js

package pack

import (
	"bytes"
	"fmt"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"tideover/internal/takeoff"
)

// book reads a workbook back.
func book(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// TestWorkbook: every line is there with its count as a number; texts that look like
// formulas stay texts; each sum shows its value before anything reckons it, and reckons
// to the same; kept parts are not reckoned; the head stays in view.
func TestWorkbook(t *testing.T) {
	a := *fresh(t, source(t, "kestrel-rise"))
	list := takeoff.List{Currency: "EUR", Total: 7.5 + 3*19.99, Unpriced: 1, Lines: []takeoff.Line{
		{Row: "@x", Words: `=HYPERLINK("x")`, Size: "+1", Count: 1, Price: 7.5, Priced: true, Tags: []string{"-V1"}},
		{Row: "pipe", Words: "pipe ≥ 25 mm", Size: "25", Count: 3, Length: 12.345, Price: 19.99, Priced: true},
		{Row: "none", Words: "no price", Count: 2},
		{Row: "kept", Words: "there", Kept: true, Price: 99, Priced: true},
	}}
	a.Buying = &list
	data := made(t, &a, Options{})["buying-list.xlsx"]
	f := book(t, data)
	sheet := f.GetSheetList()[0]
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(list.Lines)+2 {
		t.Fatalf("%d rows, want a head, %d lines and a total", len(rows), len(list.Lines))
	}
	for i, l := range list.Lines {
		row := rows[i+1]
		if row[0] != strconv.Itoa(l.Count) || row[1] != l.Words {
			t.Errorf("row %d begins %q, want %d and %q", i+2, row[:2], l.Count, l.Words)
		}
		for col := range xlsxCols {
			cell, _ := excelize.CoordinatesToCellName(col+1, i+2)
			formula, err := f.GetCellFormula(sheet, cell)
			if err != nil || (formula != "") != (col+1 == xlsxSum && l.Priced && !l.Kept) {
				t.Errorf("%s holds the formula %q (%v)", cell, formula, err)
			}
		}
	}
	for cell, want := range map[string]float64{"G2": 7.5, "G3": 3 * 19.99, "G6": 7.5 + 3*19.99} {
		shown, err := f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
		got, bad := strconv.ParseFloat(shown, 64)
		if err != nil || bad != nil || got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%s shows %q before it is reckoned, want %v", cell, shown, want)
		}
		reckoned, err := f.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
		if again, bad := strconv.ParseFloat(reckoned, 64); err != nil || bad != nil || again < want-1e-9 || again > want+1e-9 {
			t.Errorf("%s reckons to %q (%v), want %v", cell, reckoned, err, want)
		}
	}
	panes, err := f.GetPanes(sheet)
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the head is not held: %+v %v", panes, err)
	}
	if wide, err := f.GetColWidth(sheet, "B"); err != nil || wide != 52 {
		t.Errorf("column B is %v wide (%v)", wide, err)
	}
}

// TestWorkbookLikeCSV: the workbook of an example holds what its CSV holds.
func TestWorkbookLikeCSV(t *testing.T) {
	a := run(t, source(t, "juniper-flat"))
	f := book(t, made(t, a, Options{})["buying-list.xlsx"])
	rows, err := f.GetRows(f.GetSheetList()[0])
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Buying.Lines {
		l := &a.Buying.Lines[i]
		if got, want := fmt.Sprint(rows[i+1][0], rows[i+1][1], rows[i+1][9]), fmt.Sprint(l.Count, l.Words, l.Row); got != want {
			t.Errorf("row %d: %q, want %q", i+2, got, want)
		}
	}
}
