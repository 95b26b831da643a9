package years

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/site"
	"tideover/internal/words"
)

// Findings reads the judgements off a result: whether the job's own store is enough, whether
// its water stays fresh, whether any size does both.
func Findings(r *Result, sys quantity.System) []finding.Finding {
	own := &r.Answer.Stores[r.Own]
	list := []finding.Finding{carryOf(r, own, sys), enoughOf(r, own, sys), freshOf(r, own, sys), windowOf(r, sys)}
	list = append(list, waterOf(r, own.Name, sys)...)
	if r.Log != nil {
		list = append(list, logOf(r.Log))
	}
	if h := r.Answer.Hopeless(); h != nil {
		f := finding.New("seasons-hopeless", "", "")
		f.Verdict = finding.MustFix
		f.Figure = finding.Of(quantity.VolumeDim, h.Shortfall)
		f.Source = words.Say("limit.mass-balance", nil)
		list = append(list, f)
	}
	return list
}

// carryOf judges how long the store lasts from full against the longest interruption told. It is
// fine where it outlasts that on nine days of ten, as told alike by nine homes of ten.
func carryOf(r *Result, own *seasons.Odds, sys quantity.System) finding.Finding {
	f := finding.New("carry-lived", "", "")
	f.Source = words.Say("limit.told", nil)
	l := &r.Lasts
	f.Name("store", own.Name)
	f.Name("hour", clock(l.Hour))
	f.Figure = finding.Of(quantity.TimeDim, l.Median)
	f.Figure.Half = (l.Long - l.Short) / 2
	f.Arg("full", f.Figure)
	f.Arg("low", finding.Of(quantity.TimeDim, l.Short))
	f.Arg("high", finding.Of(quantity.TimeDim, l.Long))
	if l.Longest <= 0 {
		f.Blank("interruptions.habit")
		return f
	}
	mostly := l.Mostly
	if l.Row != nil {
		mostly = l.Then.Mostly
		switch f.Case = "row"; {
		case l.Row.Waits:
			f.Case = "waits"
		case l.Begins <= 0:
			f.Case = "dry"
		}
		f.Name("main", words.Say(mainBetween(l.Row), words.Args{"on": quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: float64(l.Row.On), Basis: quantity.Stated}, sys)}))
		f.Figure = finding.Of(quantity.TimeDim, l.Then.Median)
		f.Figure.Half = (l.Then.Long - l.Then.Short) / 2
		f.Arg("begins", finding.Of(quantity.VolumeDim, l.Begins))
	}
	f.Against(f.Figure, quantity.Quantity{Dim: quantity.TimeDim, SI: l.Longest, Basis: quantity.Stated}, finding.AtLeast, finding.LookAt)
	if f.Verdict == finding.Fine && mostly < l.Longest {
		f.Verdict = finding.LookAt
		f.Arg("mostly", finding.Of(quantity.TimeDim, mostly))
		if f.Case += "-seldom"; l.Row == nil {
			f.Case = "seldom"
		}
	}
	return f
}

// mainBetween is what lies between interruptions in a row.
func mainBetween(r *site.Row) string {
	if r.Weak {
		return "carry.main-weak"
	}
	return "carry.main"
}

func clock(hour int) string { return fmt.Sprintf("%02d:00", hour) }

func enoughOf(r *Result, own *seasons.Odds, sys quantity.System) finding.Finding {
	f := finding.New("ride-through", "", "")
	f.Source = words.Say("limit.judgement", nil)
	e := own.By[seasons.RideThrough]
	f.Name("store", own.Name)
	if e.N == 0 {
		f.Name("tells", words.Say("ride.tells-none", nil))
		f.Blank("interruptions.habit")
		return f
	}
	if r.Blank != "" {
		f.Name("tells", words.Say("ride.tells-little", nil))
		f.Blank(r.Blank)
		return f
	}
	ten := func(m seasons.Measure) seasons.Range { return own.Next[m] }
	f.Against(expected(quantity.RatioDim, e.Value, ten(seasons.RideThrough)), quantity.Quantity{Dim: quantity.RatioDim, SI: r.Enough, Basis: quantity.Stated}, finding.AtLeast, finding.LookAt)
	f.Name("why", r.why(own))
	f.Name("sure", sure(own.Sure(r.Enough, f.Verdict == finding.Fine)))
	f.Name("interval", next(quantity.RatioDim, ten(seasons.RideThrough), sys))
	f.Name("short-interval", next(quantity.VolumeDim, ten(seasons.ShortYear), sys))
	f.Name("worst-interval", next(quantity.TimeDim, ten(seasons.WorstSpell), sys))
	f.Name("stops", r.Stops.text()+r.Hours.text(sys))
	f.Name("run", words.Say("years.run", words.Args{"half": points(e.Half())}))
	f.Arg("unserved", finding.Of(quantity.TimeDim, own.By[seasons.UnservedYear].Value))
	f.Arg("worst", finding.Of(quantity.TimeDim, own.By[seasons.WorstSpell].Value))
	f.Arg("short", finding.Of(quantity.VolumeDim, own.By[seasons.ShortYear].Value))
	return f
}

