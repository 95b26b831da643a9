package web

import (
	"context"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
)

// TestPageSaysWhatCheckSays: every finding, fine ones too, stands on the pages of its job once:
// its sentence, figure for figure, and its number as check writes it; and the page counts what
// check counts. One example, and as many random homes as TIDEOVER_HOMES says.
func TestPageSaysWhatCheckSays(t *testing.T) {
	pageSays(t, "juniper-flat", demo.Source(t, "juniper-flat"), nil)
	random := 0
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_HOMES")); err == nil {
		random = n
	}
	homes.Each(t, 43, random, func(t *testing.T, h homes.Home) { pageSays(t, "home", h.Source, h.Files) })
}

var (
	tags     = regexp.MustCompile(`<[^>]*>`)
	figures  = regexp.MustCompile(`(?s)<p class="figure">.*?</p>`)
	articles = regexp.MustCompile(`(?s)<article class="finding.*?</article>`)
)

// bare is what a reader sees of a piece of a page, in one line.
func bare(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(page, " "))), " ")
}

// flat is a text without its blanks, which a page sets apart by its styles.
func flat(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) }), "")
}

func pageSays(t *testing.T, name string, src []byte, files map[string][]byte) {
	t.Helper()
	s := serve(t)
	s.write(name, string(src))
	for file, b := range files {
		if err := os.WriteFile(filepath.Join(s.dir, file), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := appraise.ReadDoc(cat, name+shelf.Suffix, src)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := appraise.NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	in.Proof = appraise.SoundProof // as the page asks for
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Skip(err) // the page says so too; that is another test
	}
	url := "/jobs/" + name
	s.get(url)
	d := s.pages.desks[name]
	d.wait(context.Background(), revision(src), glance) // until it is judged whole
	var said []string
	for _, section := range job.Sections() {
		said = append(said, articles.FindAllString(s.get(url+"/"+section+"?fine=1"), -1)...)
	}
	raw := slices.Clone(said)
	for i := range said {
		said[i] = bare(said[i])
	}
	sys, found := doc.Job.System(), 0
	for i := range a.Findings {
		f := &a.Findings[i]
		_, sentence := finding.Text(f, sys)
		sentence = strings.Join(strings.Fields(sentence), " ")
		at := slices.IndexFunc(said, func(x string) bool { return strings.Contains(x, sentence) })
		switch {
		case at >= 0:
			found++
		case appraise.OfYears(f.ID):
			continue // the page lives through years of its own accord, and says so
		default:
			t.Errorf("no page says %s %s %s: %q", f.ID, f.Where, f.Mode, sentence)
			continue
		}
		if f.Figure.Dim == quantity.NoDim {
			continue
		}
		number := bare(figures.FindString(raw[at]))
		spread, close := flat(quantity.FormatSpread(f.Figure, sys)), ""
		if f.Limit.Dim != quantity.NoDim {
			close, _ = quantity.FormatApart(f.Figure, f.Limit, sys)
		}
		if !strings.HasPrefix(flat(number), spread) && (close == "" || !strings.HasPrefix(flat(number), flat(close))) {
			t.Errorf("%s %s %s is %s in check; the page's number is %q", f.ID, f.Where, f.Mode, spread, number)
		}
	}
	if found < 30 {
		t.Errorf("only %d findings stand on the pages", found)
	}
	n := map[finding.Verdict]int{}
	for i := range a.Findings {
		n[a.Findings[i].Verdict]++
	}
	want := say("web.headline."+a.Verdict.ID(), "must", fmt.Sprint(n[finding.MustFix]), "look", fmt.Sprint(n[finding.LookAt]),
		"unjudged", fmt.Sprint(n[finding.NotJudged]), "fine", fmt.Sprint(n[finding.Fine]))
	if page := bare(s.get(url)); !strings.Contains(page, want) {
		t.Errorf("the page does not say %q", want)
	}
}
