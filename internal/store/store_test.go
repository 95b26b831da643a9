package store

import (
	"maps"
	"math"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"

	"pgregory.net/rapid"
)

// judged reads an example, changes it, and returns its result and findings by id.
func judged(t testing.TB, name string, change func(*job.Job)) (*Result, map[string]finding.Finding, Context) {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	cat, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, p)
	if err != nil {
		t.Fatal(err)
	}
	c := Context{Job: j, Assembly: a, Profile: p, Work: &Work{}}
	in, ok := Read(j, a, p, nil)
	if !ok {
		t.Fatal("no store in the assembly")
	}
	r := Analyse(in, c.Work)
	found := map[string]finding.Finding{}
	for _, f := range Findings(nil, r, c) {
		found[f.ID] = f
	}
	return r, found, c
}

// The store of Kestrel Rise by hand: two upright tanks, shut 25 mm under the lip, the pump stopped
// 75 mm above the outlet.
func TestKestrelByHand(t *testing.T) {
	r, found, _ := judged(t, "kestrel-rise", nil)
	floor := 2 * math.Pi / 4 * 1.2 * 1.2
	usable := floor * (1.33 - 0.025 - 0.06 - 0.075)
	near(t, "usable", float64(r.Usable), usable, 1e-9)
	near(t, "dead", float64(r.Dead), floor*0.135, 1e-9)
	near(t, "mass", float64(r.Mass), 1000*floor/2*1.33+28, 1e-9)
	near(t, "carry time in days", float64(r.Carry/Day), usable/0.65, 1e-9)
	near(t, "longest in days", float64(r.Longest/Day), 4, 1e-9)
	// Two interruptions a week of 15 h on the average, and three hours of every evening.
	through := 0.65*(2*15./(7*24)) + 0.65*3/24
	near(t, "through in a day", float64(r.Through), through, 1e-4) // "2 a week" counts 365.25/7 weeks a year
	near(t, "turnover in days", float64(r.Turnover/Day), (usable+floor*0.135)/through, 0.01)
	for id, want := range map[string]finding.Verdict{
		"turnover": finding.LookAt, "by-pass-consent": finding.LookAt, "carry-time": finding.Fine,
		"one-store-fewer": finding.Fine, "boil-notice": finding.Fine, "hand-delay": finding.Fine,
		"backflow-device": finding.Fine,
	} {
		if f := found[id]; f.Verdict != want {
			t.Errorf("%s is %s, want %s", id, f.Verdict.ID(), want.ID())
		}
	}
	if got := found["one-store-fewer"].Names["when"]; got != "dry season" {
		t.Errorf("the second store is there for %q, want the dry season", got)
	}
}

// TestNeverFull: interruptions that follow each other with hours of a weak main between find what
// came in then. By hand, 650 L a day: at 8 L/min, less what the home draws meanwhile, 6 h bring
// 2880 − 162.5 L, more than the store holds: full. At 2 L/min 720 − 162.5 = 557.5 L of the 1950
// that three days take: that lasts 20.6 h of four days, and 2042.5 L are missing.
func TestNeverFull(t *testing.T) {
	_, _, c := judged(t, "kestrel-rise", nil)
	for _, x := range []struct {
		weak   quantity.Flow // L/min
		lasts  float64       // h
		missed float64       // m³
		want   finding.Verdict
	}{{8, 0, 0, finding.Fine}, {2, 557.5 / 650 * 24, 2.0425, finding.LookAt}, {0, 0, 2.6, finding.LookAt}} {
		comes := site.Inflow{At: [site.Standings]quantity.Flow{20e-3 / 60, 0, 24e-3 / 60}, Weak: x.weak * 1e-3 / 60}
		in, _ := Read(c.Job, c.Assembly, c.Profile, &comes)
		r := Analyse(in, nil)
		f := carryTime(r, c)
		if f.Verdict != x.want {
			t.Errorf("%g L/min: %s, want %s", float64(x.weak), f.Verdict.ID(), x.want.ID())
		}
		if x.want == finding.Fine {
			near(t, "from full", float64(r.Lasts-r.Carry), 0, 0)
			continue
		}
		near(t, "lasts", float64(r.Lasts)/3600, x.lasts, 1e-9)
		near(t, "missing", float64(r.Short), x.missed, 1e-9)
		said(t, &f, c)
	}
}

