package appraise

import (
	"context"
	"errors"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
	"tideover/internal/proof"
	"tideover/internal/quantity"
	"tideover/internal/years"
)

// The homes of TestRemediesOfRandomHomes: their seed.
const (
	remediesSeed = 14
	tenth        = 10 // every so many homes live years too: they cost more than all the rest
)

// TestRemediesOfRandomHomes: every remedy offered to a random home, by check, by the proof of every
// failure and by a pack, is applied to its file, the file read again, and the whole job judged
// anew as all three judge it: what it is for is gone, nothing new is to fix, and nothing that
// concerns harm got worse unsaid. A few remedies of one home, or all remedies of as many homes as
// TIDEOVER_HOMES says, from TIDEOVER_FROM on; every tenth home lives years.
func TestRemediesOfRandomHomes(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	count, each, from := homesCount(t, 1), 2, 0
	if os.Getenv("TIDEOVER_HOMES") != "" {
		each = 1000
	}
	if text := os.Getenv("TIDEOVER_FROM"); text != "" {
		if from, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
	}
	total := map[string]int{}
	for n := from; n < count; n++ {
		h := homes.Random(remediesSeed, n)
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			c := campaign{T: t, cat: cat, home: h, total: total, lived: n%tenth == 0 && os.Getenv("TIDEOVER_HOMES") != ""}
			c.run(each)
		})
	}
	t.Logf("%d homes: remedies applied %v", count-from, total)
	if count-from > 20 && total["check"]+total["pack"]+total["prove"] == 0 {
		t.Error("no remedy was offered: the test says nothing")
	}
}

// campaign applies the remedies of one home.
type campaign struct {
	*testing.T
	cat   *catalogue.Catalogue
	home  homes.Home
	total map[string]int // by who offers them
	lived bool           // years are, for a pack's findings

	check, packed, proved *Appraisal        // of the home as it is
	with                  map[string]*after // by edits
	futures               int               // lived by the home as it is
}

// after is a home with a remedy.
type after struct {
	in            Input
	check, packed *Appraisal
}

func (c *campaign) logs() Logs { return Logs{Water: c.home.Files["outages.csv"]} }

// judged is a job as check and a pack judge it; remedies are not held to years a second time.
func (c *campaign) judged(src []byte, hold bool) (*after, error) {
	doc, faults := ReadDoc(c.cat, "home", src)
	if len(faults) > 0 {
		return nil, faults
	}
	in, err := NewInput(c.cat, doc)
	if err != nil {
		return nil, err
	}
	in.Proof = NamedProof
	a := &after{in: in}
	if !hold {
		in.Doc = nil // it needs no remedies of its own
	}
	if a.check, err = Run(context.Background(), in, nil); err != nil {
		return nil, err
	}
	if known := know(a.check.Findings); len(known.at) != known.count {
		return nil, errors.New("two findings have one key")
	}
	if !c.lived {
		a.packed = a.check
		return a, nil
	}
	if hold {
		a.packed, err = AddYears(context.Background(), in, a.check, c.logs(), nil)
		return a, err
	}
	a.packed = a.check.Take(LiveThrough(context.Background(), in, YearsAsk{Brief: true, Logs: c.logs(), alone: true, futures: c.futures}, nil))
	return a, nil
}

func (c *campaign) run(each int) {
	base, err := c.judged(c.home.Source, true)
	if err != nil {
		c.Fatalf("%s: %v", c.home.Name, err)
	}
	c.check, c.packed, c.with = base.check, base.packed, map[string]*after{}
	if c.packed.Years != nil {
		c.futures = c.packed.Years.Answer.Futures
	}
	c.proved = c.proves(base.in)
	for _, from := range []struct {
		name string
		a    *Appraisal
	}{{"check", c.check}, {"pack", c.packed}, {"prove", c.proved}} {
		n := 0
		for i := range from.a.Findings {
			f := &from.a.Findings[i]
			for k := range f.Remedies {
				if from.name == "pack" && !c.lived {
					continue
				}
				if n++; n <= each {
					c.apply(base.in, from.name, from.a, f, &f.Remedies[k])
					c.total[from.name]++
				}
			}
		}
	}
}

