package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/job"
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
		prove      bool
	)
	c := &cobra.Command{
		Use:     "pack FILE -o FOLDER",
		Short:   words.Say("cli.pack.short", nil),
		Long:    words.Say("cli.pack.long", nil),
		Example: "  " + words.Say("cli.pack.example", nil),
		Args:    exactly(1, "cli.usage.file", "cli.pack.example"),
		RunE: func(c *cobra.Command, args []string) error {
			if out == "" {
				return usage(c, words.Say("cli.usage.out", words.Args{"example": words.Say("cli.pack.example", nil)}))
			}
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			size, err := pack.ParsePaper(paper)
			if err != nil {
				return err
			}
			if err := pack.Known(sheets); err != nil {
				return err
			}
			if err := shelf.MayStage(out, shelf.Options{Replace: replace}); err != nil {
				return err // before minutes are spent
			}
			in.Proof = appraise.SoundProof
			if prove {
				in.Proof = appraise.FullProof
			}
			a, err := appraise.Run(c.Context(), in, s.progress())
			if err != nil {
				return placed(in, err)
			}
			if a, err = withYears(c.Context(), in, a, args[0], s.progress()); err != nil {
				return err
			}
			if a, err = a.Resting(c.Context(), in); err != nil {
				return err
			}
			o := pack.Options{Paper: size, Sheets: sheets, Version: version()}
			o.Photos, o.Missing = photos(args[0], a.Job)
			files, err := pack.Make(a, o)
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
	c.Flags().StringSliceVar(&sheets, "sheets", nil, words.Say("cli.flag.sheets", words.Args{"sets": strings.Join(pack.Sets(), ", ")}))
	c.Flags().BoolVar(&replace, "replace", false, words.Say("cli.flag.replace", nil))
	c.Flags().BoolVar(&prove, "prove", false, words.Say("cli.flag.prove", nil))
	return c
}

// withYears adds a short run of years to an appraisal.
func withYears(ctx context.Context, in appraise.Input, a *appraise.Appraisal, path string, tell func(done, total int)) (*appraise.Appraisal, error) {
	logs, err := outageLogs(path, in.Job)
	if err != nil {
		return a.Take(nil, err), nil
	}
	return appraise.AddYears(ctx, in, a, logs, tell)
}

// The largest photo that is read, and the most of all together: what a telephone takes,
// times a few.
const (
	photoLimit  = 10 << 20
	photosLimit = 40 << 20
)

// photos reads the photos a job names, which stand beside the job file. One that cannot
// be read, or is too large, is told and left out: a sheet without it is worth more than
// no sheet.
func photos(path string, j *job.Job) (found map[string][]byte, missing map[string]string) {
	found, missing = map[string][]byte{}, map[string]string{}
	left := int64(photosLimit)
	for _, f := range j.Photos {
		if found[f.File] != nil {
			continue
		}
		if !filepath.IsLocal(filepath.FromSlash(f.File)) {
			missing[f.File] = words.Say("cli.photo.outside", nil)
			continue
		}
		b, err := shelf.ReadBeside(path, f.File, min(photoLimit, left))
		if err != nil {
			missing[f.File] = whyNot(err)
			continue
		}
		left -= int64(len(b))
		found[f.File] = b
	}
	return found, missing
}

// whyNot says why a photo could not be read, without the folder of this machine: the
// sheet goes elsewhere.
func whyNot(err error) string {
	var fault *shelf.Error
	if errors.As(err, &fault) && fault.ID == "shelf.too-large" {
		return words.Say("cli.photo.large", words.Args{"size": fault.Args["size"], "limit": fault.Args["limit"]})
	}
	return words.Say("cli.photo.unread", nil)
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
