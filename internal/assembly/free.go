package assembly

import (
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/words"
)

// free lays an arrangement out as the job lists it: parts keyed by tag, and lines that
// join them the way the water goes. The same invariants hold as for the arrangements laid
// by rule; what breaks one is a fault with its path in the job.
func free(b *build) {
	f := &freehand{build: b, listed: map[string]*job.FreePart{}, taps: map[string]*job.Outlet{},
		at: map[string]int{}, path: map[End]string{}}
	if b.taken == nil {
		b.taken = map[string]bool{}
	}
	f.list()
	for i := range b.job.Joins {
		f.line(&b.job.Joins[i])
	}
	if len(b.faults) == 0 { // else most of what is missing is missing because of them
		f.complete()
	}
	if len(b.faults) > 0 {
		return
	}
	f.levels()
	f.controls()
	f.rings()
	b.additions()
	b.a.Joined = b.a.meets(Main, Store)
	b.nameDrains()
	b.freeSettings()
}

// freehand is one free arrangement in the making.
type freehand struct {
	*build
	listed map[string]*job.FreePart // by the job's tag
	taps   map[string]*job.Outlet
	at     map[string]int // part by the job's tag; of an outlet, the pipe to it
	path   map[End]string // where the job joined a port
	sense  []sensed       // controls laid, in the order of the lines
}

// sensed is a control that has been laid.
type sensed struct {
	part int
	kind string
}

// mainWord is how a line names the public main.
const mainWord = "main"

// list notes what may be named in a line, and what there can be only one of.
func (f *freehand) list() {
	count := map[string]int{}
	for i := range f.job.Parts {
		p := &f.job.Parts[i]
		f.listed[p.Tag] = p
		f.taken[strings.ToUpper(p.Tag)] = true
		if p.Tag == mainWord {
			f.fault("parts."+p.Tag, "assembly.free-main-tag", nil)
		}
		if count[p.Kind]++; most[p.Kind] > 0 && count[p.Kind] == most[p.Kind]+1 {
			id := "assembly.free-one"
			switch p.Kind {
			case "pump":
				id = "assembly.free-one-pump"
			case "store":
				id = "assembly.free-one-store"
			}
			f.fault("parts."+p.Tag, id, words.Args{"kind": p.Kind})
		}
	}
	for i := range f.job.Outlets {
		o := &f.job.Outlets[i]
		f.taps[o.Tag] = o
		if f.listed[o.Tag] != nil {
			f.fault("outlets."+o.Tag, "assembly.tag-taken", words.Args{"tag": o.Tag})
		}
	}
	if len(f.job.Outlets) == 0 {
		f.fault("outlets", "assembly.no-outlets", nil)
	}
	if f.pumpCount() > 1 {
		f.fault("choices.pump.count", "assembly.free-pumps", nil)
	}
	if len(f.job.Joins) == 0 {
		f.fault("joins", "assembly.free-no-main", nil)
	}
}

// most is how many of a kind an assembly is judged with. Linked tanks are one store part;
// a second store is a header tank, with its float valve listed second as well.
var most = map[string]int{"store": 2, "pump": 1, "float-valve": 2, "heater": 1, "control": 1, "lock-out": 1, "cut-out": 1, "regulator": 1, levelSwitch: 1, levelAlarm: 2}

// step is one part of a line: by which port it is entered and left.
type step struct{ tag, enter, leave string }

// steps reads the parts of a line.
func (f *freehand) steps(x *job.FreeJoin) []step {
	var list []step
	for i, word := range strings.Split(x.Line, ",") {
		tag, rest, _ := strings.Cut(strings.TrimSpace(word), ".")
		s := step{tag: tag}
		s.enter, s.leave, _ = strings.Cut(rest, ".")
		if i == 0 {
			s.enter, s.leave = "", rest
		}
		if !f.known(tag) {
			f.fault(linePath(x), "assembly.free-unknown", words.Args{"tag": tag, "near": f.near(tag)})
			return nil
		}
		list = append(list, s)
	}
	if len(list) < 2 {
		f.fault(linePath(x), "assembly.free-short", nil)
		return nil
	}
	return list
}

func linePath(x *job.FreeJoin) string { return "joins." + x.Tag + ".line" }

func (f *freehand) known(tag string) bool {
	return tag == mainWord || f.listed[tag] != nil || f.taps[tag] != nil
}

// near says which tag of the job is nearest to one that is none of them.
func (f *freehand) near(tag string) string {
	tags := []string{mainWord}
	for i := range f.job.Parts {
		tags = append(tags, f.job.Parts[i].Tag)
	}
	for i := range f.job.Outlets {
		tags = append(tags, f.job.Outlets[i].Tag)
	}
	if n := job.Nearest(tag, tags); n != "" {
		return " " + words.Say("catalogue.near", words.Args{"near": n})
	}
	return ""
}

