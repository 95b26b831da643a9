package web

import (
	"bytes"
	"cmp"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/drawing"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
)

// caseLimit is the longest text of a case that is read.
const caseLimit = 2000

// laid is a desk's job laid out for looking at its cases, by the state it was laid out from.
type laid struct {
	of    *appraise.Appraisal
	cases *appraise.Cases
}

// turnView is one case: how the valves stand, what the world does, what comes of it.
type turnView struct {
	jobView
	Told     string
	Sum      string
	Asides   []string // what keeps the figures from being the whole truth
	Broken   []promised
	NotHere  []promised
	Always   []promised
	Kept     []string
	Silent   []string
	Unjudged []string
	Hands    []hand
	Drains   []hand
	HandsNow string // how the valves stand, as a form carries it
	Choices  []choice
	Failed   []failures
	Orders   []order
	Step     *stepView
	Head     []string
	Body     [][]string
	Desc     string
	Command  string
}

// promised is a promise with what became of it.
type promised struct {
	Title, Text string
	Safety      bool
}

// hand is one hand-turned part with the positions it can be turned to.
type hand struct {
	Tag, What, Now string
	Ways           []tab
}

// failures are those of one kind of part, to choose from.
type failures struct {
	Label   string // "" for none at all
	Options []option
}

// struckAt says which parts a mishap strikes, by the first word of its id; what is not
// here strikes others.
var struckAt = map[string]string{
	"check": "checks", "grit": "checks", "valve": "valves", "stuck": "valves", "tags": "valves",
	"float": "store", "overflow": "store", "vent": "store", "screens": "store",
	"pump": "pump", "control": "pump", "cut": "pump", "lock": "pump", "level": "pump", "tap": "taps", "hose": "taps",
}

// failedParts are the kinds in the order they are shown.
var failedParts = []string{"checks", "valves", "store", "pump", "taps", "others"}

// choice is one thing the world decides.
type choice struct {
	Name, Label string
	Options     []option
}

// cases lays the job out once for each state of it. The desk is locked.
func (d *desk) cases() (*appraise.Cases, error) {
	if d.laid.cases == nil || d.laid.of != d.appraisal {
		c, err := appraise.NewCases(d.input)
		if err != nil {
			return nil, err
		}
		d.laid = laid{d.appraisal, c}
	}
	return d.laid.cases, nil
}

// turnURL is the address of a case.
func (d *desk) turnURL(text string) string {
	return d.url() + "/turn?" + url.Values{"case": {text}}.Encode()
}

