package cli

import (
	"errors"
	"fmt"
	"io/fs"

	"github.com/spf13/cobra"

	"tideover/internal/pack"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newSurvey(s streams) *cobra.Command {
	var out, paper, units, date string
	var replace bool
	c := &cobra.Command{
		Use:     "survey -o FILE",
		Short:   words.Say("cli.survey.short", nil),
		Long:    words.Say("cli.survey.long", nil),
		Example: "  " + words.Say("cli.survey.example", nil),
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return usage(c, words.Say("cli.usage.survey", words.Args{"example": words.Say("cli.survey.example", nil)}))
			}
			size, err := pack.ParsePaper(paper)
			if err != nil {
				return err
			}
			sys, err := quantity.ParseSystem(units)
			if err != nil {
				return err
			}
			pdf, err := pack.Blank(sys, size, date, version())
			if err != nil {
				return err
			}
			if out == "-" {
				_, err = s.out.Write(pdf)
				return err
			}
			if _, err := shelf.ReadFile(out, int64(len(pdf))); !replace && !errors.Is(err, fs.ErrNotExist) {
				return errors.New(words.Say("cli.survey.there", words.Args{"file": out}))
			}
			if err := shelf.SaveAtomic(out, pdf); err != nil {
				return err
			}
			fmt.Fprintln(s.err, words.Say("cli.survey.wrote", words.Args{"file": out}))
			return nil
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", words.Say("cli.flag.survey-out", nil))
	c.Flags().StringVar(&paper, "paper", "a4", words.Say("cli.flag.paper", nil))
	c.Flags().StringVar(&units, "units", "metric", words.Say("cli.flag.survey-units", nil))
	c.Flags().StringVar(&date, "date", "", words.Say("cli.flag.survey-date", nil))
	c.Flags().BoolVar(&replace, "replace", false, words.Say("cli.flag.survey-replace", nil))
	return c
}