// Juniper Flat's store is drawn once in a month, by the breaks and their notices: a must fix, unless a routine runs it
// down; the hand changeover waits for somebody; the feed stays shut under a notice.
func TestJuniperFlat(t *testing.T) {
	r, found, _ := judged(t, "juniper-flat", nil)
	if times := float64(Year / r.Turnover); times < 10 || times > 12 {
		t.Errorf("drawn %g times a year, want about as often as there is a notice", times)
	}
	for id, want := range map[string]finding.Verdict{
		"turnover": finding.MustFix, "hand-delay": finding.LookAt, "boil-notice": finding.LookAt, "by-pass-consent": finding.Fine,
	} {
		if f := found[id]; f.Verdict != want {
			t.Errorf("%s is %s, want %s", id, f.Verdict.ID(), want.ID())
		}
	}
	near(t, "away", found["hand-delay"].Figure.SI, 10*3600, 0)
	if at := found["boil-notice"].Where; at == "" {
		t.Error("the notice names no valve to shut")
	}
	// Half a day on the store every four days draws an eighth of what the home uses: its water is
	// far from fresh. A day and a half, begun every three days, draws half.
	for _, x := range []struct {
		every, lasts quantity.Time
		want         finding.Verdict
	}{{4 * Day, Day / 2, finding.LookAt}, {3 * Day, 1.5 * Day, finding.Fine}} {
		r, found, _ = judged(t, "juniper-flat", func(j *job.Job) { j.Choices.Exercise.V, j.Choices.ExerciseFor.V = x.every, x.lasts })
		use := 3 * 55 * 3.785411784e-3 // m³/d
		// A break of 3 to 12 h and its notice of 36 draw for 43.5 h on the mean, or till the store is dry.
		outages := 12 * min(use*43.5/24, float64(r.Usable)) / 365.25
		drawn := outages + (1-outages/use)*use*float64(x.lasts/x.every)
		near(t, "age in days", float64(r.Turnover/Day), float64(r.Usable+r.Dead)/drawn, 1e-6)
		if f := found["turnover"]; f.Verdict != x.want {
			t.Errorf("run for %g h every %g d the store is %s at %g d", x.lasts/3600, x.every/Day, f.Verdict.ID(), f.Figure.SI/86400)
		}
	}
}

// With all water through the store it turns over with the home's use.
func TestThroughStoreTurnsOver(t *testing.T) {
	r, found, _ := judged(t, "kestrel-rise", func(j *job.Job) { j.Choices.Arrangement = "through-store" })
	near(t, "through", float64(r.Through), 0.65, 1e-12)
	near(t, "turnover and carry time", float64(r.Turnover-r.Carry), float64(r.Dead)/0.65*86400, 1e-6)
	if f := found["by-pass-consent"]; f.Verdict != finding.Fine {
		t.Errorf("an unjoined arrangement needs no consent, and is %s", f.Verdict.ID())
	}
}

// A store nobody ever draws from is never renewed: a must fix, said without a figure
// that is not one.
func TestNeverDrawn(t *testing.T) {
	r, found, c := judged(t, "juniper-flat", func(j *job.Job) { j.Interruptions.Habit = nil })
	f := found["turnover"]
	if !math.IsInf(float64(r.Turnover), 1) || f.Verdict != finding.MustFix {
		t.Errorf("turnover %g, %s", r.Turnover, f.Verdict.ID())
	}
	if _, sentence := finding.Text(&f, c.Job.System()); !strings.Contains(sentence, "never") {
		t.Errorf("sentence %q", sentence)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g ±%g", what, got, want, tol)
	}
}

// Each verdict with a limit flips at it: on either side by a hair.
func TestBoundaries(t *testing.T) {
	// People set the use; the store lasts V/(n·130 L) days, the longest spell four.
	usable := 2 * math.Pi / 4 * 1.2 * 1.2 * (1.33 - 0.025 - 0.06 - 0.075)
	limit := usable / (4 * 5) // use a person a day at which it lasts just four days
	use := func(v float64) func(*job.Job) { return func(j *job.Job) { j.Home.Use.V = quantity.Volume(v) } }
	whole, _, _ := judged(t, "juniper-flat", nil)
	age := float64(whole.Usable+whole.Dead) / float64(whole.Daily) // d, if all that is used came from the store
	every := func(d float64) func(*job.Job) {                      // run for so long every three days that the water is d days old
		return func(j *job.Job) {
			j.Interruptions.Habit = []job.Spell{{Least: 3600, Most: 3600}} // never counted: no frequency
			j.Choices.Exercise.V, j.Choices.ExerciseFor.V = 3*Day, quantity.Time(3*age/d)*Day
		}
	}
	const hair = 1e-8
	for _, test := range []struct {
		name  string
		site  string
		job   func(*job.Job)
		rules func(*catalogue.Profile)
		id    string
		want  finding.Verdict
	}{
		{"lasts just long enough", "kestrel-rise", use(limit * (1 - hair)), nil, "carry-time", finding.Fine},
		{"lasts just too short", "kestrel-rise", use(limit * (1 + hair)), nil, "carry-time", finding.LookAt},
		{"one fewer just does not do", "kestrel-rise", use(limit / 2 * (1 + hair)), nil, "one-store-fewer", finding.Fine},
		{"one fewer just does", "kestrel-rise", use(limit / 2 * (1 - hair)), nil, "one-store-fewer", finding.LookAt},
		{"drawn just often enough", "juniper-flat", every(5 * (1 - hair)), nil, "turnover", finding.Fine},
		{"drawn just too seldom", "juniper-flat", every(5 * (1 + hair)), nil, "turnover", finding.LookAt},
		{"just not stale", "juniper-flat", every(21 * (1 - hair)), nil, "turnover", finding.LookAt},
		{"just stale", "juniper-flat", every(21 * (1 + hair)), nil, "turnover", finding.MustFix},
	} {
		f, c := changed(t, test.site, test.job, test.rules, test.id)
		if f.Verdict != test.want {
			t.Errorf("%s: %s is %s (figure %g, limit %g), want %s", test.name, test.id, f.Verdict.ID(), f.Figure.SI, f.Limit.SI, test.want.ID())
		}
		said(t, &f, c)
	}
}

