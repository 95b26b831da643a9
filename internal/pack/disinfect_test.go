package pack

import (
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/disinfect"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestNobodyPoursAnOldBottle: a bottle that is refused has no dose on any paper, in any
// file or finding; headline, step and finding give a fresh one's.
func TestNobodyPoursAnOldBottle(t *testing.T) {
	src := strings.NewReplacer("bought: 2026-01-20", "bought: 2025-07-02", "strength: 5 %", "strength: 12.5 %").Replace(source(t, "kestrel-rise"))
	a := run(t, src)
	if a.Disinfect == nil || a.Disinfect.AgeState != disinfect.AgeOld {
		t.Fatalf("the bottle is not refused: %+v", a.Disinfect)
	}
	told := map[string]string{}
	for name, data := range made(t, a, Options{}) {
		if name == "pack.pdf" {
			told[name] = strings.Join(inOrder(t, data), " ")
		} else if !strings.HasSuffix(name, ".xlsx") {
			told[name] = string(data)
		}
	}
	for i := range a.Findings {
		title, sentence := finding.Text(&a.Findings[i], a.Job.System())
		told["findings"] += title + ": " + sentence + "\n"
	}
	if told["findings.json"] == "" {
		t.Error("the pack holds no findings.json")
	}
	for name, text := range told {
		// 148.5 g in 12.5 % of 1.2086 kg/L of which 0.374 is left: 2.63 L, 3.18 kg, 2630 mL.
		for _, refused := range []string{"2.63L", "3.18kg", "2630mL", "0.00263", "2.62L"} {
			if strings.Contains(squeezed(text), refused) {
				t.Errorf("%s gives the dose of the refused bottle, %s", name, refused)
			}
		}
	}
	for name, want := range map[string][]string{
		"pack.pdf": {"Buy a fresh bottle of 12.5 %. Pour in 983 mL", "through the lid. Pour in 983 mL (1.19 kg), of the fresh bottle of 12.5 %", "do not make up for its age by pouring more"},
		"findings": {"Buy a fresh bottle. With fresh 12.5 %: 983 mL"},
	} {
		for _, text := range want {
			if !strings.Contains(squeezed(told[name]), squeezed(text)) {
				t.Errorf("%s lacks %q", name, text)
			}
		}
	}
}

// TestBottleWithoutADate: the dose is a fresh bottle's, which is never too strong, and the
// strip decides whether it was enough.
func TestBottleWithoutADate(t *testing.T) {
	a := run(t, strings.Replace(source(t, "kestrel-rise"), "    bought: 2026-01-20\n", "", 1))
	if d := a.Disinfect; d == nil || d.AgeState != disinfect.AgeUnknown || d.Liquid != d.LabelLiquid {
		t.Fatalf("the label is not what is poured: %+v", d)
	}
	text := squeezed(strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{"disinfect"}})["pack.pdf"]), " "))
	for _, want := range []string{"The age of the bottle is not known", "makes it too weak", "a strip that reads to 50 mg/L"} {
		if !strings.Contains(text, squeezed(want)) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == "disinfect-dose" && f.Verdict == finding.NotJudged {
			return
		}
	}
	t.Error("no finding says that the bottle's age is not known")
}

// TestSheetSaysWhatARuleIs: over every profile the pressure test says whose figure it takes
// and what that is there, and what the law of one place sets stands as borrowed elsewhere.
func TestSheetSaysWhatARuleIs(t *testing.T) {
	for profile, wants := range map[string][]string{
		"generic":               {"6.8 bar for 60 min", "borrowed from elsewhere: ask"},
		"europe":                {"11 bar for 30 min", "At least 11 bar, whatever the use", "recommended"},
		"uk":                    {"6.8 bar for 60 min", "schedule 2, paragraph 12", "rule here"},
		"usa":                   {"4.53 bar for 15 min", "312.5", "rule here"},
		"south-africa":          {"15 bar for 15 min", "section 43", "borrowed from elsewhere: ask"},
		"india":                 {"6.8 bar for 60 min", "borrowed from elsewhere: ask"},
		"australia-new-zealand": {"15 bar for 30 min", "whatever the pressure in use", "rule here"},
	} {
		doc, faults := job.Read("job.yaml", []byte(strings.Replace(source(t, "kestrel-rise"), "profile: generic", "profile: "+profile, 1)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		cat, p := demo.Rows(t, profile)
		a, err := appraise.Quick(appraise.Input{Doc: doc, Job: doc.Job, Catalogue: cat, Profile: p})
		if err != nil {
			t.Fatal(err)
		}
		text := squeezed(strings.Join(inOrder(t, made(t, a, Options{Sheets: []string{"pressure"}})["pack.pdf"]), " "))
		for _, want := range wants {
			if !strings.Contains(text, squeezed(want)) {
				t.Errorf("%s: the sheet lacks %q", profile, want)
			}
		}
		if strings.Contains(text, "1.5times") && profile == "australia-new-zealand" {
			t.Errorf("%s: a multiple stands beside a fixed pressure", profile)
		}
	}
}
