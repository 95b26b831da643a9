package cli

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// width is the line length of text output.
const width = 80

// writeText prints the verdict, the findings worst first, and what is fine as a count
// (or in full when all is set). unfold adds each finding's calculation.
func writeText(w io.Writer, a *appraise.Appraisal, all, unfold bool) error {
	var b bytes.Buffer
	sys := a.Job.System()
	b.WriteString(wrapped(headline(a), "", width) + "\n")
	fine := 0
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Verdict == finding.Fine {
			fine++
			if !all {
				continue
			}
		}
		entry(&b, f, sys, unfold)
	}
	if fine > 0 && !all {
		b.WriteString(wrapped(words.Say("cli.rest.fine", words.Args{"n": fmt.Sprint(fine)}), "", width))
	}
	b.WriteString("\n" + wrapped(words.Say("cli.caution", nil), "", width))
	_, err := w.Write(b.Bytes())
	return err
}

// headline is the verdict of the whole job in one sentence.
func headline(a *appraise.Appraisal) string {
	n := map[finding.Verdict]int{}
	for i := range a.Findings {
		n[a.Findings[i].Verdict]++
	}
	return words.Say("cli.headline."+a.Verdict.ID(), words.Args{
		"name": a.Job.Name, "must": counted(n[finding.MustFix]), "look": counted(n[finding.LookAt]),
		"unjudged": counted(n[finding.NotJudged]), "fine": fmt.Sprint(n[finding.Fine]),
	})
}

// entry prints one finding.
func entry(b *bytes.Buffer, f *finding.Finding, sys quantity.System, unfold bool) {
	title, sentence := finding.Text(f, sys)
	fmt.Fprintf(b, "%s · %s\n", strings.ToUpper(words.Say("verdict."+f.Verdict.ID(), nil)), title)
	b.WriteString(wrapped(sentence, "  ", width))
	if note := footing(f); note != "" {
		b.WriteString(wrapped(note, "  ", width))
	}
	for _, r := range f.Remedies {
		b.WriteString(wrapped(remedy(&r, sys), "  → ", width))
	}
	if unfold {
		for _, line := range finding.Unfold(f.Calc, sys) {
			b.WriteString("    | " + line + "\n")
		}
	}
	b.WriteString("\n")
}

// footing says how firmly a finding stands, what moves it and where its limit is from.
func footing(f *finding.Finding) string {
	var parts []string
	if f.Stands >= 0 && len(f.Moves) > 0 && f.Verdict != finding.NotJudged {
		share := words.Say("cli.stands.all", nil)
		if f.Stands < 0.95 {
			share = fmt.Sprintf("%.0f %%", 100*f.Stands)
		}
		parts = append(parts, words.Say("cli.margin", words.Args{"share": share}))
		parts = append(parts, words.Say("cli.moved", words.Args{"paths": strings.Join(f.Moves[:min(3, len(f.Moves))], ", ")}))
	}
	if f.Source != "" {
		parts = append(parts, words.Say("cli.source", words.Args{"source": f.Source}))
	}
	return strings.Join(parts, "; ")
}

// remedy is one tried cure in words.
func remedy(r *finding.Remedy, sys quantity.System) string {
	id, figure := "cli.tried", ""
	if r.Figure.Dim == quantity.NoDim {
		id = "cli.tried.gone"
	} else {
		figure = quantity.Format(r.Figure, sys)
	}
	text := words.Say(id, words.Args{"edits": edits(r.Edits), "figure": figure})
	if len(r.Worse) > 0 {
		text += "; " + words.Say("cli.tried.worse", words.Args{"worse": strings.Join(finding.Titles(r.Worse), ", ")})
	}
	return text
}

func edits(list []job.Edit) string {
	ids := [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}
	var parts []string
	for _, e := range list {
		parts = append(parts, words.Say("cli.edit."+ids[e.Op], words.Args{"path": e.Path, "text": e.Text}))
	}
	return strings.Join(parts, ", ")
}
