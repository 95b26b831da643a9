package years

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/freshness"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// turned lives two stores of 1 m³ for some weeks in which half a cubic metre is drawn each
// day and filled again at once, in turn or linked.
func turned(halves int) *follower {
	w := &follower{halves: halves, usable: 2, site: &Site{Arriving: 15, Chlorine: 0.5e-3, Decay: freshness.UsualDecay}, ages: freshness.NewAges(), wanted: freshness.ResidualLimit}
	w.climate, w.keeps[0].decay, w.keeps[1].decay = w.site.climate(), freshness.UsualDecay, freshness.UsualDecay
	w.keeps[1].decay.Bulk20 = assume.Decay.High / 86400
	lead := uint8(0)
	for day := range 120 {
		t := float64(day) * seasons.Day
		spans := []seasons.Span{
			{From: t, To: t + 8*seasons.Hour, Before: 2, After: 2},
			{From: t + 8*seasons.Hour, To: t + 13*seasons.Hour, Before: 2, After: 1.5, Out: 0.5 / (5 * seasons.Hour)},
			{From: t + 13*seasons.Hour, To: t + 14*seasons.Hour, Before: 1.5, After: 2, In: 0.5 / seasons.Hour},
			{From: t + 14*seasons.Hour, To: t + 24*seasons.Hour, Before: 2, After: 2},
		}
		for i := range spans {
			spans[i].Lead = lead
			w.See(&spans[i])
		}
		lead = 1 - lead
	}
	w.close()
	return w
}

// TestInTurnWater: two stores in turn give the same litres as two linked, about as old on the
// mean (the same water through the same volume), and no day is lost or counted twice.
func TestInTurnWater(t *testing.T) {
	linked, turn := turned(1), turned(2)
	for name, w := range map[string]*follower{"linked": linked, "in turn": turn} {
		if math.Abs(w.ages.Sum-60) > 1e-6 || w.days != 120 {
			t.Errorf("%s: %v m³ on %d days, want 60 on 120", name, w.ages.Sum, w.days)
		}
		if age := w.ages.Mean() / seasons.Day; age < 3 || age > 4.5 {
			t.Errorf("%s: %v d old on the mean, want about 2 m³ over 0.5 a day", name, age)
		}
	}
	if linked.ages.Mean() == turn.ages.Mean() {
		t.Error("in turn is no other than linked")
	}
	if linked.keeps[0].below < 100 {
		t.Errorf("chlorine of 0.5 mg/L in water of four days: below 0.2 on %d of 120 days", linked.keeps[0].below)
	}
}

// waters is a result with a store whose water is right in every way.
func waters() *Result {
	hot, cold := 30.0, -5.0
	about := func(v float64) seasons.Estimate {
		return seasons.Estimate{Value: v, Low: 0.9 * v, High: 1.1 * v, N: 16}
	}
	own := Fresh{Mean: about(2 * seasons.Day), Middle: about(2 * seasons.Day), Most: about(5 * seasons.Day), Days: 700, Below: about(0.01), Scant: about(0.02), Each: make([]Flask, 3)}
	for k := range own.Each {
		own.Each[k] = Flask{Mean: 2 * seasons.Day, Most: 5 * seasons.Day, Days: 300}
		for h := range own.Through {
			own.Each[k].Through[h] = 0.6 / seasons.Day
		}
	}
	return &Result{Fresh: []Fresh{own}, Site: Site{Arriving: 17, Summer: 20, Winter: 8, Chlorine: 0.5e-3, Read: true, Hot: &hot, hotDays: 5, Cold: &cold, Freezes: true,
		Shell: freshness.Shell{Top: 0.9, Side: 4, Colour: 0.3, Shade: 1}, Each: 1.5, Count: 2, Decay: freshness.UsualDecay, Quick: freshness.UsualDecay}}
}

