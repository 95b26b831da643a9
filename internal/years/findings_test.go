package years

import (
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// lasting is a result in which the store at hand is enough, fresh, and lasts.
func lasting() *Result {
	r := waters()
	odds := seasons.Odds{Name: "tank", Usable: 1.4}
	odds.By[seasons.RideThrough] = seasons.Estimate{Value: 0.95, Low: 0.93, High: 0.97, N: 32}
	r.Answer = &seasons.Answer{Stores: []seasons.Odds{odds}, Futures: 32, Years: 320}
	r.Stale = 21 * seasons.Day
	r.Enough, r.Ceiling, r.Window = EnoughShare, 5*seasons.Day, &Window{0, 0}
	r.Lasts = Lasts{Hour: 8, Longest: 2 * seasons.Day, Carry: seasons.Carry{Short: 1.5 * seasons.Day, Median: 2 * seasons.Day, Long: 3 * seasons.Day, Mostly: 2 * seasons.Day}}
	r.Course = &Course{LostBy: "power"}
	return r
}

// TestJudgements: each with the figure that just is right and the one that just is not.
func TestJudgements(t *testing.T) {
	helped := []Opened{{ID: "battery", Share: seasons.Estimate{Value: 0.93}, Age: seasons.Estimate{Value: 9 * seasons.Day}}, {ID: "through", Uses: []string{"wc"}, Share: seasons.Estimate{Value: 0.2}, Age: seasons.Estimate{Value: 4 * seasons.Day}}}
	for _, c := range []struct {
		name, id string
		change   func(r *Result)
		want     finding.Verdict
		says     string
	}{
		{"lasts as long", "carry-lived", func(*Result) {}, finding.Fine, "08:00"},
		{"a minute less", "carry-lived", func(r *Result) { r.Lasts.Median -= 60 }, finding.LookAt, "run dry"},
		{"a minute less on one day of ten", "carry-lived", func(r *Result) { r.Lasts.Median += 3600; r.Lasts.Mostly -= 60 }, finding.LookAt, "on more than one day of ten"},
		{"nothing told", "carry-lived", func(r *Result) { r.Lasts.Longest = 0 }, finding.NotJudged, "36 h"},
		{"nine of ten", "ride-through", func(r *Result) { r.Answer.Stores[0].By[seasons.RideThrough].Value = 0.9 }, finding.Fine, "90"},
		{"one less in a hundred", "ride-through", func(r *Result) { r.Answer.Stores[0].By[seasons.RideThrough].Value = 0.89 }, finding.LookAt, "89"},
		{"no interruption", "ride-through", func(r *Result) { r.Answer.Stores[0].By[seasons.RideThrough].N = 0 }, finding.NotJudged, ""},
		{"missing for want of power", "ride-through", func(r *Result) {
			o := &r.Answer.Stores[0]
			o.By[seasons.RideThrough].Value, o.Total.Short, o.Total.Barred = 0.2, 10, 7
		}, finding.LookAt, "70 of a hundred litres are missing with water in the store: the pump has no power"},
		{"missing for want of water", "ride-through", func(r *Result) {
			o := &r.Answer.Stores[0]
			o.By[seasons.RideThrough].Value, o.Total.Short, o.Total.Barred = 0.2, 10, 2
		}, finding.LookAt, "worst spell"},
		{"five days old", "water-age", func(r *Result) { r.Fresh[0].Mean.Value = 5 * seasons.Day }, finding.Fine, ""},
		{"and an hour", "water-age", func(r *Result) { r.Fresh[0].Mean.Value = 5*seasons.Day + seasons.Hour }, finding.LookAt, ""},
		{"three weeks old", "water-age", func(r *Result) { r.Fresh[0].Mean.Value = 21 * seasons.Day }, finding.LookAt, ""},
		{"and an hour more", "water-age", func(r *Result) { r.Fresh[0].Mean.Value = 21*seasons.Day + seasons.Hour }, finding.MustFix, "should not be drunk"},
		{"no rule how stale", "water-age", func(r *Result) { r.Fresh[0].Mean.Value, r.Stale = 100*seasons.Day, 0 }, finding.LookAt, ""},
		{"a window", "size-window", func(*Result) {}, finding.Fine, "tank"},
		{"none, nothing tried", "size-window", func(r *Result) { r.Window = nil }, finding.LookAt, "not tried in this short run"},
		{"none, much helps", "size-window", func(r *Result) {
			r.Window, r.AsIs, r.Opens = nil, Opened{Share: seasons.Estimate{Value: 0.21}, Age: seasons.Estimate{Value: 10 * seasons.Day}}, helped
		}, finding.LookAt, "from 21 to 93 of a hundred, and the WCs drawn through the store always brings the water from 10.0 d down to 4.0 d"},
		{"none, nothing helps", "size-window", func(r *Result) {
			r.Window, r.AsIs, r.Opens = nil, Opened{Share: seasons.Estimate{Value: 0.92}, Age: seasons.Estimate{Value: 4 * seasons.Day}}, helped
		}, finding.LookAt, "Nothing that was tried"},
		{"two at once", "size-window", func(r *Result) {
			r.Window, r.AsIs = nil, Opened{Share: seasons.Estimate{Value: 0.21}, Age: seasons.Estimate{Value: 10 * seasons.Day}}
			r.Opens = append(helped[:2:2], Opened{ID: "both", Both: helped, Window: &Window{}})
		}, finding.LookAt, "a battery and inverter that run the pump for some hours, and the WCs"},
	} {
		r := lasting()
		c.change(r)
		seen := false
		for _, f := range Findings(r, quantity.Metric) {
			if f.ID != c.id {
				continue
			}
			seen = true
			_, sentence := finding.Text(&f, quantity.Metric)
			if f.Verdict != c.want || !strings.Contains(sentence, c.says) || strings.ContainsAny(sentence, "{}‹") {
				t.Errorf("%s: %s, want %s: %s", c.name, f.Verdict.ID(), c.want.ID(), sentence)
			}
			if f.Source == "" {
				t.Errorf("%s: no source", c.name)
			}
		}
		if !seen {
			t.Errorf("%s: nothing says so", c.name)
		}
	}
}

// TestPairs: what wins most is tried with each that freshens the water, and nothing is where a
// change opens a window by itself.
func TestPairs(t *testing.T) {
	r := &Result{AsIs: Opened{Share: seasons.Estimate{Value: 0.2}, Age: seasons.Estimate{Value: 10}}, Opens: []Opened{{ID: "battery", Share: seasons.Estimate{Value: 0.9}, Age: seasons.Estimate{Value: 9.5}}, {ID: "ration", Share: seasons.Estimate{Value: 0.5}, Age: seasons.Estimate{Value: 10.5}},
		{ID: "through", Share: seasons.Estimate{Value: 0.2}, Age: seasons.Estimate{Value: 7}}, {ID: "through", Share: seasons.Estimate{Value: 0.2}, Age: seasons.Estimate{Value: 4}}}}
	if got := r.Pairs(); len(got) != 2 || got[0] != [2]int{0, 2} || got[1] != [2]int{0, 3} {
		t.Errorf("pairs %v", got)
	}
	r.Opens[2].Window = &Window{}
	if got := r.Pairs(); got != nil {
		t.Errorf("one opens a window, and yet %v", got)
	}
}

// TestNearly: a size that is enough and fresh by its figures, though not by the low end of its
// interval, is nearly one; one that is old, or rides out too little, is not.
func TestNearly(t *testing.T) {
	r := lasting()
	e := &r.Answer.Stores[0].By[seasons.RideThrough]
	for _, c := range []struct {
		value, low, age, doubt float64
		nearly, window         bool
	}{{0.92, 0.88, 4, 0.1, true, false}, {0.92, 0.9, 4, 0.1, true, true}, {0.92, 0.9, 4, 1.1, true, false}, {0.92, 0.88, 6, 0.1, false, false}, {0.89, 0.85, 4, 0.1, false, false}} {
		e.Value, e.Low = c.value, c.low
		r.Fresh[0].Mean = seasons.Estimate{Value: c.age * seasons.Day, Low: (c.age - 0.1) * seasons.Day, High: (c.age + c.doubt) * seasons.Day, N: 16}
		if got := Nearly(r.Answer, r.Fresh, r.Ceiling); got != c.nearly {
			t.Errorf("%+v: nearly %v", c, got)
		}
		if got := WindowOf(r.Answer, r.Fresh, r.Ceiling) != nil; got != c.window {
			t.Errorf("%+v: window %v", c, got)
		}
	}
}
