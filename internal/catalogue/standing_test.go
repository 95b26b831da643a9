package catalogue

import (
	"strings"
	"testing"
)

// TestStandings: every rule that ships says what it is to its profile: a blank is cited by
// nobody, what we made up is our default and nothing else is.
func TestStandings(t *testing.T) {
	for name, p := range loaded(t).Profiles {
		for key, r := range p.Rules {
			ours := r.Source == "trade" || r.Source == "table-bearing"
			switch {
			case r.Standing == Told:
				t.Errorf("%s %s has no standing", name, key)
			case r.Set == (r.Standing == Uncited):
				t.Errorf("%s %s: set %v, standing %s", name, key, r.Set, r.Standing.ID())
			case !r.Set && (r.Source != "not-found" || r.Value != 0):
				t.Errorf("%s %s is blank and cites %s", name, key, r.Source)
			case ours && r.Standing != Ours:
				t.Errorf("%s %s: %s cited as %s", name, key, r.Source, r.Standing.ID())
			case name == "generic" && (r.Standing == RuleHere || r.Standing == Recommended && r.Source != "who-2017"):
				t.Errorf("generic %s is called %s, and generic is no place", key, r.Standing.ID())
			}
		}
	}
}

// TestNoTownIsACountry: the rule of one town, or of one country in another's profile, is
// borrowed there.
func TestNoTownIsACountry(t *testing.T) {
	home := map[string]string{"en-": "europe uk", "si-1999": "uk", "bs-": "uk", "nhbc": "uk", "hse": "uk", "wras": "uk", "upc": "usa", "ipc": "usa", "irc": "usa", "ibc": "usa", "us-": "usa",
		"nspc": "usa", "awwa": "usa", "asnzs": "australia-new-zealand", "vba": "australia-new-zealand", "ncc": "australia-new-zealand", "is-": "india", "nbc-2016": "india", "ndmc": "india", "goa": "india",
		"sa-": "south-africa", "ethekwini": "", "chicago": "", "nt-power": "", "dvgw": "", "dtu": ""}
	for name, p := range loaded(t).Profiles {
		for key, r := range p.Rules {
			if r.Standing != RuleHere && r.Standing != Recommended {
				continue
			}
			for prefix, where := range home {
				if strings.HasPrefix(r.Source, prefix) && !strings.Contains(where, name) {
					t.Errorf("%s %s cites %s as %s", name, key, r.Source, r.Standing.ID())
				}
			}
		}
	}
}

