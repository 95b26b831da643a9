package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"tideover/internal/job"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newSet(s streams) *cobra.Command {
	var (
		l     loader
		unset bool
	)
	c := &cobra.Command{
		Use:     "set FILE FIELD [VALUE]",
		Short:   words.Say("cli.set.short", nil),
		Long:    words.Say("cli.set.long", nil),
		Example: "  " + words.Say("cli.set.example", nil),
		Args: func(c *cobra.Command, args []string) error {
			if unset {
				return exactly(2, "cli.usage.unset", "cli.set.example")(c, args)
			}
			return exactly(3, "cli.usage.set", "cli.set.example")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			e := job.Edit{Op: job.Unset, Path: args[1]}
			if !unset {
				e.Op, e.Text = job.Set, args[2]
			}
			return s.edit(&l, args[0], e)
		},
	}
	l.catalogueFlag(c)
	c.Flags().BoolVar(&unset, "unset", false, words.Say("cli.flag.unset", nil))
	return c
}

// edit makes one edit of a job file on disk and says what changed.
func (s streams) edit(l *loader, path string, e job.Edit) error {
	cat, err := l.catalogue()
	if err != nil {
		return err
	}
	doc, err := readDoc(path, cat)
	if err != nil {
		return err
	}
	next, _, err := doc.Apply(e)
	if err != nil {
		return err
	}
	if err := shelf.SaveAtomic(path, next.Bytes()); err != nil {
		return err
	}
	id, line := "cli.set.undone", 0
	if e.Op == job.Set {
		id = "cli.set.done"
		line, _, _ = next.Place(e.Path)
	}
	fmt.Fprintln(s.err, words.Say(id, words.Args{"path": e.Path, "text": e.Text, "line": fmt.Sprint(line)}))
	return nil
}
