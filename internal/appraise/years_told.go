package appraise

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/outage"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/service"
	"tideover/internal/words"
)

// Told says in sentences what the sizes say together: how much was lived, what more litres
// buy, what was tried, what was assumed.
func (y *Years) Told(sys quantity.System) []string {
	a, own := y.Answer, &y.Answer.Stores[y.Own]
	var lines []string
	ride := own.By[seasons.RideThrough]
	if _, seen := seasons.Next(own.Each[seasons.RideThrough], y.Watched); seen > 0 {
		next := own.Next[seasons.RideThrough]
		lines = append(lines, words.Say("store.futures", words.Args{"low": percent(next.Low), "high": percent(next.High)}))
		if seen < a.Futures {
			lines = append(lines, words.Say("store.kind", words.Args{"n": strconv.Itoa(a.Futures - seen), "of": strconv.Itoa(a.Futures)}))
		}
	} else {
		lines = append(lines, words.Say("store.nothing", nil))
	}
	lines = append(lines, words.Say("store.lived", words.Args{"years": strconv.Itoa(int(a.Years)), "futures": strconv.Itoa(a.Futures)}),
		words.Say("store.followed", words.Args{"years": strconv.Itoa(int(y.Ages.Years)), "futures": strconv.Itoa(y.Ages.Futures)}))
	if !y.Brief && !y.Ages.Narrow && a.Hopeless() == nil {
		lines = append(lines, words.Say("store.wide-ages", nil))
	}
	lines = append(lines, idleText(&y.Idle, sys)...)
	if y.Knee >= 0 {
		lines = append(lines, words.Say("store.knee", words.Args{"store": a.Stores[y.Knee].Name}))
	}
	if !math.IsNaN(y.Next) {
		lines = append(lines, words.Say("store.next", words.Args{"litres": shown(quantity.VolumeDim, 0.1, sys), "points": strconv.FormatFloat(100*y.Next, 'f', 1, 64)}))
	}
	if len(y.Opens) > 0 {
		lines = append(lines, words.Say("store.tried", words.Args{"futures": strconv.Itoa(y.AsIs.Futures), "base": odds(y.AsIs.Share), "age": within(quantity.TimeDim, y.AsIs.Age, sys)}))
	}
	for _, o := range y.Opens {
		id, args := "store.opens-not", words.Args{"what": o.Text(sys), "share": odds(o.Share), "age": within(quantity.TimeDim, o.Age, sys)}
		if o.Window != nil {
			id = "store.opens"
			args["sizes"] = y.Sizes(*o.Window)
		}
		lines = append(lines, words.Say(id, args))
	}
	for i := range y.Habits {
		h, id := &y.Habits[i], "store.habit"
		if i == 0 {
			id = "store.habits"
		}
		lines = append(lines, words.Say(id, words.Args{"futures": strconv.Itoa(h.Futures), "what": h.Text(sys), "share": odds(h.Share), "short": shown(quantity.VolumeDim, h.Short.Value, sys)}))
	}
	if s := y.Stops; s != nil {
		lines = append(lines, words.Say("store.stops", words.Args{"few": percent(s.Few), "many": percent(s.Many), "with-few": odds(s.WithFew), "with-many": odds(s.WithMany)}))
	}
	if len(y.Tails) > 0 {
		var list []string
		for _, v := range y.Tails {
			list = append(list, words.Say("store.tail", words.Args{"law": words.Say("law."+v.Law, nil), "share": odds(v.Share), "futures": strconv.Itoa(v.Futures), "worst": shown(quantity.TimeDim, v.Worst.Value, sys)}))
		}
		lines = append(lines, words.Say("store.tails", words.Args{"list": strings.Join(list, "; ")}))
	}
	for _, n := range y.Home.Notes {
		line := note(n.ID, n.Args, sys)
		if id := subjects[n.Of]; id != "" {
			line = words.Say(id, words.Args{"note": line})
		}
		if !slices.Contains(lines, line) { // a season's note may be the year's once more
			lines = append(lines, line)
		}
	}
	told := func(s float64) string {
		return quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: s, Basis: quantity.Stated}, sys)
	}
	hand := y.Home.Input.Hand
	lines = append(lines, words.Say("store.assumed", words.Args{"quick": told(hand.Least), "slow": told(hand.Most),
		"least": shown(quantity.TimeDim, float64(y.Home.Battery.Least), sys), "most": shown(quantity.TimeDim, float64(y.Home.Battery.Most), sys)}))
	if up := y.Home.Aloft; up > 0 {
		lines = append(lines, words.Say("store.assumed-header", words.Args{"time": shown(quantity.TimeDim, up, sys)}))
	}
	if ride.N > 0 { // last: it is the least of what is not known
		id := "store.run"
		if !y.Brief && !a.Narrow && a.Hopeless() == nil {
			id = "store.run-wide"
		}
		lines = append(lines, words.Say(id, words.Args{"half": strconv.FormatFloat(100*ride.Half(), 'f', 1, 64)}))
	}
	return lines
}

// subjects say what a note is said of, where that is not the interruptions.
var subjects = map[outage.Subject]string{outage.OfPower: "store.of-power", outage.OfWeak: "store.of-weak"}

func percent(v float64) string { return strconv.Itoa(int(math.Round(100 * v))) }

// note prints an assumption: its figures are times, shares or counts by their names.
func note(id string, figures map[string]float64, sys quantity.System) string {
	args := words.Args{}
	for name, v := range figures {
		switch name {
		case "share", "most-share":
			args[name] = shown(quantity.RatioDim, v, sys)
		case "pressure":
			args[name] = shown(quantity.PressureDim, v, sys)
		case "count", "enough":
			args[name] = strconv.Itoa(int(math.Round(v)))
		default:
			args[name] = shown(quantity.TimeDim, v, sys)
		}
	}
	return words.Say(id, args)
}

// idleText names the dead ends; nothing where there are none.
func idleText(l *service.Idle, sys quantity.System) []string {
	if len(l.Runs) == 0 {
		return nil
	}
	args := words.Args{"runs": strings.Join(l.Runs, ", "), "volume": shown(quantity.VolumeDim, float64(l.Volume), sys), "others": strings.Join(l.Others, ", ")}
	if l.OnMain {
		return []string{words.Say("store.idle-main", args)}
	}
	return []string{words.Say("store.idle-store", args)}
}