func freshOf(r *Result, own *seasons.Odds, sys quantity.System) finding.Finding {
	f := finding.New("water-age", "", "")
	f.Source = words.Say("limit.turnover-rule", nil)
	f.Name("store", own.Name)
	fresh := &r.Fresh[r.Own]
	if fresh.Mean.N == 0 {
		f.Blank("interruptions.habit")
		return f
	}
	mean, most := fresh.Next(r.Watched, func(k *Flask) float64 { return k.Mean }), fresh.Next(r.Watched, func(k *Flask) float64 { return k.Most })
	f.Against(expected(quantity.TimeDim, fresh.Mean.Value, mean), quantity.Quantity{Dim: quantity.TimeDim, SI: r.Ceiling, Basis: quantity.Stated}, finding.AtMost, finding.LookAt)
	if f.Verdict == finding.LookAt && r.Stale > 0 && fresh.Mean.Value > r.Stale {
		f.Verdict, f.Limit.SI = finding.MustFix, r.Stale // the one the sentence names
	}
	f.Arg("most", expected(quantity.TimeDim, fresh.Most.Value, most))
	f.Arg("middle", estimated(quantity.TimeDim, fresh.Middle))
	f.Name("interval", next(quantity.TimeDim, mean, sys))
	f.Name("most-interval", next(quantity.TimeDim, most, sys))
	fine, limit := f.Verdict == finding.Fine, f.Limit.SI
	f.Name("sure", sure(fresh.Sure(func(k *Flask) bool { return (k.Mean <= limit) == fine })))
	return f
}

// sure says in how many futures a judgement holds.
func sure(n, of int) string {
	return words.Say("years.sure", words.Args{"n": strconv.Itoa(n), "of": strconv.Itoa(of)})
}

// estimated is an estimate as a figure.
func estimated(dim quantity.Dim, e seasons.Estimate) quantity.Quantity {
	q := finding.Of(dim, e.Value)
	q.Half = e.Half()
	return q
}

// expected is what the coming years bring as a figure: its half-width is half of the range that
// nine futures of ten lie in, luck and doubt about the town counted in.
func expected(dim quantity.Dim, value float64, ten seasons.Range) quantity.Quantity {
	q := finding.Of(dim, value)
	q.Half = (ten.High - ten.Low) / 2
	return q
}

// span is what the run leaves open of an estimate, in words, its ends with no more digits than
// its width deserves.
func span(dim quantity.Dim, e seasons.Estimate, sys quantity.System) string {
	return ends("years.interval", dim, e.Low, e.High, sys)
}

// next is what the coming years bring in nine futures of ten, in words.
func next(dim quantity.Dim, ten seasons.Range, sys quantity.System) string {
	return ends("years.next", dim, ten.Low, ten.High, sys)
}

func ends(id string, dim quantity.Dim, low, high float64, sys quantity.System) string {
	text := func(si float64) string {
		return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Half: math.Max((high-low)/8, 0.005*math.Abs(si)), Basis: quantity.Derived}, sys)
	}
	return words.Say(id, words.Args{"low": text(low), "high": text(high)})
}

// points is a share as points of a hundred, to a tenth.
func points(share float64) string { return strconv.FormatFloat(100*share, 'f', 1, 64) }

func windowOf(r *Result, sys quantity.System) finding.Finding {
	f := finding.New("size-window", "", "")
	f.Source = words.Say("limit.judgement", nil)
	if r.Blank != "" {
		f.Blank(r.Blank)
		return f
	}
	f.Verdict = finding.LookAt
	if w := r.Window; w != nil {
		f.Verdict = finding.Fine
		f.Name("sizes", r.Sizes(*w))
		f.Figure = finding.Of(quantity.VolumeDim, r.Answer.Stores[w.First].Usable)
	}
	f.Name("opens", r.opens(sys))
	return f
}