// line lays one line: each part is made where it is first met, and joined to the one
// before.
func (f *freehand) line(x *job.FreeJoin) {
	steps := f.steps(x)
	if steps == nil {
		return
	}
	l := &line{b: f.build, role: Role(x.Role), at: End{-1, 0}}
	var lost pending
	for i, s := range steps {
		part, there := f.at[s.tag]
		if i == 0 && !there && s.tag != mainWord && !f.isStore(s.tag) {
			f.fault(linePath(x), "assembly.free-begin", words.Args{"tag": s.tag})
			return
		}
		enter := End{-1, 0}
		if !there {
			if part = f.make(l, s.tag); part < 0 {
				return
			}
			f.at[s.tag] = part
		}
		if i > 0 {
			in, ok := f.port(x, part, s.enter, 0)
			if !ok || !f.take(x, l.at) || !f.take(x, End{part, in}) {
				return
			}
			enter = End{part, in}
			f.meet(l.at, enter)
		}
		lost.pass(f.build, part, enter, i == 0)
		if i+1 == len(steps) {
			lost.end(f.build, part)
			return
		}
		out, ok := f.port(x, part, s.leave, f.outOf(part, enter))
		if !ok {
			return
		}
		l.at = End{part, out}
		lost.leave(f.build, l.at, enter)
	}
}

func (f *freehand) isStore(tag string) bool {
	p := f.listed[tag]
	return p != nil && p.Kind == "store"
}

// take marks a port as joined by a line; a port meets one other.
func (f *freehand) take(x *job.FreeJoin, e End) bool {
	name := f.a.Parts[e.Part].Tag + "." + f.a.Parts[e.Part].Ports[e.Port].Name
	if by, twice := f.path[e]; twice {
		if o, ok := f.a.Meets(End{e.Part, 1}); ok && f.a.Parts[e.Part].Purpose == AsOutletRun {
			name = f.a.Parts[o.Part].Tag
		}
		f.fault(linePath(x), "assembly.free-twice", words.Args{"port": name, "line": by})
		return false
	}
	f.path[e] = x.Tag
	return true
}

// outOf is the port by which a line goes on when none is named: the other of two, "out"
// of three, the next free one of a header.
func (f *freehand) outOf(part int, enter End) int {
	p := &f.a.Parts[part]
	if p.Purpose == AsHeader || p.Purpose == AsHotHeader {
		for k := 1; k < len(p.Ports); k++ {
			if _, taken := f.path[End{part, k}]; !taken {
				return k
			}
		}
		return f.branch(part)
	}
	if len(p.Ports) == 2 && enter.Part >= 0 {
		return 1 - enter.Port
	}
	if p.Kind == Store || len(p.Ports) == 1 {
		return 0
	}
	if p.Kind == ThreeWay {
		return 2
	}
	return 1
}

// portWords are the names a line calls ports by, beside the ports' own.
var portWords = map[string]string{"main": "a", "store": "b", "home": "c"}

// port finds a part's port by name; the one given by number where no name is.
func (f *freehand) port(x *job.FreeJoin, part int, name string, otherwise int) (int, bool) {
	p := &f.a.Parts[part]
	if name == "" && p.Kind == ThreeWay && otherwise == 0 {
		f.fault(linePath(x), "assembly.free-which", words.Args{"tag": p.Tag})
		return 0, false
	}
	if name == "" {
		return otherwise, true
	}
	if p.Kind == ThreeWay && portWords[name] != "" {
		name = portWords[name]
	}
	var names []string
	for i := range p.Ports {
		if p.Ports[i].Name == name && p.Ports[i].End != "open" {
			return i, true
		}
		if p.Ports[i].End != "open" {
			names = append(names, p.Ports[i].Name)
		}
	}
	if p.Purpose == AsHeader && name == strings.TrimLeft(name, "0") && strings.Trim(name, "0123456789") == "" && len(name) < 3 {
		for p.Ports[len(p.Ports)-1].Name != name {
			if f.branch(part); len(p.Ports) > 99 {
				break
			}
		}
		return len(f.a.Parts[part].Ports) - 1, true
	}
	f.fault(linePath(x), "assembly.free-port", words.Args{"tag": p.Tag, "port": name, "known": list(names)})
	return 0, false
}

// pending are losses of tees and tank outlets on their way to the run that carries them.
type pending struct {
	run                 int // the last run passed; only meaningful with have
	have                bool
	entry, run1, branch int
}

// pass takes a part of the line: a run takes what was waiting.
func (l *pending) pass(b *build, part int, enter End, first bool) {
	p := &b.a.Parts[part]
	switch {
	case p.Kind == Run:
		l.run, l.have = part, true
		l.hang(b)
	case first && p.Kind == Store:
		l.entry++
	case enter.Part >= 0 && p.Kind == Tee && p.Ports[enter.Port].Name == "branch":
		l.branch++
	}
}

// leave notes what going on by a port costs.
func (l *pending) leave(b *build, out, enter End) {
	p := &b.a.Parts[out.Part]
	switch {
	case p.Kind != Tee || p.Purpose == AsHeader || p.Purpose == AsHotHeader:
	case p.Ports[out.Port].Name == "branch":
		l.branch++
	case enter.Part >= 0:
		l.run1++
	}
}

// end leaves with the last run what no run has taken.
func (l *pending) end(b *build, part int) {
	if !l.have {
		l.run = b.a.nearestRun(part)
	}
	if l.run >= 0 {
		l.hang(b)
	}
}

func (l *pending) hang(b *build) {
	row, ok := b.a.Parts[l.run].Row.(catalogue.Pipe)
	if !ok {
		return // missing; said already
	}
	b.fit(l.run, "entry", l.entry)
	if fit, ok := b.rows.Fittings["tee-run"]; ok {
		b.a.Parts[l.run].hang(fit.Strung(row.Bore), l.run1)
	}
	if fit, ok := b.rows.Fittings["tee-branch"]; ok {
		b.a.Parts[l.run].hang(fit.Strung(row.Bore), l.branch)
	}
	l.entry, l.run1, l.branch = 0, 0, 0
}
