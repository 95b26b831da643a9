package takeoff

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
)

// unions says which joins between two threads are made by a union and not by a nipple
// alone. Two rules of the trade: what is taken out for its care or repair comes out between
// unions, a pump with one at either end, a strainer, regulator, non-return valve, float valve or
// vessel by one at an end;
// and a ring of screwed joints, or a screwed row between two things that stand fixed, has a
// joint that is made without turning either side. A pipe with a compression joint is such a
// joint by itself. The indices are those of the assembly's joins.
func unions(a *assembly.Assembly) map[int]bool {
	set := map[int]bool{}
	at := map[assembly.End]int{} // the join of a port
	for n, j := range a.Joins {
		at[j.A], at[j.B] = n, n
	}
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Kept {
			continue
		}
		switch ends := screwedEnds(a, i); p.Kind {
		case assembly.Pump:
			for k := range p.Ports {
				if n, met := at[assembly.End{Part: i, Port: k}]; met && !undone(a, i, k) {
					set[n] = true
				}
			}
		case assembly.FloatValve, assembly.Vessel: // in a tank's wall, and too big to be turned
			if n, met := at[assembly.End{Part: i, Port: 0}]; met && !undone(a, i, 0) {
				set[n] = true
			}
		case assembly.NonReturn, assembly.Strainer, assembly.Regulator:
			loose := undone(a, i, 0) || undone(a, i, 1)
			for _, e := range ends {
				loose = loose || set[at[e]]
			}
			if out, met := at[assembly.End{Part: i, Port: 1}]; !loose && met {
				set[out] = true
			}
			if row, _ := p.Row.(catalogue.NonReturn); row.Kind == "reduced-pressure" { // tested, and sent away, whole
				for _, e := range ends {
					set[at[e]] = true
				}
			}
		}
	}
	closeRings(a, set)
	return set
}

// screwedEnds are a part's ports that meet another part thread to thread.
func screwedEnds(a *assembly.Assembly, i int) []assembly.End {
	var list []assembly.End
	for k := range a.Parts[i].Ports {
		e := assembly.End{Part: i, Port: k}
		if o, ok := a.Meets(e); ok && screwed(a, e, o) {
			list = append(list, e)
		}
	}
	return list
}

// screwed reports whether a join is thread in thread, with no joint of a pipe between that
// is made without turning.
func screwed(a *assembly.Assembly, x, y assembly.End) bool {
	one, other := &a.Parts[x.Part], &a.Parts[y.Part]
	return one.Kind != assembly.Main && other.Kind != assembly.Main && one.Ports[x.Port].End == "thread" && other.Ports[y.Port].End == "thread"
}

// undone reports whether a part's port meets a pipe by a joint that can be undone: not one
// that is pressed, soldered, glued or welded.
func undone(a *assembly.Assembly, i, port int) bool {
	o, ok := a.Meets(assembly.End{Part: i, Port: port})
	return ok && a.Parts[o.Part].Kind == assembly.Run && a.Parts[o.Part].Ports[o.Port].End == "compression"
}

// closeRings makes a union of each screwed join that would close a ring of others: what is
// left is a tree, in which every piece can be turned on. Stores, pumps, heaters and what is
// kept stand fixed, as if joined to one another.
func closeRings(a *assembly.Assembly, set map[int]bool) {
	group := make([]int, len(a.Parts)+1)
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	ground := len(a.Parts)
	for i := range a.Parts {
		switch p := &a.Parts[i]; {
		case p.Kind == assembly.Store, p.Kind == assembly.Pump, p.Kind == assembly.Heater, p.Kept && p.Kind != assembly.Tee:
			group[root(i)] = root(ground)
		}
	}
	for n, j := range a.Joins {
		if set[n] || !screwed(a, j.A, j.B) || a.Parts[j.A.Part].Kept && a.Parts[j.B.Part].Kept {
			continue
		}
		x, y := root(j.A.Part), root(j.B.Part)
		if x == y {
			set[n] = true
			continue
		}
		group[x] = y
	}
}
