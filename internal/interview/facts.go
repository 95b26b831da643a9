package interview

import (
	"math"
	"strconv"

	"tideover/internal/job"
	"tideover/internal/quantity"
)

// fact is what an answer came to.
type fact struct {
	text    string // as kept
	told    bool   // somebody answered
	unknown bool   // somebody was asked and does not know
}

// facts are the answers with what is taken for those that lack.
type facts struct {
	of  map[string]fact
	sys quantity.System
}

// read checks every answer and takes the ordinary value for those nobody was asked for,
// the cautious one for those nobody knows. The error is the first that does not pass.
func (v *Interview) read(a Answers) (*facts, error) {
	f := &facts{of: map[string]fact{}}
	units := a["units"]
	if units == "" || units == Unknown {
		units = "metric"
	}
	sys, err := quantity.ParseSystem(units)
	if err != nil {
		return nil, err
	}
	f.sys = sys
	for id := range a {
		if _, known := v.Find(id); !known {
			return nil, unasked(id)
		}
	}
	for _, q := range v.all {
		text, err := q.Check(a[q.ID], sys)
		if err != nil {
			return nil, &Fault{Question: q.ID, Err: err}
		}
		switch text {
		case "":
			f.of[q.ID] = fact{text: q.Ordinary}
		case Unknown:
			f.of[q.ID] = fact{text: q.Cautious, unknown: true}
		default:
			f.of[q.ID] = fact{text: text, told: true}
		}
	}
	return f, nil
}

// text is what an answer came to.
func (f *facts) text(id string) string { return f.of[id].text }

// told reports whether somebody answered.
func (f *facts) told(id string) bool { return f.of[id].told }

// whole is a whole number. The texts passed Check.
func (f *facts) whole(id string) int {
	n, _ := strconv.ParseFloat(f.of[id].text, 64)
	return int(n)
}

// si is a quantity in SI. The texts passed Check, or are our own.
func (f *facts) si(id string, dim quantity.Dim) float64 {
	v, err := quantity.Parse(f.of[id].text, dim, f.sys)
	if err != nil {
		return math.NaN()
	}
	return v.SI
}

// each is what one person uses in a day: of the whole home's use where somebody told it, else what
// the job file will take where it says nothing, as the profile has it. [m³]
func (v *Interview) each(f *facts) float64 {
	if f.told("use") {
		return f.si("use", quantity.VolumeDim) / float64(f.whole("people"))
	}
	field, _ := job.FieldFor("home.use")
	text, profile := field.DefaultIn(f.sys), v.rows.Profiles[f.text("profile")]
	if r := profile.Rule("use-per-person"); r.Set {
		text = r.Text
	}
	use, err := quantity.Parse(text, quantity.VolumeDim, f.sys)
	if err != nil {
		return math.NaN()
	}
	return use.SI
}

// pressures are what people mean who have no gauge. [Pa] Judgement; the spread is wide.
var pressures = map[string][2]float64{"weak": {1e5, 0.6e5}, "good": {2.5e5, 0.8e5}, "strong": {4e5, 1e5}}

// pressure is the main's static pressure and its half-width, and whether it was read.
func (f *facts) pressure() (si, half float64, read bool) {
	if p, word := pressures[f.text("pressure")]; word {
		return p[0], p[1], false
	}
	return f.si("pressure", quantity.PressureDim), 0, true
}

// storeys is how many floors have taps.
func (f *facts) storeys() int {
	return map[string]int{"one": 1, "two": 2, "three": 3}[f.text("storeys")]
}

// Heights, in metres above the ground at the house: assumptions a fitter can correct.
const (
	storey   = 2.8 // floor to floor
	head     = 2.1 // of a shower above its floor
	rim      = 0.9 // of a basin
	cistern  = 0.8 // of a WC
	sink     = 1.1 // of a kitchen tap
	hose     = 0.6 // of a garden tap
	roofOver = 0.3 // of a flat roof above the last storey's ceiling
)

// highest is the height of the highest shower. [m]
func (f *facts) highest() float64 { return float64(f.storeys()-1)*storey + head }
