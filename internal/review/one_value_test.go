package review

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/base"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
	"tideover/internal/pack"
	"tideover/internal/quantity"
	"tideover/internal/store"
	"tideover/internal/words"
)

// shown is one figure somewhere: what it means, where it stands, and its text.
type shown struct {
	meaning, place, text string
}

// meaning is a figure that papers word in their own way: the messages that tell it, each with the
// place of the figure in it, and what holds it: the finding of check (its figure, or one of its
// further figures), or, where no finding does, what its analysis found.
type meaning struct {
	name     string
	messages [][2]string // id, place
	id, mode string
	arg      string // "" the figure
	of       func(a *appraise.Appraisal) (quantity.Quantity, bool)
}

var meanings = []meaning{
	{name: "time to fill", messages: [][2]string{{"commission.do.refill", "time"}, {"charts.fill.title", "time"}, {"charts.fill.title-peak", "time"}}, id: "refill-time", mode: "refill-usual"},
	{name: "water to use", messages: [][2]string{{"verdict.carry", "usable"}, {"verdict.carry-lived", "usable"}, {"letter.store", "usable"}}, of: stored(func(r *store.Result) quantity.Quantity { return quantity.Of(r.Usable) })},
	{name: "how long the store lasts", messages: [][2]string{{"card.lasts-lived", "carry"}}, id: "carry-lived", arg: "full"},
	{name: "dose", messages: [][2]string{{"disinfect.pour", "volume"}}, id: "disinfect-dose"},
	{name: "mass of the dose", messages: [][2]string{{"disinfect.pour", "mass"}, {"disinfect.weigh", "mass"}}, id: "disinfect-dose", arg: "mass"},
	{name: "chlorine", messages: [][2]string{{"disinfect.into", "dose"}}, id: "disinfect-dose", arg: "dose"},
	{name: "water dosed", messages: [][2]string{{"disinfect.into", "water"}}, id: "disinfect-dose", arg: "water"},
	{name: "gap", messages: [][2]string{{"letter.gap", "gap"}}, id: "air-gap"},
	{name: "flow while it fills", messages: [][2]string{{"letter.fills", "flow"}}, of: filling},
	{name: "mass of a full tank", messages: [][2]string{{"letter.weight", "mass"}, {"letter.weights", "mass"}, {"build.base.store", "mass"}}, of: stored(func(r *store.Result) quantity.Quantity { return quantity.Of(r.Mass) })},
	{name: "mass of all tanks", messages: [][2]string{{"letter.weights", "all"}}, of: onBase(func(t *base.Tank) quantity.Quantity { return quantity.Of(quantity.Mass(t.Count) * t.Mass) })},
	{name: "litres of a routine", messages: [][2]string{{"card.clean.routine", "each"}, {"upkeep.do.routine", "each"}}, id: "routine"},
	{name: "hours of a routine", messages: [][2]string{{"card.clean.routine", "lasts"}, {"upkeep.do.routine", "lasts"}}, id: "routine", arg: "lasts"},
	{name: "days of a routine", messages: [][2]string{{"card.clean.routine", "every"}}, id: "routine", arg: "every"},
}

// stored is a figure of what the store comes to, onBase one of the tanks as they stand on the ground.
func stored(of func(*store.Result) quantity.Quantity) func(*appraise.Appraisal) (quantity.Quantity, bool) {
	return func(a *appraise.Appraisal) (q quantity.Quantity, ok bool) {
		if a.Store == nil {
			return q, false
		}
		return of(a.Store), true
	}
}

func onBase(of func(*base.Tank) quantity.Quantity) func(*appraise.Appraisal) (quantity.Quantity, bool) {
	return func(a *appraise.Appraisal) (q quantity.Quantity, ok bool) {
		if a.Base == nil || len(a.Base.Tanks) == 0 {
			return q, false
		}
		return of(a.Base.Stores()), true
	}
}

// filling is what runs into the store in the first of the main's hours in which anything does.
func filling(a *appraise.Appraisal) (q quantity.Quantity, ok bool) {
	for _, mode := range []string{"refill-usual", "refill-peak", "refill-night"} {
		for i := range a.Findings {
			if f := &a.Findings[i]; f.ID == "refill" && f.Mode == mode && f.Figure.SI > 0 {
				return f.Figure, true
			}
		}
	}
	return q, false
}

