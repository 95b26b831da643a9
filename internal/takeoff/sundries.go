package takeoff

import (
	"math"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

const (
	sundryRank  = 17
	laggingPole = quantity.Length(2) // the length lagging is sold in, a habit of the trade. [m]
	spare       = 1                  // tie-in couplings beyond the two that are cut in
)

// sundries counts what a fitter would go back for: what goes with pipes, tanks and threads,
// what is used up, what is tested with. It follows from the assembly alone.
func (g *gather) sundries(a *assembly.Assembly) {
	g.elbows(a)
	for i := range a.Parts {
		switch p := &a.Parts[i]; p.Kind {
		case assembly.Run:
			g.ofRun(a, i)
		case assembly.Store:
			g.ofStore(p)
		case assembly.Switch:
			if hangs := p.Purpose == assembly.AsLevelSwitch || p.Purpose == assembly.AsLevelAlarm; hangs && !p.Kept {
				g.sundry("level-gland", "", 1, p.Tag)
			}
		}
	}
	g.once(a)
	if a.Setting(assembly.Drained) != nil { // frost reaches the pipework, or may
		g.lag(a)
	}
}

// sundry counts n of a sundry.
func (g *gather) sundry(key, size string, n int, tag string) {
	row, ok := g.rows.Sundries[key]
	if !ok || n <= 0 {
		return // a catalogue of the user's own may leave it out
	}
	l := g.line(row.Row, size, false, sundryRank)
	l.Count += n
	if k := len(l.Tags); k == 0 || l.Tags[k-1] != tag {
		l.Tags = append(l.Tags, tag)
	}
}

// ofRun counts inserts, clips and, where the old service pipe meets new work, couplings.
func (g *gather) ofRun(a *assembly.Assembly, i int) {
	p := &a.Parts[i]
	pipe, ok := p.Row.(catalogue.Pipe)
	if !ok {
		return
	}
	ends := len(p.Ports)
	if p.Kept {
		ends = newNeighbours(a, i)
	}
	if strings.HasPrefix(pipe.Size.Family, "PE") && pipe.Joint == "compression" {
		g.sundry("pipe-insert", pipe.Size.Mark, ends, p.Tag)
	}
	if p.Kept && p.Role == assembly.Service && ends > 0 {
		g.sundry("tie-in-coupling", pipe.Size.Mark, 2+spare, p.Tag)
	}
	if !p.Kept && pipe.Clip > 0 {
		g.sundry("pipe-clip", pipe.Size.Mark, int(math.Ceil(float64(p.Length/pipe.Clip)-1e-9))+1, p.Tag)
	}
}

// ofStore counts what every tank is fitted with beside its overflow and what meets its pipes.
func (g *gather) ofStore(p *assembly.Part) {
	if p.Kept {
		return
	}
	n := max(1, p.Count)
	g.sundry("tank-link", p.Size.Mark, n-1, p.Tag)
	g.sundry("vent-screen", "", n, p.Tag)
}

// elbows counts two for every ring of screwed parts: a leg that leaves a row of fittings at
// one tee and comes back at another turns twice.
func (g *gather) elbows(a *assembly.Assembly) {
	group := make([]int, len(a.Parts))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	row, ok := g.rows.Fittings["elbow"]
	for _, j := range a.Joins {
		if !screwed(a, j.A, j.B) || a.Parts[j.A.Part].Kind == assembly.Store || a.Parts[j.B.Part].Kind == assembly.Store {
			continue
		}
		x, y := root(j.A.Part), root(j.B.Part)
		if x != y {
			group[x] = y
			continue
		}
		if ok {
			mark := a.Parts[j.A.Part].Ports[j.A.Port].Size.Mark
			l := g.line(row.Row, mark, false, fittingRank)
			l.Thread = true
			l.Count += 2
			l.Tags = append(l.Tags, a.Parts[j.A.Part].Tag+"–"+a.Parts[j.B.Part].Tag)
		}
	}
}

// once counts what a job takes one of.
func (g *gather) once(a *assembly.Assembly) {
	built, handles := -1, 0
	for i := range a.Parts {
		p := &a.Parts[i]
		if !p.Kept && built < 0 && p.Row != nil {
			built = i
		}
		if p.Positions() != nil || p.Kind == assembly.Isolator || p.Kind == assembly.Switch {
			handles++
		}
	}
	if built < 0 {
		return
	}
	tag := a.Parts[built].Tag
	if at := a.Of(assembly.Store); len(at) > 0 {
		tag = a.Parts[at[0]].Tag
	}
	g.sundry("gauge", "", 1, g.tapping(a, tag))
	g.sundry("drain-hose", "", 1, g.tapping(a, tag))
	g.sundry("thread-seal", "", 1, tag)
	g.sundry("tags", "", handles, tag)
	for _, key := range []string{"bleach", "chlorine-strips", "neutraliser"} {
		g.sundry(key, "", 1, tag)
	}
}

// tapping is the drain nearest the home, on which a gauge is read; tag where there is none.
func (g *gather) tapping(a *assembly.Assembly, tag string) string {
	for _, purpose := range []assembly.Purpose{assembly.AsHomeDrain, assembly.AsFlushTap} {
		for _, i := range a.Of(assembly.Drain) {
			if a.Parts[i].Purpose == purpose {
				return a.Parts[i].Tag
			}
		}
	}
	return tag
}

// lag counts the lagging of new pipe out of doors and a cover for each thing there that
// stays wet longest: the float valve and the pump.
func (g *gather) lag(a *assembly.Assembly) {
	for i := range a.Parts {
		p := &a.Parts[i]
		switch outside := p.Role != assembly.HomeRole; {
		case !outside || p.Kept:
		case p.Kind == assembly.Run:
			g.sundry("lagging", p.Size.Mark, pieces(p.Length, laggingPole), p.Tag)
		case p.Kind == assembly.FloatValve || p.Kind == assembly.Pump:
			g.sundry("lagging-box", "", 1, p.Tag)
		}
	}
}
