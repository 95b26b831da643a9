package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/pack"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
	"tideover/internal/words"
)

func newStore(s streams) *cobra.Command {
	var (
		l       loader
		asJSON  bool
		within  string
		out     string
		replace bool
	)
	c := &cobra.Command{
		Use:     "store FILE",
		Short:   words.Say("cli.store.short", nil),
		Long:    words.Say("cli.store.long", nil),
		Example: "  " + words.Say("cli.store.example", nil),
		Args:    exactly(1, "cli.usage.file", "cli.store.example"),
		RunE: func(c *cobra.Command, args []string) error {
			half, err := strconv.ParseFloat(within, 64)
			if err != nil || !(half > 0 && half < 0.5) {
				return errors.New(words.Say("cli.store.half", words.Args{"text": within}))
			}
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			if out != "" {
				if err := shelf.MayStage(out, shelf.Options{Replace: replace}); err != nil {
					return err
				}
			}
			ask := appraise.YearsAsk{Half: half}
			if ask.Logs, err = outageLogs(args[0], in.Job); err != nil {
				return err
			}
			ctx, stop := interrupted(c.Context())
			defer stop()
			w := s.waiting(time.Now)
			w.ask(&ask)
			y, err := appraise.LiveThrough(ctx, in, ask, w.tell)
			if err != nil {
				return placed(in, w.stopped(ctx, err))
			}
			w.begins(appraise.PartRemedies)
			held, err := s.withRemedies(ctx, in, y, ask.Logs)
			halted := err != nil && ctx.Err() != nil
			if w.clear(); halted { // the years themselves are whole
				fmt.Fprintln(s.err, words.Say("cli.stopped-remedies", nil))
				held = y
			} else if err != nil {
				return placed(in, err)
			}
			if out != "" {
				files, err := pack.YearsFiles(in.Job, y)
				if err != nil {
					return err
				}
				if err := shelf.StageFolder(out, staged(files), shelf.Options{Replace: replace}); err != nil {
					return err
				}
				fmt.Fprintln(s.err, words.Say("cli.wrote", words.Args{"files": names(files), "folder": out}))
			}
			if asJSON {
				if err := writeJSON(s.out, appraise.YearsDocument{Job: in.Job, Years: held}); err != nil {
					return err
				}
			} else if err := s.writeYears(held, in.Job.System()); err != nil {
				return err
			}
			if halted {
				return errStopped
			}
			if finding.Overall(y.Findings) == finding.MustFix {
				return errMustFix
			}
			return nil
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	c.Flags().StringVar(&within, "within", "0.02", words.Say("cli.flag.within", nil))
	c.Flags().StringVarP(&out, "output", "o", "", words.Say("cli.flag.store-out", nil))
	c.Flags().BoolVar(&replace, "replace", false, words.Say("cli.flag.replace", nil))
	return c
}

// outageLogs reads the logs a job names.
func outageLogs(path string, j *job.Job) (logs appraise.Logs, err error) {
	if logs.Water, err = outageLog(path, j.Interruptions.Log); err != nil {
		return logs, fmt.Errorf("interruptions.log: %w", err)
	}
	if logs.Power, err = outageLog(path, j.Interruptions.PowerLog); err != nil {
		return logs, fmt.Errorf("interruptions.power-log: %w", err)
	}
	return logs, nil
}

// outageLog reads the log a job names, which stands beside the job file; nil without one.
func outageLog(path, name string) ([]byte, error) {
	if name == "" {
		return nil, nil
	}
	if !filepath.IsLocal(filepath.FromSlash(name)) {
		return nil, errors.New(words.Say("cli.store.log-outside", words.Args{"file": name}))
	}
	return shelf.ReadBeside(path, name, 16<<20)
}

// withRemedies are the years with the remedies that check found for what they judge, held to
// check and to years.
func (s streams) withRemedies(ctx context.Context, in appraise.Input, y *appraise.Years, logs appraise.Logs) (*appraise.Years, error) {
	in.Proof = appraise.NamedProof
	a, err := appraise.Run(ctx, in, nil)
	if err != nil {
		return nil, err
	}
	if a, err = a.HoldTo(ctx, in, y, logs); err != nil {
		return nil, err
	}
	return a.Years, nil
}

// writeYears prints what each size does, what the columns count, and what they say together.
func (s streams) writeYears(y *appraise.Years, sys quantity.System) error {
	var b bytes.Buffer
	for _, t := range y.Tables(sys) {
		b.WriteString(words.Say("years.table."+t.ID, nil) + "\n")
		rows := [][]string{{""}}
		for _, id := range t.Columns {
			rows[0] = append(rows[0], words.Say("years.col."+id, nil))
		}
		for _, r := range t.Rows {
			mark := "  "
			if r.Own {
				mark = "→ "
			}
			rows = append(rows, append([]string{mark + r.Name}, r.Texts...))
		}
		writeColumns(&b, rows)
		b.WriteString("\n")
		for _, id := range t.Columns {
			b.WriteString(wrapped(words.Say("years.col."+id, nil)+": "+words.Say("years.means."+id, nil), "  ", "    ", width))
		}
		b.WriteString("\n")
	}
	for i := range y.Findings {
		title, sentence := finding.Text(&y.Findings[i], sys)
		fmt.Fprintf(&b, "%s · %s\n", strings.ToUpper(words.Say("verdict."+y.Findings[i].Verdict.ID(), nil)), title)
		b.WriteString(wrapped(sentence, "  ", "  ", width))
		remedies(&b, &y.Findings[i], sys)
	}
	b.WriteString("\n")
	for _, line := range y.Told(sys) {
		b.WriteString(wrapped(line, "  · ", "    ", width))
	}
	_, err := b.WriteTo(s.out)
	return err
}

// writeColumns prints rows, the first column flush left, the others flush right.
func writeColumns(b *bytes.Buffer, rows [][]string) {
	wide := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, t := range r {
			wide[i] = max(wide[i], len([]rune(t)))
		}
	}
	for _, r := range rows {
		line := ""
		for i, t := range r {
			pad := strings.Repeat(" ", wide[i]-len([]rune(t)))
			if i == 0 {
				line += t + pad
			} else {
				line += "  " + pad + t
			}
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}
