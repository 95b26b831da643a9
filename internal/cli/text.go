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

// width is the line length of text output; matter is how many findings are told in full
// before the rest get a line each: more would bury the ones that count.
const (
	width  = 80
	matter = 3
)

// writeText prints the verdict, the few findings that matter most in full, the others a
// line each and what is fine as a count. all tells every finding in full; unfold adds
// the calculation of each finding told in full.
func writeText(w io.Writer, a *appraise.Appraisal, all, unfold bool) error {
	var b bytes.Buffer
	sys := a.Job.System()
	b.WriteString(wrapped(headline(a), "", "", width) + "\n")
	var rest, open, close []*finding.Finding
	fine, shares := 0, false
	foremost := finding.Foremost(a.Findings, matter)
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Close && f.Verdict == finding.Fine {
			close = append(close, f)
		}
		switch {
		case all, i < foremost:
			entry(&b, f, sys, unfold)
			shares = shares || finding.Share(f) != ""
		case f.Verdict == finding.Fine:
			fine++
		case f.Verdict == finding.NotJudged:
			open = append(open, f)
		default:
			rest = append(rest, f)
		}
	}
	brief(&b, "cli.rest.also", rest, sys)
	unjudged(&b, open, sys)
	if !all {
		brief(&b, "cli.rest.room", close, sys)
	}
	if fine > 0 || len(rest)+len(open) > 0 {
		b.WriteString(wrapped(words.Say("cli.rest.fine", words.Args{"n": fmt.Sprint(fine)}), "", "", width))
	}
	if shares || len(close) > 0 {
		b.WriteString(wrapped(a.TellShares(all), "", "", width))
	}
	if a.Proof != nil && len(a.Proof.Results) > 0 {
		b.WriteString(wrapped(a.Proof.TellCovered(), "", "", width))
	}
	if a.Store != nil && a.Years == nil {
		b.WriteString(wrapped(words.Say("cli.rest.years", nil), "", "", width))
	}
	assumptions(&b, a)
	b.WriteString("\n" + wrapped(words.Say("cli.caution", nil), "", "", width))
	_, err := w.Write(b.Bytes())
	return err
}

// assumptions tells what figures rest on that nobody measured, what moves most first.
func assumptions(b *bytes.Buffer, a *appraise.Appraisal) {
	if len(a.Rests) == 0 {
		weightiest(b, a)
		return
	}
	b.WriteString("\n" + wrapped(words.Say("assume.head", nil), "", "", width))
	var still []string
	for i := range a.Rests {
		r := &a.Rests[i]
		title, moves := r.Text(a.Job.System())
		if r.Still() {
			still = append(still, title)
			continue
		}
		b.WriteString("\n" + wrapped(title, "  · ", "    ", width))
		b.WriteString(wrapped(moves, "    ", "    ", width))
		b.WriteString(wrapped(r.Errs()+" "+r.Settled(), "    ", "    ", width))
	}
	if len(still) > 0 {
		b.WriteString("\n" + wrapped(words.Say("assume.more", words.Args{"list": strings.Join(still, "; ")}), "", "", width))
	}
}

