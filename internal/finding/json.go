package finding

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"

	"tideover/internal/calc"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// The JSON form of findings. It is stable: fields may be added, none is renamed or
// changes its meaning, and a reader ignores what it does not know.
type (
	jsonFinding struct {
		ID       string             `json:"id"`
		Key      string             `json:"key"` // id, where and mode, with "/" between
		Area     string             `json:"area"`
		Where    string             `json:"where"`
		Mode     string             `json:"mode"`
		Verdict  string             `json:"verdict"`
		Rank     int                `json:"rank"`
		Title    string             `json:"title"`
		Sentence string             `json:"sentence"`
		Figure   *jsonQuantity      `json:"figure"` // null: nothing measured or worked out
		Limit    *jsonQuantity      `json:"limit"`
		Margin   *jsonQuantity      `json:"margin"`
		Sense    string             `json:"sense"`  // "at-least", "at-most", ""
		Stands   *float64           `json:"stands"` // share of the range tried, 0..1; null: not run again
		Held     *int               `json:"held"`   // in so many of them the verdict was the same
		Tried    *int               `json:"tried"`
		Close    bool               `json:"close"`               // fine as worked out, and too close to call
		Best     bool               `json:"best-case,omitempty"` // fine in the best case; what tells whether it is was not measured
		Args     map[string]jsonArg `json:"args"`
		Names    map[string]string  `json:"names"`
		Source   string             `json:"source"`
		Standing string             `json:"standing,omitempty"` // rule, recommendation, borrowed, default, told
		Moves    []string           `json:"moves"`
		Remedies []jsonRemedy       `json:"remedies"`
		Calc     []jsonStep         `json:"calculation"`
	}
	jsonArg      = *jsonQuantity
	jsonQuantity struct {
		Dim   string   `json:"dimension"`
		SI    *float64 `json:"si"`   // null when it is not finite; text then says so
		Half  *float64 `json:"half"` // null when it is not finite
		Basis string   `json:"basis"`
		Text  string   `json:"text"` // as printed everywhere else
	}
	jsonRemedy struct {
		Edits   []jsonEdit    `json:"edits"`
		Does    string        `json:"does"` // what is to be done, in words
		Figure  *jsonQuantity `json:"figure"`
		Verdict string        `json:"verdict"`
		Then    string        `json:"then"`  // what comes of it in words, where no figure says it
		Close   bool          `json:"close"` // with little room
		Worse   []string      `json:"worse"`
		Short   []string      `json:"short"` // keys of findings about the same danger that must be fixed all the same
		Needs   []string      `json:"needs"` // who must sign, what must be done beside it
		Open    []string      `json:"open"`  // what it was not held to
	}
	jsonEdit struct {
		Op   string `json:"op"`
		Path string `json:"path"`
		Text string `json:"text"`
	}
	jsonStep struct {
		Equation string     `json:"equation,omitempty"`
		Formula  string     `json:"formula,omitempty"`
		Args     []jsonTerm `json:"args,omitempty"`
		Result   *jsonTerm  `json:"result,omitempty"`
		Part     string     `json:"part,omitempty"`
		Note     string     `json:"note,omitempty"`
		Before   *float64   `json:"before,omitempty"` // head, m
		After    *float64   `json:"after,omitempty"`  // head, m
	}
	jsonTerm struct {
		Symbol string   `json:"symbol"`
		Value  *float64 `json:"value"`
		Unit   string   `json:"unit"`
	}
)

// JSON returns findings, in the order given, as one JSON array.
func JSON(list []Finding, sys quantity.System) (json.RawMessage, error) {
	out := make([]jsonFinding, len(list))
	for i := range list {
		out[i] = list[i].json(sys)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(out); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

func (f *Finding) json(sys quantity.System) jsonFinding {
	j := jsonFinding{
		ID: f.ID, Key: slashed(f.Key()), Area: f.Area, Where: f.Where, Mode: f.Mode,
		Verdict: f.Verdict.ID(), Close: f.Close, Best: f.Best, Rank: f.Rank, Source: f.Source, Standing: f.Standing,
		Figure: spelled(f.Figure, sys), Limit: spelled(f.Limit, sys), Margin: spelled(f.Margin(), sys),
		Sense: [...]string{"", "at-least", "at-most"}[f.Sense],
		Args:  map[string]jsonArg{}, Names: map[string]string{}, Moves: append([]string{}, f.Moves...),
		Remedies: []jsonRemedy{}, Calc: []jsonStep{},
	}
	if j.Figure != nil && j.Limit != nil {
		j.Figure.Text, j.Limit.Text = quantity.FormatApart(f.Figure, f.Limit, sys)
	}
	j.Title, j.Sentence = Text(f, sys)
	if share, ok := f.Stands(); ok {
		j.Stands, j.Held, j.Tried = &share, &f.Held, &f.Tried
	}
	args := f.places(sys)
	for place := range f.Names {
		j.Names[place] = args[place]
	}
	for place, q := range f.Args {
		j.Args[place] = spelled(q, sys)
	}
	for i := range f.Remedies {
		j.Remedies = append(j.Remedies, f.Remedies[i].json(sys))
	}
	for _, st := range f.Calc {
		j.Calc = append(j.Calc, stepJSON(st))
	}
	return j
}

func slashed(key string) string { return strings.ReplaceAll(key, "\x00", "/") }

// spelled returns nil for a quantity that is none.
func spelled(q quantity.Quantity, sys quantity.System) *jsonQuantity {
	if q.Dim == quantity.NoDim {
		return nil
	}
	basis := [...]string{quantity.Assumed: "assumed", quantity.Stated: "stated", quantity.Measured: "measured", quantity.Derived: "derived"}
	return &jsonQuantity{Dim: q.Dim.Key(), SI: finite(q.SI), Half: finite(q.Half), Basis: basis[q.Basis], Text: quantity.Format(q, sys)}
}

func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

func (r *Remedy) json(sys quantity.System) jsonRemedy {
	ops := [...]string{job.Set: "set", job.Unset: "unset", job.Insert: "insert", job.Remove: "remove"}
	j := jsonRemedy{Figure: spelled(r.Figure, sys), Verdict: r.Verdict.ID(), Close: r.Close, Worse: []string{}, Short: []string{}, Does: r.Does(), Then: r.Then,
		Needs: append([]string{}, r.Needs...), Open: append([]string{}, r.Open...)}
	for _, e := range r.Edits {
		j.Edits = append(j.Edits, jsonEdit{ops[e.Op], e.Path, e.Text})
	}
	for _, key := range r.Worse {
		j.Worse = append(j.Worse, slashed(key))
	}
	for _, key := range r.Short {
		j.Short = append(j.Short, slashed(key))
	}
	return j
}

func stepJSON(st calc.Step) jsonStep {
	if st.Key == "" {
		return jsonStep{Part: st.Part, Note: st.Note, Before: &st.Before, After: &st.After}
	}
	e := calc.Lookup(st.Key)
	j := jsonStep{Equation: st.Key, Formula: e.Formula, Result: &jsonTerm{e.Result.Name, finite(st.Result), e.Result.Unit}}
	for i, a := range e.Args {
		j.Args = append(j.Args, jsonTerm{a.Name, finite(st.Args[i]), a.Unit})
	}
	return j
}
