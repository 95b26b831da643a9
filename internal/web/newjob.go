package web

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"

	"tideover/internal/interview"
	"tideover/internal/quantity"
)

// askView is one question of the interview. Its answers travel in the form: nothing is kept
// here before the job is made.
type askView struct {
	frame
	Place    string // "3 of 14"
	ID       string
	Question string
	Hint     string
	Options  []option
	Typed    bool // an answer can be typed
	Whole    bool
	Value    string
	Unknown  string // what not knowing means
	Ordinary string // what no answer takes
	Errors   []string
	First    bool
	Review   bool // only this answer is being changed
	Given    []answer
}

// answer is what was answered so far.
type answer struct{ ID, Question, Text, Value, URL string }

// doneView is what was answered, before the job is made of it.
type doneView struct {
	frame
	Given    []answer
	Problems []noted
}

// asked are the names under which answers travel.
const asked = "a."

// ask shows the interview, one question at a time, by the answers so far.
func (p *Pages) ask(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	v, given := interview.New(p.catalogue, p.today()), answersOf(q)
	id := q.Get("question")
	question, known := v.Find(id)
	step := q.Get("go")
	if !known || step == "" {
		p.put(w, r, v, given, at(v, given, q.Get("at")), "", nil)
		return
	}
	text := strings.TrimSpace(q.Get("typed"))
	if text == "" {
		text = q.Get("option")
	}
	if step == "unknown" {
		text = interview.Unknown
	}
	kept, err := question.Check(text, systemOf(given))
	switch {
	case err == nil:
		given[id] = kept
		if kept == "" {
			delete(given, id)
		}
	case step == "next":
		p.put(w, r, v, given, at(v, given, id), text, []string{err.Error()})
		return
	}
	if q.Get("review") != "" && step != "back" {
		p.answered(w, r, v, given, http.StatusOK, nil)
		return
	}
	next := at(v, given, id) + 1
	if step == "back" {
		next -= 2
	}
	p.put(w, r, v, given, max(next, 0), "", nil)
}

// answersOf reads the answers so far.
func answersOf(q url.Values) interview.Answers {
	given := interview.Answers{}
	for key, list := range q {
		if id, ok := strings.CutPrefix(key, asked); ok && len(list) > 0 && list[0] != "" {
			given[id] = list[0]
		}
	}
	return given
}

// at is the place of a question among those that are asked; the first where it is not.
func at(v *interview.Interview, given interview.Answers, id string) int {
	for i, q := range v.Questions(given) {
		if q.ID == id {
			return i
		}
	}
	return 0
}

func systemOf(given interview.Answers) quantity.System {
	sys, err := quantity.ParseSystem(given["units"])
	if err != nil {
		return quantity.Metric
	}
	return sys
}

// put shows the n-th question, or what was answered where there is none.
func (p *Pages) put(w http.ResponseWriter, r *http.Request, v *interview.Interview, given interview.Answers, n int, typed string, errs []string) {
	list := v.Questions(given)
	if n >= len(list) {
		p.answered(w, r, v, given, http.StatusOK, nil)
		return
	}
	q := list[n]
	view := askView{
		frame: p.frame(r, q.Text()), ID: q.ID, Question: q.Text(), Hint: q.Hint(), Value: typed, Errors: errs, First: n == 0,
		Place: say("web.new.place", "n", quantity.Fixed(float64(n+1), 0), "all", quantity.Fixed(float64(len(list)), 0)),
		Typed: q.Kind != interview.Pick, Whole: q.Kind == interview.Whole, Given: givenSoFar(list, given, q.ID),
	}
	view.Here, view.Error, view.Review = "/new", len(errs) > 0, r.URL.Query().Get("review") != ""
	if q.Cautious != "" {
		view.Unknown = q.IfUnknown()
	}
	view.Ordinary = inWords(q, q.Ordinary)
	if typed == "" && given[q.ID] != interview.Unknown {
		view.Value = given[q.ID]
	}
	for _, o := range q.Options {
		view.Options = append(view.Options, option{Value: o, Label: q.Option(o), Chosen: o == view.Value})
		if o == view.Value {
			view.Value = ""
		}
	}
	status := http.StatusOK
	if len(errs) > 0 {
		status = http.StatusUnprocessableEntity
	}
	show(w, r, status, "ask", view)
}

// givenSoFar lists what was answered but for one question.
func givenSoFar(list []interview.Question, given interview.Answers, but string) []answer {
	var out []answer
	all := url.Values{"review": {"1"}}
	for id, text := range given {
		all.Set(asked+id, text)
	}
	for _, q := range list {
		if q.ID != but {
			all.Set("at", q.ID)
			out = append(out, answer{q.ID, q.Text(), inWords(q, given[q.ID]), given[q.ID], "/new?" + all.Encode()})
		}
	}
	return out
}

// inWords is an answer as it is read.
func inWords(q interview.Question, text string) string {
	for _, o := range q.Options {
		if o == text {
			return q.Option(o)
		}
	}
	switch text {
	case interview.Unknown:
		return q.IfUnknown()
	case "":
		if q.Ordinary == "" {
			return say("web.new.unanswered")
		}
		return say("web.new.ordinary", "value", inWords(q, q.Ordinary))
	}
	return text
}

// answered shows every answer before the job is made.
func (p *Pages) answered(w http.ResponseWriter, r *http.Request, v *interview.Interview, given interview.Answers, status int, problems []noted) {
	view := doneView{frame: p.frame(r, say("web.new.check")), Given: givenSoFar(v.Questions(given), given, ""), Problems: problems}
	view.Here, view.Error = "/new", len(problems) > 0
	show(w, r, status, "asked", view)
}

// makeJob makes the job of the answers.
func (p *Pages) makeJob(w http.ResponseWriter, r *http.Request) {
	if !p.form(w, r) {
		return
	}
	v, given := interview.New(p.catalogue, p.today()), answersOf(r.PostForm)
	draft, err := v.Build(r.Context(), given)
	var fault *interview.Fault
	var conflict *interview.Conflict
	switch {
	case errors.As(err, &fault):
		p.put(w, r, v, given, at(v, given, fault.Question), given[fault.Question], []string{fault.Error()})
		return
	case errors.As(err, &conflict):
		p.answered(w, r, v, given, http.StatusUnprocessableEntity, fights(v, given, conflict))
		return
	case err != nil:
		p.fail(w, r, err)
		return
	}
	name, err := p.create(fileName(given["name"]), draft.Source)
	if err != nil {
		p.fail(w, r, err)
		return
	}
	goTo(w, r, "/jobs/"+pathEscape(name))
}

// fights says which answers no design meets together, with a way to change each.
func fights(v *interview.Interview, given interview.Answers, c *interview.Conflict) []noted {
	list := []noted{{Text: []string{c.Error()}}}
	for _, a := range givenSoFar(v.Questions(given), given, "") {
		if slices.Contains(c.Fight, a.ID) {
			list = append(list, noted{Label: a.Question, URL: a.URL, Text: []string{a.Text}})
		}
	}
	return list
}

// fileName makes a file's name of a job's: "My home!" becomes "my-home".
func fileName(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	name := strings.Join(words, "-")
	if name == "" {
		return say("web.new.file")
	}
	if r := []rune(name); len(r) > 40 {
		name = string(r[:40])
	}
	return name
}
