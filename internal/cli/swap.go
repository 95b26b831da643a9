package cli

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"tideover/internal/finding"
	"tideover/internal/proposal"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newSwap(s streams) *cobra.Command {
	var (
		l            loader
		bought       bool
		asJSON       bool
		from, paid   string
		shown, moved = 6, 0
	)
	c := &cobra.Command{
		Use:     "swap FILE PART ROW",
		Short:   words.Say("cli.swap.short", nil),
		Long:    words.Say("cli.swap.long", nil),
		Example: "  " + words.Say("cli.swap.example", nil) + "\n  " + words.Say("cli.swap.example.bought", nil),
		Args:    exactly(3, "cli.usage.swap", "cli.swap.example"),
		RunE: func(c *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			sw, err := proposal.Swap(in, args[1], args[2])
			if err != nil {
				return placed(in, err)
			}
			sys := in.Job.System()
			if asJSON {
				err = writeJSON(s.out, proposal.SwapDocument{Job: in.Job, Swapped: sw, Row: args[2]})
			} else {
				var b bytes.Buffer
				was, _ := in.Doc.Text(sw.Path)
				fmt.Fprintln(&b, words.Say("cli.swap.head", words.Args{"path": sw.Path, "was": was, "is": args[2]}))
				moved = 0
				for i := range sw.Changes {
					ch := &sw.Changes[i]
					mark := "cli.swap.moved"
					switch {
					case ch.Worse:
						mark = "cli.swap.worse"
					case ch.Better:
						mark = "cli.swap.better"
					default:
						if moved++; moved > shown {
							continue
						}
					}
					b.WriteString(wrapped(words.Say(mark, nil)+" "+ch.Text(sys), "  ", "    ", width))
				}
				if len(sw.Changes) == 0 {
					fmt.Fprintln(&b, "  "+words.Say("cli.swap.nothing", nil))
				}
				_, err = b.WriteTo(s.out)
			}
			if err != nil {
				return err
			}
			if bought {
				if err := s.buy(args[0], sw, args[1], args[2], from, paid); err != nil {
					return err
				}
			}
			if finding.Overall(sw.After.Findings) == finding.MustFix {
				return errMustFix
			}
			return nil
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&bought, "bought", false, words.Say("cli.flag.bought", nil))
	c.Flags().StringVar(&from, "from", "", words.Say("cli.flag.bought-from", nil))
	c.Flags().StringVar(&paid, "paid", "", words.Say("cli.flag.bought-paid", nil))
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	return c
}

// buy writes the swapped part into the job, and that it was bought.
func (s streams) buy(path string, sw *proposal.Swapped, part, row, from, paid string) error {
	doc, err := sw.Bought(part, row, from, paid)
	if err != nil {
		return err
	}
	if err := shelf.SaveAtomic(path, doc.Bytes()); err != nil {
		return err
	}
	fmt.Fprintln(s.err, words.Say("cli.swap.bought", words.Args{"row": row, "file": path}))
	return nil
}
