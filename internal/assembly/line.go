package assembly

import (
	"math"

	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// line is where the pipework has got to while a leg is being laid: the open port and
// its height.
type line struct {
	b    *build
	role Role
	at   End
	z    quantity.Length
}

// thread returns the thread of the line's open port: its own, or that of its pipe's adapter.
func (l *line) thread() string {
	p := l.b.port(l.at)
	if p.Size.Family == "thread" {
		return p.Size.Mark
	}
	return l.b.rows.Pipes[p.Size].Thread
}

// on returns a line that goes on from an open port in another role.
func (l *line) on(role Role, at End) *line {
	return &line{b: l.b, role: role, at: at, z: l.b.port(at).Z}
}

// put adds a part with an "in" at port 0, joins it and goes on from its port out. Heights
// of its ports are the line's.
func (l *line) put(p Part, out int) int {
	p.Role = l.role
	for i := range p.Ports {
		p.Ports[i].Z = l.z
	}
	i := l.b.add(p)
	if l.at.Part >= 0 {
		l.b.meet(l.at, End{i, 0})
	}
	l.at = End{i, out}
	return i
}

func threaded(size quantity.Size, names ...string) []Port {
	ports := make([]Port, len(names))
	for i, n := range names {
		ports[i] = Port{Name: n, Size: size, End: "thread"}
	}
	return ports
}

// valve adds a hand valve.
func (l *line) valve(purpose Purpose, row catalogue.Valve) int {
	return l.put(Part{Kind: HandValve, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out"),
		Ways: []Way{{Position: "open", A: 0, B: 1}}}, 1)
}

// ball adds a ball valve of the line's own thread.
func (l *line) ball(purpose Purpose) int { return l.valve(purpose, l.b.ofThread("ball", l)) }

// ofThread returns the valve row of a kind in the line's thread: "ball-3/4".
func (b *build) ofThread(kind string, l *line) catalogue.Valve {
	thread := l.thread()
	if thread == "" {
		return catalogue.Valve{} // the pipe or part before is missing; said already
	}
	return got[catalogue.Valve](b, pathOf(&b.a.Parts[l.at.Part]))(b.rows.Valve(kind + "-" + thread))
}

func (l *line) strainer(purpose Purpose) int {
	row := l.b.ofThread("strainer", l)
	return l.put(Part{Kind: Strainer, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
}

// nonReturn adds a non-return valve or backflow assembly.
func (l *line) nonReturn(purpose Purpose, row catalogue.NonReturn) int {
	return l.put(Part{Kind: NonReturn, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
}

// check adds a single non-return valve of the line's own thread.
func (l *line) check(purpose Purpose) int {
	row := catalogue.NonReturn{}
	if thread := l.thread(); thread != "" {
		row = got[catalogue.NonReturn](l.b, pathOf(&l.b.a.Parts[l.at.Part]))(l.b.rows.NonReturn("single-check-" + thread))
	}
	return l.nonReturn(purpose, row)
}

// tee adds a tee and returns its branch.
func (l *line) tee(purpose Purpose) End {
	size := quantity.Size{Family: "thread", Mark: l.thread()}
	i := l.put(Part{Kind: Tee, Purpose: purpose, Size: size, Ports: threaded(size, "in", "out", "branch")}, 1)
	return End{i, 2}
}

// drain adds a tee with a drain valve on it: to empty, to sample, to test a non-return valve by.
func (l *line) drain(purpose Purpose) int {
	branch := l.on(l.role, l.tee(purpose.onTee()))
	return branch.drainOn(purpose, "drain-1/2")
}

// cock adds a tee with a drain valve on it that is numbered after the rest.
func (l *line) cock(purpose Purpose) (at int) {
	l.b.later(func() { at = l.drain(purpose) })
	return at
}

// drainOn ends the line in a drain valve.
func (l *line) drainOn(purpose Purpose, key string) int {
	row := got[catalogue.Valve](l.b, "pipework.outdoors")(l.b.rows.Valve(key))
	return l.put(Part{Kind: Drain, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in")}, 0)
}

// run adds a length of pipe that ends at height z, with so many elbows and the losses
// named: "entry" from a tank, threaded tees passed ("tee-run") or turned in
// ("tee-branch") that stand by themselves, and the turn in a "header" made of the pipe.
func (l *line) run(purpose Purpose, path string, size quantity.Size, length, z quantity.Length, elbows int, extra map[string]int) int {
	b := l.b
	row := got[catalogue.Pipe](b, sizePath(path, l.role))(b.rows.Pipe(size))
	if !(length > 0) {
		b.fault(path, "assembly.length", words.Args{})
	}
	i := l.put(Part{Kind: Run, Purpose: purpose, Row: row, Size: size, Length: length,
		Ports: []Port{{Name: "in", Size: size, End: row.Joint}, {Name: "out", Size: size, End: row.Joint}}}, 1)
	b.a.Parts[i].Ports[1].Z = z
	l.z = z
	if row.Key == "" {
		return i
	}
	b.fit(i, "elbow", elbows)
	b.fit(i, "entry", extra["entry"])
	b.fit(i, "tee-branch", extra["header"])
	for _, kind := range []string{"tee-branch", "tee-run"} {
		if f, ok := b.rows.Fittings[kind]; ok {
			b.a.Parts[i].hang(f.Strung(row.Bore), extra[kind])
		}
	}
	return i
}

// fit strings n fittings of a kind on run i.
func (b *build) fit(i int, kind string, n int) {
	if n == 0 {
		return
	}
	f := got[catalogue.Fitting](b, pathOf(&b.a.Parts[i]))(b.rows.Fitting(kind, b.a.Parts[i].Size))
	b.a.Parts[i].hang(f, n)
}

// sizePath is the path of the pipe size that goes with the path of a length.
func sizePath(path string, role Role) string {
	switch {
	case path == "supply.service.length":
		return "supply.service.pipe"
	case len(path) > 8 && path[:8] == "outlets.":
		return path[:len(path)-len("distance")] + "pipe"
	case role == HomeRole:
		return "pipework.indoors"
	}
	return "pipework.outdoors"
}

// bends is how many elbows the job gives each run.
func (b *build) bends() int { return int(math.Round(float64(b.job.Pipework.Bends.V))) }