// Sizes says which sizes a window holds: one, or from one to another.
func (r *Result) Sizes(w Window) string {
	first, last := r.Answer.Stores[w.First].Name, r.Answer.Stores[w.Last].Name
	if w.First == w.Last {
		return words.Say("years.size-one", words.Args{"store": first})
	}
	return words.Say("years.sizes", words.Args{"first": first, "last": last})
}

// why says what keeps a store from riding out more, where it is not its size: the share of
// what is missing that is missing with water in the store.
func (r *Result) why(own *seasons.Odds) string {
	if len(r.Dry) > 0 {
		return " " + words.Say("ride.why-taps", words.Args{"taps": strings.Join(r.Dry, ", ")})
	}
	if t := &own.Total; r.Course != nil && t.Short > 0 && t.Barred > 0.2*t.Short {
		return " " + words.Say("ride.why-"+r.Course.LostBy, words.Args{"share": hundredths(t.Barred / t.Short)})
	}
	return ""
}

// opens says what opens a window; where nothing does, what helps most, or that nothing was
// tried or helps.
func (r *Result) opens(sys quantity.System) string {
	if len(r.Opens) == 0 {
		return words.Say("opens.untried", nil)
	}
	for i := range r.Opens {
		if o := &r.Opens[i]; o.Window != nil {
			return words.Say("opens.one", words.Args{"what": o.Text(sys)})
		}
	}
	ride, age := r.helps()
	args := words.Args{"base": hundredths(r.AsIs.Share.Value), "old": timeText(r.AsIs.Age.Value, sys)}
	id := "opens.none"
	if ride != nil {
		id = "opens.rides"
		args["rides"], args["share"] = ride.Text(sys), hundredths(ride.Share.Value)
	}
	if age != nil {
		id = map[bool]string{true: "opens.both", false: "opens.fresher"}[ride != nil]
		args["fresher"], args["age"] = age.Text(sys), timeText(age.Age.Value, sys)
	}
	return words.Say(id, args)
}

// Pairs are the changes to be tried together where none opens a window by itself, as indices
// into Opens: the one that wins most interruptions with each that makes the water fresher,
// the mildest first.
func (r *Result) Pairs() [][2]int {
	ride, _ := r.helps()
	if ride == nil || r.Window != nil {
		return nil
	}
	var list [][2]int
	first := 0
	for i := range r.Opens {
		if o := &r.Opens[i]; o.Window != nil {
			return nil
		} else if o == ride {
			first = i
		}
	}
	for i := range r.Opens {
		if o := &r.Opens[i]; i != first && o.ID != r.Opens[first].ID && o.Age.Value < 0.9*r.AsIs.Age.Value {
			list = append(list, [2]int{first, i})
		}
	}
	return list
}

// helps are the changes that win most: interruptions ridden out, five of a hundred at the
// least, and days of age, a tenth at the least; nil where none does.
func (r *Result) helps() (ride, age *Opened) {
	for i := range r.Opens {
		o := &r.Opens[i]
		if len(o.Both) > 0 {
			continue
		}
		if o.Share.Value > r.AsIs.Share.Value+0.05 && (ride == nil || o.Share.Value > ride.Share.Value) {
			ride = o
		}
		if o.Age.Value < 0.9*r.AsIs.Age.Value && (age == nil || o.Age.Value < age.Age.Value) {
			age = o
		}
	}
	return ride, age
}

// Text says what was changed.
func (o *Opened) Text(sys quantity.System) string {
	switch {
	case len(o.Both) > 0:
		return words.Say("opens.both-at-once", words.Args{"one": o.Both[0].Text(sys), "other": o.Both[1].Text(sys)})
	case len(o.Uses) > 0:
		var uses []string
		for _, key := range o.Uses {
			uses = append(uses, words.SayOr("use."+key, key))
		}
		return words.Say("opens.through-uses", words.Args{"uses": strings.Join(uses, ", ")})
	case o.Every > 0:
		return words.Say("opens.routine-every", words.Args{"every": timeText(o.Every, sys)})
	}
	return words.Say("opens."+o.ID, nil)
}

func timeText(s float64, sys quantity.System) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: s, Half: 0.05 * s, Basis: quantity.Derived}, sys)
}

func hundredths(share float64) string { return quantity.Fixed(100*share, 0) }