// TestRowsByClause holds the rows that were wrong against what was read at the clause, in
// the units of the clause.
func TestRowsByClause(t *testing.T) {
	const blank = ""
	const aus = "australia-new-zealand"
	for _, row := range []struct{ profile, key, text, source, standing string }{
		{"usa", "disinfect-dose", "50 mg/L", "ipc-610-1", "rule"}, // IPC 610.1: 50 mg/L 24 h, or 200 mg/L 3 h
		{"usa", "disinfect-time", "24 h", "ipc-610-1", "rule"},
		{"usa", "disinfect-alt-dose", "200 mg/L", "ipc-610-1", "rule"},
		{"usa", "disinfect-alt-time", "3 h", "ipc-610-1", "rule"},
		{"usa", "disinfect-residual", blank, "not-found", "none"}, // IPC names none
		{"europe", "disinfect-dose", blank, "not-found", "none"},  // national
		{"europe", "disinfect-time", blank, "not-found", "none"},
		{"europe", "disinfect-residual", blank, "not-found", "none"},
		{"south-africa", "disinfect-time", "24 h", "ipc-610-1", "borrowed"},
		{aus, "disinfect-time", "24 h", "ipc-610-1", "borrowed"},
		{"india", "disinfect-time", "3 h", "is-2065", "rule"},
		{"generic", "disinfect-time", "24 h", "ipc-610-1", "default"},
		{"uk", "disinfect-time", "60 min", "bs-8558-disinfect", "recommendation"}, // a guide, and a family's dwelling is exempt
		{"uk", "disinfect-exempt", "one-dwelling", "bs-8558-disinfect", "recommendation"},
		{"europe", "test-least", "11 bar", "en-806-4-6", "recommendation"}, // 1.1 × MDP of 10 bar
		{"south-africa", "test-least", "15 bar", "ethekwini-2023-43", "borrowed"},
		{"south-africa", "test-time", "15 min", "ethekwini-2023-43", "borrowed"},
		{"south-africa", "test-multiple", blank, "not-found", "none"},
		{"india", "test-multiple", "1.5", "si-1999-sch2-12", "borrowed"},
		{aus, "test-multiple", blank, "not-found", "none"},
		{aus, "test-least", "15 bar", "asnzs-3500-1-test", "rule"},
		{"usa", "min-pressure-outlet", "0.55 bar", "ipc-604-3;irc-p2903-1", "rule"}, // 8 psi
		{"usa", "min-pressure-shower", "1.38 bar", "ipc-604-3;irc-p2903-1", "rule"}, // 20 psi
		{"usa", "max-flow-shower", "9.5 L/min", "irc-p2903-2;us-10cfr430-32", "rule"},
		{"usa", "max-flow-sink", "8.3 L/min", "irc-p2903-2;us-10cfr430-32", "rule"},
		{"usa", "max-flow-basin", "8.3 L/min", "irc-p2903-2;us-10cfr430-32", "rule"},
		{aus, "max-flow-shower", "9 L/min", "vba-5-06", "rule"},
		{"usa", "air-gap-least", "25 mm", "irc-p2902", "rule"},
		{"usa", "max-velocity-header", "2.44 m/s", "chicago-604-10", "borrowed"},
		{"usa", "overflow-margin", blank, "not-found", "none"},
		{"usa", "max-static-outlet", "5.52 bar", "upc-608-2;irc-p2903-3-1", "rule"},
		{"usa", "backflow-scale", "hazard-two", "upc-603;ipc-608", "rule"},
		{"south-africa", "max-static-outlet", "6 bar", "ethekwini-2023-51-1", "borrowed"},
		{"south-africa", "max-velocity-header", "2 m/s", "ethekwini-2023-51-3", "borrowed"},
		{"south-africa", "max-velocity-branch", "2 m/s", "ethekwini-2023-51-3", "borrowed"},
		{"south-africa", "booster-on-main", "no", "ethekwini-2023-52", "borrowed"},
		{"south-africa", "air-gap-factor", "2", "sa-journal-2019", "recommendation"},
		{"south-africa", "air-gap-least", "25 mm", "sa-journal-2019", "recommendation"},
		{"south-africa", "by-pass-allowed", "with-consent", "ethekwini-2023-74", "borrowed"},
		{"south-africa", "device-category-3", "double", "en-1717-matrix", "borrowed"},
		{"india", "booster-on-main", "no", "ndmc-2022;goa-2023", "rule"},
		{"india", "bearing", "50 kPa", "is-1904", "default"},
		{"uk", "booster-on-main", "with-consent", "si-1999-reg5", "rule"},
		{"uk", "bearing", "75 kPa", "trade", "default"}, // BS 8004:1986 is withdrawn
		{aus, "booster-on-main", "with-consent", "nt-power-water-2010-4", "borrowed"},
		{aus, "backflow-scale", "hazard-three", "ncc-b5", "rule"},
		{"usa", "lock-out-least", "0.69 bar", "upc-609-9", "rule"},
		{"uk", "lock-out-least", "0.69 bar", "upc-609-9", "borrowed"},
		{"uk", "overflow-margin", "25 mm", "nhbc-8-1-4", "recommendation"},
		{"europe", "overflow-margin", "25 mm", "nhbc-8-1-4", "borrowed"},
		{"usa", "turnover-look", "5 d", "trade", "default"},
	} {
		r := loaded(t).Profiles[row.profile].Rules[row.key]
		if r.Text != row.text || r.Source != row.source || r.Standing.ID() != row.standing {
			t.Errorf("%s %s: %q, %s, %s; want %q, %s, %s", row.profile, row.key, r.Text, r.Source, r.Standing.ID(), row.text, row.source, row.standing)
		}
	}
}

