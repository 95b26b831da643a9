package interview

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func interview(t testing.TB) *Interview {
	t.Helper()
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	return New(c, "2026-03-02")
}

// TestOrdinary: with nothing answered an ordinary home comes out, with nothing to fix.
func TestOrdinary(t *testing.T) {
	d, err := interview(t).Build(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("TIDEOVER_SHOW") != "" {
		fmt.Printf("%s\n%v\n", d.Source, d.Changed)
	}
}

// asked is a number of a question's own.
func asked(q Question) uint64 {
	h := fnv.New64a()
	h.Write([]byte(q.ID))
	return h.Sum64()
}

// answer picks at random what people say: any option, figures within reach, now and then
// that they do not know, now and then nothing.
func answer(q Question, r *rand.Rand) string {
	switch {
	case q.ID == "also" && r.IntN(8) > 0: // else no home would come out
		return "none"
	case r.IntN(5) == 0:
		return Unknown
	case r.IntN(6) == 0:
		return ""
	case q.ID == "pump" && r.IntN(4) > 0:
		return "yes"
	case len(q.Options) > 0 && (q.Kind == Pick || r.IntN(2) == 0):
		return q.Options[r.IntN(len(q.Options))]
	}
	switch q.ID {
	case "people":
		return strconv.Itoa(1 + r.IntN(9))
	case "bathrooms":
		return strconv.Itoa(1 + r.IntN(4))
	case "longest":
		return []string{"3 h", "12 h", "30 h", "2 d", "4 d", "9 d"}[r.IntN(6)]
	case "pressure":
		return []string{"0.4 bar", "1 bar", "22 psi", "2.6 bar ±0.1", "48 psi", "6 bar", "9 bar"}[r.IntN(7)]
	case "distance":
		return []string{"5 m", "18 m", "60 ft", "90 m", "200 m"}[r.IntN(5)]
	case "rise":
		return []string{"-3 m", "0 m", "2 m", "8 m", "20 ft"}[r.IntN(5)]
	case "door":
		return []string{"0.7 m", "32 in", "0.9 m", "1.2 m", "3 m"}[r.IntN(5)]
	case "use":
		return []string{"60 L", "480 L", "130 gal (US)", "1.4 m3"}[r.IntN(4)]
	case "guests", "empty":
		return strconv.Itoa(r.IntN(20))
	case "back":
		return []string{"0 h", "40 min", "5 h"}[r.IntN(3)]
	case "notice":
		return []string{"0 h", "0 h", "24 h", "2 d"}[r.IntN(4)]
	case "chlorine":
		return []string{"0 mg/L", "0.1 mg/L", "0.8 mg/L"}[r.IntN(3)]
	case "hot-day":
		return []string{"28 C", "95 F", "42 C"}[r.IntN(3)]
	case "heater-volume":
		return []string{"40 L", "150 L", "50 gal (US)"}[r.IntN(3)]
	case "budget":
		return strconv.Itoa(min(r.IntN(15), 1) * 1500)
	}
	return "Home"
}

// TestRandomInterviews: of 500 homes each either comes out with nothing to fix, or the
// answers that make that impossible are named.
func TestRandomInterviews(t *testing.T) {
	v := interview(t)
	homes := 60 // a campaign: TIDEOVER_INTERVIEWS=500
	if n, err := strconv.Atoi(os.Getenv("TIDEOVER_INTERVIEWS")); err == nil {
		homes = n
	}
	var wg sync.WaitGroup
	var mu sync.Mutex
	fine, fights := 0, map[string]int{}
	next := make(chan int)
	for range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for n := range next {
				a := Answers{}
				for _, q := range v.all {
					a[q.ID] = answer(q, rand.New(rand.NewPCG(uint64(n), asked(q)))) // another question leaves these answers as they are
				}
				d, err := v.Build(context.Background(), a)
				var c *Conflict
				mu.Lock()
				switch {
				case err == nil:
					fine++
					if what := gapOf(d); what != "" {
						t.Errorf("home %d: %s\n%v", n, what, a)
					}
				case errors.As(err, &c) && len(c.Fight) > 0:
					fights[c.ID+" "+fmt.Sprint(c.Args["title"])]++
				default:
					t.Errorf("home %d: %v\n%v", n, err, a)
				}
				mu.Unlock()
			}
		}()
	}
	for n := range homes {
		next <- n
	}
	close(next)
	wg.Wait()
	if fine < homes/3 {
		t.Errorf("only %d of %d homes come out with nothing to fix: the answers are no longer those of ordinary homes", fine, homes)
	}
	t.Logf("%d of %d homes have nothing to fix; %v", fine, homes, fights)
}

