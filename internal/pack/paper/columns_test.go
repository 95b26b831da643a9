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