// figureOf is the figure of a meaning, and the finding it is in; what no finding holds is its
// analysis' own.
func figureOf(a *appraise.Appraisal, m *meaning) (f *finding.Finding, q quantity.Quantity) {
	if m.of != nil {
		if q, ok := m.of(a); ok {
			return &finding.Finding{}, q
		}
		return nil, q
	}
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == m.id && f.Mode == m.mode {
			if m.arg != "" {
				return f, f.Args[m.arg]
			}
			return f, f.Figure
		}
	}
	return nil, q
}

// told makes a pattern of a message: its words as they stand, each place any text up to the
// words that follow, the place asked for caught.
func told(id, place string) *regexp.Regexp {
	args := words.Args{}
	for _, p := range words.Places(id) {
		args[p] = "\x00" + p + "\x00"
	}
	var b strings.Builder
	for i, part := range strings.Split(words.Say(id, args), "\x00") {
		switch {
		case i%2 == 0:
			b.WriteString(regexp.QuoteMeta(part))
		case part == place:
			b.WriteString(`(.{1,60}?)`)
		default:
			b.WriteString(`.{0,300}?`)
		}
	}
	if strings.HasSuffix(b.String(), "?)") { // a figure at the end: to the end of its number and unit
		return regexp.MustCompile(strings.TrimSuffix(b.String(), `(.{1,60}?)`) + `([−-]?[\d.,]+ \S+)`)
	}
	return regexp.MustCompile(b.String())
}

// finds is where a message stands in a text: around its longest words, which are looked for
// first, for patterns are slow.
func finds(text, id, place string) (list [][]string) {
	args := words.Args{}
	for _, p := range words.Places(id) {
		args[p] = "\x00"
	}
	longest := slices.MaxFunc(strings.Split(words.Say(id, args), "\x00"), func(a, b string) int { return len(a) - len(b) })
	if len(longest) < 8 {
		return nil // says nothing
	}
	pattern := told(id, place)
	for at := 0; ; {
		k := strings.Index(text[at:], longest)
		if k < 0 {
			return list
		}
		k += at
		at = k + len(longest)
		if m := pattern.FindStringSubmatch(text[max(0, k-500):min(len(text), at+500)]); m != nil {
			list = append(list, m)
		}
	}
}

// plain is a text in one line.
func plain(text string) string { return strings.Join(strings.Fields(text), " ") }

// inPapers collects the figures of the meanings and of every finding's sentence.
func inPapers(a *appraise.Appraisal, place, text string) []shown {
	var list []shown
	add := func(meaning, id, arg string, dim quantity.Dim) {
		if dim == quantity.NoDim || !words.Has(id) || !slices.Contains(words.Places(id), arg) {
			return
		}
		for _, m := range finds(text, id, arg) {
			said := strings.TrimPrefix(strings.TrimSpace(m[len(m)-1]), "about ")
			if _, err := quantity.Parse(said, dim, a.Job.System()); err == nil { // else some other sentence that begins alike
				list = append(list, shown{meaning, place + ", " + id, said})
			}
		}
	}
	for i := range meanings {
		m := &meanings[i]
		if f, q := figureOf(a, m); f != nil {
			for _, x := range m.messages {
				add(m.name, x[0], x[1], q.Dim)
			}
		}
	}
	seen := map[string]bool{}
	for i := range a.Findings {
		f := &a.Findings[i]
		id := "finding." + f.ID + "." + f.Verdict.ID()
		if !seen[id] {
			seen[id] = true
			add(f.ID, id, "figure", f.Figure.Dim)
			add(f.ID+" limit", id, "limit", f.Limit.Dim)
		}
	}
	return list
}

