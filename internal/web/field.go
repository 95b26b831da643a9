package web

import (
	"cmp"
	"slices"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// fieldView is one field of the job as a page shows it.
type fieldView struct {
	Path, Label, Hint, Why string
	Value, Was             string // in the box; in the file when the page was made
	Basis, BasisWord       string // measured, stated or assumed
	Taken, From            string // what is taken for what nobody said, and where from
	Accept                 string // examples of what is read
	Options                []option
	Rows                   string // id of the list of rows to choose from while typing
	Long                   bool   // several lines
	Numeric                bool
	DontKnow               bool // can be answered so now
	Required               bool
	Errors                 []string
	Both                   bool   // somebody else changed it meanwhile
	Now                    string // to this
	Brief                  bool   // one of many alike: how and why unfold
}

// option is one of a few answers.
type option struct {
	Value, Label string
	Chosen       bool
}

// groupView is fields that belong together and are saved together.
type groupView struct {
	ID, Label string
	Item      string // path of the item of a list they describe, or ""
	ItemText  string
	Fields    []fieldView
	Rest      []fieldView // of an item: what nobody said and nothing is taken for
	Laid
}

// listView is what is needed to add an item to a list.
type listView struct {
	List, Title string
	Label       string // of adding one
	Items       []groupView
	Fields      []fieldView // the required ones
	Tag         string      // as typed and refused
	Errors      []string
	Laid        // the form
}

// mostOptions is how many rows are shown to choose from; more are found by typing.
const mostOptions = 40

// fieldsOf are the groups of a section, in the order of the field table, and the lists
// that can be added to.
func (d *desk) fieldsOf(section string) (groups []groupView, lists []listView) {
	at := map[string]int{}
	for _, f := range job.Fields() {
		if f.Section != section || f.Shape == job.Reserved {
			continue
		}
		list, _, isList := strings.Cut(f.Path, ".*.")
		if isList && (list == "parts" || list == "joins") && d.doc.Job.Choices.Arrangement != "free" {
			continue
		}
		if !isList {
			parent := ""
			if i := strings.LastIndexByte(f.Path, '.'); i > 0 {
				parent = f.Path[:i]
			}
			if _, known := at[parent]; !known {
				at[parent] = len(groups)
				groups = append(groups, groupView{ID: "g-" + parent, Label: groupLabel(parent, section)})
			}
			g := &groups[at[parent]]
			g.Fields = append(g.Fields, d.field(f, f.Path))
			continue
		}
		if len(lists) == 0 || lists[len(lists)-1].List != list {
			lists = append(lists, d.newItem(list))
		}
	}
	for i := range lists {
		lists[i].Items = d.itemsOf(lists[i].List)
	}
	// What the file itself needs comes last: nobody begins a survey with it.
	slices.SortStableFunc(groups, func(a, b groupView) int { return cmp.Compare(lastOf(a), lastOf(b)) })
	return groups, lists
}

func lastOf(g groupView) int {
	if g.ID == "g-" {
		return 1
	}
	return 0
}

func groupLabel(parent, section string) string {
	if parent == "choices" {
		parent = "choices-in." + section
	}
	if parent == "" {
		parent = "head"
	}
	return sayOr("web.group."+parent, parent)
}

// itemsOf are the items of a list, a group each.
func (d *desk) itemsOf(list string) []groupView {
	var groups []groupView
	for _, item := range items(d.doc) {
		head, tag, _ := strings.Cut(item, ".")
		if head != list {
			continue
		}
		g := groupView{ID: "g-" + item, Label: tag, Item: item, ItemText: itemText(d.doc, item)}
		for _, f := range job.Fields() {
			if strings.HasPrefix(f.Path, list+".*.") {
				v := d.field(f, strings.Replace(f.Path, "*", tag, 1))
				v.Brief = true
				if v.Was == "" && v.Value == "" && v.Taken == "" && !v.Required {
					g.Rest = append(g.Rest, v)
				} else {
					g.Fields = append(g.Fields, v)
				}
			}
		}
		groups = append(groups, g)
	}
	return groups
}

// newItem is the form for one more item of a list.
func (d *desk) newItem(list string) listView {
	l := listView{List: list, Title: sayOr("survey.list."+list, list), Label: sayOr("web.add."+list, list)}
	for _, f := range job.Fields() {
		if strings.HasPrefix(f.Path, list+".*.") && f.Required {
			v := d.field(f, list+".*."+f.Key())
			v.Value, v.Was = "", ""
			if dr, ok := d.drafts[v.Path]; ok {
				v.Value = dr.text
			}
			for i := range v.Options {
				v.Options[i].Chosen = v.Options[i].Value == v.Value
			}
			l.Fields = append(l.Fields, v)
		}
	}
	if dr, ok := d.drafts[list+".*"]; ok {
		l.Tag, l.Errors = dr.text, dr.why
	}
	return l
}

// field shows one field at a path.
func (d *desk) field(f job.Field, path string) fieldView {
	sys := d.doc.Job.System()
	was, given := d.doc.Text(path)
	was = strings.TrimRight(was, "\n")
	v := fieldView{
		Path: path, Label: upperFirst(f.Label()), Hint: f.Hint(), Why: f.Why(), Value: was, Was: was,
		Required: f.Required, Long: f.Path == "notes" || strings.HasPrefix(f.Path, "interruptions.") && (f.Shape == job.Spells || f.Shape == job.Slots),
		Numeric: f.Shape == job.Count,
	}
	if f.Shape == job.Quantity {
		v.Accept = quantity.Accepts(f.Dim, sys)
	}
	v.Basis, v.Taken, v.From = d.standing(f, path, given)
	v.BasisWord = say("basis." + v.Basis)
	v.DontKnow = !f.Required && given && was != "unknown" && f.Path != "notes" && strings.Contains(f.Path, ".")
	d.options(&v, f)
	for i := range d.faults {
		if d.faults[i].Path == path {
			v.Errors = append(v.Errors, d.faults[i].Message())
		}
	}
	if dr, ok := d.drafts[path]; ok {
		v.Value, v.Errors, v.Both, v.Now = dr.text, dr.why, dr.both, dr.now
		if dr.both {
			v.Was = was // saving again puts theirs in the place of what is there now
		}
	}
	for i := range v.Options {
		v.Options[i].Chosen = v.Options[i].Value == v.Value
	}
	return v
}

// standing says how a field stands: its basis and, where nobody said, what is taken and why.
func (d *desk) standing(f job.Field, path string, given bool) (basis, taken, from string) {
	held, source, ok := d.doc.Job.Held(path)
	if q, is := held.(quantity.Quantity); ok && is {
		if given {
			return basisOf(q.Basis), "", ""
		}
		if q.SI == 0 && source == "" {
			return "assumed", "", ""
		}
		return "assumed", quantity.FormatSpread(q, d.doc.Job.System()), d.sourced(f, source)
	}
	text, _ := d.doc.Text(path)
	switch {
	case given && text != "unknown":
		return "stated", "", ""
	case text == "unknown":
		return "assumed", f.Unknown, sayOr("source."+f.From, "")
	case f.Same != "":
		return "assumed", heldText(d.doc.Job, f.Same), d.sourced(f, f.Same)
	}
	return "assumed", f.DefaultIn(d.doc.Job.System()), d.sourced(f, f.From)
}

func heldText(j *job.Job, path string) string {
	held, _, _ := j.Held(path)
	switch x := held.(type) {
	case quantity.Size:
		return x.String()
	case string:
		return x
	}
	return ""
}

// sourced is where an assumed value is from: a field it follows, the local rules, or what
// the field table says.
func (d *desk) sourced(f job.Field, source string) string {
	if other, ok := job.FieldFor(source); ok && source != "" {
		return say("web.same", "field", other.Label())
	}
	if id := "source." + source; source != "" && sayOr(id, "") != "" {
		return say(id)
	}
	if source == "" && f.From != "" {
		return sayOr("source."+f.From, "")
	}
	return source
}

func basisOf(b quantity.Basis) string {
	switch b {
	case quantity.Measured:
		return "measured"
	case quantity.Assumed:
		return "assumed"
	}
	return "stated"
}

// options gives a field the answers it can have, where those are few.
func (d *desk) options(v *fieldView, f job.Field) {
	rows := []catalogue.Listed{}
	if f.Table != "" {
		rows = d.pages.catalogue.List(f.Table)
	}
	switch {
	case f.Shape == job.Size:
		v.Rows = "rows-pipes"
		return
	case f.Shape == job.Choice || f.Shape == job.Row && len(rows) > 0 && len(rows)+len(f.Allowed) <= mostOptions:
	case f.Shape == job.Row && f.Table != "":
		v.Rows = "rows-" + f.Table
		return
	default:
		return
	}
	if !f.Required {
		label := say("web.option.none")
		if v.Taken != "" && v.Was == "" {
			label = say("web.option.assumed", "value", optionLabel(v.Taken, rows))
		}
		v.Options = append(v.Options, option{Label: label})
	} else if v.Was == "" {
		v.Options = append(v.Options, option{Label: say("web.option.choose")})
	}
	for _, r := range rows {
		v.Options = append(v.Options, option{Value: r.Key, Label: r.Words})
	}
	for _, word := range f.Allowed {
		v.Options = append(v.Options, option{Value: word, Label: sayOr("web.option."+word, word)})
	}
	if v.Was != "" && !slices.ContainsFunc(v.Options, func(o option) bool { return o.Value == v.Was }) {
		v.Options = append(v.Options, option{Value: v.Was, Label: v.Was})
	}
}

func optionLabel(value string, rows []catalogue.Listed) string {
	for _, r := range rows {
		if r.Key == value {
			return r.Words
		}
	}
	return sayOr("web.option."+value, value)
}

func upperFirst(text string) string {
	if text == "" {
		return ""
	}
	r := []rune(text)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
