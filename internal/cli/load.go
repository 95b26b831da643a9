package cli

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

// fileLimit is the largest job, catalogue or price file that is read.
const fileLimit = 1 << 20

// loader is what the commands that read a job have in common.
type loader struct {
	catalogues []string
	date       string

	unlogged error // why the log of interruptions that the job names could not be read
}

func (l *loader) flags(c *cobra.Command) {
	l.catalogueFlag(c)
	c.Flags().StringVar(&l.date, "date", "", words.Say("cli.flag.date", nil))
}

func (l *loader) catalogueFlag(c *cobra.Command) {
	c.Flags().StringArrayVar(&l.catalogues, "catalogue", nil, words.Say("cli.flag.catalogue", nil))
}

// load reads a job file and everything it names, ready to be appraised.
func (l *loader) load(path string) (appraise.Input, error) {
	var in appraise.Input
	cat, err := l.catalogue()
	if err != nil {
		return in, err
	}
	doc, err := readDoc(path, cat)
	if err != nil {
		return in, err
	}
	if l.date != "" {
		doc, _, err = doc.Apply(job.Edit{Op: job.Set, Path: "date", Text: l.date})
		if err != nil {
			return in, fmt.Errorf("--date: %w", err)
		}
	}
	if in, err = appraise.NewInput(cat, doc); err != nil {
		return in, internalFault{err}
	}
	in, l.unlogged = logged(path, in)
	return in, l.prices(path, &in)
}

// logged is a job with its log of interruptions read, where it names one.
func logged(path string, in appraise.Input) (appraise.Input, error) {
	logs, err := outageLogs(path, in.Job)
	if err != nil {
		return in, fmt.Errorf("%s: %w", path, err)
	}
	if in, err = in.WithLogs(logs); err != nil {
		return in, fmt.Errorf("%s: %w", path, err)
	}
	return in, nil
}

// catalogue is the built-in one with the user's own rows laid over it.
func (l *loader) catalogue() (*catalogue.Catalogue, error) {
	cat, err := catalogue.Load()
	if err != nil {
		return nil, internalFault{err}
	}
	for _, name := range l.catalogues {
		b, err := shelf.ReadFile(name, fileLimit)
		if err != nil {
			return nil, err
		}
		if cat, err = cat.Merge(name, b); err != nil {
			return nil, err
		}
	}
	return cat, nil
}

// readDoc reads one job file; its faults of meaning come all at once.
func readDoc(path string, cat *catalogue.Catalogue) (*job.Doc, error) {
	src, err := shelf.ReadFile(path, fileLimit)
	if err != nil {
		return nil, err
	}
	doc, faults := appraise.ReadDoc(cat, path, src)
	return doc, faults.Err()
}

// prices reads the price list the job names, which stands beside the job file.
func (l *loader) prices(path string, in *appraise.Input) error {
	name := in.Job.Prices
	if name == "" {
		return nil
	}
	b, err := shelf.ReadBeside(path, name, fileLimit)
	if err != nil {
		return err
	}
	return in.ReadPrices(name, b)
}

// placed gives each assembly fault the line of the file that the job path it names stands
// on, quoted as the reader's own faults are.
func placed(in appraise.Input, err error) error {
	var list assembly.Faults
	if !errors.As(err, &list) {
		return err
	}
	each := make([]error, len(list))
	for i, f := range list {
		each[i] = fmt.Errorf("%s: %w", in.Doc.Name(), f)
		if at, ok := in.Doc.Quote(f.Path); ok {
			at.ID, at.Args = f.ID, f.Args
			each[i] = at
		}
	}
	return errors.Join(each...)
}

// counted says how many things, in words a person would use.
func counted(n int) string {
	switch n {
	case 0:
		return words.Say("cli.count.none", nil)
	case 1:
		return words.Say("cli.count.one", nil)
	}
	return words.Say("cli.count.many", words.Args{"n": fmt.Sprint(n)})
}

// wrapped breaks text into lines of at most width runes: the first behind lead, the
// others behind indent.
func wrapped(text, lead, indent string, width int) string {
	var b strings.Builder
	b.WriteString(lead)
	start := utf8.RuneCountInString(lead)
	col := start
	for _, w := range strings.Fields(text) {
		n := utf8.RuneCountInString(w)
		switch {
		case col == start:
		case col+1+n > width:
			b.WriteString("\n" + indent)
			start = utf8.RuneCountInString(indent)
			col = start
		default:
			b.WriteString(" ")
			col++
		}
		b.WriteString(w)
		col += n
	}
	return b.String() + "\n"
}
