package interview

import (
	"fmt"
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// write makes the job file of facts and plan, in the order of the survey.
func (v *Interview) write(f *facts, p *plan) *file {
	out := &file{sys: f.sys}
	for _, line := range []string{"ask.head.1", "ask.head.2", "ask.head.3"} {
		fmt.Fprintf(&out.b, "# %s\n", words.Say(line, nil))
	}
	out.put("format", "1", "")
	out.put("name", quoted(f.text("name")), "")
	out.put("units", f.sys.String(), "")
	out.put("profile", f.text("profile"), "")
	out.put("date", v.date, "ask.note.date")
	out.put("seed", "1", "")
	w := &writer{file: out, f: f, p: p, each: v.each(f)}
	w.placed()
	w.supply()
	w.failing()
	w.home()
	w.outlets()
	w.pipework()
	w.choices()
	return out
}

// writer is one file with what it is made from.
type writer struct {
	*file
	f *facts
	p *plan

	each float64 // use of one person in a day [m³]
}

// guessed says, of an answer nobody gave, why its value is there.
func (w *writer) guessed(id string) string {
	switch fact := w.f.of[id]; {
	case fact.told:
		return ""
	case fact.unknown:
		return "ask." + id + ".unknown"
	}
	return "ask.note.ordinary"
}

// length writes an answer that is a length.
func (w *writer) length(path, id string, share float64) {
	si := w.f.si(id, quantity.LengthDim)
	if w.f.told(id) {
		w.put(path, plain.Replace(w.f.text(id)), "")
		return
	}
	w.put(path, w.amount(quantity.LengthDim, si, share*max(si, 2), true), w.guessed(id))
}

// asTold writes an answer that is left out where nobody told it.
func (w *writer) asTold(path, id string) {
	if w.f.told(id) {
		w.put(path, plain.Replace(w.f.text(id)), "")
	}
}

// waters are arriving temperatures in the hot season with their half-widths. [°C] Judgement.
var waters = map[string][2]float64{"cold": {8, 4}, "mild": {17, 5}, "hot": {30, 3}}

func (w *writer) placed() {
	t := waters[w.f.text("water")]
	w.put("place.water", w.amount(quantity.TemperatureDim, t[0], t[1], true), "ask.note.water")
	w.put("place.frost", w.f.text("frost"), w.guessed("frost"))
	w.asTold("place.hot-day", "hot-day")
	if ground := w.f.of["ground"]; ground.text != "" && w.f.text("place") != "roof" {
		w.put("place.ground", ground.text, w.guessed("ground"))
	}
}

func (w *writer) supply() {
	si, half, read := w.f.pressure()
	if read {
		w.put("supply.static", plain.Replace(w.f.text("pressure")), "ask.note.static-told")
	} else {
		w.put("supply.static", w.amount(quantity.PressureDim, si, half, true), "ask.note.static")
	}
	if share, weak := map[string]float64{"weaker": 0.35, "nothing": 0}[w.f.text("worst-hours")]; weak {
		w.put("supply.peak.pressure", w.amount(quantity.PressureDim, share*si, 0.1*si, true), "ask.note.peak")
		w.put("supply.peak.from", `"17:30"`, "")
		w.put("supply.peak.to", `"20:30"`, "")
	}
	w.length("supply.service.length", "distance", 0.3)
	w.put("supply.by-pass", w.f.text("joint"), w.guessed("joint"))
	w.asTold("supply.chlorine", "chlorine")
}

// habits are how often the main fails, in the words a job takes. They end in the longest.
var habits = map[string]string{"daily": "about 1 a day, 1 to 4 h", "weekly": "about 2 a week, 3 to 12 h", "monthly": "about 1 a month, 3 to 12 h", "rarely": "about 3 a year, 3 to 12 h"}

// stopping are the shares of the power cuts that stop the main too, in the words of the question.
var stopping = map[string]string{"none": "0", "few": "0.2 ±0.1", "half": "0.5 ±0.2", "most": "0.8 ±0.1", "all": "1"}

func (w *writer) failing() {
	if habit, fails := habits[w.f.text("fails")]; fails {
		long := w.amount(quantity.TimeDim, w.f.si("longest", quantity.TimeDim), 0, false)
		w.put("interruptions.habit", habit+"; "+words.Say("ask.habit.worst", nil)+" to "+long, w.guessed("fails"))
		if w.f.told("back") {
			w.put("interruptions.weak-after", plain.Replace(w.f.text("back")), "")
		}
		if w.f.text("begin") != "" {
			w.put("interruptions.begin", w.f.text("begin"), w.guessed("begin"))
		}
		w.notice()
	}
	if cuts, fails := map[string]string{"rarely": "about 1 a month, 1 to 3 h", "often": "about 3 a week, 1 to 3 h"}[w.f.text("power-cuts")]; fails {
		w.put("interruptions.power-cuts", cuts, w.guessed("power-cuts"))
		if share, told := stopping[w.f.text("takes-water")]; told {
			w.put("interruptions.power-stops-main", share, "")
		}
	}
}

// notice writes whether an interruption brings a boil-water notice, and for how long.
func (w *writer) notice() {
	switch fact := w.f.of["notice"]; {
	case fact.unknown:
		w.put("interruptions.boil-notice", "unknown", w.guessed("notice"))
	case fact.told && w.f.si("notice", quantity.TimeDim) > 0:
		w.put("interruptions.boil-notice", "yes", "")
		w.put("interruptions.notice-lasts", plain.Replace(w.f.text("notice")), "")
	case fact.told:
		w.put("interruptions.boil-notice", "no", "")
	}
}

func (w *writer) home() {
	w.put("consent.tenure", w.f.text("tenure"), w.guessed("tenure"))
	w.length("access.door", "door", 0.1)
	w.put("access.place", w.f.text("place"), w.guessed("place"))
	w.put("access.pump", w.f.text("pump"), "")
	if w.f.told("budget") {
		w.put("budget.most", w.f.text("budget"), "")
	}
	w.put("home.people", strconv.Itoa(w.f.whole("people")), w.guessed("people"))
	if w.f.told("use") {
		w.put("home.use", w.amount(quantity.VolumeDim, w.each, 0.1*w.each, false), "ask.note.use")
		w.put("home.use-rationed", w.f.text("short-then"), w.guessed("short-then"))
	}
	w.length("home.level", "rise", 0.3)
	w.living()
	w.put("home.heater.type", w.f.text("heater"), w.heaterNote())
	switch w.f.text("heater") {
	case "storage-pressure":
		w.put("home.heater.rating", w.amount(quantity.PressureDim, 6e5, 0, true), "ask.note.rating")
		w.put("home.heater.vent", "no", "")
		w.asTold("home.heater.volume", "heater-volume")
	case "instant-gas", "electric-shower": // they have no water that could stand open to the air
		w.put("home.heater.vent", "no", "")
	}
}

// living is who is there when, and what people do once the store is low.
func (w *writer) living() {
	if w.f.text("by-day") == "no" {
		w.put("home.away", `"08:00-18:00"`, w.guessed("by-day"))
	}
	if n := w.f.whole("guests"); n > 0 {
		w.put("home.guests", strconv.Itoa(n), w.guessed("guests"))
		w.put("home.guest-days", "14", "ask.note.guest-days")
	}
	if n := w.f.whole("empty"); n > 0 {
		w.put("home.away-days", strconv.Itoa(n), w.guessed("empty"))
	}
	if w.f.text("saves") == "yes" {
		w.put("home.saves-at", "0.5", "ask.note.saves")
		w.put("home.saves-hard-at", "0.2", "")
	}
}

func (w *writer) heaterNote() string {
	if w.f.of["heater"] == (fact{text: "storage-pressure"}) {
		return "ask.note.heater"
	}
	return w.guessed("heater")
}

// tap writes one outlet.
func (w *writer) tap(tag, kind string, height, distance float64, water string) {
	path := "outlets." + tag + "."
	note := ""
	if len(w.notes) == 0 || w.notes[len(w.notes)-1].ID != "ask.note.taps" {
		note = "ask.note.taps"
	}
	w.put(path+"kind", kind, note)
	w.put(path+"height", w.amount(quantity.LengthDim, height, 0.2, true), "")
	w.put(path+"distance", w.amount(quantity.LengthDim, distance, 0.4*distance, true), "")
	w.put(path+"water", water, "")
}

// outlets are those of an ordinary home: a kitchen, bathrooms from the top floor down, a
// washing machine, a garden tap.
func (w *writer) outlets() {
	hot := "both"
	if w.f.text("heater") == "none" || w.f.text("heater") == "electric-shower" {
		hot = "cold"
	}
	w.tap("kitchen", "kitchen", sink, 5, hot)
	w.tap("washing", "washing-machine", rim, 5, "cold")
	for i := range w.f.whole("bathrooms") {
		floor := max(w.f.storeys()-1-i, 0)
		up, far, mark := float64(floor)*storey, 6+float64(floor)*storey+float64(i), ""
		if i > 0 {
			mark = "-" + strconv.Itoa(i+1)
		}
		w.tap("shower"+mark, "shower", up+head, far+2, hot)
		w.tap("basin"+mark, "basin", up+rim, far+1, hot)
		w.tap("wc"+mark, "wc", up+cistern, far, "cold")
	}
	if w.f.text("garden") == "yes" {
		w.tap("garden", "garden", hose, 8, "cold")
	}
}

func (w *writer) pipework() {
	w.put("pipework.outdoors", w.p.outdoors, "ask.note.pipe")
	w.put("pipework.indoors", w.p.indoors, "")
	if w.p.arrangement == assembly.Raised {
		up := w.p.level - w.f.si("rise", quantity.LengthDim) + 4
		w.put("pipework.tee-to-store", w.amount(quantity.LengthDim, up, 0.3*up, true), "ask.note.up-run")
		w.put("pipework.store-to-home", w.amount(quantity.LengthDim, up, 0.3*up, true), "")
		return
	}
	if w.f.text("place") == "roof" {
		up := float64(w.f.storeys())*storey + 4
		w.put("pipework.tee-to-store", w.amount(quantity.LengthDim, up, 0.3*up, true), "ask.note.roof-run")
		w.put("pipework.pump-to-home", w.amount(quantity.LengthDim, up, 0.3*up, true), "")
	}
}

func (w *writer) choices() {
	p := w.p
	note, high := "ask.note.arrangement", ""
	if p.arrangement == assembly.Raised {
		note, high = "ask.note.raised", "ask.note.high"
	}
	w.put("choices.arrangement", p.arrangement, note)
	w.put("choices.store.row", p.store.Key, "ask.note.store", "longest", w.longest(), "people", strconv.Itoa(w.f.whole("people")))
	w.put("choices.store.count", strconv.Itoa(p.tanks), "")
	w.put("choices.store.level", w.amount(quantity.LengthDim, p.level, 0, true), high)
	w.put("choices.store.stands", w.f.text("stands"), w.guessed("stands"))
	if w.f.text("stands") == "sun" {
		w.put("choices.store.colour", w.f.text("colour"), w.guessed("colour"))
	}
	w.put("choices.store.also", w.f.text("also"), w.guessed("also"))
	w.put("choices.store.overflow", w.amount(quantity.LengthDim, float64(p.store.OverflowBore), 0, false), "ask.note.overflow")
	w.put("choices.store.screen", "wide", "")
	w.put("choices.float", p.float, "ask.note.float")
	if p.arrangement == assembly.Raised {
		w.put("choices.pump.row", "none", "ask.note.no-pump")
		return
	}
	w.put("choices.pump.row", p.pumps[0].Key, "ask.note.pump", "set", w.amount(quantity.PressureDim, p.set, 0, false))
	w.put("choices.pump.control", "speed-control", "")
	w.put("choices.pump.cut-in", w.amount(quantity.PressureDim, p.set-0.4e5, 0, false), "")
	w.put("choices.pump.cut-out", w.amount(quantity.PressureDim, p.set, 0, false), "")
	w.put("choices.vessel.row", "vessel-24", "ask.note.vessel")
}

func (w *writer) longest() string {
	if w.f.text("fails") == "never" {
		return w.amount(quantity.TimeDim, 0, 0, false)
	}
	return w.amount(quantity.TimeDim, w.f.si("longest", quantity.TimeDim), 0, false)
}
