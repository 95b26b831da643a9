package cli

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

// newRemedy lists the remedies that were tried and help, and makes one of them.
func newRemedy(s streams) *cobra.Command {
	var (
		l                    loader
		prove, lived, agreed bool
	)
	c := &cobra.Command{
		Use:     "remedy FILE [NUMBER]",
		Short:   words.Say("cli.remedy.short", nil),
		Long:    words.Say("cli.remedy.long", nil),
		Example: "  " + words.Say("cli.remedy.example", nil) + "\n  " + words.Say("cli.remedy.example.make", nil),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return exactly(1, "cli.usage.file", "cli.remedy.example")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			in.Proof = appraise.NamedProof
			if prove {
				in.Proof = appraise.FullProof
			}
			a, err := appraise.Run(c.Context(), in, s.progress())
			if err != nil {
				return placed(in, err)
			}
			if lived {
				if a, err = withYears(c.Context(), in, a, args[0], s.progress()); err != nil {
					return err
				}
			}
			list := offers(a)
			if len(args) == 1 {
				return s.writeOffers(a, list)
			}
			n, err := strconv.Atoi(args[1])
			if err != nil || n < 1 || n > len(list) {
				return usage(c, words.Say("cli.remedy.number", words.Args{"text": args[1], "most": strconv.Itoa(len(list)), "file": args[0]}))
			}
			m := list[n-1].remedy
			if appraise.Leave(m) && !agreed {
				return usage(c, words.Say("cli.remedy.leave", words.Args{"takes": m.Takes()}))
			}
			return s.make(in, args[0], m)
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&prove, "prove", false, words.Say("cli.flag.prove", nil))
	c.Flags().BoolVar(&lived, "years", false, words.Say("cli.flag.years", nil))
	c.Flags().BoolVar(&agreed, "agreed", false, words.Say("cli.flag.agreed", nil))
	return c
}

// offer is one remedy of a finding.
type offer struct {
	finding *finding.Finding
	remedy  *finding.Remedy
}

// offers are the remedies of an appraisal, those of what matters most first. An edit that several
// findings offer is one.
func offers(a *appraise.Appraisal) []offer {
	var list []offer
	seen := map[string]bool{}
	for i := range a.Findings {
		f := &a.Findings[i]
		for k := range f.Remedies {
			if key := fmt.Sprintf("%q", f.Remedies[k].Edits); !seen[key] {
				seen[key] = true
				list = append(list, offer{f, &f.Remedies[k]})
			}
		}
	}
	return list
}

// writeOffers lists remedies by number, under the findings they are for.
func (s streams) writeOffers(a *appraise.Appraisal, list []offer) error {
	var b bytes.Buffer
	if len(list) == 0 {
		b.WriteString(wrapped(words.Say("cli.remedy.none", nil), "", "", width))
	}
	var under *finding.Finding
	for i, o := range list {
		if o.finding != under {
			if under = o.finding; i > 0 {
				b.WriteString("\n")
			}
			title, _ := finding.Text(under, a.Job.System())
			fmt.Fprintf(&b, "%s · %s\n", strings.ToUpper(words.Say("verdict."+under.Verdict.ID(), nil)), title)
		}
		b.WriteString(wrapped(remedy(o.remedy, a.Job.System()), fmt.Sprintf("  %d. ", i+1), "     ", width))
	}
	b.WriteString("\n" + wrapped(words.Say("cli.caution", nil), "", "", width))
	_, err := s.out.Write(b.Bytes())
	return quiet(err)
}

// make makes the edits of a remedy in the file and says what they are.
func (s streams) make(in appraise.Input, path string, m *finding.Remedy) error {
	next, err := in.With(m.Edits...)
	if err != nil {
		return err
	}
	if err := shelf.SaveAtomic(path, next.Doc.Bytes()); err != nil {
		return err
	}
	fmt.Fprint(s.err, wrapped(words.Say("cli.remedy.made", words.Args{"does": m.Does(), "edits": edits(m), "file": path}), "", "", width))
	if takes := m.Takes(); takes != "" {
		fmt.Fprint(s.err, wrapped(takes, "", "", width))
	}
	return nil
}
