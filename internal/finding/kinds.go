package finding

import (
	"slices"
	"sort"
)

// Kind describes one id a finding can have: where it belongs, how much it matters to
// the people in the home, and which verdicts it can come to. Every pair of id and
// verdict has its message; a test walks the table.
type Kind struct {
	ID       string
	Area     string    // "survey", "store", "pump-and-pipe", "valves", "power", "hand-over"
	Rank     int       // 0 hurts somebody … 9 a matter of care
	Verdicts []Verdict // those it can come to
}

var (
	mayFix  = []Verdict{NotJudged, Fine, LookAt, MustFix}
	mayLook = []Verdict{NotJudged, Fine, LookAt}
)

// kinds is the whole table. Must fix is kept for what hurts somebody or does not work,
// so only those ids list it.
var kinds = []Kind{
	{"vented-heater-boosted", "survey", 0, []Verdict{Fine, MustFix}},
	{"heater-rating", "survey", 0, mayFix},
	{"heater-room", "survey", 2, mayLook},
	{"heater-flow", "survey", 5, mayLook},
	{"heater-swing", "pump-and-pipe", 6, []Verdict{Fine, LookAt}},
	{"heater-boost", "survey", 9, []Verdict{Fine}},
	{"backflow-device", "valves", 1, []Verdict{NotJudged, Fine, MustFix}},
	{"outlet-backflow", "valves", 1, mayFix},
	{"not-drinking-water", "store", 0, []Verdict{LookAt, MustFix}},
	{"by-pass-consent", "valves", 1, []Verdict{Fine, LookAt, MustFix}},
	{"booster-consent", "valves", 1, []Verdict{Fine, LookAt, MustFix}},
	{"floor-load", "store", 0, []Verdict{Fine, MustFix}},
	{"bearing", "store", 1, mayFix},
	{"air-gap", "store", 1, mayFix},
	{"boil-notice", "valves", 2, []Verdict{NotJudged, Fine, LookAt}},
	{"rest-pressure", "pump-and-pipe", 2, []Verdict{NotJudged, Fine, MustFix}},
	{"circuit-undetermined", "pump-and-pipe", 2, []Verdict{NotJudged}},
	{"outlet-flow", "pump-and-pipe", 3, []Verdict{Fine, LookAt, MustFix}},
	{"pump-start", "pump-and-pipe", 3, []Verdict{Fine, MustFix}},
	{"lift-start", "pump-and-pipe", 3, []Verdict{Fine, MustFix}},
	{"header-fill", "pump-and-pipe", 3, []Verdict{Fine, LookAt, MustFix}},
	{"pump-stop", "pump-and-pipe", 3, []Verdict{Fine, LookAt, MustFix}},
	{"turnover", "store", 3, mayFix},
	{"routine", "store", 8, []Verdict{Fine, LookAt}},
	{"npsh", "pump-and-pipe", 4, mayFix},
	{"pump-worn", "pump-and-pipe", 6, []Verdict{Fine, LookAt}},
	{"pump-plate", "pump-and-pipe", 6, []Verdict{Fine, LookAt}},
	{"service-fault", "survey", 3, []Verdict{Fine, LookAt}},
	{"service-rest", "survey", 4, []Verdict{Fine, LookAt}},
	{"need", "survey", 5, mayLook},
	{"signatures", "hand-over", 6, []Verdict{Fine, LookAt, MustFix}},
	{"flow-test", "survey", 4, []Verdict{NotJudged, Fine}},
	{"outlet-peak", "survey", 4, []Verdict{Fine, LookAt, MustFix}},
	{"main-alone", "survey", 5, []Verdict{LookAt}},
	{"carry-time", "store", 4, mayLook},
	{"carry-lived", "store", 4, mayLook},
	{"ride-through", "store", 4, mayLook},
	{"water-age", "store", 3, mayFix},
	{"store-residual", "store", 5, mayLook},
	{"store-standing", "store", 5, mayLook},
	{"store-warm", "store", 5, mayLook},
	{"store-freeze", "store", 6, mayLook},
	{"size-window", "store", 5, []Verdict{NotJudged, Fine, LookAt}},
	{"log-fit", "store", 5, mayLook},
	{"seasons-hopeless", "store", 1, []Verdict{MustFix}},
	{"home-use", "survey", 6, []Verdict{Fine, LookAt}},
	{"one-store-fewer", "store", 8, mayLook},
	{"refill", "store", 5, []Verdict{Fine, LookAt, MustFix}},
	{"refill-time", "store", 6, mayLook},
	{"refill-slots", "store", 4, []Verdict{Fine, LookAt, MustFix}},
	{"hand-delay", "valves", 5, mayLook},
	{"peak-by-hand", "valves", 5, []Verdict{Fine, LookAt}},
	{"power-out", "power", 5, mayLook},
	{"outlet-together", "pump-and-pipe", 6, mayLook},
	{"outlet-pressure", "pump-and-pipe", 6, []Verdict{Fine, LookAt}},
	{"pump-duty", "pump-and-pipe", 7, mayLook},
	{"hunting", "valves", 7, []Verdict{Fine, LookAt}},
	{"cut-out-trips", "pump-and-pipe", 5, []Verdict{Fine, LookAt}},
	{"refill-takes-main", "store", 7, []Verdict{Fine, LookAt}},
	{"swing", "pump-and-pipe", 7, mayLook},
	{"rest-outlet", "pump-and-pipe", 7, mayLook},
	{"starts", "pump-and-pipe", 8, mayLook},
	{"day-dry", "store", 5, []Verdict{Fine, LookAt}},
	{"day-empty", "store", 5, []Verdict{Fine, LookAt}},
	{"day-refill", "store", 6, []Verdict{Fine, LookAt}},
	{"day-hunting", "valves", 7, []Verdict{Fine, LookAt}},
	{"day-starts", "pump-and-pipe", 8, mayLook},
	{"velocity", "pump-and-pipe", 9, mayLook},
	{"surge", "pump-and-pipe", 8, mayLook},
	{"surge-pump", "pump-and-pipe", 8, mayLook},
	{"promise-main-clean", "valves", 0, mayFix},
	{"promise-no-draught", "valves", 1, mayFix},
	{"promise-heater-boosted", "survey", 0, mayFix},
	{"promise-ratings", "pump-and-pipe", 2, mayFix},
	{"promise-expansion", "valves", 1, mayFix},
	{"promise-overflow", "store", 1, mayFix},
	{"promise-notice-shut", "valves", 1, mayFix},
	{"promise-no-loop", "valves", 7, mayLook},
	{"promise-not-dry", "pump-and-pipe", 7, mayLook},
	{"promise-not-dead-headed", "pump-and-pipe", 7, mayLook},
	{"promise-takes-main", "valves", 7, mayLook},
	{"promise-no-hunting", "valves", 7, mayLook},
	{"promise-no-chatter", "pump-and-pipe", 7, mayLook},
	{"promise-mixer", "valves", 2, mayFix},
	{"promise-served", "power", 4, mayLook},
	{"promise-store-cleaned", "store", 7, mayLook},
	{"promise-not-backwards", "pump-and-pipe", 7, mayLook},
	{"promise-isolated", "valves", 7, mayLook},
	{"pump-current", "power", 6, []Verdict{NotJudged}},
	{"battery", "power", 7, mayLook},
	{"pressure-test", "hand-over", 6, mayLook},
	{"bottle", "hand-over", 6, []Verdict{LookAt}},
	{"disinfect-regime", "hand-over", 2, []Verdict{NotJudged, Fine}},
	{"disinfect-left", "hand-over", 2, []Verdict{NotJudged}},
	{"overflow-margin", "store", 8, []Verdict{NotJudged}},
	{"disinfect-dose", "hand-over", 2, mayLook},
	{"tower", "store", 3, []Verdict{Fine, LookAt}},
	{"check-reversed", "valves", 1, []Verdict{MustFix}},
	{"check-untested", "valves", 6, []Verdict{LookAt}},
	{"frost-pipes", "pump-and-pipe", 6, mayLook},
	{"existing-unplaced", "survey", 6, []Verdict{LookAt}},
}

