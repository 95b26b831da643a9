package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/pack"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newPack(s streams) *cobra.Command {
	var (
		l          loader
		out, paper string
		sheets     []string
		replace    bool
	)
	c := &cobra.Command{
		Use:     "pack FILE -o FOLDER",
		Short:   words.Say("cli.pack.short", nil),
		Long:    words.Say("cli.pack.long", nil),
		Example: words.Say("cli.pack.example", nil),
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			a, err := appraise.Run(c.Context(), in, s.progress())
			if err != nil {
				return placed(in, err)
			}
			size, err := pack.ParsePaper(paper)
			if err != nil {
				return err
			}
			files, err := pack.Make(a, pack.Options{Paper: size, Sheets: sheets, Version: version()})
			if err != nil {
				return err
			}
			if err := shelf.StageFolder(out, staged(files), shelf.Options{Replace: replace}); err != nil {
				return err
			}
			fmt.Fprint(s.err, wrapped(headline(a), "", "", width))
			fmt.Fprintln(s.err, words.Say("cli.wrote", words.Args{"files": names(files), "folder": out}))
			return verdict(a, nil)
		},
	}
	l.flags(c)
	c.Flags().StringVarP(&out, "output", "o", "", words.Say("cli.flag.out", nil))
	c.Flags().StringVar(&paper, "paper", "a4", words.Say("cli.flag.paper", nil))
	c.Flags().StringSliceVar(&sheets, "sheets", nil, words.Say("cli.flag.sheets", nil))
	c.Flags().BoolVar(&replace, "replace", false, words.Say("cli.flag.replace", nil))
	_ = c.MarkFlagRequired("output")
	return c
}

func staged(files []pack.File) []shelf.File {
	list := make([]shelf.File, len(files))
	for i, f := range files {
		list[i] = shelf.File{Name: f.Name, Data: f.Data}
	}
	return list
}

func names(files []pack.File) string {
	var list []string
	for _, f := range files {
		list = append(list, f.Name)
	}
	return strings.Join(list, ", ")
}
