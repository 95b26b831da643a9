package web

import (
	"context"
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestPageSaysWhatCheckSays: the sentence of every finding that is not fine stands on the pages of the job,
// figure for figure: as a glance has it, or as the whole run does, whichever is ready.
func TestPageSaysWhatCheckSays(t *testing.T) {
	const name = "juniper-flat"
	s := serve(t, name)
	text := ""
	for _, section := range job.Sections() {
		text += s.get("/jobs/"+name+"/"+section) + "\n"
	}
	text = html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, ""))
	text = strings.Join(strings.Fields(text), " ")
	doc := demo.Doc(t, name)
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	in, err := appraise.NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	glance, err := appraise.Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string][]string{}
	for _, list := range [][]finding.Finding{glance.Findings, a.Findings} {
		for i := range list {
			_, sentence := finding.Text(&list[i], doc.Job.System())
			said[list[i].Key()] = append(said[list[i].Key()], strings.Join(strings.Fields(sentence), " "))
		}
	}
	judged := 0
	for i := range glance.Findings {
		f := &glance.Findings[i]
		if f.Verdict != finding.LookAt && f.Verdict != finding.MustFix {
			continue // what is fine is one line of a list
		}
		judged++
		if !slices.ContainsFunc(said[f.Key()], func(x string) bool { return strings.Contains(text, x) }) {
			t.Errorf("no page says %s %s %s: %q", f.ID, f.Where, f.Mode, said[f.Key()])
		}
	}
	if judged < 3 {
		t.Errorf("only %d findings are more than fine: another example is needed", judged)
	}
}
