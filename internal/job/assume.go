package job

import (
	"fmt"
	"math"
	"time"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// assumeAll fills what was not given: first from defaults and rules, then from other
// fields, so that a field may be assumed from one that is itself assumed.
func (r *reader) assumeAll() {
	for _, f := range theIndex().fields {
		for _, path := range r.job.paths(f.Path) {
			if _, given := r.entries[path]; !given {
				r.assume(f, path)
			}
		}
	}
	r.raiseNight()
	r.readMeter()
	for _, f := range theIndex().fields {
		for _, path := range r.job.paths(f.Path) {
			if _, given := r.entries[path]; !given && f.Same != "" {
				r.assumeSame(f, path)
			}
		}
	}
}

// paths returns the paths a starred path stands for: one for each item of its list.
func (j *Job) paths(star string) []string {
	head, tail, listed := cutStar(star)
	if !listed {
		return []string{star}
	}
	var all []string
	for _, tag := range j.items(head) {
		all = append(all, head+"."+tag+"."+tail)
	}
	return all
}

// assume takes the profile's value where a rule gives one, else the table's default.
func (r *reader) assume(f Field, path string) {
	text, from, sys := f.DefaultIn(r.sys), f.From, quantity.Metric
	ruled := false
	if r.options.Rule != nil && f.Rule != "" {
		if t, source, ok := r.options.Rule(r.job.Profile, f.Rule); ok {
			text, from, ruled = t, source, true
		}
	}
	if text == "" {
		return
	}
	v, err := f.value(text, sys)
	if err != nil {
		if !ruled {
			panic(fmt.Sprintf("job: %s: default %q: %v", f.Path, text, err))
		}
		r.add(0, path, wrong("rule", words.Args{"rule": f.Rule, "value": text, "why": err.Error()}))
		return
	}
	if q, ok := v.(quantity.Quantity); ok {
		q.Basis = quantity.Assumed
		v = q
	}
	r.put(path, v, from)
}

// raiseNight keeps an assumed night maximum from standing below the pressure found by
// day: the highest of the night is never less than that.
func (r *reader) raiseNight() {
	night := &r.job.Supply.NightMax
	if _, given := r.entries["supply.night-maximum"]; !given && night.V < r.job.Supply.Static.V {
		night.V = r.job.Supply.Static.V
	}
}

// meterSpread is what a day's use off two readings is not known to: a month is not a year.
const meterSpread = 0.1

// readMeter takes what a person uses in a day from two readings of the home's meter, where
// the job does not state it. Faulty readings are told elsewhere.
func (r *reader) readMeter() {
	m, h := &r.job.Home.Meter, &r.job.Home
	if r.given("home.use") || !r.given("home.meter.second") || !r.sound("home.meter.first", "home.meter.second", "home.meter.first-date", "home.meter.second-date", "home.people") {
		return
	}
	if use, ok := m.each(float64(h.People.V)); ok {
		h.Use = use
	}
}

// each is what one of so many people uses in a day, by two readings; ok is false where they
// do not tell it.
func (m *Meter) each(people float64) (use quantity.Val[quantity.Volume], ok bool) {
	days := daysBetween(m.FirstDate, m.SecondDate)
	v := float64(m.Second.V-m.First.V) / days / people
	if !(days > 0 && v > 0) || math.IsInf(v, 1) {
		return use, false
	}
	return quantity.Val[quantity.Volume]{V: quantity.Volume(v), Half: quantity.Volume(meterSpread * v), Basis: quantity.Measured, From: FromMeter}, true
}

// Metered is what a person uses in a day by the home's own meter, whatever home.use states; ok
// is false where no two readings tell it.
func (j *Job) Metered() (use quantity.Val[quantity.Volume], ok bool) {
	return j.Home.Meter.each(float64(j.Home.People.V))
}

// daysBetween is how many days lie between two dates; 0 where one is none.
func daysBetween(first, second string) float64 {
	a, err1 := time.Parse(time.DateOnly, first)
	b, err2 := time.Parse(time.DateOnly, second)
	if err1 != nil || err2 != nil {
		return 0
	}
	return b.Sub(a).Hours() / 24
}

// assumeSame takes the value, or a share of it, of another field. From names that
// field: the two are one guess, and With moves them together.
func (r *reader) assumeSame(f Field, path string) {
	to := plan()[f.Path]
	source := plan()[f.Same]
	place, other := to.at(r.job, r.job.item(path)), source.at(r.job, -1)
	if to.dim == quantity.NoDim {
		place.Set(other)
		return
	}
	q := source.quantityAt(other)
	q.Basis = quantity.Assumed
	q.SI, q.Half = q.SI*f.share1(), q.Half*f.share1()
	setQuantity(place, q, f.Same)
}

// share1 is the share of Same's value that is taken.
func (f Field) share1() float64 {
	if f.Share == 0 {
		return 1
	}
	return f.Share
}

// Taken resolves a word nobody knows: the value of a choice or row field, with
// "unknown" replaced by what it is taken as ("none" for a non-return valve). The job
// keeps "unknown", so that a finding can say it.
func (j *Job) Taken(path string) string {
	l, ok := plan()[starred(path)]
	if !ok || l.dim != quantity.NoDim {
		panic("job: Taken: " + path + ": not a choice of the format")
	}
	text := l.at(j, j.item(path)).String()
	if f, _ := FieldFor(path); text == "unknown" && f.Unknown != "" {
		return f.Unknown
	}
	return text
}
