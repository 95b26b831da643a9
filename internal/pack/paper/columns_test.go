package paper

import (
	"slices"
	"strings"
	"testing"
)

// TestHeadingStandsWithItsColumns: wherever a page ends, a heading is on the page where
// the columns under it begin.
func TestHeadingStandsWithItsColumns(t *testing.T) {
	for above := range 60 {
		var blocks []Block
		for range above {
			blocks = append(blocks, Text{Text: "above"})
		}
		blocks = append(blocks, Text{Style: Heading, Text: "sums", Gap: 6, Keep: true})
		var under []Block
		for range 40 {
			under = append(under, Text{Text: "under"})
		}
		blocks = append(blocks, Columns{N: 2, Blocks: under, Gap: 1})
		d := &Document{Size: Letter, Sheets: []Sheet{{ID: "1", Title: "What?", Blocks: blocks}}}
		for n, p := range setSheet(d, 0) {
			if has := wordsOn(p); slices.Contains(has, "sums") && !slices.Contains(has, "under") {
				t.Errorf("%d lines above: the heading stands alone at the foot of page %d", above, n+1)
			}
		}
	}
}

func wordsOn(p page) []string {
	var list []string
	for _, g := range p.put {
		for _, it := range g.items {
			list = append(list, strings.Fields(it.Text)...)
		}
	}
	return list
}

// TestFewLinesBeforeATurn: a page of a few lines is spared also where a page turned on
// its side follows it.
func TestFewLinesBeforeATurn(t *testing.T) {
	sheet := func(lines int) *Document {
		var blocks []Block
		for range lines {
			blocks = append(blocks, Text{Text: "line"})
		}
		blocks = append(blocks, Turned{Blocks: []Block{Text{Text: "drawing"}}})
		return &Document{Size: A4, Sheets: []Sheet{{ID: "1", Title: "What?", Blocks: blocks}}}
	}
	fits := 1
	for len(fill(sheet(fits+1), 0, 1)) == 2 {
		fits++
	}
	if n := len(setSheet(sheet(fits+3), 0)); n != 2 {
		t.Errorf("%d lines fit, three more take %d pages with the drawing, want 2", fits, n)
	}
}

// TestWhole: a table that is to stay whole is not broken across pages.
func TestWhole(t *testing.T) {
	table := Table{Cols: []Col{{Share: 1}}, Head: []string{"head"}, Whole: true}
	for range 6 {
		table.Rows = append(table.Rows, []Cell{{Text: "row"}})
	}
	for above := range 60 {
		var blocks []Block
		for range above {
			blocks = append(blocks, Text{Text: "above"})
		}
		d := &Document{Size: Letter, Sheets: []Sheet{{ID: "1", Title: "What?", Blocks: append(blocks, table)}}}
		for n, p := range fill(d, 0, 1) {
			rows := 0
			for _, w := range wordsOn(p) {
				if w == "row" {
					rows++
				}
			}
			if rows != 0 && rows != len(table.Rows) {
				t.Errorf("%d lines above: %d rows of %d stand on page %d", above, rows, len(table.Rows), n+1)
			}
		}
	}
}