// TestOldFileIsTold: a user's file of rules from before the column reads, its figures stand
// as told, and a document's old key is read as its clause.
func TestOldFileIsTold(t *testing.T) {
	head := "table,profiles\nprofile,key,value,source,edition,certainty"
	c, err := loaded(t).Merge("mine.csv", []byte(head+"\nusa,disinfect-time,6 h,bs-8558,2015,checked\nusa,bearing,,own,2026,checked\n"))
	if err != nil {
		t.Fatal(err)
	}
	r := c.Profiles["usa"].Rules["disinfect-time"]
	if r.Standing != Told || r.Source != "bs-8558-disinfect" || r.Value != 6*3600 {
		t.Errorf("read as %+v", r)
	}
	c, err = loaded(t).Merge("mine.csv", []byte(head+",standing\nusa,disinfect-time,6 h,own,2026,checked,rule\nusa,bearing,60 kPa,own,2026,checked,\n"))
	if err != nil {
		t.Fatal(err)
	}
	if a, b := c.Profiles["usa"].Rules["disinfect-time"].Standing, c.Profiles["usa"].Rules["bearing"].Standing; a != RuleHere || b != Told {
		t.Errorf("standings %s and %s", a.ID(), b.ID())
	}
	if _, err = loaded(t).Merge("mine.csv", []byte(head+",standing\nusa,disinfect-time,6 h,own,2026,checked,law\n")); err == nil || !strings.Contains(err.Error(), "mine.csv:3:41") {
		t.Errorf("an odd standing: %v", err)
	}
}

// TestRetiredKeys: each goes to a clause there is, and none is a key any more.
func TestRetiredKeys(t *testing.T) {
	c := loaded(t)
	for old, now := range retired {
		if c.Sources[old] != "" || c.Sources[now] == "" {
			t.Errorf("%s → %s", old, now)
		}
	}
}

// TestPressureTests: a profile's test by its figures, or the blank that forbids it.
func TestPressureTests(t *testing.T) {
	for name, want := range map[string]PressureTest{
		"uk":                    {1.5, 0, 3600, "si-1999-sch2-12", "rule"},
		"europe":                {1.1, 11e5, 1800, "en-806-4-6", "recommendation"},
		"usa":                   {1, 0, 900, "ipc-312-5;upc-609-4", "rule"},
		"south-africa":          {0, 15e5, 900, "ethekwini-2023-43", "borrowed"},
		"australia-new-zealand": {0, 15e5, 1800, "asnzs-3500-1-test", "rule"},
		"india":                 {1.5, 0, 3600, "si-1999-sch2-12", "borrowed"},
	} {
		p := loaded(t).Profiles[name]
		if got, blank := p.PressureTest(); got != want || blank != "" {
			t.Errorf("%s: %+v, blank %q", name, got, blank)
		}
	}
	p := loaded(t).Profiles["south-africa"]
	p.Rules = map[string]Rule{}
	if _, blank := p.PressureTest(); blank != "test-multiple" {
		t.Errorf("without rules blank is %q", blank)
	}
}

// TestLegalMost: under the law of the USA a shower gives no more than 9.5 L/min, and needs no
// more than it may give; where no law binds, the row stands.
func TestLegalMost(t *testing.T) {
	c := loaded(t)
	usa, generic := c.Profiles["usa"], c.Profiles["generic"]
	const lmin = 1e-3 / 60
	for key, most := range map[string]float64{"shower": 9.5, "kitchen": 8.3, "basin": 8, "bidet": 8} {
		o := usa.Outlet(c.Outlets[key])
		if got := float64(o.Limit) / lmin; got > most+1e-9 || got < most-1e-9 {
			t.Errorf("%s gives up to %v L/min, want %v", key, got, most)
		}
		if o.Need > o.Limit || o.Design > o.Limit {
			t.Errorf("%s needs %v and is sized for %v of %v", key, o.Need, o.Design, o.Limit)
		}
		if generic.Outlet(c.Outlets[key]) != c.Outlets[key] {
			t.Errorf("%s is changed where no law binds", key)
		}
	}
	if got := usa.Outlet(c.Outlets["shower"]).Pressure; got != 1.38e5 {
		t.Errorf("a shower asks for %v Pa, want 20 psi", got)
	}
	if got := usa.Outlet(c.Outlets["garden"]); got != c.Outlets["garden"] {
		t.Errorf("a hose bibb is bound: %+v", got)
	}
}
