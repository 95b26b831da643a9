// Package manual writes the theory manual from the registered equations, so that the
// book and the code cannot differ.
//
// Stage: documentation. It takes the registry that importing the run fills and gives
// Markdown.
package manual

import (
	"fmt"
	"strings"

	_ "tideover/internal/appraise" // importing the run registers every equation it uses
	"tideover/internal/calc"
	_ "tideover/internal/freshness" // what ages, warms and wears off in a store
	_ "tideover/internal/seasons"   // and the years lived through
	_ "tideover/internal/sitework"  // and so do the sums of the people on site
)

const preface = `# Theory manual

The equations behind Tideover's figures, as registered in the code. This file is
generated (` + "`go test ./internal/manual -update`" + `); the tests fail when it is not fresh.

Inside, everything is SI: metres, cubic metres a second, pascals gauge, heads in metres
of water above the ground at the meter (z = 0). An equation marked *solved in the engine*
has no single line that can be put on a calculation sheet; its residual is in the
certificate of every solution.

`

// Theory returns the manual as Markdown.
func Theory() []byte {
	var b strings.Builder
	b.WriteString(preface)
	section := ""
	for _, e := range calc.Equations() {
		if e.Section != section {
			section = e.Section
			fmt.Fprintf(&b, "## %s\n\n", section)
		}
		entry(&b, e)
	}
	return []byte(b.String())
}

func entry(b *strings.Builder, e *calc.Equation) {
	fmt.Fprintf(b, "### %s\n\n    %s\n\n", e.Title, strings.ReplaceAll(e.Formula, "\n", "\n    "))
	b.WriteString("| symbol | meaning | unit |\n|---|---|---|\n")
	for _, s := range append([]calc.Symbol{e.Result}, e.Args...) {
		unit := s.Unit
		if unit == "" {
			unit = "–"
		}
		fmt.Fprintf(b, "| %s | %s | %s |\n", cell(s.Name), cell(s.Meaning), cell(unit))
	}
	b.WriteString("\n")
	if e.Range != "" {
		fmt.Fprintf(b, "Valid: %s\n\n", e.Range)
	}
	fmt.Fprintf(b, "Source: %s\n\n", e.Source)
	if e.Fn == nil {
		b.WriteString("*Solved in the engine.*\n\n")
	}
	fmt.Fprintf(b, "Key: `%s`\n\n", e.Key)
}

// cell keeps a bar inside a table cell from ending it.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