// asked are the ids that say whether the home gets what somebody asked for: water at its
// taps, through its interruptions, without going back and forth. One of them that is not
// fine, and the plan does not do what it is for, even where nothing must be fixed.
var asked = []string{
	"outlet-flow", "outlet-together", "outlet-peak", "pump-duty", "pump-start", "pump-stop", "lift-start", "header-fill",
	"carry-time", "carry-lived", "ride-through", "seasons-hopeless", "size-window",
	"refill-time", "refill-slots", "day-dry", "day-empty", "day-refill",
	"hunting", "day-hunting", "cut-out-trips", "refill-takes-main", "promise-served", "promise-no-hunting", "promise-takes-main",
}

// Unmet returns the findings that say that something asked for is not met, in their order.
func Unmet(list []Finding) []*Finding {
	var out []*Finding
	for i := range list {
		if f := &list[i]; (f.Verdict == LookAt || f.Verdict == MustFix) && slices.Contains(asked, f.ID) {
			out = append(out, f)
		}
	}
	return out
}

// Kinds returns the table ordered by id.
func Kinds() []Kind {
	list := append([]Kind(nil), kinds...)
	sort.Slice(list, func(i, j int) bool { return list[i].ID < list[j].ID })
	return list
}

// KindOf returns the entry of an id. It panics when there is none: an id is given in
// code, never read from a file.
func KindOf(id string) Kind {
	k, known := kindByID[id]
	if !known {
		panic("finding: " + id + ": not in the table of kinds")
	}
	return *k
}

// kindByID is the table by its keys.
var kindByID = func() map[string]*Kind {
	m := make(map[string]*Kind, len(kinds))
	for i := range kinds {
		m[kinds[i].ID] = &kinds[i]
	}
	return m
}()

// matters lists kinds below harm and service that still decide whether the home is served.
var matters = map[string]bool{"pump-duty": true}

// comfort lists kinds that rank with service and are a matter of comfort or care.
var comfort = map[string]bool{"outlet-pressure": true, "outlet-together": true, "home-use": true, "pump-plate": true}

// weighsTo is the last rank at which harm or service hangs on a finding.
const weighsTo = 6

// Weighs reports whether harm or service hangs on a finding of the kind: then fine is only
// said where it has room. Of any other, a fine line is marked.
func (k Kind) Weighs() bool { return k.Rank <= weighsTo && !comfort[k.ID] || matters[k.ID] }

// May reports whether the kind can come to verdict v.
func (k Kind) May(v Verdict) bool {
	for _, w := range k.Verdicts {
		if w == v {
			return true
		}
	}
	return false
}