// turn shows one case. It changes nothing: every case is an address.
func (p *Pages) turning(w http.ResponseWriter, r *http.Request) {
	d := p.on(w, r)
	if d == nil {
		return
	}
	p.patience(r, d)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.appraisal == nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, say("web.picture.none"))
		return
	}
	c, err := d.cases()
	if err != nil {
		p.troubled(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	status, problems := http.StatusOK, []noted(nil)
	shown, err := look(c, caseText(r.URL.Query()))
	if err != nil {
		status, problems = http.StatusUnprocessableEntity, []noted{{Text: []string{say("web.turn.refused"), err.Error()}}}
		if shown, err = c.Look(""); err != nil {
			p.troubled(w, r, status, err.Error())
			return
		}
	}
	v := turnView{jobView: d.aboutJob(p.frame(r, ""), "turn", say("web.turn"))}
	v.Problems, v.Error = problems, len(problems) > 0
	v.Stage, v.Wait = d.waiting(d.url()+"/turn", r)
	d.tellCase(&v, c, shown)
	d.drawCase(&v, c, shown)
	d.handsOf(&v, c, shown)
	worldOf(&v, c, shown)
	d.ordersOf(&v, r.URL.Query(), worldText(shown))
	v.Command = "tideover prove " + d.name + shelf.Suffix + " --case \"" + shown.Text + "\""
	show(w, r, status, "turn", v)
}

func look(c *appraise.Cases, text string) (*appraise.Shown, error) {
	if len(text) > caseLimit {
		return nil, &Error{say("web.turn.too-long")}
	}
	return c.Look(text)
}

// caseText is the case a request asks for: its text, or what the form beside the picture
// sends of it, piece by piece.
func caseText(q url.Values) string {
	parts := []string{q.Get("case"), q.Get("hands")}
	for _, name := range []string{"main", "power", "store", "header", "draw", "frost", "heater", "regulator", "failed"} {
		if value := strings.TrimSpace(q.Get(name)); value != "" {
			parts = append(parts, name+"="+value)
		}
	}
	return strings.TrimSpace(strings.Join(parts, " "))
}

// worldText is what a case says beside how the valves stand.
func worldText(s *appraise.Shown) string { return strings.TrimPrefix(s.Chosen, s.Hands) }

// tellCase says what the case is and what becomes of every promise in it.
func (d *desk) tellCase(v *turnView, c *appraise.Cases, s *appraise.Shown) {
	sys := d.doc.Job.System()
	failed := ""
	for _, m := range s.Case.Mishaps {
		failed += ", " + c.Space.TellMishap(m)
	}
	v.Told = say("web.turn.told", "setting", c.Space.TellSetting(s.Case.Setting), "world", c.Space.TellWorld(s.Case), "mishap", failed)
	for i := range s.Answers {
		a := &s.Answers[i]
		title := say("promise." + a.About.ID + ".title")
		switch a.Judgement.Outcome.ID() {
		case "broken":
			b := promised{title, c.Space.TellAnswer(s.Case, a, sys), a.About.Safety}
			switch {
			case a.OfCase():
				v.Broken = append(v.Broken, b)
			case a.Once():
				v.Always = append(v.Always, b)
			default:
				v.NotHere = append(v.NotHere, b)
			}
		case "kept":
			v.Kept = append(v.Kept, title)
		case "unjudged":
			v.Unjudged = append(v.Unjudged, title)
		default:
			v.Silent = append(v.Silent, title)
		}
	}
	slices.SortStableFunc(v.Broken, func(a, b promised) int { return rank(b.Safety) - rank(a.Safety) })
	switch n := len(v.Broken); n {
	case 0:
		v.Sum = say("web.turn.broken.none")
	case 1:
		v.Sum = say("web.turn.broken.one")
	default:
		v.Sum = say("web.turn.broken.n", "n", strconv.Itoa(n))
	}
	if !s.Steady {
		v.Asides = append(v.Asides, say("web.turn.unsteady"))
	}
	if !s.Solved {
		v.Asides = append(v.Asides, say("web.turn.unsolved"))
	}
	if len(s.Boils) > 0 {
		v.Asides = append(v.Asides, say("web.turn.boils", "where", strings.Join(s.Boils, ", ")))
	}
}

func rank(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

var originWaters = map[appraise.Origin]drawing.Water{
	appraise.StandsStill: drawing.StandsThere, appraise.OfTheMain: drawing.FromMain, appraise.OfTheStore: drawing.FromStore,
	appraise.OfTheHome: drawing.Unknown, appraise.NoWater: drawing.Dry,
}

// drawCase draws the case, its valves to be touched, and gives its twin as a table.
func (d *desk) drawCase(v *turnView, c *appraise.Cases, s *appraise.Shown) {
	view := drawing.View{Job: d.doc.Job.Name, Setting: s.Named, Units: d.doc.Job.System(), Positions: s.Positions,
		Parts: map[string]drawing.Standing{}, Bare: true, Links: map[string]drawing.Link{}}
	for i, st := range s.Standing {
		view.Parts[s.Parts[i].Tag] = drawing.Standing{Water: originWaters[st.Origin], Flow: st.Flow, Speed: st.Speed, Harm: st.Harm}
	}
	for _, h := range c.Space.Hands {
		if to := after(h.Positions, s.Positions[h.Tag]); to != "" {
			view.Links[h.Tag] = drawing.Link{To: d.turnURL(s.Hands + " " + h.Tag + "=" + to + worldText(s)),
				Says: say("web.turn.to", "tag", h.Tag, "position", say("position."+to))}
		}
	}
	scene := drawing.Schematic(c.Assembly, view)
	v.Picture, v.PictureTitle, v.Desc = inline(scene, ""), say("web.turn.picture"), scene.Desc
	v.Head, v.Body = d.rowsOf(c.Assembly, view, s)
	for i := range c.Assembly.Settings {
		name := c.Assembly.Settings[i].Name
		v.Settings = append(v.Settings, tab{ID: name, Label: say("setting." + name), URL: d.turnURL(name + worldText(s)), Here: name == s.Named})
	}
}

// inline is a scene as it stands in a page; nothing where it cannot be drawn. The writer
// escapes every text of the job.
func inline(s *drawing.Scene, prefix string) template.HTML {
	var b bytes.Buffer
	if err := drawing.WriteInline(&b, s, prefix); err != nil {
		return ""
	}
	return template.HTML(b.String())
}

// after is the position that follows another as a handle is turned on.
func after(positions []string, now string) string {
	if len(positions) < 2 {
		return ""
	}
	return positions[(slices.Index(positions, now)+1)%len(positions)]
}

// turns leads from every valve of a picture to the case in which it alone is turned.
func (d *desk) turns(setting string) map[string]drawing.Link {
	a, links := d.appraisal.Assembly, map[string]drawing.Link{}
	for i := range a.Parts {
		p := &a.Parts[i]
		now, known := a.Setting(setting).Positions[p.Tag]
		if !known {
			now = "shut" // a drain that no card names
		}
		if to := after(p.Positions(), now); to != "" {
			links[p.Tag] = drawing.Link{To: d.turnURL(setting + " " + p.Tag + "=" + to), Says: say("web.turn.to", "tag", p.Tag, "position", say("position."+to))}
		}
	}
	return links
}

// rowsOf is the drawing as a table, with what flows and presses in every part.
func (d *desk) rowsOf(a *assembly.Assembly, view drawing.View, s *appraise.Shown) (head []string, body [][]string) {
	sys := d.doc.Job.System()
	rows := drawing.Table(a, view)
	head = append(rows[0], say("web.turn.flow"), say("web.turn.pressure"))
	for i, row := range rows[1:] {
		st, played := &s.Standing[i], &s.Parts[i]
		switch {
		case st.Origin == appraise.NoWater && st.Flow != 0:
			row[2] = also(row[2], say("web.turn.air"))
		case st.Origin == appraise.OfTheHome:
			row[2] = also(row[2], say("web.turn.home"))
		}
		flow := ""
		if st.Flow != 0 {
			flow = quantity.Format(quantity.Quantity{Dim: quantity.FlowDim, SI: math.Abs(float64(st.Flow))}, sys)
			if st.Flow < 0 {
				flow = say("web.turn.backwards", "flow", flow)
			}
		}
		var at []string
		for _, p := range played.Pressures {
			text := pressureOf(p.Low, p.High, sys)
			if len(at) == 0 || at[len(at)-1] != text {
				at = append(at, text)
			}
		}
		body = append(body, append(row, flow, strings.Join(at, " → ")))
	}
	return head, body
}

func also(text, more string) string {
	if text == "" {
		return more
	}
	return text + ", " + more
}

func pressureOf(low, high float64, sys quantity.System) string {
	from := quantity.Format(quantity.Quantity{Dim: quantity.PressureDim, SI: low}, sys)
	to := quantity.Format(quantity.Quantity{Dim: quantity.PressureDim, SI: high}, sys)
	if from == to {
		return from
	}
	return say("web.turn.between", "low", from, "high", to)
}

// handsOf lists the handles with a way to every position.
func (d *desk) handsOf(v *turnView, c *appraise.Cases, s *appraise.Shown) {
	v.HandsNow = s.Hands
	for _, h := range c.Space.Hands {
		p := &c.Assembly.Parts[h.Part]
		one := hand{Tag: h.Tag, What: partName(p), Now: s.Positions[h.Tag]}
		for _, to := range h.Positions {
			one.Ways = append(one.Ways, tab{ID: to, Label: say("position." + to), Here: to == one.Now,
				URL: d.turnURL(s.Hands + " " + h.Tag + "=" + to + worldText(s))})
		}
		if p.Kind == assembly.Drain {
			v.Drains = append(v.Drains, one)
		} else {
			v.Hands = append(v.Hands, one)
		}
	}
}

func partName(p *assembly.Part) string {
	return sayOr(p.Purpose.Message(), say("drawing.kind."+string(p.Kind)))
}

// worldOf lists what can be chosen of the world and of failures.
func worldOf(v *turnView, c *appraise.Cases, s *appraise.Shown) {
	for _, ch := range c.Space.Choices() {
		one := choice{Name: ch.Name, Label: say("case." + ch.Name)}
		now := s.Case.World.Word(ch.Name)
		for _, value := range ch.Values {
			one.Options = append(one.Options, option{Value: value, Label: say("case." + ch.Name + "." + value), Chosen: value == now})
		}
		v.Choices = append(v.Choices, one)
	}
	byPart := map[string][]option{}
	for m := range c.Space.Mishaps {
		struck := slices.Contains(s.Case.Mishaps, m)
		if c.Space.Mishaps[m].Swap && !struck {
			continue // a pair of labels is one of very many
		}
		key := strings.ReplaceAll(c.Space.Mishaps[m].Key(), " ", "@")
		first, _, _ := strings.Cut(c.Space.Mishaps[m].ID, "-")
		at := cmp.Or(struckAt[first], "others")
		byPart[at] = append(byPart[at], option{Value: key, Label: c.Space.TellMishap(m), Chosen: struck && m == s.Case.Mishaps[0]})
	}
	v.Failed = []failures{{Options: []option{{Label: say("web.turn.failed.none"), Chosen: len(s.Case.Mishaps) == 0}}}}
	for _, at := range failedParts {
		if list := byPart[at]; len(list) > 0 {
			v.Failed = append(v.Failed, failures{say("web.turn.failed." + at), list})
		}
	}
}
