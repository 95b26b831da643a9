package appraise

import (
	"regexp"
	"slices"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// claims are words that make a figure the law of the place.
var claims = regexp.MustCompile(`(?i)\blocal rules? (ask|want|say|require|allow|refuse)|\bthe local rules?\b|\brule here\b|\bthe law (asks|says|requires)|\byour code (asks|requires)`)

// TestBorrowedIsNoRule: over every profile and example, a finding whose limit is borrowed or
// our default says so beside its source, and neither its sentence nor its source calls it a
// rule of the place; one that cites a rule of the profile says what that is.
func TestBorrowedIsNoRule(t *testing.T) {
	cat, _ := demo.Rows(t, "generic")
	for _, profile := range cat.Keys("profiles") {
		for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row", "osprey-house"} {
			in := input(t, name)
			doc, _, err := in.Doc.Apply(job.Edit{Op: job.Set, Path: "profile", Text: profile})
			if err != nil {
				t.Fatal(err)
			}
			again, faults := ReadDoc(cat, "job.yaml", doc.Bytes())
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			if in, err = NewInput(cat, again); err != nil {
				t.Fatal(err)
			}
			a, err := evaluate(in, true)
			if err != nil {
				t.Fatal(err)
			}
			ruled := sources(in.Profile)
			for i := range a.Findings {
				f := &a.Findings[i]
				key := f.Source
				cite(in, a.Findings[i:i+1])
				if slices.Contains(ruled, key) && key != "trade" && f.Standing == "" {
					t.Errorf("%s, %s: %s cites %s and not what that is there", profile, name, f.Key(), key)
				}
				if f.Standing != "borrowed" && f.Standing != "default" {
					continue
				}
				title, sentence := finding.Text(f, in.Job.System())
				for _, text := range []string{title, sentence, finding.From(f)} {
					if said := claims.FindString(text); said != "" {
						t.Errorf("%s, %s: %s is %s and says %q: %s", profile, name, f.Key(), f.Standing, said, text)
					}
				}
			}
		}
	}
}

// sources are the source keys of a profile's figures.
func sources(p *catalogue.Profile) []string {
	var keys []string
	for _, r := range p.Rules {
		keys = append(keys, r.Source)
	}
	return keys
}
