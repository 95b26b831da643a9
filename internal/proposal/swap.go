package proposal

import (
	"errors"
	"slices"
	"strings"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Change is one finding that another design judges otherwise, or whose figure it moves.
type Change struct {
	Before, After *finding.Finding // nil where it does not arise
	Worse, Better bool             // by verdict; neither: only its figure moved
}

// Compare tells what changes from one appraisal to another: verdicts first, what got worse
// before what got better, then figures of what is not fine. Findings that are fine in both
// are left out.
func Compare(before, after *appraise.Appraisal) []Change {
	old := map[string]*finding.Finding{}
	for i := range before.Findings {
		old[before.Findings[i].Key()] = &before.Findings[i]
	}
	var list []Change
	for i := range after.Findings {
		f := &after.Findings[i]
		c := Change{Before: old[f.Key()], After: f}
		delete(old, f.Key())
		if c.judge() {
			list = append(list, c)
		}
	}
	for i := range before.Findings { // in their order, not the map's
		if f := old[before.Findings[i].Key()]; f != nil {
			if c := (Change{Before: f}); c.judge() {
				list = append(list, c)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Change) int { return a.rank() - b.rank() })
	return list
}

// bad orders verdicts by how bad they are.
var bad = map[finding.Verdict]int{finding.Fine: 0, finding.NotJudged: 1, finding.LookAt: 2, finding.MustFix: 3}

// weight is how bad a finding is; one that does not arise is fine.
func weight(f *finding.Finding) int {
	if f == nil {
		return 0
	}
	return bad[f.Verdict]
}

// judge fills in what the change is, and reports whether it is worth telling.
func (c *Change) judge() bool {
	b, a := weight(c.Before), weight(c.After)
	c.Worse, c.Better = a > b, a < b
	if c.Worse || c.Better {
		return true
	}
	return a > 0 && c.Before != nil && c.After != nil && c.Before.Figure.SI != c.After.Figure.SI
}

func (c *Change) rank() int {
	switch {
	case c.Worse:
		return 0
	case c.Better:
		return 1
	}
	return 2
}

// Text tells a change in one line, in the reader's units.
func (c *Change) Text(sys quantity.System) string {
	one := c.After
	if one == nil {
		one = c.Before
	}
	title, _ := finding.Text(one, sys)
	args := words.Args{"title": title, "was": told(c.Before, sys), "is": told(c.After, sys)}
	return words.Say("swap.change", args)
}

// told is a finding's verdict and figure in short.
func told(f *finding.Finding, sys quantity.System) string {
	if f == nil {
		return words.Say("swap.not-there", nil)
	}
	verdict := words.Say("verdict."+f.Verdict.ID(), nil)
	if f.Figure.Dim == quantity.NoDim {
		return verdict
	}
	return words.Say("swap.told", words.Args{"figure": quantity.Format(f.Figure, sys), "verdict": verdict})
}

// paths are the choices behind a kind of part in an arrangement that is laid out by rule.
var paths = map[assembly.Kind]string{
	assembly.Store: "choices.store.row", assembly.Pump: "choices.pump.row", assembly.Vessel: "choices.vessel.row",
	assembly.FloatValve: "choices.float", assembly.Meter: "supply.meter", assembly.Heater: "home.heater.type",
}

// Path returns the field that says which row a part is made from. part is its tag, or the
// field itself. The error names what can be swapped.
func Path(a *assembly.Assembly, part string) (string, error) {
	if f, ok := job.FieldFor(part); ok && (f.Shape == job.Row || f.Shape == job.Size) {
		return part, nil
	}
	i := a.Index(part)
	if i < 0 {
		i = a.Index(strings.ToUpper(part))
	}
	var path string
	if i >= 0 {
		p := &a.Parts[i]
		switch {
		case p.Path != "":
			path = p.Path + ".row"
		case p.Purpose == assembly.AsBackflow:
			path = "choices.backflow"
		case p.Purpose == assembly.AsHeaterVessel:
			path = "choices.heater-vessel"
		case p.Purpose == assembly.AsHeaderStore:
			path = "choices.header.row"
		case p.Purpose == assembly.AsHeaderFloat:
			path = "choices.header.float"
		default:
			path = paths[p.Kind]
		}
	}
	if path == "" {
		return "", errors.New(words.Say("swap.no-part", words.Args{"part": part, "list": joined(swappable(a))}))
	}
	return path, nil
}

// swappable are the tags that Path takes.
func swappable(a *assembly.Assembly) []string {
	var list []string
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Path != "" && p.Row != nil || paths[p.Kind] != "" || p.Purpose == assembly.AsBackflow {
			list = append(list, p.Tag)
		}
	}
	return list
}

// Swapped is a job with another part in it.
type Swapped struct {
	Doc           *job.Doc
	Path          string
	Before, After *appraise.Appraisal
	Changes       []Change
}

// Swap puts another catalogue row in a part's place and appraises again, both quickly. The
// error is worded: no such part, no such row, or a design that cannot be laid out.
func Swap(in appraise.Input, part, row string) (*Swapped, error) {
	if in.Doc == nil {
		return nil, ErrNoFile
	}
	before, err := appraise.Quick(in)
	if err != nil {
		return nil, err
	}
	path, err := Path(before.Assembly, part)
	if err != nil {
		return nil, err
	}
	t, err := appraise.Try(in, append(heights(in.Doc, path), job.Edit{Op: job.Set, Path: path, Text: row})...)
	if err != nil {
		return nil, err
	}
	return &Swapped{Doc: t.In.Doc, Path: path, Before: before, After: t.Appraisal, Changes: Compare(before, t.Appraisal)}, nil
}

// heights takes out the heights of a tank that another takes the place of: they were measured,
// or drilled, on that one.
func heights(doc *job.Doc, path string) []job.Edit {
	var edits []job.Edit
	for _, field := range map[string][]string{
		"choices.store.row":  {"choices.store.overflow-height", "choices.store.mouth-height"},
		"choices.header.row": {"choices.header.overflow-height"},
	}[path] {
		if doc.Given(field) {
			edits = append(edits, job.Edit{Op: job.Unset, Path: field})
		}
	}
	return edits
}

// Bought is the swapped job with the part recorded as bought. part is its tag or field;
// from and paid may be empty.
func (s *Swapped) Bought(part, row, from, paid string) (*job.Doc, error) {
	tag := boughtTag(part)
	path := "bought." + tag
	var edits []job.Edit
	if s.Doc.Given(path) {
		edits = append(edits, job.Edit{Op: job.Remove, Path: path})
	}
	text := "row: " + row + ", for: " + s.Path + ", date: " + s.Doc.Job.Date
	edits = append(edits, job.Edit{Op: job.Insert, Path: path, Text: text})
	if from != "" {
		edits = append(edits, job.Edit{Op: job.Set, Path: path + ".from", Text: from})
	}
	if paid != "" {
		edits = append(edits, job.Edit{Op: job.Set, Path: path + ".paid", Text: paid})
	}
	doc, _, err := s.Doc.Apply(edits...)
	return doc, err
}

// boughtTag makes a tag as a list takes it: small letters, figures and dashes.
func boughtTag(part string) string {
	tag := strings.ToLower(part[strings.LastIndexByte(part, '.')+1:])
	if strings.HasSuffix(part, ".row") {
		steps := strings.Split(part, ".")
		tag = steps[len(steps)-2]
	}
	return tag
}

// Place is a part that can be swapped: its tag, and the field that says its row.
type Place struct{ Tag, Path string }

// Places lists what can be swapped, street to home; parts of one field once.
func Places(a *assembly.Assembly) []Place {
	var list []Place
	for _, tag := range swappable(a) {
		path, err := Path(a, tag)
		if err != nil || slices.ContainsFunc(list, func(p Place) bool { return p.Path == path }) {
			continue
		}
		list = append(list, Place{tag, path})
	}
	return list
}