// cards lays a job out for a proof of every single failure in the settings a card names: any
// position of the valves besides takes minutes in some homes.
func (c *campaign) cards(in Input) (*Appraisal, proof.Input) {
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
	if _, err := layOut(in, a, false); err != nil {
		c.Fatal(err)
	}
	given, err := proofInput(in, a, FullProof)
	if err != nil {
		c.Fatal(err)
	}
	given.Cards = true
	return a, given
}

// proves is the home's proof with its cures.
func (c *campaign) proves(in Input) *Appraisal {
	a, given := c.cards(in)
	report, err := proof.Prove(context.Background(), given, nil)
	if err != nil {
		c.Fatal(err)
	}
	a.Proof = &Proof{Report: report, Depth: FullProof, input: given}
	reading := proof.Reading{System: in.Job.System()}
	base, err := c.check.standing(in, proof.Findings(report, reading))
	if err != nil {
		c.Fatal(err)
	}
	if err := a.Proof.cure(context.Background(), in, base); err != nil {
		c.Fatal(err)
	}
	reading.Cures, reading.Refused = a.Proof.Cures, a.Proof.Refused
	a.Findings = proof.Findings(report, reading)
	return a
}

// apply makes a remedy in the file and judges what comes of it.
func (c *campaign) apply(in Input, from string, was *Appraisal, f *finding.Finding, m *finding.Remedy) {
	key := fmt.Sprintf("%q", m.Edits)
	now := c.with[key]
	if now == nil {
		next, err := in.With(m.Edits...)
		if err != nil {
			c.Errorf("%s: %s: %v: %v", from, slashed(f.Key()), m.Edits, err)
			return
		}
		if now, err = c.judged(next.Doc.Bytes(), false); err != nil {
			c.Errorf("%s: %s: %v: %v", from, slashed(f.Key()), m.Edits, err)
			return
		}
		c.with[key] = now
		if !yearsFeel(m.Edits) {
			c.unlived(in, now, m)
		}
	}
	c.lawful(in, now, m)
	if words := m.Does(); strings.Contains(words, "‹") || strings.Contains(words, "choices.") {
		c.Errorf("%s: %v is told as %q", slashed(f.Key()), m.Edits, words)
	}
	is := now.check
	if from == "pack" && !slices.Contains(m.Open, "years") {
		is = now.packed
	} else if from == "pack" { // not held to years: then neither is the home as it is
		was = c.check
	}
	switch from {
	case "prove":
		c.kept(now.in, f, m)
	default:
		for i := range is.Findings {
			if g := &is.Findings[i]; keyOf(g) == keyOf(f) && !g.Close && worse(m.Verdict, g.Verdict) {
				c.Errorf("%s: %s: %v leaves it %s", from, slashed(f.Key()), m.Edits, g.Verdict.ID())
			}
		}
	}
	c.worsened(from, was, is, f, m)
}

// lawful: no remedy breaks what the tool itself says elsewhere: units and measures of the home, how
// high a tank stands without being a tower, how low a lock-out goes, what stands beside the vessel
// in which heated water finds room, what goes behind a reversed valve.
func (c *campaign) lawful(in Input, now *after, m *finding.Remedy) {
	us := in.Job.System() == quantity.US
	for _, e := range m.Edits {
		wrong := func(what string) { c.Errorf("%v: %s", m.Edits, what) }
		metric := slices.ContainsFunc([]string{" bar", " mm", " m", " L", " kPa"}, func(u string) bool { return strings.HasSuffix(e.Text, u) })
		customary := slices.ContainsFunc([]string{" psi", " in", " ft", " gal"}, func(u string) bool { return strings.HasSuffix(e.Text, u) })
		if e.Op == job.Set && (us && metric || !us && customary) {
			wrong("not in the home's units")
		}
		if e.Path == "choices.store.row" && !catalogue.SoldIn(e.Text, in.Job.System()) {
			wrong("a tank that is not sold there")
		}
		switch e.Path {
		case "choices.store.level":
			if now.in.Job.Choices.StoreLevel.V > assembly.HighestStand(now.in.Job)+1e-6 {
				wrong("a tower")
			}
		case "choices.header.level":
			if now.in.Job.Choices.HeaderLevel.V > assembly.HighestHeader(now.in.Job)+1e-6 {
				wrong("a tower")
			}
		case "choices.lock-out.low":
			if now.in.Job.Choices.LockLow.V < circuit.LockFloor(now.check.Assembly)-1 {
				wrong("below what the highest tap needs")
			}
		}
		if e.Op != job.Insert {
			continue
		}
		for _, x := range now.in.Job.Added {
			beside := now.check.Assembly.Index(strings.ToUpper(x.Beside))
			switch p := &now.check.Assembly.Parts[beside]; {
			case "added."+x.Tag != e.Path:
			case x.Kind == "hand-valve" && p.Purpose == assembly.AsHeaterVessel:
				wrong("a valve beside the vessel of a heater")
			case x.Kind == "non-return" && slices.Contains(now.check.Assembly.Reversed(), beside):
				wrong("a second valve behind a reversed one")
			}
		}
	}
}

