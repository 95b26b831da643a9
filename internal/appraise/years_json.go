package appraise

import (
	"encoding/json"
	"math"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/seasons"
	"tideover/internal/years"
)

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
		Value *float64 `json:"value"`
		Low   *float64 `json:"low"` // null: one future alone leaves it open
		High  *float64 `json:"high"`
	}
	type coming struct {
		estimate
		RunLow  *float64 `json:"run-low"`
		RunHigh *float64 `json:"run-high"`
	}
	type store struct {
		Name    string            `json:"name"`
		Usable  float64           `json:"usable-m3"`
		Own     bool              `json:"own"`
		By      map[string]coming `json:"by"`
		Carry   *float64          `json:"carry-s"` // from full at 18:00, median
		Short   *float64          `json:"carry-low-s"`
		Long    *float64          `json:"carry-high-s"`
		Refill  *float64          `json:"refill-s"`
		Balance float64           `json:"balance"`
	}
	type bin struct {
		From  float64  `json:"from-s"`
		To    float64  `json:"to-s"`
		Share estimate `json:"share"`
	}
	type ages struct {
		Years   float64 `json:"years"`
		Futures int     `json:"futures"`
		Narrow  bool    `json:"as-narrow-as-asked"`
		Own     []bin   `json:"own"`    // share of the litres between two ages, of the own store
		Beyond  float64 `json:"beyond"` // share older than the last
	}
	type tail struct {
		Law     string   `json:"law"`
		Futures int      `json:"futures"`
		Share   estimate `json:"ride-through"`
		Worst   estimate `json:"worst-spell-s"`
		Short   estimate `json:"short-m3-year"`
	}
	type habit struct {
		ID      string   `json:"id"`
		Futures int      `json:"futures"`
		Share   estimate `json:"ride-through"`
		Short   estimate `json:"short-m3-year"`
	}
	type cuts struct {
		Share float64  `json:"share"`
		Ride  estimate `json:"ride-through"`
	}
	type tried struct {
		What   string   `json:"what"`
		Share  estimate `json:"ride-through"`
		Age    *float64 `json:"mean-age-s"`
		Low    *float64 `json:"mean-age-low-s"`
		High   *float64 `json:"mean-age-high-s"`
		Window []string `json:"window"`
	}
	finite := func(v float64) *float64 {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return nil
		}
		return &v
	}
	open := func(e seasons.Estimate) estimate { return estimate{finite(e.Value), finite(e.Low), finite(e.High)} }
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
		Ages     ages            `json:"ages"`
		Tried    []tried         `json:"tried"`            // changes, where no size is both; of the own store
		Habits   []habit         `json:"habits"`           // what people do when the water fails, the first as on any day; of the own store
		Tails    []tail          `json:"tails"`            // the own store where all lengths are of one law
		Stops    []cuts          `json:"power-stops-main"` // nobody has told it: the own store where few do, and where many do; null otherwise
		Told     []string        `json:"told"`
		Findings json.RawMessage `json:"findings"`
	}{Format: 1, Name: d.Job.Name, Date: d.Job.Date, Units: d.Job.Units, Years: y.Answer.Years, Futures: y.Answer.Futures, Narrow: y.Answer.Narrow,
		Told: y.Told(d.Job.System()), Findings: list}
	doc.Ages = ages{Years: y.Ages.Years, Futures: y.Ages.Futures, Narrow: y.Ages.Narrow}
	bins, beyond := y.Fresh[y.Own].Bins()
	for _, b := range bins {
		doc.Ages.Own = append(doc.Ages.Own, bin{b.From, b.To, open(b.Share)})
	}
	doc.Ages.Beyond = beyond
	for i := range y.Opens {
		o := &y.Opens[i]
		one := tried{What: o.Text(d.Job.System()), Share: open(o.Share), Age: finite(o.Age.Value), Low: finite(o.Age.Low), High: finite(o.Age.High)}
		if o.Window != nil {
			one.Window = []string{y.Answer.Stores[o.Window.First].Name, y.Answer.Stores[o.Window.Last].Name}
		}
		doc.Tried = append(doc.Tried, one)
	}
	for i := range y.Habits {
		h := &y.Habits[i]
		doc.Habits = append(doc.Habits, habit{h.ID, h.Futures, open(h.Share), open(h.Short)})
	}
	for _, v := range y.Tails {
		doc.Tails = append(doc.Tails, tail{v.Law, v.Futures, open(v.Share), open(v.Worst), open(v.Short)})
	}
	for i := range y.Answer.Stores {
		o := &y.Answer.Stores[i]
		s := store{Name: o.Name, Usable: o.Usable, Own: i == y.Own, By: map[string]coming{}, Carry: finite(y.Carry[i][evening].Median), Short: finite(y.Carry[i][evening].Short), Long: finite(y.Carry[i][evening].Long), Refill: finite(y.Refill[i]),
			Balance: o.Balance}
		for m, run := range o.By {
			if e := ten(o, seasons.Measure(m)); e.N > 0 {
				s.By[measures[m]] = coming{open(e), finite(run.Low), finite(run.High)}
			}
		}
		for name, w := range waterBy(&y.Fresh[i], y.Site.Read) {
			if w.run.N > 0 {
				next := y.Fresh[i].Next(y.Watched, w.of)
				s.By[name] = coming{estimate{finite(w.run.Value), finite(next.Low), finite(next.High)}, finite(w.run.Low), finite(w.run.High)}
			}
		}
		doc.Stores = append(doc.Stores, s)
	}
	if w := y.Window; w != nil {
		doc.Window = []string{y.Answer.Stores[w.First].Name, y.Answer.Stores[w.Last].Name}
	}
	if s := y.Stops; s != nil {
		doc.Stops = []cuts{{s.Few, open(s.WithFew)}, {s.Many, open(s.WithMany)}}
	}
	return indented(doc)
}

// waterBy are the measures of a store's water by their names in JSON. What the main brings of
// chlorine is not known before somebody has read it.
func waterBy(f *years.Fresh, read bool) map[string]ofWater {
	by := map[string]ofWater{"mean-age-s": {f.Mean, func(k *years.Flask) float64 { return k.Mean }}, "median-age-s": {f.Middle, func(k *years.Flask) float64 { return k.Middle }},
		"age-one-in-twenty-s": {f.Most, func(k *years.Flask) float64 { return k.Most }}, "stood-two-weeks": {f.Old, func(k *years.Flask) float64 { return k.Old }}}
	if read {
		by["days-short-of-chlorine"] = ofWater{f.Below, func(k *years.Flask) float64 { return k.Below }}
	}
	return by
}

// ofWater is a measure of the water: of all futures, and of one.
type ofWater struct {
	run seasons.Estimate
	of  func(*years.Flask) float64
}
