package job

import (
	"slices"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// require faults required fields that are missing, at the nearest map that is there.
func (r *reader) require(root *entry) {
	if e := r.entries["outlets"]; len(r.job.Outlets) == 0 && (e == nil || len(e.children) == 0) {
		r.missing("outlets", nil, "no-outlets")
	}
	for _, f := range theIndex().fields {
		if !f.Required {
			continue
		}
		for _, path := range r.job.paths(f.Path) {
			if _, given := r.entries[path]; given {
				continue
			}
			_, tag := split(parentOf(path))
			switch f.Path {
			case "outlets.*.distance":
				r.missing(path, words.Args{"tag": tag}, "outlet-unjoined")
			case "outlets.*.kind":
				r.missing(path, words.Args{"tag": tag}, "outlet-no-kind")
			default:
				r.missing(path, words.Args{"path": path}, "missing")
			}
		}
	}
}

func parentOf(path string) string { p, _ := split(path); return p }

// missing faults the absence of path at its nearest parent in the file.
func (r *reader) missing(path string, args words.Args, id string) {
	if r.isMeant(path) {
		return
	}
	at := -1
	for p := parentOf(path); p != ""; p = parentOf(p) {
		if e := r.entries[p]; e != nil {
			at = e.at
			break
		}
	}
	err := wrong(id, args)
	if f, ok := FieldFor(path); ok {
		err.Accept = f.accepts(r.sys)
	}
	r.add(max(at, 0), path, err)
	if at < 0 && !r.more {
		r.faults[len(r.faults)-1].Excerpt = "" // of the file as a whole, not of its first line
	}
}

// isMeant reports whether a faulty key or map of the file stands for path.
func (r *reader) isMeant(path string) bool {
	for _, m := range r.meant {
		if m != "" && (path == m || strings.HasPrefix(path, m+".")) {
			return true
		}
	}
	return false
}

// crossCheck faults what two fields together cannot mean. Each check is skipped when a
// field it reads has a fault of its own.
func (r *reader) crossCheck() {
	r.checkFlowTest()
	r.checkPeak()
	r.checkPeakOpen()
	r.checkNight()
	if r.given("choices.pump.measured.flow") || r.given("choices.pump.measured.pressure") {
		r.together("plate-reading", "choices.pump.measured.greatest-head", "choices.pump.measured.greatest-flow", "choices.pump.measured.flow", "choices.pump.measured.pressure")
	}
	r.checkOrder("choices.pump.cut-in", "choices.pump.cut-out", "switch-order")
	r.checkOrder("choices.lock-out.low", "choices.lock-out.high", "lock-out-order")
	r.checkMeter()
	if r.given("home.saves-at") || r.given("home.saves-hard-at") {
		if at, hard := r.si("home.saves-at"), r.si("home.saves-hard-at"); r.sound("home.saves-at", "home.saves-hard-at") && hard.SI > at.SI {
			at, path := r.at("home.saves-hard-at", "home.saves-at")
			r.add(at, path, wrong("saves-order", words.Args{"at": r.show("home.saves-at"), "hard": r.show("home.saves-hard-at")}))
		}
	}
	r.checkRoutine()
	r.checkExisting()
	r.checkAdded()
	r.checkFree()
}

// checkRoutine: a routine comes at most once a day, and ends before the next begins.
func (r *reader) checkRoutine() {
	const every, lasts = "choices.store.exercise", "choices.store.exercise-for"
	if !r.given(every) || !r.sound(every, lasts) {
		return
	}
	e := r.si(every)
	if e.SI > 0 && (e.SI < day || e.SI <= r.si(lasts).SI) {
		at, path := r.at(every)
		r.add(at, path, wrong("routine-order", words.Args{"every": r.show(every), "for": r.show(lasts)}))
	}
}

// checkMeter: two readings, each with its day, the second the later and the higher.
func (r *reader) checkMeter() {
	const first, second = "home.meter.first", "home.meter.second"
	if !r.given(first) && !r.given(second) && !r.given(first+"-date") && !r.given(second+"-date") {
		return
	}
	if !r.together("meter-part", first, first+"-date", second, second+"-date") || !r.sound(first, first+"-date", second, second+"-date") {
		return
	}
	m := &r.job.Home.Meter
	if daysBetween(m.FirstDate, m.SecondDate) <= 0 {
		r.add(r.entries[second+"-date"].value, second+"-date", wrong("meter-dates", words.Args{"first": m.FirstDate, "second": m.SecondDate}))
	}
	if r.si(second).SI <= r.si(first).SI {
		r.add(r.entries[second].value, second, wrong("meter-order", words.Args{"first": r.show(first), "second": r.show(second)}))
	}
}

// given reports whether a field is in the file.
func (r *reader) given(path string) bool { return r.entries[path] != nil }

// sound reports whether none of the paths has a fault yet.
func (r *reader) sound(paths ...string) bool {
	for _, f := range r.faults {
		for _, p := range paths {
			if f.Path == p {
				return false
			}
		}
	}
	return true
}

// at is where to fault the first of the paths that is in the file.
func (r *reader) at(paths ...string) (int, string) {
	for _, p := range paths {
		if e := r.entries[p]; e != nil {
			return e.value, p
		}
	}
	return 0, paths[0]
}

// show prints the quantity of a path in the reader's units.
func (r *reader) show(path string) string {
	l := plan()[starred(path)]
	return quantity.Format(l.quantityAt(l.at(r.job, r.job.item(path))), r.sys)
}

// si is the value of a quantity path.
func (r *reader) si(path string) quantity.Quantity {
	l := plan()[path]
	return l.quantityAt(l.at(r.job, -1))
}

// together faults a group of fields of which some are given and some are not.
func (r *reader) together(id string, paths ...string) bool {
	var have, lack []string
	for _, p := range paths {
		if r.given(p) {
			have = append(have, p)
		} else {
			lack = append(lack, p)
		}
	}
	if len(have) == 0 || len(lack) == 0 {
		return len(lack) == 0
	}
	at := r.entries[have[0]].at
	r.add(at, have[0], &valueError{ID: id, Args: words.Args{"have": strings.Join(have, ", "), "lack": strings.Join(lack, ", ")}})
	return false
}

// checkFlowTest: two rates, each with its pressure, the second the higher flow and, as
// the main loses pressure with flow, not the higher pressure.
func (r *reader) checkFlowTest() {
	const p = "supply.flow-test."
	all := []string{p + "low-flow", p + "low-pressure", p + "high-flow", p + "high-pressure"}
	if !r.together("flow-test-part", all...) || !r.sound(append(all, "supply.static")...) || !r.given("supply.static") {
		return
	}
	static, low, high := r.si("supply.static"), r.si(all[1]), r.si(all[3])
	if !(r.si(all[0]).SI < r.si(all[2]).SI) {
		r.add(r.entries[all[2]].value, all[2], wrong("flow-test-order", words.Args{"low": r.show(all[0]), "high": r.show(all[2])}))
	}
	if high.SI-high.Half > low.SI+low.Half {
		r.add(r.entries[all[3]].value, all[3], wrong("flow-test-rise", words.Args{"with": r.show(all[3]), "without": r.show(all[1])}))
	}
	if low.SI-low.Half > static.SI+static.Half {
		r.add(r.entries[all[1]].value, all[1], wrong("flow-test-rise", words.Args{"with": r.show(all[1]), "without": r.show("supply.static")}))
	}
}

// checkPeak: hours have two ends, and a sag has hours.
func (r *reader) checkPeak() {
	const from, to, sag = "supply.peak.from", "supply.peak.to", "supply.peak.pressure"
	r.together("peak-part", sag, from, to)
	if r.given(from) && r.given(to) && r.sound(from, to) && !HoursOf(r.job.Supply.PeakFrom, r.job.Supply.PeakTo).Told() {
		r.add(r.entries[to].value, to, wrong("peak-empty", words.Args{"at": r.job.Supply.PeakTo.String()}))
	}
	if s, p := r.si("supply.static"), r.si(sag); r.given(sag) && r.given("supply.static") && r.sound(sag, "supply.static") && p.SI-p.Half > s.SI+s.Half {
		r.add(r.entries[sag].value, sag, wrong("peak-above", words.Args{"peak": r.show(sag), "static": r.show("supply.static")}))
	}
}

// checkPeakOpen: a second reading in the worst hours is a flow and a pressure, beside a first, at more
// flow and no more pressure.
func (r *reader) checkPeakOpen() {
	const sag, drawn, flow, open = "supply.peak.pressure", "supply.peak.flow", "supply.peak.open-flow", "supply.peak.open-pressure"
	r.together("peak-open-part", flow, open)
	if !r.given(flow) || !r.given(open) || !r.sound(flow, open) {
		return
	}
	switch first, second := r.si(sag), r.si(open); {
	case !r.given(sag) || !r.sound(sag, drawn):
		r.add(r.entries[open].value, open, wrong("peak-open-alone", nil))
	case !(r.si(flow).SI > r.si(drawn).SI):
		r.add(r.entries[flow].value, flow, wrong("peak-open-flow", words.Args{"open": r.show(flow), "first": r.show(drawn)}))
	case second.SI-second.Half > first.SI+first.Half:
		r.add(r.entries[open].value, open, wrong("peak-open-rise", words.Args{"open": r.show(open), "first": r.show(sag)}))
	}
}

// checkNight: the highest pressure of the night is not below the one found by day.
func (r *reader) checkNight() {
	const path = "supply.night-maximum"
	night, static := r.si(path), r.si("supply.static")
	if r.given(path) && r.given("supply.static") && r.sound(path, "supply.static") && night.SI+night.Half < static.SI-static.Half {
		r.add(r.entries[path].value, path, wrong("night-below", words.Args{"night": r.show(path), "static": r.show("supply.static")}))
	}
}

// checkOrder: low stands below high; one of them may be assumed.
func (r *reader) checkOrder(low, high, id string) {
	if !r.given(low) && !r.given(high) || !r.sound(low, high) || r.si(low).SI < r.si(high).SI {
		return
	}
	at, path := r.at(high, low)
	r.add(at, path, wrong(id, words.Args{"low": r.show(low), "high": r.show(high)}))
}

// kindTables are the catalogue tables of existing parts by kind.
var kindTables = map[string]string{
	"store": "stores", "pump": "pumps", "vessel": "vessels", "float-valve": "floats", "hand-valve": "valves",
	"non-return": "non-returns", "strainer": "valves", "meter": "valves", "heater": "heaters", "pipe": "pipes", "drain": "valves", "regulator": "regulators",
}

// checkAdded: a row is of the table of its kind.
func (r *reader) checkAdded() {
	for _, x := range r.job.Added {
		r.checkKindRow("added."+x.Tag+".row", kindTables[x.Kind], x.Row)
	}
}

// checkKindRow: a row is of a table, where both are known.
func (r *reader) checkKindRow(path, table, key string) {
	if r.options.Rows == nil || !r.given(path) || table == "" || !r.sound(path) {
		return
	}
	f := Field{Table: table}
	if ok, near := r.options.Rows(table, key); !ok {
		r.add(r.entries[path].value, path, &valueError{ID: "no-row",
			Args: words.Args{"value": key, "table": table}, Accept: f.acceptRow(), Nearest: near})
	}
}

// checkExisting: a row is of the table of its kind, a photo is one of the job's.
func (r *reader) checkExisting() {
	photos := r.job.items("photos")
	for _, x := range r.job.Existing {
		row, photo := "existing."+x.Tag+".row", "existing."+x.Tag+".photo"
		r.checkKindRow(row, kindTables[x.Kind], x.Row)
		if r.given(photo) && r.sound(photo) && !slices.Contains(photos, x.Photo) {
			r.add(r.entries[photo].value, photo, &valueError{ID: "no-photo",
				Args: words.Args{"photo": x.Photo}, Nearest: nearest(x.Photo, photos)})
		}
	}
}
