package consent

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// gate asks for Kestrel Rise with a change.
func gate(t *testing.T, change func(*job.Job)) []Signature {
	t.Helper()
	j := demo.Job(t, "kestrel-rise")
	change(j)
	c, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, c, p)
	if err != nil {
		t.Fatal(err)
	}
	return Ask(j, a, p)
}

func of(list []Signature, who Who) (State, bool) {
	for _, s := range list {
		if s.Who == who {
			return s.State, true
		}
	}
	return 0, false
}

func TestAsk(t *testing.T) {
	for name, x := range map[string]struct {
		change func(*job.Job)
		who    Who
		want   State
		asked  bool
	}{
		"the supplier has not answered":        {func(j *job.Job) { j.Supply.Bypass = "asked" }, Supplier, Owed, true},
		"the supplier agreed":                  {func(j *job.Job) { j.Supply.Bypass = "yes" }, Supplier, Given, true},
		"with consent is not yet consent":      {func(j *job.Job) { j.Supply.Bypass = "with-consent" }, Supplier, Owed, true},
		"the supplier refused":                 {func(j *job.Job) { j.Supply.Bypass = "no" }, Supplier, Refused, true},
		"nothing is joined":                    {func(j *job.Job) { j.Choices.Arrangement = "through-store" }, Supplier, Tell, true},
		"an owner asks nobody":                 {func(j *job.Job) { j.Consent.Tenure = "owner" }, Landlord, 0, false},
		"a tenant asks":                        {func(j *job.Job) { j.Consent.Tenure = "tenant" }, Landlord, Owed, true},
		"unknown counts as a tenant":           {func(j *job.Job) { j.Consent.Tenure = "unknown" }, Landlord, Owed, true},
		"the landlord refused":                 {func(j *job.Job) { j.Consent.Tenure, j.Consent.Landlord = "tenant", "refused" }, Landlord, Refused, true},
		"on the ground":                        {func(j *job.Job) { j.Choices.StoreLevel.V = j.Home.Level.V + high }, Engineer, 0, false},
		"on a stand":                           {func(j *job.Job) { j.Choices.StoreLevel.V = j.Home.Level.V + high + 0.01 }, Engineer, Owed, true},
		"on made-up ground":                    {func(j *job.Job) { j.Place.Ground = "made-ground" }, Engineer, Owed, true},
		"the engineer has seen the ground":     {func(j *job.Job) { j.Place.Ground, j.Consent.Engineer = "made-ground", "given" }, Engineer, Given, true},
		"an electrician is named":              {func(j *job.Job) { j.Consent.Electrician = "named" }, Electrician, Given, true},
		"nobody knows of a permit":             {func(j *job.Job) { j.Consent.Permit = "unknown" }, Permit, Tell, true},
		"a permit was asked for":               {func(j *job.Job) { j.Consent.Permit = "asked" }, Permit, Owed, true},
		"no permit is needed":                  {func(j *job.Job) { j.Consent.Permit = "not-needed" }, Permit, 0, false},
		"the insurer was told":                 {func(j *job.Job) { j.Consent.Insurer = "told" }, Insurer, Given, true},
		"the insurer is never waited for":      {func(j *job.Job) { j.Consent.Insurer = "unknown" }, Insurer, Tell, true},
		"an insurer who refuses is a refusal":  {func(j *job.Job) { j.Consent.Insurer = "refused" }, Insurer, Refused, true},
		"the household need not be insured so": {func(j *job.Job) { j.Consent.Insurer = "not-needed" }, Insurer, 0, false},
	} {
		s, asked := of(gate(t, x.change), x.who)
		if asked != x.asked || asked && s != x.want {
			t.Errorf("%s: asked %v, %s; want %v, %s", name, asked, s.ID(), x.asked, x.want.ID())
		}
	}
}

// TestVerdict: a refusal must be fixed, a signature owed is looked at, none owed is fine.
func TestVerdict(t *testing.T) {
	for _, x := range []struct {
		list []Signature
		want finding.Verdict
	}{
		{nil, finding.Fine},
		{[]Signature{{State: Given}, {State: Tell}}, finding.Fine},
		{[]Signature{{Who: Electrician, State: Owed, Path: "consent.electrician"}}, finding.LookAt},
		{[]Signature{{Who: Electrician, State: Owed}, {Who: Landlord, State: Refused}}, finding.MustFix},
	} {
		if got := Findings(x.list)[0].Verdict; got != x.want {
			t.Errorf("%v: %s, want %s", x.list, got.ID(), x.want.ID())
		}
	}
}

// TestNoticeOfThePump: a pump that draws more than the rules leave free of notice is told to the supplier
// beside whatever else is asked of them: of a joint, of a spool, of neither; and of rules elsewhere it is
// not said that they are the local ones.
func TestNoticeOfThePump(t *testing.T) {
	for _, arrangement := range []string{"main-first", "spool", "through-store"} {
		for profile, why := range map[string]string{"uk": "pumped", "generic": "pumped-elsewhere", "usa": ""} {
			j := demo.Job(t, "kestrel-rise")
			j.Choices.Arrangement, j.Profile = arrangement, profile
			c, p := demo.Rows(t, profile)
			a, err := assembly.Build(j, c, p)
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			for _, s := range Ask(j, a, p) {
				if s.Who == Supplier && s.State == Tell && s.Why != "unjoined" {
					got += s.Why
				}
			}
			if got != why {
				t.Errorf("%s, %s: told of the pump as %q, want %q", arrangement, profile, got, why)
			}
		}
	}
}
