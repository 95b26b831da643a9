package cli

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

func newDiagnose(s streams) *cobra.Command {
	var (
		l      loader
		asJSON bool
	)
	c := &cobra.Command{
		Use:     "diagnose FILE",
		Short:   words.Say("cli.diagnose.short", nil),
		Long:    words.Say("cli.diagnose.long", nil),
		Example: "  " + words.Say("cli.diagnose.example", nil),
		Args:    exactly(1, "cli.usage.file", "cli.diagnose.example"),
		RunE: func(_ *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			d, err := appraise.Diagnose(in)
			if err != nil {
				return placed(in, err)
			}
			if asJSON {
				return writeJSON(s.out, d)
			}
			return writeDiagnosis(s.out, d, in.Job.System())
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	return c
}

// writeDiagnosis tells what was tried, in the order to look, and what the home calls for.
func writeDiagnosis(w io.Writer, d *appraise.Diagnosis, sys quantity.System) error {
	var b bytes.Buffer
	say := func(indent, id string, args words.Args) { fmt.Fprintln(&b, indent+words.Say(id, args)) }
	show := func(q quantity.Quantity) string { return quantity.Format(q, sys) }
	say("", "diagnose.head", nil)
	if d.Tested {
		say("  ", "diagnose.test", words.Args{"expected": show(d.Expected), "low": show(d.Low), "measured": show(d.Measured)})
	} else {
		say("  ", "diagnose.untested", nil)
	}
	if d.RestKnown {
		say("  ", "diagnose.rest", words.Args{"wants": show(d.RestWants), "found": show(d.RestFound)})
	}
	if (d.Tested || d.RestKnown) && len(d.Tried) == 0 {
		say("  ", "diagnose.clear", nil)
	}
	for i, t := range d.Tried {
		fmt.Fprintf(&b, "  %d. %s: %s, %s\n", i+1, words.Say("cause."+t.Cause, nil),
			words.Say("cause.standing."+t.Standing, nil), words.Say("cause.why."+t.Why, nil))
		if t.Degree != nil {
			say("     ", t.Degree.ID, words.Args{t.Degree.Place: show(t.Degree.Value)})
		}
		if t.Standing != "ruled-out" {
			say("     ", "cause."+t.Cause+".do", nil)
		}
	}
	fmt.Fprintln(&b)
	say("", "diagnose.home", nil)
	say("  ", "diagnose.served", words.Args{"served": fmt.Sprint(d.Served), "all": fmt.Sprint(d.Outlets)})
	if d.PeakSeen {
		say("  ", "diagnose.peak", words.Args{"served": fmt.Sprint(d.AtPeak), "all": fmt.Sprint(d.Outlets)})
	}
	say("  ", "diagnose.worst", words.Args{"tag": d.Worst, "gets": show(d.Gets), "wants": show(d.Wants)})
	fmt.Fprintln(&b)
	say("", "diagnose.need", words.Args{"need": words.Say("need."+d.Need, nil)})
	say("  ", "need."+d.Need+".do", nil)
	_, err := b.WriteTo(w)
	return err
}
