package assembly

import (
	"math"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// complete faults what the lines have left out: a part, an outlet or the main that meets
// nothing, and ports that stay open.
func (f *freehand) complete() {
	for i := range f.job.Parts {
		if p := &f.job.Parts[i]; p.Tag != mainWord {
			f.met(p.Tag, "parts."+p.Tag, "assembly.free-left")
		}
	}
	for i := range f.job.Outlets {
		f.met(f.job.Outlets[i].Tag, "outlets."+f.job.Outlets[i].Tag, "assembly.free-outlet")
	}
	if _, ok := f.at[mainWord]; !ok {
		f.fault("joins", "assembly.free-no-main", nil)
	}
	for i := range f.a.Parts {
		f.openPorts(i)
	}
}

func (f *freehand) met(tag, path, id string) {
	if _, ok := f.at[tag]; !ok {
		f.fault(path, id, words.Args{"tag": tag})
	}
}

// openPorts caps what may stay unused, the drain of a tank and the hot side of a heater,
// and faults every other port that meets nothing.
func (f *freehand) openPorts(i int) {
	p := &f.a.Parts[i]
	for k := range p.Ports {
		port := &p.Ports[k]
		_, met := f.a.Meets(End{i, k})
		switch {
		case met || port.End == "open":
		case p.Kind == Store && (strings.HasPrefix(port.Name, "drain") || port.Name == levelPort), p.Kind == Heater && port.Name == "out":
			port.End = "capped"
		default:
			f.fault(f.pathOr(p), "assembly.free-open", words.Args{"tag": p.Tag, "port": port.Name})
		}
	}
}

func (f *freehand) pathOr(p *Part) string {
	if p.Path != "" {
		return p.Path
	}
	return pathOf(p)
}

// levels gives every port its height. Only a pipe rises: what is joined without a pipe
// between stands at one height, that of the main, the store, the pump, an outlet or the
// height given; where none is, at the height of a hand.
func (f *freehand) levels() {
	group := make([]int, len(f.a.Parts)*2)
	for i := range group {
		group[i] = i
	}
	for _, j := range f.a.Joins {
		unite(group, f.node(j.A), f.node(j.B))
	}
	at := map[int]level{}
	for i := range f.a.Parts {
		if f.a.Parts[i].Kind != Run {
			f.settle(at, group, i)
		}
	}
	for i := range f.a.Parts {
		if p := f.listed[strings.ToLower(f.a.Parts[i].Tag)]; p != nil && f.a.Parts[i].Kind == Run && f.given(p.Tag) {
			f.note(at, root(group, 2*i+1), level{p.Height.V, f.a.Parts[i].Tag, "parts." + p.Tag + ".height"})
		}
	}
	for i := range f.a.Parts {
		for k := range f.a.Parts[i].Ports {
			l, known := at[root(group, f.node(End{i, k}))]
			if !known {
				l.z = f.hand()
			}
			f.a.Parts[i].Ports[k].Z = l.z
		}
	}
}

// level is a height and where it comes from.
type level struct {
	z         quantity.Length
	tag, path string
}

// node is what stands at one height: each end of a pipe, or a part as a whole.
func (f *freehand) node(e End) int {
	if f.a.Parts[e.Part].Kind == Run {
		return 2*e.Part + e.Port
	}
	return 2 * e.Part
}

func root(group []int, i int) int {
	for group[i] != i {
		group[i] = group[group[i]]
		i = group[i]
	}
	return i
}

func unite(group []int, a, b int) bool {
	x, y := root(group, a), root(group, b)
	group[max(x, y)] = min(x, y)
	return x != y
}

// settle notes the height of a part that has one of its own.
func (f *freehand) settle(at map[int]level, group []int, i int) {
	p := &f.a.Parts[i]
	ch := &f.job.Choices
	l := level{tag: p.Tag, path: p.Path}
	listed := f.listed[strings.ToLower(p.Tag)]
	switch {
	case listed != nil && p.Path != "" && f.given(listed.Tag):
		l.z, l.path = listed.Height.V, p.Path+".height"
	case p.Kind == Main:
	case p.Kind == Store:
		l.z, l.path = f.base(i)
		l.z += p.Row.(catalogue.Store).Outlet
	case p.Kind == FloatValve && f.a.Fills(i) >= 0:
		l.z, l.path = f.base(f.a.Fills(i))
		l.z += f.a.Parts[f.a.Fills(i)].Row.(catalogue.Store).Inlet
	case p.Kind == Pump:
		l.z, l.path = ch.PumpLevel.V, "choices.pump.level"
	case p.Kind == Outlet:
		l.z, l.path = f.job.Home.Level.V+f.taps[p.Tag].Height.V, "outlets."+p.Tag+".height"
	default:
		return
	}
	f.note(at, root(group, 2*i), l)
}

// base is the height a store's base stands at, and the path that says so.
func (f *freehand) base(store int) (quantity.Length, string) {
	if store == f.a.Header() {
		return f.job.Choices.HeaderLevel.V, "choices.header.level"
	}
	return f.job.Choices.StoreLevel.V, "choices.store.level"
}

// given reports whether the job gives a part a height of its own.
func (f *freehand) given(tag string) bool {
	q := f.listed[tag].Height
	return q.Basis != quantity.Assumed || q.From != ""
}

func (f *freehand) note(at map[int]level, group int, l level) {
	have, known := at[group]
	if !known {
		at[group] = l
		return
	}
	if math.Abs(float64(have.z-l.z)) > 1e-9 {
		f.fault(l.path, "assembly.free-level", words.Args{"one": have.tag, "other": l.tag,
			"high": f.metres(have.z), "low": f.metres(l.z)})
	}
}

// metres writes a height in the reader's units.
func (f *freehand) metres(z quantity.Length) string {
	return quantity.Format(quantity.Quantity{Dim: quantity.LengthDim, SI: float64(z), Basis: quantity.Stated}, f.job.System())
}

// controls says what each control decides. It acts on the pump.
func (f *freehand) controls() {
	ch := &f.job.Choices
	for _, s := range f.sense {
		p := &f.a.Parts[s.part]
		if len(f.a.Of(Pump)) == 0 {
			f.fault(p.Path, "assembly.free-no-pump", words.Args{"tag": p.Tag})
			continue
		}
		c := Control{Tag: p.Tag, Kind: ControlKind(ch.Control), Senses: End{s.part, 0}, Acts: f.a.PumpTags(), On: ch.CutIn.V, Off: ch.CutOut.V}
		if s.kind == string(LockOut) {
			c.Kind, c.On, c.Off = LockOut, ch.LockLow.V, ch.LockHigh.V
			if !(c.On > 0 && c.Off > c.On) {
				f.fault("choices.lock-out.high", "assembly.lock-out", nil)
			}
		}
		if s.kind == levelSwitch {
			c.Kind, c.On, c.Off = DryRun, 0, 0
		}
		if s.kind == string(CutOut) {
			c.Kind, c.On, c.Off = CutOut, ch.LockHigh.V, ch.LockLow.V
			if !(c.Off > 0 && c.On > c.Off) {
				f.fault("choices.lock-out.high", "assembly.cut-out", nil)
			}
		}
		f.a.Controls = append(f.a.Controls, c)
	}
}

// rings faults a loop of nothing but pipes and tees: nothing in it can be shut, and
// nobody can say which way its water goes.
func (f *freehand) rings() {
	group := make([]int, len(f.a.Parts))
	for i := range group {
		group[i] = i
	}
	pipe := func(i int) bool { return f.a.Parts[i].Kind == Run || f.a.Parts[i].Kind == Tee }
	for _, j := range f.a.Joins {
		if !pipe(j.A.Part) || !pipe(j.B.Part) || unite(group, j.A.Part, j.B.Part) {
			continue
		}
		where := "joins"
		if by := f.path[j.A]; by != "" {
			where = "joins." + by + ".line"
		}
		f.fault(where, "assembly.free-ring", words.Args{"one": f.a.Parts[j.A.Part].Tag, "other": f.a.Parts[j.B.Part].Tag})
	}
}
