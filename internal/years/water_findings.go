package years

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/finding"
	"tideover/internal/freshness"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
)

// waterOf judges the water of the job's own store: chlorine, standing, warmth, frost, each
// against what the main brings.
func waterOf(r *Result, own string, sys quantity.System) []finding.Finding {
	list := []finding.Finding{residualOf(r, own, sys), standingOf(r, own, sys), warmOf(r, own, sys)}
	if r.Site.Freezes {
		list = append(list, freezeOf(r, own))
	}
	return list
}

func judged(id, own string, c freshness.Criterion) finding.Finding {
	f := finding.New(id, "", "")
	f.Name("store", own)
	f.Source = words.Say(c.Source, nil)
	return f
}

// seldomBelow is the share of days below the target from which on it is worth a look: one in
// ten. Judgement.
const seldomBelow = 0.1

// residualOf judges free chlorine: the share of the days on which the store's water is drawn
// that it has less than is wanted at a tap. It is fine where it would be with chlorine that goes
// as fast as it may, and fails where it fails as it usually goes; between these nobody can say.
// What the main itself lacks is no fault of a store.
func residualOf(r *Result, own string, sys quantity.System) finding.Finding {
	f := judged("store-residual", own, freshness.Residual(0, r.Site.Chlorine))
	fresh := &r.Fresh[r.Own]
	worst := fresh.Scantest()
	scant := worst.Scant
	blank := func(field, why string) finding.Finding {
		f.Blank(field)
		f.Name("why", words.Say(why, words.Args{
			"usual": say(quantity.RatioDim, fresh.Below.Value, sys), "quick": say(quantity.RatioDim, scant.Value, sys),
			"slow-rate": aDay(r.Site.Decay, sys), "quick-rate": aDay(r.Site.Quick, sys)}))
		return f
	}
	switch {
	case !r.Site.Read:
		return blank("supply.chlorine", "residual.unread")
	case r.Site.Chlorine < freshness.ResidualLimit:
		return blank("supply.chlorine", "residual.lacks")
	case fresh.Days == 0:
		return blank("interruptions.habit", "residual.undrawn")
	case fresh.Below.Value <= seldomBelow && scant.Value > seldomBelow:
		return blank("supply.chlorine-left", map[bool]string{true: "residual.steps", false: "residual.speed"}[r.Site.Jar])
	case scant.Value <= seldomBelow && r.Site.Hot == nil:
		return blank("place.hot-day", "residual.warmth")
	}
	figure, of := scant, func(k *Flask) float64 { return k.Scantest }
	if fresh.Below.Value > seldomBelow {
		figure, of = fresh.Below, func(k *Flask) float64 { return k.Below }
	}
	f.Against(estimated(quantity.RatioDim, figure), quantity.Quantity{Dim: quantity.RatioDim, SI: seldomBelow, Basis: quantity.Assumed}, finding.AtMost, finding.LookAt)
	f.Arg("wanted", finding.Of(quantity.DoseDim, freshness.ResidualLimit))
	f.Arg("arriving", finding.Of(quantity.DoseDim, r.Site.Chlorine))
	f.Arg("usual", estimated(quantity.RatioDim, fresh.Below))
	f.Name("interval", span(quantity.RatioDim, figure, sys))
	f.Name("slow-rate", aDay(r.Site.Decay, sys))
	f.Name("quick-rate", aDay(r.Site.Quick, sys))
	f.Name("ways", fresh.tellWays(quantity.RatioDim, func(w *Way) seasons.Estimate { return w.Scant }, worst, sys))
	f.Name("speed", words.Say(map[bool]string{true: "residual.jar", false: "residual.assumed"}[r.Site.Jar], nil))
	fine := f.Verdict == finding.Fine
	f.Name("sure", sure(fresh.SureInAll(func(k *Flask) bool { return (of(k) <= seldomBelow) == fine })))
	return f
}

// aDay is how much of the chlorine is lost in a day at 20 °C, in the water alone.
func aDay(d freshness.Decay, sys quantity.System) string {
	return say(quantity.RatioDim, -math.Expm1(-d.Bulk20*seasons.Day), sys)
}

func say(dim quantity.Dim, si float64, sys quantity.System) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si}, sys)
}

// standingOf judges water that has stood for two weeks: one litre in twenty may be older.
func standingOf(r *Result, own string, sys quantity.System) finding.Finding {
	fresh := &r.Fresh[r.Own]
	worst := fresh.Longest()
	c := freshness.Standing(worst.Most.Value, 0)
	f := judged("store-standing", own, c)
	if fresh.Most.N == 0 {
		f.Blank("interruptions.habit")
		return f
	}
	f.Against(estimated(quantity.TimeDim, worst.Most), quantity.Quantity{Dim: quantity.TimeDim, SI: c.Limit, Basis: quantity.Stated}, finding.AtMost, finding.LookAt)
	f.Arg("old", estimated(quantity.RatioDim, fresh.Old))
	f.Name("ways", fresh.tellWays(quantity.TimeDim, func(w *Way) seasons.Estimate { return w.Most }, worst, sys))
	f.Name("interval", span(quantity.TimeDim, worst.Most, sys))
	f.Name("old-interval", span(quantity.RatioDim, fresh.Old, sys))
	fine := f.Verdict == finding.Fine
	f.Name("sure", sure(fresh.SureInAll(func(k *Flask) bool { return (k.Longest <= c.Limit) == fine })))
	return f
}