// gapOf says what is wrong with the air gap of a design that came out; "" nothing. It holds
// with half of the overflow's screen blocked, or the local rules of the profile ask for none.
func gapOf(d *Draft) string {
	for i := range d.Appraisal.Findings {
		f := &d.Appraisal.Findings[i]
		if f.ID != "air-gap" {
			continue
		}
		blank := f.Verdict == finding.NotJudged && strings.HasPrefix(f.Names["field"], "air-gap-")
		if f.Verdict == finding.Fine || blank {
			return ""
		}
		_, sentence := finding.Text(f, d.Appraisal.Job.System())
		return f.Verdict.ID() + ": " + sentence
	}
	return "no air gap was judged"
}

// TestFights: answers that contradict each other are named, the one to change first in
// front; the pair just beside it comes out.
func TestFights(t *testing.T) {
	v := interview(t)
	for name, x := range map[string]struct {
		answers Answers
		want    string // of the first that fights; "" when the home comes out
	}{
		"a third-floor shower on 0.4 bar and no pump":  {Answers{"storeys": "three", "pressure": "0.4 bar", "pump": "no"}, "pump"},
		"the same with a pump":                         {Answers{"storeys": "three", "pressure": "0.4 bar", "pump": "yes"}, ""},
		"a tank wider than the door":                   {Answers{"door": "0.84 m"}, "door"},
		"one that just passes":                         {Answers{"door": "0.86 m"}, ""},
		"a budget of nothing":                          {Answers{"budget": "0"}, "budget"},
		"a budget":                                     {Answers{"budget": "1"}, ""},
		"no pump, two floors, a stand":                 {Answers{"storeys": "two", "pump": "no", "pressure": "3 bar"}, "pump"},
		"no pump, one floor, a stand":                  {Answers{"storeys": "one", "pump": "no", "pressure": "3 bar"}, ""},
		"no pump, two floors, a roof":                  {Answers{"storeys": "two", "pump": "no", "place": "roof", "pressure": "3 bar"}, ""},
		"no pump, a roof, a main that gets not so far": {Answers{"storeys": "two", "pump": "no", "place": "roof", "pressure": "1.1 bar"}, "pump"},
		"no pump, a vented heater":                     {Answers{"pump": "no", "pressure": "3 bar", "heater": "storage-vented"}, ""},
		"a vented heater and a pump":                   {Answers{"heater": "storage-vented"}, "heater"},
		"a heater nobody knows":                        {Answers{"heater": "-"}, "heater"},
	} {
		_, err := v.Build(context.Background(), x.answers)
		var c *Conflict
		switch is := errors.As(err, &c); {
		case x.want == "" && err != nil:
			t.Errorf("%s: %v", name, err)
		case x.want != "" && (!is || c.Fight[0] != x.want):
			t.Errorf("%s: %v, want %s to fight", name, err, x.want)
		}
	}
}

// TestHotCity: the main arrives at 30 °C and fails every day, the tank stands on the roof:
// a sound job there shows nothing to fix, for water and age are judged against what comes in.
func TestHotCity(t *testing.T) {
	for _, pump := range []string{"yes", "no"} {
		t.Run("pump "+pump, func(t *testing.T) { hotCity(t, pump) })
	}
}

func hotCity(t *testing.T, pump string) {
	d, err := interview(t).Build(context.Background(), Answers{"water": "hot", "fails": "daily", "longest": "1 d", "place": "roof", "storeys": "two", "people": "5",
		"pressure": "1.5 bar", "worst-hours": "weaker", "power-cuts": "often", "heater": "instant-gas", "frost": "no", "pump": pump})
	if err != nil {
		t.Fatal(err)
	}
	rows, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := appraise.ReadDoc(rows, "hot", d.Source)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if doc, _, err = doc.Apply(job.Edit{Op: job.Set, Path: "place.hot-day", Text: "40 °C"}); err != nil { // a black store in the sun
		t.Fatal(err)
	}
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	if got := doc.Job.Choices.Arrangement == assembly.Raised; got != (pump == "no") {
		t.Errorf("the arrangement is %s", doc.Job.Choices.Arrangement)
	}
	in.Proof = appraise.NamedProof
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a, err = appraise.AddYears(context.Background(), in, a, appraise.Logs{}, nil); err != nil || a.Years == nil {
		t.Fatal("no years", err, a.Unlived)
	}
	for _, f := range a.Findings {
		if f.Verdict == finding.MustFix {
			title, sentence := finding.Text(&f, doc.Job.System())
			t.Errorf("%s: %s", title, sentence)
		}
	}
}

