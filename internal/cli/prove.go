package cli

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/words"
)

func newProve(s streams) *cobra.Command {
	var (
		l             loader
		asJSON, pairs bool
		one           string
	)
	c := &cobra.Command{
		Use:     "prove FILE",
		Short:   words.Say("cli.prove.short", nil),
		Long:    words.Say("cli.prove.long", nil),
		Example: "  " + words.Say("cli.prove.example", nil) + "\n  " + words.Say("cli.prove.example.case", nil),
		Args:    exactly(1, "cli.usage.file", "cli.prove.example"),
		RunE: func(c *cobra.Command, args []string) error {
			in, err := l.load(args[0])
			if err != nil {
				return err
			}
			if c.Flags().Changed("case") {
				return s.replay(in, one, asJSON)
			}
			depth := appraise.FullProof
			if pairs {
				depth = appraise.PairsProof
			}
			a, err := appraise.Prove(c.Context(), in, depth, s.later(time.Now))
			if err != nil {
				return placed(in, err)
			}
			if asJSON {
				err = writeJSON(s.out, a)
			} else {
				err = writeProof(s.out, a)
			}
			return verdict(a, err)
		},
	}
	l.flags(c)
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("cli.flag.json", nil))
	c.Flags().BoolVar(&pairs, "pairs", false, words.Say("cli.flag.pairs", nil))
	c.Flags().StringVar(&one, "case", "", words.Say("cli.flag.case", nil))
	return c
}

// patience is how long a proof is silent about its progress.
const patience = time.Second

// later tells progress on standard error, a line for each tenth, once a second has passed.
func (s streams) later(now func() time.Time) func(done, total int) {
	began, last := now(), -1
	return func(done, total int) {
		tenth := done * 10 / total
		if tenth == last || done == total || now().Sub(began) < patience {
			return
		}
		last = tenth
		fmt.Fprintln(s.err, words.Say("cli.prove.progress", words.Args{"share": fmt.Sprintf("%d %%", done*100/total)}))
	}
}

// writeProof tells each promise with its verdict, the orders of hand movements, and what
// was covered.
func writeProof(w io.Writer, a *appraise.Appraisal) error {
	var b bytes.Buffer
	p := a.Proof
	b.WriteString(wrapped(headline(a), "", "", width) + "\n")
	kept := []string{}
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Verdict == finding.Fine && f.Names["case"] == "" {
			kept = append(kept, words.Say("promise."+strings.TrimPrefix(f.ID, "promise-")+".title", nil))
			continue
		}
		tellPromise(&b, a, f)
	}
	listed(&b, "cli.prove.kept", kept)
	var idle []string
	for i := range p.Results {
		if r := &p.Results[i]; r.NeverArises() {
			idle = append(idle, words.Say("promise."+r.About.ID+".title", nil))
		}
	}
	listed(&b, "cli.prove.idle", idle)
	if len(p.Sequences) > 0 {
		b.WriteString(words.Say("cli.prove.turns", nil) + "\n")
		for i := range p.Sequences {
			b.WriteString(wrapped(p.Sequences[i].Tell(), "  · ", "    ", width))
		}
		if not := p.TellUnlooked(); not != "" {
			b.WriteString(wrapped(not, "", "", width))
		}
		b.WriteString("\n")
	}
	b.WriteString(wrapped(p.TellCovered(), "", "", width))
	b.WriteString(wrapped(p.TellWork(), "", "", width))
	b.WriteString("\n" + wrapped(words.Say("cli.caution", nil), "", "", width))
	_, err := w.Write(b.Bytes())
	return err
}

func listed(b *bytes.Buffer, id string, list []string) {
	if len(list) > 0 {
		b.WriteString(wrapped(words.Say(id, words.Args{"list": strings.Join(list, ", ")}), "", "", width) + "\n")
	}
}

// tellPromise tells one promise: its verdict, what breaks it, how to look at that again.
func tellPromise(b *bytes.Buffer, a *appraise.Appraisal, f *finding.Finding) {
	id := strings.TrimPrefix(f.ID, "promise-")
	r := a.Proof.Of(id)
	fmt.Fprintf(b, "%s · %s · %s\n", strings.ToUpper(words.Say("verdict."+f.Verdict.ID(), nil)),
		words.Say("promise."+id+".title", nil), words.Say("proof.verdict."+r.Verdict.ID(), nil))
	for _, line := range a.Proof.Lines(r, f.Verdict, a.Job.System(), nil, a.Proof.Refused[id]) {
		b.WriteString(wrapped(line, "  ", "  ", width))
	}
	remedies(b, f, a.Job.System())
	b.WriteString("\n")
}

// replay tells one case with all its figures.
func (s streams) replay(in appraise.Input, text string, asJSON bool) error {
	a, err := appraise.ProveCase(in, text)
	if err != nil {
		return placed(in, err)
	}
	if asJSON {
		return quiet(writeJSON(s.out, a))
	}
	var b bytes.Buffer
	for _, line := range a.Proof.Replay.Told(a.Proof.Space, a.Job.System()) {
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	_, err = s.out.Write(b.Bytes())
	return quiet(err)
}

// quiet forgets that the reader of a pipe went away.
func quiet(err error) error {
	if err != nil && brokenPipe(err) {
		return nil
	}
	return err
}