// What a clear hot day is taken to be beside its afternoon. Judgement: the sun stands 75° high
// at noon, nights are ten degrees cooler, a light wind.
const (
	hotSwing  = 10.0
	hotWind   = 2.0
	sunAt     = 38.5 * math.Pi / 180 // latitude where the midsummer sun stands so high
	midsummer = 172
)

// warmOf judges the warmest day's mean of the store against the limit for stored water, or
// against the water that comes in, where that is warmer.
func warmOf(r *Result, own string, sys quantity.System) finding.Finding {
	s := &r.Site
	if s.Hot == nil {
		f := judged("store-warm", own, freshness.Warm(0, s.Summer))
		f.Blank("place.hot-day")
		return f
	}
	w := freshness.Weather{Low: *s.Hot - hotSwing, High: *s.Hot, Wind: hotWind, Latitude: sunAt, Day: midsummer}
	if s.Indoors {
		w.Wind = 0
	}
	mean, most, all := warmest(&r.Fresh[r.Own], s, w)
	c := freshness.Warm(mean.Value, s.Summer)
	f := judged("store-warm", own, c)
	f.Against(estimated(quantity.TemperatureDim, mean), quantity.Quantity{Dim: quantity.TemperatureDim, SI: c.Limit, Basis: quantity.Stated}, finding.AtMost, finding.LookAt)
	fine := f.Verdict == finding.Fine
	n := 0
	for _, t := range all {
		if (t <= c.Limit) == fine {
			n++
		}
	}
	f.Name("sure", sure(n, len(all)))
	f.Name("interval", span(quantity.TemperatureDim, mean, sys))
	f.Arg("most", estimated(quantity.TemperatureDim, most))
	f.Arg("arriving", finding.Of(quantity.TemperatureDim, s.Summer))
	f.Arg("air", finding.Of(quantity.TemperatureDim, *s.Hot))
	f.Name("against", "")
	if c.Arriving {
		f.Name("against", " "+words.Say("warm.arriving", nil))
	}
	return f
}

// warmest is the mean of the store on a day of such weather and the warmest it gets, over the
// futures, each with what it draws on the mean of its days; all are the means one by one.
func warmest(f *Fresh, s *Site, w freshness.Weather) (mean, most seasons.Estimate, all []float64) {
	var middle, top seasons.Ratio
	day := w.Hours(s.Shell)
	for i := range f.Each {
		var through [24]float64
		for hour, q := range f.Each[i].Through {
			through[hour] = q / s.Count
		}
		a, b := freshness.Warmest(s.Each, through, s.Summer, day)
		middle.Add(a, 1)
		top.Add(b, 1)
		all = append(all, a)
	}
	return middle.Mean(), top.Mean(), all
}

// aNight is how long frost lasts at the least that a store must stand without freezing;
// frostWind blows in it. Judgement.
const (
	aNight    = 12 * 3600.0
	frostWind = 3.0 // m/s
	aTenth    = 0.1 // of the water turned to ice: floats and valves no longer move
)

// freezeOf judges how long a full store stands the cold until a tenth of it is ice, nothing
// flowing, the air as cold as on a cold night all along. Frost lasts for days: what stands one
// night is fine only where somebody told how long it lasts.
func freezeOf(r *Result, own string) finding.Finding {
	f := finding.New("store-freeze", "", "")
	f.Name("store", own)
	f.Source = words.Say("source.store-freeze", nil)
	s := &r.Site
	if s.Cold == nil {
		f.Blank("place.cold-night")
		f.Name("so", "@freeze.no-night")
		return f
	}
	sheet := &calc.Sheet{}
	outside := sheet.Eval(freshness.ConvectionEq, frostWind)
	u := sheet.Eval(freshness.WallEq, 100, s.Shell.Insulation, 0.035, outside)
	loss := u * (s.Shell.Top + s.Shell.Side)
	cools := sheet.Eval(freshness.CoolEq, s.Each, loss, s.Winter, *s.Cold)
	ice := cools + sheet.Eval(freshness.IceEq, aTenth, s.Each, loss, *s.Cold)
	if !math.IsInf(ice, 1) {
		f.Calc = sheet.Steps
	}
	limit := quantity.Quantity{Dim: quantity.TimeDim, SI: aNight, Basis: quantity.Assumed}
	if s.Frost.V > 0 {
		limit = s.Frost.Quantity()
	}
	f.Against(finding.Of(quantity.TimeDim, ice), limit, finding.AtLeast, finding.LookAt)
	if s.Frost.V <= 0 && f.Verdict == finding.Fine {
		f.Blank("place.cold-spell")
		f.Name("so", "@freeze.one-night")
	}
	f.Arg("cools", finding.Of(quantity.TimeDim, cools))
	f.Arg("air", finding.Of(quantity.TemperatureDim, *s.Cold))
	return f
}