// changed judges an example under its own copy of the rules and returns one finding.
func changed(t *testing.T, site string, change func(*job.Job), rules func(*catalogue.Profile), id string) (finding.Finding, Context) {
	t.Helper()
	_, _, c := judged(t, site, change)
	p := *c.Profile
	p.Rules = maps.Clone(p.Rules)
	c.Profile = &p
	if rules != nil {
		rules(&p)
	}
	in, _ := Read(c.Job, c.Assembly, c.Profile, nil)
	for _, f := range Findings(nil, Analyse(in, nil), c) {
		if f.ID == id {
			return f, c
		}
	}
	t.Fatalf("no finding %s", id)
	return finding.Finding{}, c
}

func said(t *testing.T, f *finding.Finding, c Context) {
	t.Helper()
	if !finding.KindOf(f.ID).May(f.Verdict) {
		t.Errorf("%s came to %s, which its kind does not list", f.ID, f.Verdict.ID())
	}
	title, sentence := finding.Text(f, c.Job.System())
	if strings.ContainsAny(title+sentence, "‹›{}") {
		t.Errorf("%s: %s: %s", f.ID, title, sentence)
	}
}

// The verdicts that turn on a word rather than a figure: the word that triggers, and the
// one that just does not; and every verdict this package can come to is come to.
func TestWordsDecide(t *testing.T) {
	answer := func(a string) func(*job.Job) { return func(j *job.Job) { j.Supply.Bypass = job.Answer(a) } }
	store := func(category, backflow string) func(*job.Job) {
		return func(j *job.Job) { j.Choices.Category, j.Choices.Backflow, j.Supply.Check = category, backflow, "none" }
	}
	notice := func(a string) func(*job.Job) { return func(j *job.Job) { j.Interruptions.Notice = job.Answer(a) } }
	away := func(h job.Hours) func(*job.Job) { return func(j *job.Job) { j.Home.Away = h } }
	word := func(key, text string) func(*catalogue.Profile) {
		return func(p *catalogue.Profile) {
			p.Rules[key] = catalogue.Rule{Key: key, Set: text != "", Text: text}
		}
	}
	noHabit := func(j *job.Job) { j.Interruptions.Habit = nil }
	seen := map[string]bool{}
	for _, test := range []struct {
		name  string
		site  string
		job   func(*job.Job)
		rules func(*catalogue.Profile)
		id    string
		want  finding.Verdict
	}{
		{"refused", "kestrel-rise", answer("no"), nil, "by-pass-consent", finding.MustFix},
		{"never asked", "kestrel-rise", answer("unknown"), nil, "by-pass-consent", finding.MustFix},
		{"not answered", "kestrel-rise", answer("asked"), nil, "by-pass-consent", finding.LookAt},
		{"allowed", "kestrel-rise", answer("yes"), nil, "by-pass-consent", finding.Fine},
		{"with consent, still owed", "kestrel-rise", answer("with-consent"), nil, "by-pass-consent", finding.LookAt},
		{"allowed, the rules refuse", "kestrel-rise", answer("yes"), word("by-pass-allowed", "no"), "by-pass-consent", finding.MustFix},
		{"double keeps 3", "kestrel-rise", store("3", "double-check-25"), nil, "backflow-device", finding.Fine},
		{"single does not keep 3", "kestrel-rise", store("3", "single-check-25"), nil, "backflow-device", finding.MustFix},
		{"single keeps 2", "kestrel-rise", store("2", "single-check-25"), nil, "backflow-device", finding.Fine},
		{"no pipe device keeps 5", "kestrel-rise", store("5", "reduced-pressure-25"), nil, "backflow-device", finding.MustFix},
		{"nothing keeps nothing", "kestrel-rise", store("3", "none"), nil, "backflow-device", finding.MustFix},
		{"blank device rule", "kestrel-rise", nil, word("device-category-3", ""), "backflow-device", finding.NotJudged},
		{"a notice comes", "kestrel-rise", notice("yes"), nil, "boil-notice", finding.LookAt},
		{"no notice", "kestrel-rise", notice("no"), nil, "boil-notice", finding.Fine},
		{"nobody knows of a notice", "kestrel-rise", notice("unknown"), nil, "boil-notice", finding.NotJudged},
		{"nobody says who is out", "juniper-flat", away(job.Hours{}), nil, "hand-delay", finding.NotJudged},
		{"out over midnight", "juniper-flat", away(job.Hours{From: 22 * 60, To: 6 * 60}), nil, "hand-delay", finding.LookAt},
		{"automatic", "kestrel-rise", away(job.Hours{From: 8 * 60, To: 18 * 60}), nil, "hand-delay", finding.Fine},
		{"blank margin", "kestrel-rise", nil, word("overflow-margin", ""), "overflow-margin", finding.NotJudged},
		{"blank age rule", "kestrel-rise", nil, word("turnover-look", ""), "turnover", finding.NotJudged},
		{"blank stale rule", "kestrel-rise", nil, word("turnover-fix", ""), "turnover", finding.NotJudged},
		{"it lasts, no notice comes", "kestrel-rise", notice("no"), nil, "carry-time", finding.Fine},
		{"it lasts, unless a notice comes that nobody knows of", "kestrel-rise", notice("unknown"), nil, "carry-time", finding.NotJudged},
		{"no habit told", "kestrel-rise", noHabit, nil, "carry-time", finding.NotJudged},
		{"no habit told, two stores", "kestrel-rise", noHabit, nil, "one-store-fewer", finding.NotJudged},
	} {
		f, c := changed(t, test.site, test.job, test.rules, test.id)
		if f.Verdict != test.want {
			t.Errorf("%s: %s is %s, want %s", test.name, test.id, f.Verdict.ID(), test.want.ID())
		}
		said(t, &f, c)
		seen[f.ID+"."+f.Verdict.ID()] = true
	}
	for _, k := range []string{"by-pass-consent", "backflow-device", "boil-notice", "hand-delay"} {
		for _, v := range finding.KindOf(k).Verdicts {
			if !seen[k+"."+v.ID()] {
				t.Errorf("no case comes to %s.%s", k, v.ID())
			}
		}
	}
}

