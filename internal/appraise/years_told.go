package appraise

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/outage"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
)

// YearsRow is one size of store in the reader's units: usable water, share ridden out with its
// interval, litres short a year, time a tap goes unserved a year, worst spell in ten years,
// how long it lasts from full at six in the evening, how long it takes to fill, mean age of
// its water, age that one litre in twenty exceeds.
type YearsRow struct {
	Name  string
	Own   bool
	Texts []string
}

// evening is the hour of the day from which the carry time is told: the taps run most.
const evening = 18

// Rows returns a row for each size, the smallest first.
func (y *Years) Rows(sys quantity.System) []YearsRow {
	var list []YearsRow
	for i := range y.Answer.Stores {
		o := &y.Answer.Stores[i]
		list = append(list, YearsRow{Name: o.Name, Own: i == y.Own, Texts: []string{
			shown(quantity.VolumeDim, o.Usable, sys), odds(o.By[seasons.RideThrough]),
			shown(quantity.VolumeDim, o.By[seasons.ShortYear].Value, sys), shown(quantity.TimeDim, o.By[seasons.UnservedYear].Value, sys),
			shown(quantity.TimeDim, o.By[seasons.WorstSpell].Value, sys), shown(quantity.TimeDim, y.Carry[i][evening].Median, sys),
			shown(quantity.TimeDim, y.Refill[i], sys), shown(quantity.TimeDim, y.Fresh[i].Mean, sys), shown(quantity.TimeDim, y.Fresh[i].Most, sys),
		}})
	}
	return list
}

// shown prints an estimate with no more digits than a run of this kind deserves.
func shown(dim quantity.Dim, si float64, sys quantity.System) string {
	return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Half: 0.05 * math.Abs(si), Basis: quantity.Derived}, sys)
}

// odds is a share with its interval, in whole hundredths.
func odds(e seasons.Estimate) string {
	if e.N == 0 {
		return words.Say("store.no-outage", nil)
	}
	whole := func(v float64) string { return strconv.Itoa(int(math.Round(100 * v))) }
	return words.Say("store.odds", words.Args{"share": whole(e.Value), "low": whole(e.Low), "high": whole(e.High)})
}

