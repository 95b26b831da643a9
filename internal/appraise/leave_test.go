package appraise

import (
	"os"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/consent"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestLeaveIsOne: who allows a pump on the main, or a joint between store and main, is one answer:
// what check calls fine owes no signature, what it says is to be looked at owes one, what it says
// must be fixed is owed or refused; and what may be offered is what is not a fault.
func TestLeaveIsOne(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	inLine, err := os.ReadFile("testdata/kestrel-in-line.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, home := range []struct {
		id, path, arrangement string
		source                []byte
	}{
		{"booster-consent", "supply.booster", assembly.InLine, inLine},
		{"by-pass-consent", "supply.by-pass", assembly.MainFirst, demo.Source(t, "kestrel-rise")},
	} {
		for _, profile := range cat.Keys("profiles") {
			for _, answer := range []string{"yes", "with-consent", "asked", "no", "unknown"} {
				doc, faults := ReadDoc(cat, "home", home.source)
				if len(faults) > 0 {
					t.Fatal(faults)
				}
				doc, _, err := doc.Apply(job.Edit{Op: job.Set, Path: "profile", Text: profile}, job.Edit{Op: job.Set, Path: home.path, Text: answer})
				if err != nil {
					t.Fatal(err)
				}
				in, err := NewInput(cat, doc)
				if err != nil {
					t.Fatal(err)
				}
				a, err := Quick(in)
				if err != nil {
					t.Fatal(err)
				}
				verdict := finding.NotJudged
				for i := range a.Findings {
					if a.Findings[i].ID == home.id {
						verdict = a.Findings[i].Verdict
					}
				}
				state := consent.Ask(doc.Job, a.Assembly, in.Profile)[0].State
				name := home.id + ", " + profile + ", " + answer
				switch owed := state == consent.Owed; {
				case verdict == finding.Fine && (owed || state == consent.Refused),
					verdict == finding.LookAt && !owed,
					verdict == finding.MustFix && !owed && state != consent.Refused,
					verdict == finding.NotJudged:
					t.Errorf("%s: check says %s, the signature is %s", name, verdict.ID(), state.ID())
				}
				may := assembly.MayOffer(home.arrangement, doc.Job, in.Profile)
				if may && verdict == finding.MustFix {
					t.Errorf("%s: offered, and a fault where it is built", name)
				}
			}
		}
	}
}

// TestFreeFlow: where the rules leave a small pump free of notice, one that draws no more asks
// nobody, one that draws more does, and behind a store the supplier is told of it.
func TestFreeFlow(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	p, j := cat.Profiles["uk"], demo.Job(t, "kestrel-rise")
	j.Supply.Booster = job.No
	litres := func(l float64) quantity.Flow { return quantity.Flow(l / 60000) }
	if l := assembly.Booster(j, &p, litres(12)); !l.May() || l.Basis != assembly.Small || l.Rule.Source != "si-1999-reg5" {
		t.Errorf("12 L/min: %+v", l)
	}
	if l := assembly.Booster(j, &p, litres(12.01)); l.May() {
		t.Errorf("12.01 L/min: %+v", l)
	}
	for _, name := range []string{"south-africa", "india"} { // refused, however small
		p := cat.Profiles[name]
		if l := assembly.Booster(j, &p, litres(1)); l.May() {
			t.Errorf("%s: %+v", name, l)
		}
	}
	// A curve that comes down to no head at its last point draws what that point says.
	row := catalogue.Pump{Shutoff: 40, Q1: 0.5e-3, H1: 30, Q2: 1e-3, H2: 0.001}
	a := &assembly.Assembly{Parts: []assembly.Part{{Kind: assembly.Pump, Row: row}}}
	if got := float64(a.Draws()); got < 0.99999e-3 || got > 1.0001e-3 {
		t.Errorf("a curve that ends at 1 L/s draws %.5g m3/s at most", got)
	}
	osprey := demo.Job(t, "osprey-house")
	built, err := assembly.Build(osprey, cat, &p)
	if err != nil {
		t.Fatal(err)
	}
	if s := consent.Ask(osprey, built, &p)[0]; s.State != consent.Tell || s.Why != "pumped" {
		t.Errorf("a pump behind a store, uk: %+v", s)
	}
}

// TestBlankResidual: where nobody could cite how much chlorine must be left, a finding says so;
// where somebody did, or nothing of the regime is the profile's, none does.
func TestBlankResidual(t *testing.T) {
	for profile, want := range map[string]int{"usa": 1, "india": 1, "uk": 0, "generic": 0, "europe": 0} {
		cat, p := demo.Rows(t, profile)
		in := Input{Job: demo.Job(t, "kestrel-rise"), Catalogue: cat, Profile: p}
		r, _ := regime(in)
		if got := leftOver(in, r); len(got) != want || want == 1 && (got[0].Verdict != finding.NotJudged || got[0].Names["field"] != "disinfect-residual") {
			t.Errorf("%s: %d findings, want %d", profile, len(got), want)
		}
	}
}