// The calculations hold: every step gives its result again.
func TestCalculationsHold(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		_, found, _ := judged(t, name, nil)
		for _, id := range []string{"carry-time", "turnover"} {
			f := found[id]
			if len(f.Calc) == 0 {
				t.Errorf("%s: %s has no calculation", name, id)
			}
			for _, st := range f.Calc {
				if st.Check() != 0 {
					t.Errorf("%s: %s: %s gives another result", name, id, st.Key)
				}
			}
		}
	}
}

// More use never makes the store last longer nor its water older; more exercise never
// makes it older.
func TestMonotone(t *testing.T) {
	_, _, c := judged(t, "kestrel-rise", nil)
	in, _ := Read(c.Job, c.Assembly, c.Profile, nil)
	rapid.Check(t, func(r *rapid.T) {
		a := in
		a.Daily = quantity.Volume(rapid.Float64Range(0.01, 5).Draw(r, "daily"))
		a.Routine.Every = quantity.Time(rapid.Float64Range(0, 100).Draw(r, "days")) * Day
		a.Routine.Lasts = a.Routine.Every * quantity.Time(rapid.Float64Range(0.01, 0.9).Draw(r, "share"))
		b := a
		b.Daily *= quantity.Volume(rapid.Float64Range(1, 3).Draw(r, "more"))
		ra, rb := Analyse(a, nil), Analyse(b, nil)
		if rb.Carry > ra.Carry || rb.Turnover > ra.Turnover*(1+1e-12) {
			r.Fatalf("more use: carry %g then %g, turnover %g then %g", ra.Carry, rb.Carry, ra.Turnover, rb.Turnover)
		}
		b = a
		b.Routine.Every = a.Routine.Every/2 + 1
		if rb = Analyse(b, nil); a.Routine.Every > 2 && rb.Turnover > ra.Turnover*(1+1e-12) {
			r.Fatalf("more exercise: turnover %g then %g", ra.Turnover, rb.Turnover)
		}
	})
}
