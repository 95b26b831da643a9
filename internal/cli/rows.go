package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

func newRows(s streams) *cobra.Command {
	var l loader
	c := &cobra.Command{
		Use:       "rows TABLE",
		Short:     words.Say("cli.rows.short", nil),
		Long:      words.Say("cli.rows.long", words.Args{"tables": strings.Join(catalogue.Tables(), ", ")}),
		Example:   "  " + words.Say("cli.rows.example", nil),
		Args:      exactly(1, "cli.usage.table", "cli.rows.example"),
		ValidArgs: catalogue.Tables(),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(catalogue.Tables(), args[0]) {
				return fmt.Errorf("%s", words.Say("cli.rows.none", words.Args{
					"table": args[0], "tables": strings.Join(catalogue.Tables(), ", ")}))
			}
			cat, err := l.catalogue()
			if err != nil {
				return err
			}
			return listRows(s, cat.List(args[0]))
		},
	}
	l.catalogueFlag(c)
	return c
}

// listRows prints a line a row: the key to write, what it is, and how far to trust it.
func listRows(s streams, list []catalogue.Listed) error {
	wide := 0
	for _, r := range list {
		wide = max(wide, len([]rune(r.Key)))
	}
	var b strings.Builder
	for _, r := range list {
		note := ""
		if r.Certainty == catalogue.Recalled && r.Source != "" {
			note = " (" + words.Say("cli.rows.recalled", nil) + ")"
		}
		pad := strings.Repeat(" ", wide-len([]rune(r.Key))+2)
		fmt.Fprintf(&b, "%s%s%s%s\n", r.Key, pad, r.Words, note)
	}
	_, err := fmt.Fprint(s.out, b.String())
	return err
}