// TestEveryGuessShows: what nobody told is written as assumed, or says so beside it.
func TestEveryGuessShows(t *testing.T) {
	v := interview(t)
	a := Answers{}
	for _, q := range v.all {
		if q.ID != "heater" && q.ID != "also" { // nobody may drink what nobody knows
			a[q.ID] = Unknown
		}
	}
	d, err := v.Build(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"place.frost", "supply.static", "supply.service.length", "supply.by-pass", "interruptions.habit", "home.people", "home.level", "access.door"} {
		if !slices.ContainsFunc(d.Notes, func(n Note) bool { return n.Path == path }) {
			t.Errorf("%s stands there without a word", path)
		}
	}
}

// FuzzCheck: no text breaks a question; what it lets pass it lets pass again.
func FuzzCheck(f *testing.F) {
	for _, text := range []string{"3.2 bar ±0.1", "weak", "-", "", "1e999", "three", "0.4 bar ?", "４", "12 h", "a\nb", "-5"} {
		f.Add(text)
	}
	v := interview(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range v.all {
			got, err := q.Check(text, quantity.Metric)
			if err != nil {
				continue
			}
			if again, err := q.Check(got, quantity.Metric); err != nil || again != got {
				t.Errorf("%s: %q is kept as %q, and then %q, %v", q.ID, text, got, again, err)
			}
		}
	})
}

// TestAsked: what is told of other waters, of the ground and of the heater is in the file or, where
// people would drink what they must not, no file is made.
func TestAsked(t *testing.T) {
	v := interview(t)
	d, err := v.Build(context.Background(), Answers{"also": "none", "ground": "dense-sand", "heater": "storage-pressure", "heater-volume": "150 L"})
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"ground: dense-sand", "also: none", "volume: 150 L"} {
		if !strings.Contains(string(d.Source), line) {
			t.Errorf("the file does not say %q:\n%s", line, d.Source)
		}
	}
	verdicts := map[string]finding.Verdict{}
	for i := range d.Appraisal.Findings {
		verdicts[d.Appraisal.Findings[i].ID] = d.Appraisal.Findings[i].Verdict
	}
	for _, id := range []string{"bearing", "heater-room"} {
		if verdicts[id] == finding.NotJudged {
			t.Errorf("%s is not judged, and the answer that decides it was given", id)
		}
	}
	for _, also := range []string{"tanker", "rain", Unknown} {
		_, err := v.Build(context.Background(), Answers{"also": also})
		var c *Conflict
		if !errors.As(err, &c) || !slices.Contains(c.Fight, "also") {
			t.Errorf("also %s: %v, want the answer named", also, err)
		}
	}
	for _, q := range v.Questions(Answers{"heater": "none", "place": "roof"}) {
		if q.ID == "heater-volume" || q.ID == "ground" {
			t.Errorf("%s is asked where there is none", q.ID)
		}
	}
}

// TestOnePerson: what one person uses is the profile's, and the job file's where it has none: the
// store is sized with the figure the file is then judged with.
func TestOnePerson(t *testing.T) {
	v := interview(t)
	for _, profile := range v.rows.Keys("profiles") {
		d, err := v.Build(context.Background(), Answers{"profile": profile, "also": "none"})
		if err != nil {
			t.Fatal(profile, err)
		}
		f, err := v.read(Answers{"profile": profile})
		if err != nil {
			t.Fatal(err)
		}
		doc, faults := appraise.ReadDoc(v.rows, "home", d.Source)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if got, want := v.each(f), float64(doc.Job.Home.Use.V); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: sized for %.4g m3 a person a day, judged with %.4g", profile, got, want)
		}
	}
}