// weightiest tells the few assumptions that most hangs on.
func weightiest(b *bytes.Buffer, a *appraise.Appraisal) {
	parts := a.Weightiest.Parts()
	for _, part := range parts {
		b.WriteString("\n" + wrapped(part.Head, "", "", width))
		for i := range part.List {
			b.WriteString(wrapped(part.List[i].Brief(a.Job.System()), "  · ", "    ", width))
		}
	}
	if len(parts) > 0 {
		b.WriteString(wrapped(words.Say("assume.few.rest", nil), "", "", width))
	}
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

// entry tells one finding in full.
func entry(b *bytes.Buffer, f *finding.Finding, sys quantity.System, unfold bool) {
	title, sentence := finding.Text(f, sys)
	fmt.Fprintf(b, "%s · %s\n", strings.ToUpper(words.Say("verdict."+f.Verdict.ID(), nil)), title)
	b.WriteString(wrapped(sentence, "  ", "  ", width))
	if note := standing(f); note != "" {
		b.WriteString(wrapped(note, "  ", "  ", width))
	}
	remedies(b, f, sys)
	if unfold {
		if from := finding.From(f); from != "" {
			b.WriteString(wrapped(words.Say("cli.source", words.Args{"source": from}), "  | ", "  |   ", width))
		}
		for _, line := range finding.Unfold(f.Calc, sys) {
			b.WriteString("  | " + line + "\n")
		}
	}
	b.WriteString("\n")
}

// brief gives findings that are not told in full a line each, under a heading.
func brief(b *bytes.Buffer, head string, list []*finding.Finding, sys quantity.System) {
	if len(list) == 0 {
		return
	}
	b.WriteString(words.Say(head, nil) + "\n")
	for _, f := range list {
		title, _ := finding.Text(f, sys)
		line := title
		if f.Sense != finding.NoLimit && f.Figure.Dim != quantity.NoDim && f.Limit.Dim != quantity.NoDim {
			figure, limit := quantity.FormatApart(f.Figure, f.Limit, sys)
			line += ": " + words.Say("cli.rest.against."+limitID(f.Sense), words.Args{"figure": figure, "limit": limit})
		}
		switch {
		case f.Close && f.Verdict == finding.Fine:
			line += ", " + finding.Share(f)
		case f.Close:
			line += ", " + words.Say("cli.rest.close", nil) + " (" + finding.Share(f) + ")"
		}
		b.WriteString(wrapped(line, "  · ", "    ", width))
	}
	b.WriteString("\n")
}

// unjudged names what could not be judged, one line for each kind and cause.
func unjudged(b *bytes.Buffer, list []*finding.Finding, sys quantity.System) {
	if len(list) == 0 {
		return
	}
	b.WriteString(words.Say("cli.rest.unjudged", nil) + "\n")
	for _, g := range finding.Alike(list) {
		line, _ := g.Text(sys)
		b.WriteString(wrapped(line, "  · ", "    ", width))
	}
	b.WriteString("\n")
}

func limitID(s finding.Sense) string {
	if s == finding.AtMost {
		return "at-most"
	}
	return "at-least"
}

// standing says in how many draws a finding holds and which inputs move it most. What is too
// close to call has its count in its sentence.
func standing(f *finding.Finding) string {
	share := finding.Share(f)
	if share == "" {
		return ""
	}
	said := f.Close && f.Verdict != finding.Fine
	switch {
	case len(f.Moves) == 0 && said:
		return ""
	case len(f.Moves) == 0: // only together do inputs move it
		return words.Say("cli.stands.together", words.Args{"share": share})
	}
	id, args := "cli.stands", words.Args{"share": share, "paths": strings.Join(f.Moves[:min(3, len(f.Moves))], ", ")}
	if said {
		id = "cli.moved"
	}
	return words.Say(id, args)
}

// remedies tells what was tried and helps.
func remedies(b *bytes.Buffer, f *finding.Finding, sys quantity.System) {
	for i := range f.Remedies {
		b.WriteString(wrapped(remedy(&f.Remedies[i], sys), "  → ", "    ", width))
	}
	if f.Untried > 0 {
		b.WriteString(wrapped(words.Say("cli.remedy.more", nil), "    ", "    ", width))
	}
}

// remedy is one tried cure in words, with the fields that make it.
func remedy(r *finding.Remedy, sys quantity.System) string { return r.TellWith(edits(r), sys) }

func edits(r *finding.Remedy) string {
	ids := [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}
	var parts []string
	for _, e := range r.Edits {
		parts = append(parts, words.Say("cli.edit."+ids[e.Op], words.Args{"path": e.Path, "text": e.Text}))
	}
	return strings.Join(parts, ", ")
}