// TestWaterFindings: each judgement with its boundary: right, just not, and not to be judged.
func TestWaterFindings(t *testing.T) {
	far := 60.0
	for _, c := range []struct {
		name, id string
		change   func(r *Result)
		want     finding.Verdict
	}{
		{"chlorine keeps", "store-residual", func(*Result) {}, finding.Fine},
		{"one day in ten", "store-residual", func(r *Result) { r.Fresh[0].Scant.Value = 0.1 }, finding.Fine},
		{"one more, as fast as it may go", "store-residual", func(r *Result) { r.Fresh[0].Scant.Value = 0.101 }, finding.NotJudged},
		{"one more, as it usually goes", "store-residual", func(r *Result) { r.Fresh[0].Below.Value, r.Fresh[0].Scant.Value = 0.101, 0.3 }, finding.LookAt},
		{"a jar read too coarsely", "store-residual", func(r *Result) { r.Site.Jar, r.Fresh[0].Scant.Value = true, 0.2 }, finding.NotJudged},
		{"how warm is not known", "store-residual", func(r *Result) { r.Site.Hot = nil }, finding.NotJudged},
		{"no strip read", "store-residual", func(r *Result) { r.Site.Read, r.Site.Chlorine = false, 0 }, finding.NotJudged},
		{"the main lacks it", "store-residual", func(r *Result) { r.Site.Chlorine = 0.19e-3 }, finding.NotJudged},
		{"nothing drawn", "store-residual", func(r *Result) { r.Fresh[0].Days = 0 }, finding.NotJudged},
		{"two weeks", "store-standing", func(r *Result) { r.Fresh[0].Most.Value = 14 * seasons.Day }, finding.Fine},
		{"and a day", "store-standing", func(r *Result) { r.Fresh[0].Most.Value = 15 * seasons.Day }, finding.LookAt},
		{"never drawn", "store-standing", func(r *Result) { r.Fresh[0].Most.N = 0 }, finding.NotJudged},
		{"in the shade", "store-warm", func(*Result) {}, finding.Fine},
		{"in hot air", "store-warm", func(r *Result) { *r.Site.Hot = 45 }, finding.LookAt},
		{"no air told", "store-warm", func(r *Result) { r.Site.Hot = nil }, finding.NotJudged},
		{"a warm main adds nothing", "store-warm", func(r *Result) { r.Site.Summer = 30 }, finding.Fine},
		{"-5 °C, bare, one night", "store-freeze", func(*Result) {}, finding.NotJudged},
		{"-5 °C, bare, half a day told", "store-freeze", func(r *Result) { r.Site.Frost.V = 12 * 3600 }, finding.Fine},
		{"-5 °C, bare, two weeks of it", "store-freeze", func(r *Result) { r.Site.Frost.V = 14 * 86400 }, finding.LookAt},
		{"-60 °C, bare", "store-freeze", func(r *Result) { *r.Site.Cold = -far }, finding.LookAt},
		{"-60 °C, lagged", "store-freeze", func(r *Result) { *r.Site.Cold, r.Site.Shell.Insulation, r.Site.Frost.V = -far, 0.1, 12*3600 }, finding.Fine},
		{"no frost told", "store-freeze", func(r *Result) { r.Site.Cold = nil }, finding.NotJudged},
	} {
		r := waters()
		c.change(r)
		seen := false
		for _, f := range waterOf(r, "tank", quantity.Metric) {
			if f.ID != c.id {
				continue
			}
			seen = true
			if f.Verdict != c.want {
				t.Errorf("%s: %s, want %s (figure %v, limit %v)", c.name, f.Verdict.ID(), c.want.ID(), f.Figure.SI, f.Limit.SI)
			}
			if _, sentence := finding.Text(&f, quantity.Metric); strings.ContainsAny(sentence, "{}‹") {
				t.Errorf("%s: %s", c.name, sentence)
			}
			if f.Source == "" {
				t.Errorf("%s: no source", c.name)
			}
		}
		if !seen {
			t.Errorf("%s: nothing says so", c.name)
		}
	}
	r := waters()
	r.Site.Freezes = false
	for _, f := range waterOf(r, "tank", quantity.Metric) {
		if f.ID == "store-freeze" {
			t.Error("frost is judged where there is none")
		}
	}
}
