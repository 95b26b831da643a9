package cli

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

func newRows(s streams) *cobra.Command {
	var l loader
	c := &cobra.Command{
		Use:       "rows TABLE [PROFILE]",
		Short:     words.Say("cli.rows.short", nil),
		Long:      words.Say("cli.rows.long", words.Args{"tables": strings.Join(catalogue.Tables(), ", ")}),
		Example:   "  " + words.Say("cli.rows.example", nil),
		Args:      rowsArgs,
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
			if len(args) == 2 {
				return listRules(s, cat, args[1])
			}
			return listRows(s, cat.List(args[0]), cat.Profiles)
		},
	}
	l.catalogueFlag(c)
	return c
}

// rowsArgs asks for a table and, of the profiles, perhaps for one of them.
func rowsArgs(c *cobra.Command, args []string) error {
	if len(args) == 2 && args[0] == "profiles" {
		return nil
	}
	return exactly(1, "cli.usage.table", "cli.rows.example")(c, args)
}

// listRules prints the figures of one profile, a line each: what it is, what that is to the
// place, and where from.
func listRules(s streams, cat *catalogue.Catalogue, name string) error {
	p, known := cat.Profiles[name]
	if !known {
		return fmt.Errorf("%s", words.Say("cli.rows.no-profile", words.Args{"profile": name, "profiles": strings.Join(cat.Keys("profiles"), ", ")}))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", p.Words)
	for _, key := range slices.Sorted(maps.Keys(p.Rules)) {
		r := p.Rules[key]
		if key == "title" {
			continue
		}
		value, from := r.Text, words.Say("finding.from", words.Args{"source": cat.Cite(r.Source), "standing": words.Say("standing."+r.Standing.ID(), nil)})
		if !r.Set {
			value, from = words.Say("cli.rows.blank", nil), words.Say("standing.none", nil)
		}
		fmt.Fprintf(&b, "%-24s %-14s %s\n", key, value, from)
	}
	_, err := fmt.Fprint(s.out, b.String())
	return err
}

// standingOf counts what the figures of a profile are to its place.
func standingOf(p catalogue.Profile) string {
	count := map[catalogue.Standing]int{}
	for _, r := range p.Rules {
		count[r.Standing]++
	}
	var parts []string
	for _, s := range []catalogue.Standing{catalogue.RuleHere, catalogue.Recommended, catalogue.Borrowed, catalogue.Ours, catalogue.Told, catalogue.Uncited} {
		if n := count[s]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, words.Say("standing."+s.ID(), nil)))
		}
	}
	return strings.Join(parts, "; ")
}

// listRows prints a line a row: the key to write, what it is, and how far to trust it.
func listRows(s streams, list []catalogue.Listed, profiles map[string]catalogue.Profile) error {
	wide := 0
	for _, r := range list {
		wide = max(wide, len([]rune(r.Key)))
	}
	var b strings.Builder
	for _, r := range list {
		note := ""
		if p, is := profiles[r.Key]; is && p.Words == r.Words {
			note = " (" + standingOf(p) + ")"
		}
		if r.Certainty == catalogue.Recalled && r.Source != "" {
			note = " (" + words.Say("cli.rows.recalled", nil) + ")"
		}
		pad := strings.Repeat(" ", wide-len([]rune(r.Key))+2)
		fmt.Fprintf(&b, "%s%s%s%s\n", r.Key, pad, r.Words, note)
	}
	_, err := fmt.Fprint(s.out, b.String())
	return err
}
