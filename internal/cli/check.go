package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/words"
)

func newCheck(s streams) *cobra.Command {
	var (
		l                          loader
		asJSON, all, unfold, rests bool
	)
	c := &cobra.Command{
		Use:     "check FILE",
		Short:   words.Say("cli.check.short", nil),
		Long:    words.Say("cli.check.long", nil),
		Example: "  " + words.Say("cli.check.example", nil),
		Args:    exactly(1, "cli.usage.file", "cli.check.example"),
		RunE: func(c *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			if l.unlogged != nil {
				return l.unlogged
			}
			in.Proof = appraise.NamedProof
			if !asJSON && !all {
				in.Foremost = matter // nobody reads the others
			}
			a, err := appraise.Run(c.Context(), in, s.progress())
			if err != nil {
				return placed(in, err)
			}
			if rests {
				if a, err = a.Resting(c.Context(), in); err != nil {
					return err
				}
			}
			if asJSON {
				err = writeJSON(s.out, a)
			} else {
				err = writeText(s.out, a, all, unfold)
			}
			return verdict(a, err)
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	c.Flags().BoolVar(&all, "all", false, words.Say("cli.flag.all", nil))
	c.Flags().BoolVar(&unfold, "calc", false, words.Say("cli.flag.calc", nil))
	c.Flags().BoolVar(&rests, "assumptions", false, words.Say("cli.flag.assumptions", nil))
	return c
}

// verdict turns a must-fix into the error that ends with status 1; a writing error
// (a closed pipe) is quiet success.
func verdict(a *appraise.Appraisal, writing error) error {
	if writing != nil && !brokenPipe(writing) {
		return writing
	}
	if a.Verdict == finding.MustFix {
		return errMustFix
	}
	return nil
}

// writeJSON prints the appraisal in its stable form; see docs/json.md.
func writeJSON(w io.Writer, doc interface{ JSON() ([]byte, error) }) error {
	b, err := doc.JSON()
	if err != nil {
		return internalFault{err}
	}
	_, err = fmt.Fprintf(w, "%s\n", b)
	return err
}
