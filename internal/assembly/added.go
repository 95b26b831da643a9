package assembly

import (
	"slices"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// reserve keeps the tags of the parts that the job puts in for them, so that what the
// arrangement has keeps its numbers when one is put in.
func (b *build) reserve() {
	for i := range b.job.Added {
		if b.taken == nil {
			b.taken = map[string]bool{}
		}
		b.taken[strings.ToUpper(b.job.Added[i].Tag)] = true
	}
}

// additions puts the job's further parts in, each beside one that is there: a non-return valve
// with the drain it is tested by, a hand valve, a pressure regulator, or a vessel or a drain on
// a tee. What they stand
// beside keeps its tag and its fittings.
func (b *build) additions() {
	for i := range b.job.Added {
		b.put(&b.job.Added[i])
	}
	b.tagHeld()
}

// put puts one part in.
func (b *build) put(x *job.Added) {
	path, tag := "added."+x.Tag, strings.ToUpper(x.Tag)
	if b.a.Index(tag) >= 0 || b.a.Index(x.Tag) >= 0 {
		b.fault(path, "assembly.added-tag", words.Args{"tag": x.Tag})
		return
	}
	join, role, ok := b.jointOf(x)
	if !ok {
		return
	}
	at := b.a.Joins[join]
	thread := b.threadOf(at)
	if run := b.a.nearestRun(at.B.Part); run >= 0 && x.Kind != "hand-valve" && x.Kind != "regulator" {
		b.passed(run, true) // the water passes its tee
	}
	b.a.Joins = slices.Delete(b.a.Joins, join, join+1)
	// Its first part takes over a joint that has its fittings: nothing is hung for it.
	first, l := len(b.a.Parts), &line{b: b, role: role, at: End{-1, 0}, z: b.port(at.A).Z}
	switch x.Kind {
	case "non-return":
		l.tested(tag, path, thread, x.Row)
	case "vessel":
		l.aside(tag, path, thread, x.Row)
	case "drain":
		key := rowOr(x.Row, "drain-1/2")
		i := l.on(role, End{l.teeOf(thread), 2}).drainOn(freePurpose(Drain, role), key)
		b.a.Parts[i].Tag, b.a.Parts[i].Path = tag, path
	case "regulator":
		key := rowOr(x.Row, "regulator-"+thread)
		row := got[catalogue.Regulator](b, path+".row")(b.rows.Regulator(key))
		b.sameThread(path, key, thread, row.Size)
		set, told := b.job.Choices.RegSet.V, "choices.regulator.set"
		if x.Set.V > 0 {
			set, told = x.Set.V, path+".set"
		}
		b.canSet(row, set, told)
		l.put(Part{Tag: tag, Path: path, Kind: Regulator, Purpose: AsRegulator, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out"),
			Set: set}, 1)
	default:
		key := rowOr(x.Row, "ball-"+thread)
		row := got[catalogue.Valve](b, path+".row")(b.rows.Valve(key))
		b.sameThread(path, key, thread, row.Size)
		l.put(Part{Tag: tag, Path: path, Kind: HandValve, Purpose: AsAddedValve, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out"),
			Ways: []Way{{Position: open, A: 0, B: 1}}}, 1)
	}
	if len(b.a.Parts) == first { // a fault, told
		b.a.Joins = append(b.a.Joins, at)
		return
	}
	b.a.Joins = append(b.a.Joins, Join{at.A, End{first, 0}}, Join{l.at, at.B})
}

// tested lays a non-return valve with a tee and drain before it.
func (l *line) tested(tag, path, thread, key string) {
	b := l.b
	key = rowOr(key, "single-check-"+thread)
	row := got[catalogue.NonReturn](b, path+".row")(b.rows.NonReturn(key))
	b.sameThread(path, key, thread, row.Size)
	purpose := freePurpose(NonReturn, l.role)
	drain := map[Purpose]Purpose{AsBackflow: AsBackflowDrain, AsPumpCheck: AsPumpCheckDrain}[purpose]
	if drain == "" {
		drain = freePurpose(Drain, l.role)
	}
	l.on(l.role, End{l.teeOf(thread), 2}).drainOn(drain, "drain-1/2")
	l.put(Part{Tag: tag, Path: path, Kind: NonReturn, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
}

// aside lays a tee with a vessel on it behind a valve that is locked open.
func (l *line) aside(tag, path, thread, key string) {
	if !named(key) {
		l.b.fault(path, "assembly.added-vessel", words.Args{"tag": tag})
		return
	}
	purpose := AsVessel
	if l.role == HomeRole {
		purpose = AsHeaterVessel
	}
	l.b.vessel(l.on(l.role, End{l.teeOf(thread), 2}), purpose, path+".row", key)
	made := &l.b.a.Parts[len(l.b.a.Parts)-1]
	made.Tag, made.Path = tag, path
}

// teeOf lays a tee of a thread.
func (l *line) teeOf(thread string) int {
	size := quantity.Size{Family: "thread", Mark: thread}
	return l.put(Part{Kind: Tee, Purpose: AsTee, Size: size, Ports: threaded(size, "in", "out", "branch")}, 1)
}

// jointOf is the joint a part goes into, and the leg that is in.
func (b *build) jointOf(x *job.Added) (join int, role Role, ok bool) {
	path := "added." + x.Tag
	beside := b.a.Index(strings.ToUpper(x.Beside))
	if beside < 0 {
		beside = b.a.Index(x.Beside)
	}
	if beside < 0 {
		b.fault(path+".beside", "assembly.added-beside", words.Args{"tag": x.Beside, "near": b.nearTag(x.Beside)})
		return 0, "", false
	}
	p := &b.a.Parts[beside]
	var ends []string
	for k := range p.Ports {
		join := slices.IndexFunc(b.a.Joins, func(j Join) bool { return j.A == End{beside, k} || j.B == End{beside, k} })
		if join < 0 {
			continue
		}
		if p.Ports[k].Name != x.End {
			ends = append(ends, p.Ports[k].Name)
			continue
		}
		role := p.Role
		if p.Kind == Store || p.Kind == Main {
			at := b.a.Joins[join]
			role = b.a.Parts[at.A.Part+at.B.Part-beside].Role
		}
		return join, role, true
	}
	b.fault(path+".end", "assembly.added-end", words.Args{"tag": p.Tag, "end": x.End, "known": list(ends)})
	return 0, "", false
}

// nearTag says which tag on the drawing is nearest to one that is not there.
func (b *build) nearTag(tag string) string {
	var tags []string
	for i := range b.a.Parts {
		tags = append(tags, b.a.Parts[i].Tag)
	}
	if n := job.Nearest(strings.ToUpper(tag), tags); n != "" {
		return " " + words.Say("catalogue.near", words.Args{"near": n})
	}
	return ""
}

// threadOf is the thread of a joint: that of either part or, where pipe meets pipe, of the
// pipe's adapters, which are hung here.
func (b *build) threadOf(at Join) string {
	for _, e := range [2]End{at.A, at.B} {
		if s := b.port(e).Size; s.Family == "thread" {
			return s.Mark
		}
	}
	thread := b.rows.Pipes[b.port(at.B).Size].Thread
	if pa, pb := b.port(at.A), b.port(at.B); pa.Size == pb.Size && pa.End == pb.End { // no adapters so far
		for _, e := range [2]End{at.A, at.B} {
			if b.a.Parts[e.Part].Kind != Run { // a header made of the pipe: both hang on the run
				e = at.A
				if b.a.Parts[e.Part].Kind != Run {
					e = at.B
				}
			}
			b.adapt(e, thread)
		}
	}
	return thread
}

// sameThread faults a row of another thread than the joint's.
func (b *build) sameThread(path, key, thread string, size quantity.Size) {
	if size.Mark != "" && size.Mark != thread {
		b.fault(path+".row", "assembly.added-thread", words.Args{"row": key, "is": size.Mark, "thread": thread})
	}
}

func rowOr(key, usual string) string {
	if named(key) {
		return key
	}
	return usual
}