// kept: a promise is kept as well as the cure says.
func (c *campaign) kept(in Input, f *finding.Finding, m *finding.Remedy) {
	_, given := c.cards(in)
	given.Promises = slices.DeleteFunc(proof.Promises(), func(p proof.Promise) bool { return "promise-"+p.About().ID != f.ID })
	report, err := proof.Prove(context.Background(), given, nil)
	if err != nil {
		c.Fatal(err)
	}
	if got := report.Results[0].Finding(); worse(m.Verdict, got) {
		c.Errorf("prove: %s: %v leaves it %s, and says %s", slashed(f.Key()), m.Edits, got.ID(), m.Verdict.ID())
	}
}

// worsened: what got worse is said, or concerns no harm. A proof alone is compared with check.
func (c *campaign) worsened(from string, was, is *Appraisal, f *finding.Finding, m *finding.Remedy) {
	if from == "prove" {
		was = c.check
	}
	before := pastOf(was)
	for _, g := range before.worsened(&Tried{Appraisal: is}) {
		switch {
		case g.Close || g.ID == "size-window":
		case g.Verdict == finding.MustFix:
			c.Errorf("%s: %s: %v makes %s a must fix", from, slashed(f.Key()), m.Edits, slashed(g.Key()))
		case !tells(m, g) && g.Rank <= 4:
			c.Errorf("%s: %s: %v makes %s %s (%g against %g), and does not say so", from, slashed(f.Key()), m.Edits, slashed(g.Key()), g.Verdict.ID(), g.Figure.SI, g.Limit.SI)
		}
	}
}

// tells: a remedy says that a finding gets worse, or that what it is read off in place of does.
func tells(m *finding.Remedy, g *finding.Finding) bool {
	return slices.ContainsFunc(m.Worse, func(key string) bool {
		id, _, _ := strings.Cut(key, "\x00")
		return key == g.Key() || livedFor[id] == g.ID
	})
}

// unlived: years take no notice of what the table says they do not.
func (c *campaign) unlived(in Input, now *after, m *finding.Remedy) {
	of := func(in Input, a *Appraisal) *years.Home {
		h, err := years.Make(in.Job, a.Assembly, a.circuit, in.Catalogue, in.Profile, c.logs(), gets(in, a.Assembly, a.circuit))
		if err != nil {
			return nil
		}
		return h
	}
	x, y := of(in, c.check), of(now.in, now.check)
	if (x == nil) != (y == nil) || x != nil && !reflect.DeepEqual(x.Input, y.Input) {
		c.Errorf("years feel %v", m.Edits)
	}
}

func slashed(key string) string { return strings.ReplaceAll(key, "\x00", "/") }

// TestUnlived: every field that years are said not to feel is one.
func TestUnlived(t *testing.T) {
	for _, path := range unlived {
		known := slices.ContainsFunc(job.Fields(), func(f job.Field) bool {
			return f.Path == path || strings.HasSuffix(path, ".") && strings.HasPrefix(f.Path, path)
		})
		if !known {
			t.Errorf("%s is no field", path)
		}
	}
}
