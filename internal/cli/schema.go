package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"tideover/internal/job"
	"tideover/internal/words"
)

func newSchema(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: words.Say("cli.schema.short", nil),
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(s.out, "%s\n", job.Schema())
			return err
		},
	}
}