// Told says in sentences what the sizes say together: how much was lived, what more litres
// buy, what was tried, what was assumed.
func (y *Years) Told(sys quantity.System) []string {
	a, own := y.Answer, &y.Answer.Stores[y.Own]
	lines := []string{words.Say("store.lived", words.Args{"years": strconv.Itoa(int(a.Years)), "futures": strconv.Itoa(a.Futures)}),
		words.Say("store.futures", words.Args{"low": percent(own.Futures.Low), "high": percent(own.Futures.High)})}
	if y.Knee >= 0 {
		lines = append(lines, words.Say("store.knee", words.Args{"store": a.Stores[y.Knee].Name}))
	}
	if !math.IsNaN(y.Next) {
		lines = append(lines, words.Say("store.next", words.Args{"litres": shown(quantity.VolumeDim, 0.1, sys), "points": strconv.FormatFloat(100*y.Next, 'f', 1, 64)}))
	}
	for _, o := range y.Opens {
		id := "store.opens-not"
		args := words.Args{"what": o.Text(sys), "share": percent(o.Share), "base": percent(y.AsIs.Share), "age": shown(quantity.TimeDim, o.Age, sys)}
		if o.Window != nil {
			id = "store.opens"
			args["first"], args["last"] = a.Stores[o.Window.First].Name, a.Stores[o.Window.Last].Name
		}
		lines = append(lines, words.Say(id, args))
	}
	if len(y.Tails) > 0 {
		var list []string
		for _, v := range y.Tails {
			list = append(list, words.Say("store.tail", words.Args{"law": words.Say("law."+v.Law, nil), "share": percent(v.Share), "worst": shown(quantity.TimeDim, v.Worst, sys)}))
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
	lines = append(lines, words.Say("store.assumed", nil))
	if up := y.Home.Aloft; up > 0 {
		lines = append(lines, words.Say("store.assumed-header", words.Args{"time": shown(quantity.TimeDim, up, sys)}))
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
		case "share":
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

// YearsDocument is the years as JSON.
type YearsDocument struct {
	Job   *job.Job
	Years *Years
}

// measures are the names of the measures in JSON, in their order.
var measures = [seasons.Measures]string{"ride-through", "person-days", "short-m3-year", "short-share", "empty-s-year", "unserved-s-year", "worst-spell-s", "through-m3-year", "spilled-m3-year"}

// JSON returns the years as indented JSON; docs/json.md describes it.
func (d YearsDocument) JSON() ([]byte, error) {
	type estimate struct {
		Value float64 `json:"value"`
		Low   float64 `json:"low"`
		High  float64 `json:"high"`
	}
	type store struct {
		Name    string              `json:"name"`
		Usable  float64             `json:"usable-m3"`
		Own     bool                `json:"own"`
		By      map[string]estimate `json:"by"`
		Carry   *float64            `json:"carry-s"` // from full at 18:00, median
		Refill  *float64            `json:"refill-s"`
		Age     *float64            `json:"mean-age-s"`
		Most    *float64            `json:"age-one-in-twenty-s"`
		Balance float64             `json:"balance"`
	}
	type tail struct {
		Law   string  `json:"law"`
		Share float64 `json:"ride-through"`
		Worst float64 `json:"worst-spell-s"`
		Short float64 `json:"short-m3-year"`
	}
	type tried struct {
		What   string   `json:"what"`
		Share  float64  `json:"ride-through"`
		Age    *float64 `json:"mean-age-s"`
		Window []string `json:"window"`
	}
	finite := func(v float64) *float64 {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return nil
		}
		return &v
	}
	y := d.Years
	list, err := finding.JSON(y.Findings, d.Job.System())
	if err != nil {
		return nil, err
	}
	doc := struct {
		Format   int             `json:"format"`
		Name     string          `json:"name"`
		Date     string          `json:"date"`
		Units    string          `json:"units"`
		Years    float64         `json:"years"`
		Futures  int             `json:"futures"`
		Narrow   bool            `json:"as-narrow-as-asked"`
		Stores   []store         `json:"stores"`
		Window   []string        `json:"window"` // first and last size that are enough and fresh; null: none
		Tried    []tried         `json:"tried"`  // changes, where no size is both; of the own store
		Tails    []tail          `json:"tails"`  // the own store where all lengths are of one law
		Told     []string        `json:"told"`
		Findings json.RawMessage `json:"findings"`
	}{Format: 1, Name: d.Job.Name, Date: d.Job.Date, Units: d.Job.Units, Years: y.Answer.Years, Futures: y.Answer.Futures, Narrow: y.Answer.Narrow,
		Told: y.Told(d.Job.System()), Findings: list}
	for i := range y.Opens {
		o := &y.Opens[i]
		one := tried{What: o.Text(d.Job.System()), Share: o.Share, Age: finite(o.Age)}
		if o.Window != nil {
			one.Window = []string{y.Answer.Stores[o.Window.First].Name, y.Answer.Stores[o.Window.Last].Name}
		}
		doc.Tried = append(doc.Tried, one)
	}
	for _, v := range y.Tails {
		doc.Tails = append(doc.Tails, tail{v.Law, v.Share, v.Worst, v.Short})
	}
	for i := range y.Answer.Stores {
		o := &y.Answer.Stores[i]
		s := store{Name: o.Name, Usable: o.Usable, Own: i == y.Own, By: map[string]estimate{}, Carry: finite(y.Carry[i][evening].Median), Refill: finite(y.Refill[i]),
			Age: finite(y.Fresh[i].Mean), Most: finite(y.Fresh[i].Most), Balance: o.Balance}
		for m, e := range o.By {
			if e.N > 0 {
				s.By[measures[m]] = estimate{e.Value, e.Low, e.High}
			}
		}
		doc.Stores = append(doc.Stores, s)
	}
	if w := y.Window; w != nil {
		doc.Window = []string{y.Answer.Stores[w.First].Name, y.Answer.Stores[w.Last].Name}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err = e.Encode(doc)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}