// held is how check writes a meaning: its one figure, or those of every place and mode of a
// finding, each with what it is told with beside it.
func held(a *appraise.Appraisal, meaning string) (list []string) {
	sys := a.Job.System()
	write := func(f *finding.Finding, q quantity.Quantity) {
		bare := q
		bare.Half = 0
		figure, limit := quantity.FormatApart(f.Figure, f.Limit, sys)
		list = append(list, quantity.Format(q, sys), quantity.Format(bare, sys), quantity.FormatSpread(q, sys))
		switch q {
		case f.Figure:
			list = append(list, figure)
		case f.Limit:
			list = append(list, limit)
		}
	}
	for i := range meanings {
		if m := &meanings[i]; m.name == meaning {
			f, q := figureOf(a, m)
			write(f, q)
			return list
		}
	}
	id, limit := strings.CutSuffix(meaning, " limit")
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == id {
			q := f.Figure
			if limit {
				q = f.Limit
			}
			write(f, q)
		}
	}
	return list
}

// seen is what a reader sees of a file: of a drawing its texts, of a calendar its lines unfolded.
func seen(t *testing.T, f pack.File) (text string, ok bool) {
	t.Helper()
	switch {
	case strings.HasSuffix(f.Name, ".svg"):
		return html.UnescapeString(betweenTags.ReplaceAllString(string(f.Data), " ")), true
	case strings.HasSuffix(f.Name, ".ics"):
		text = strings.ReplaceAll(string(f.Data), "\r\n ", "")
		return strings.NewReplacer(`\,`, ",", `\;`, ";", `\n`, " ").Replace(text), true
	}
	return textOf(t, f.Data)
}

var betweenTags = regexp.MustCompile(`<[^>]*>`)

// one holds each figure that is shown of a home to check's.
func one(t *testing.T, name string, checked, whole *appraise.Appraisal, count map[string]int) {
	t.Helper()
	files, err := pack.Make(whole, pack.Options{Version: "0", Sheets: pack.Sheets()})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	all := *whole // with what the years took the place of, which other sheets still tell
	for _, f := range checked.Findings {
		if byPlace(whole, f.ID, f.Where, f.Mode) == nil {
			all.Findings = append(slices.Clone(all.Findings), f)
		}
	}
	// check, store and the pack's own file: by finding.
	for key, f := range byKey(t, whole) {
		if g, both := byKey(t, checked)[key]; both && !strings.HasPrefix(key, "lived") && f != g {
			t.Errorf("%s: %s is %s in check and %s with the years", name, key, g, f)
		}
		count["check and years"]++
	}
	for _, f := range files {
		switch {
		case f.Name == "findings.json":
			var got struct {
				Findings []struct {
					ID, Where, Mode, Verdict string
					Figure                   *struct{ SI *float64 } // null where it never comes to an end
				}
			}
			if err := json.Unmarshal(f.Data, &got); err != nil {
				t.Fatal(err)
			}
			for _, g := range got.Findings {
				h := byPlace(whole, g.ID, g.Where, g.Mode)
				if h == nil || g.Figure != nil && (g.Figure.SI == nil) != math.IsInf(h.Figure.SI, 0) || g.Figure != nil && g.Figure.SI != nil && h.Figure.SI != *g.Figure.SI {
					t.Errorf("%s: findings.json has %+v", name, g)
				}
				count[f.Name]++
			}
		case strings.HasSuffix(f.Name, ".pdf"), strings.HasSuffix(f.Name, ".svg"), strings.HasSuffix(f.Name, ".ics"):
			text, ok := seen(t, f)
			if !ok {
				continue
			}
			for _, s := range inPapers(&all, f.Name, plain(text)) {
				count[s.meaning]++
				if list := held(&all, s.meaning); !slices.Contains(list, s.text) {
					t.Errorf("%s: %s: %q in %s; check has %v", name, s.meaning, s.text, s.place, list)
				}
			}
		}
	}
}

// again lives the years once more, as the command store does, and holds them to the pack's.
func again(t *testing.T, name string, in appraise.Input, logs appraise.Logs, whole *appraise.Appraisal) {
	t.Helper()
	if whole.Years == nil {
		return
	}
	y, err := appraise.LiveThrough(context.Background(), in, appraise.YearsAsk{Brief: true, Logs: logs}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range y.Findings {
		if g := byPlace(whole, f.ID, f.Where, f.Mode); g == nil || g.Figure.SI != f.Figure.SI {
			t.Errorf("%s: %s is %v in store and another in the pack", name, f.ID, f.Figure.SI)
		}
	}
}

func byPlace(a *appraise.Appraisal, id, where, mode string) *finding.Finding {
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == id && f.Where == where && f.Mode == mode {
			return f
		}
	}
	return nil
}

