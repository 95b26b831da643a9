// Package cli holds the commands. It reads arguments, hands bytes to the packages that
// know, prints what they say and returns the exit status:
//
//	0  fine, or nothing that must be fixed
//	1  something must be fixed (the output is still written)
//	2  unusable input (nothing is written)
//	3  an internal fault (nothing is written)
//
// What was asked for goes to standard output, everything else to standard error.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

// The exit statuses.
const (
	exitFine     = 0
	exitMustFix  = 1
	exitUnusable = 2
	exitInternal = 3
)

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// errMustFix ends a command that did its work and found something that must be fixed.
var errMustFix = errors.New("something must be fixed")

// Main runs one command line and returns the exit status.
func Main(args []string, in io.Reader, out, err io.Writer) (status int) {
	return MainUntil(context.Background(), args, in, out, err)
}

// MainUntil is Main for a caller who may stop it: work that takes long ends with the context.
func MainUntil(ctx context.Context, args []string, in io.Reader, out, err io.Writer) (status int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintln(err, words.Say("cli.internal", words.Args{"what": fmt.Sprint(p)}))
			if os.Getenv("TIDEOVER_TRACE") != "" {
				fmt.Fprintf(err, "%s\n", debug.Stack())
			}
			status = exitInternal
		}
	}()
	s := streams{in, out, err}
	root := newRoot(s)
	root.SetArgs(args)
	why := root.ExecuteContext(ctx)
	if c, _, wrong := root.Find(args); wrong != nil && why != nil { // a command that there is not
		why = usage(c, why.Error())
	}
	return s.status(why)
}

// status prints a command's error, if any, and turns it into the exit status.
func (s streams) status(err error) int {
	var fault internalFault
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, errMustFix), errors.Is(err, errStopped):
		return exitMustFix
	case errors.As(err, &fault):
		fmt.Fprintln(s.err, words.Say("cli.internal", words.Args{"what": fault.Error()}))
		return exitInternal
	default:
		fmt.Fprintln(s.err, strings.TrimRight(err.Error(), "\n"))
		return exitUnusable
	}
}

// internalFault marks an error that no input should be able to cause.
type internalFault struct{ error }

// newRoot builds the command tree.
func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:           "tideover",
		Short:         words.Say("cli.root.short", nil),
		Long:          words.Say("cli.root.long", nil),
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetVersionTemplate("tideover {{.Version}}\n")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w\n%s", err, words.Say("cli.usage", words.Args{"command": c.CommandPath()}))
	})
	root.AddCommand(newCheck(s), newDiagnose(s), newProve(s), newPack(s), newNew(s, time.Now), newServe(s, time.Now), newPropose(s), newSwap(s), newStore(s), newRemedy(s), newSet(s), newFields(s), newRows(s), newSchema(s), newSurvey(s))
	return root
}

// exactly asks for n words after the command; others are refused with what is wanted and
// an example.
func exactly(n int, wanted, example string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return usage(c, words.Say(wanted, words.Args{"example": words.Say(example, nil), "tables": strings.Join(catalogue.Tables(), ", ")}))
	}
}

// usage is an error in how a command was called: what is wanted, and where to read more.
func usage(c *cobra.Command, wanted string) error {
	return fmt.Errorf("%s\n%s", wanted, words.Say("cli.usage", words.Args{"command": c.CommandPath()}))
}

// version is what this binary was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return release
	}
	return info.Main.Version
}

// release is the version under development; CHANGELOG.md has the same heading.
const release = "0.1.0"
