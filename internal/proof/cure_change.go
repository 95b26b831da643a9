package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// Change is one alteration of an assembly that no field of the job stands for yet: a part
// put in beside another. The assembly given is never touched.
type Change struct {
	Kind string // "check", "vessel", "valve", "turn"; message "cure.<Kind>" with {where}
	Part int    // beside which it goes
	Port int    // at which port of it
}

// Put returns a copy of the assembly with the change made, and the tag of the new part;
// nil where there is nothing to put it in: an open end, or no row of the size.
func (c Change) Put(a *assembly.Assembly, rows *catalogue.Catalogue) (*assembly.Assembly, string) {
	if c.Kind == "turn" {
		return c.turn(a)
	}
	end := assembly.End{Part: c.Part, Port: c.Port}
	join := -1
	for n, j := range a.Joins {
		if j.A == end || j.B == end {
			join = n
		}
	}
	if join < 0 {
		return nil, ""
	}
	at := a.Joins[join]
	next := copyOf(a)
	part, ok := c.make(a, at, rows)
	if !ok {
		return nil, ""
	}
	i := len(next.Parts)
	next.Parts = append(next.Parts, part)
	next.Joins[join] = assembly.Join{A: at.A, B: assembly.End{Part: i, Port: 0}}
	next.Joins = append(next.Joins, assembly.Join{A: assembly.End{Part: i, Port: 1}, B: at.B})
	if c.Kind == "vessel" {
		next.Parts = append(next.Parts, vesselOn(&next.Parts[i], rows))
		next.Joins = append(next.Joins, assembly.Join{A: assembly.End{Part: i, Port: 2}, B: assembly.End{Part: i + 1, Port: 0}})
	}
	for n := range next.Settings {
		if part.Kind == assembly.HandValve {
			next.Settings[n].Positions[part.Tag] = "open"
		}
	}
	if c.Kind == "vessel" {
		return next, next.Parts[i+1].Tag
	}
	return next, part.Tag
}

// turn turns a non-return valve round: what was joined to one of its ends is joined to the other.
func (c Change) turn(a *assembly.Assembly) (*assembly.Assembly, string) {
	next := copyOf(a)
	for n := range next.Joins {
		j := &next.Joins[n]
		for _, e := range []*assembly.End{&j.A, &j.B} {
			if e.Part == c.Part {
				e.Port = 1 - e.Port
			}
		}
	}
	return next, a.Parts[c.Part].Tag
}

// make makes the part that goes into a join: of the join's own thread or the nearest row.
func (c Change) make(a *assembly.Assembly, at assembly.Join, rows *catalogue.Catalogue) (assembly.Part, bool) {
	from := a.Parts[at.A.Part].Ports[at.A.Port]
	thread := threadAt(a, at, rows)
	size := quantity.Size{Family: "thread", Mark: thread}
	p := assembly.Part{Role: a.Parts[at.B.Part].Role, Size: size}
	ports := []string{"in", "out"}
	switch c.Kind {
	case "check":
		row, err := rows.NonReturn("single-check-" + thread)
		if err != nil {
			return p, false
		}
		p.Kind, p.Row, p.Purpose = assembly.NonReturn, row, assembly.AsMainLegCheck
	case "valve":
		row, err := rows.Valve("ball-" + thread)
		if err != nil {
			return p, false
		}
		p.Kind, p.Row, p.Purpose = assembly.HandValve, row, assembly.AsMainLegValve
		p.Ways = []assembly.Way{{Position: "open", A: 0, B: 1}}
	default:
		p.Kind, p.Purpose = assembly.Tee, assembly.AsVesselTee
		ports = append(ports, "branch")
	}
	p.Tag = nextTag(a, p.Kind)
	for _, name := range ports {
		p.Ports = append(p.Ports, assembly.Port{Name: name, Size: size, End: "thread", Z: from.Z})
	}
	return p, true
}

// threadAt is the thread of a join: that of either part, or of a pipe's usual adapter.
func threadAt(a *assembly.Assembly, at assembly.Join, rows *catalogue.Catalogue) string {
	for _, e := range [2]assembly.End{at.A, at.B} {
		if s := a.Parts[e.Part].Ports[e.Port].Size; s.Family == "thread" {
			return s.Mark
		}
	}
	return rows.Pipes[a.Parts[at.A.Part].Ports[at.A.Port].Size].Thread
}

// vesselOn is the smallest vessel of the catalogue on a tee's branch.
func vesselOn(tee *assembly.Part, rows *catalogue.Catalogue) assembly.Part {
	var row catalogue.Vessel
	for _, k := range rows.Keys("vessels") {
		if v := rows.Vessels[k]; row.Key == "" || v.Volume < row.Volume {
			row = v
		}
	}
	return assembly.Part{Tag: "E" + tee.Tag[1:], Kind: assembly.Vessel, Role: tee.Role, Purpose: assembly.AsVessel, Row: row, Size: row.Size,
		Ports: []assembly.Port{{Name: "in", Size: row.Size, End: "thread", Z: tee.Ports[0].Z}}}
}

// letters are the first letters of tags, as the assembly gives them.
var letters = map[assembly.Kind]string{assembly.NonReturn: "N", assembly.HandValve: "V", assembly.Tee: "T", assembly.Vessel: "E"}

// nextTag is the next free tag of a kind.
func nextTag(a *assembly.Assembly, k assembly.Kind) string {
	for n := 1; ; n++ {
		if tag := letters[k] + digits(n); a.Index(tag) < 0 && a.Index("E"+digits(n)) < 0 {
			return tag
		}
	}
}

// copyOf is a deep copy, but for the catalogue rows, which nobody changes.
func copyOf(a *assembly.Assembly) *assembly.Assembly {
	c := *a
	c.Parts = append([]assembly.Part(nil), a.Parts...)
	c.Joins = append([]assembly.Join(nil), a.Joins...)
	c.Controls = append([]assembly.Control(nil), a.Controls...)
	c.Settings = make([]assembly.Setting, len(a.Settings))
	for n, s := range a.Settings {
		c.Settings[n] = assembly.Setting{Name: s.Name, Positions: make(map[string]string, len(s.Positions))}
		for tag, at := range s.Positions {
			c.Settings[n].Positions[tag] = at
		}
	}
	return &c
}