// byKey is verdict and figure of every finding.
func byKey(t *testing.T, a *appraise.Appraisal) map[string]string {
	t.Helper()
	list := map[string]string{}
	for i := range a.Findings {
		f := &a.Findings[i]
		key := strings.ReplaceAll(f.Key(), "\x00", " ")
		text := fmt.Sprintf("%s %g", f.Verdict.ID(), f.Figure.SI)
		if was, twice := list[key]; twice && was != text {
			t.Errorf("%s is judged twice, %s and %s", key, was, text)
		}
		list[key] = text
	}
	return list
}

// withRoutine holds the sheets of an example whose home is run on the store on fixed days.
func withRoutine(t *testing.T, name string, count map[string]int) {
	t.Helper()
	doc := demo.Doc(t, name)
	doc, _, err := doc.Apply(job.Edit{Op: job.Set, Path: "choices.store.exercise", Text: "7 d"}, job.Edit{Op: job.Set, Path: "choices.store.exercise-for", Text: "9 h"})
	if err != nil {
		t.Fatal(err)
	}
	rows, profile := demo.Rows(t, doc.Job.Profile)
	a, err := appraise.Run(context.Background(), appraise.Input{Doc: doc, Job: doc.Job, Catalogue: rows, Profile: profile}, nil)
	if err != nil {
		t.Fatal(err)
	}
	one(t, name+" with a routine", a, a, count)
}

const campaign = "TIDEOVER_HOMES"

// number is a whole number told in the environment, 0 where none is.
func number(name string) int {
	n, err := strconv.Atoi(os.Getenv(name))
	if err != nil {
		return 0
	}
	return n
}

// TestOneValueEverywhere: a figure has one value wherever it is shown, in check, store, the
// pack's file and every sheet and letter. Two examples, and as many random homes as
// TIDEOVER_HOMES says, from the one that TIDEOVER_FROM numbers.
func TestOneValueEverywhere(t *testing.T) {
	count := map[string]int{}
	for _, name := range examples {
		checked, whole := run(t, name)
		one(t, name, checked, whole, count)
		doc := demo.Doc(t, name)
		rows, profile := demo.Rows(t, doc.Job.Profile)
		in := appraise.Input{Doc: doc, Job: doc.Job, Catalogue: rows, Profile: profile}
		beside(t, name, in, checked, count)
		diagnosed(t, name, in, checked, count)
		surveyed(t, name, in, checked, count)
	}
	withRoutine(t, "juniper-flat", count)
	random, first := number(campaign), number("TIDEOVER_FROM")
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	for n := first; n < first+random; n++ {
		h := homes.Random(43, n)
		doc, faults := appraise.ReadDoc(cat, "home", h.Source)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", h.Name, faults)
		}
		in, err := appraise.NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		logs := appraise.Logs{Water: h.Files[doc.Job.Interruptions.Log], Power: h.Files[doc.Job.Interruptions.PowerLog]}
		checked, err := appraise.Run(context.Background(), in, nil)
		if err != nil {
			t.Logf("%s: %v", h.Name, err)
			continue
		}
		whole, err := appraise.AddYears(context.Background(), in, checked, logs, nil)
		if err != nil {
			t.Fatal(err)
		}
		one(t, h.Name, checked, whole, count)
		again(t, h.Name, in, logs, whole)
		beside(t, h.Name, in, checked, count)
		diagnosed(t, h.Name, in, checked, count)
		surveyed(t, h.Name, in, checked, count)
	}
	for n := first; n < first+4+random; n++ {
		interviewed(t, cat, n, count)
	}
	var seen []string
	for m, n := range count {
		seen = append(seen, fmt.Sprintf("%s %d", m, n))
	}
	slices.Sort(seen)
	t.Logf("figures held to check: %s", strings.Join(seen, "; "))
	for _, m := range meanings {
		if _, err := exec.LookPath("pdftotext"); err == nil && count[m.name] == 0 {
			t.Errorf("%s stands on no sheet: the words that tell it are other than thought", m.name)
		}
	}
}
