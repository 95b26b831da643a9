package cli

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/pack"
	"tideover/internal/proposal"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newPropose(s streams) *cobra.Command {
	var (
		l                       loader
		asJSON, force           bool
		take, out, quote, paper string
	)
	c := &cobra.Command{
		Use:     "propose FILE",
		Short:   words.Say("cli.propose.short", nil),
		Long:    words.Say("cli.propose.long", nil),
		Example: "  " + words.Say("cli.propose.example", nil) + "\n  " + words.Say("cli.propose.example.take", nil),
		Args:    exactly(1, "cli.usage.file", "cli.propose.example"),
		RunE: func(c *cobra.Command, args []string) error {
			if (take == "") != (out == "") {
				return usage(c, words.Say("cli.usage.propose", words.Args{"example": words.Say("cli.propose.example.take", nil)}))
			}
			if err := errors.Join(vacant(out, force), vacant(quote, force)); err != nil {
				return err
			}
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			list, err := proposal.Propose(c.Context(), in)
			if err != nil {
				return placed(in, err)
			}
			if quote != "" {
				if err := s.quote(in, list, quote, paper); err != nil {
					return err
				}
			}
			if take != "" {
				return s.take(list, take, out)
			}
			if asJSON {
				return writeJSON(s.out, proposal.Document{Job: in.Job, List: list})
			}
			return writeProposal(s, list, in.Job.System())
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	c.Flags().StringVar(&take, "take", "", words.Say("cli.flag.take", nil))
	c.Flags().StringVarP(&out, "output", "o", "", words.Say("cli.flag.take-out", nil))
	c.Flags().StringVar(&quote, "quote", "", words.Say("cli.flag.quote", nil))
	c.Flags().StringVar(&paper, "paper", "a4", words.Say("cli.flag.paper", nil))
	c.Flags().BoolVarP(&force, "force", "f", false, words.Say("cli.flag.force", nil))
	return c
}

// take writes the job with one alternative's choices in it.
func (s streams) take(list []proposal.Alternative, name, out string) error {
	var names []string
	for i := range list {
		names = append(names, string(list[i].Name))
		if string(list[i].Name) != name {
			continue
		}
		if out == "-" {
			_, err := s.out.Write(list[i].Doc.Bytes())
			return err
		}
		if err := shelf.SaveAtomic(out, list[i].Doc.Bytes()); err != nil {
			return err
		}
		fmt.Fprintln(s.err, words.Say("cli.propose.took", words.Args{"name": words.Say("proposal."+name, nil), "file": out}))
		return nil
	}
	return errors.New(words.Say("cli.propose.no-such", words.Args{"name": name, "list": strings.Join(names, ", ")}))
}

// quote writes the one-page quote of the alternatives.
func (s streams) quote(in appraise.Input, list []proposal.Alternative, out, paper string) error {
	size, err := pack.ParsePaper(paper)
	if err != nil {
		return err
	}
	pdf, err := pack.Quote(in.Job, list, size, version())
	if err != nil {
		return err
	}
	if err := shelf.SaveAtomic(out, pdf); err != nil {
		return err
	}
	fmt.Fprintln(s.err, words.Say("cli.survey.wrote", words.Args{"file": out}))
	return nil
}

// writeProposal prints the alternatives side by side: a column each, the lines wrapped.
func writeProposal(s streams, list []proposal.Alternative, sys quantity.System) error {
	const label, gap = 22, 2
	wide := (width+20-label)/len(list) - gap
	var b bytes.Buffer
	row := func(head string, texts []string) {
		cols := make([][]string, len(texts)+1)
		cols[0] = strings.Split(strings.TrimRight(wrapped(head, "", "", label-1), "\n"), "\n")
		deep := len(cols[0])
		for i, text := range texts {
			if text == "" {
				text = words.Say("proposal.none", nil)
			}
			cols[i+1] = strings.Split(strings.TrimRight(wrapped(text, "", "", wide), "\n"), "\n")
			deep = max(deep, len(cols[i+1]))
		}
		for k := range deep {
			line := ""
			for i, c := range cols {
				at := label + (i-1)*(wide+gap)
				if i == 0 {
					at = 0
				}
				if k < len(c) {
					line += strings.Repeat(" ", max(0, at-len([]rune(line)))) + c[k]
				}
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	var names []string
	for i := range list {
		names = append(names, strings.ToUpper(words.Say("proposal."+string(list[i].Name), nil)))
	}
	row("", names)
	for _, l := range proposal.Table(list, sys) {
		row(l.Label(), l.Texts)
	}
	b.WriteString("\n" + wrapped(words.Say("cli.propose.next", words.Args{"name": string(list[0].Name)}), "", "", width))
	_, err := b.WriteTo(s.out)
	return err
}
