package assembly

import (
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// hang adds n of a fitting to a run.
func (p *Part) hang(f catalogue.Fitting, n int) {
	if n <= 0 {
		return
	}
	for i := range p.Fittings {
		if p.Fittings[i].Row.Key == f.Key {
			p.Fittings[i].Count += n
			return
		}
	}
	if p.Fittings == nil {
		p.Fittings = make([]Fitting, 0, 3) // few have more
	}
	p.Fittings = append(p.Fittings, Fitting{Row: f, Count: n})
}

// bushes strings a reducing bush for every two threads of unequal size that meet: on a
// part with a single port itself, where no water passes, else on the run nearest to them,
// so that its loss is counted.
func (b *build) bushes() {
	for _, y := range b.loose {
		x, _ := b.a.Meets(y)
		one, other := b.port(x).Size.Mark, b.port(y).Size.Mark
		if one == "" || other == "" {
			continue // a row is missing; said already
		}
		run := b.a.nearestRun(y.Part)
		if len(b.a.Parts[y.Part].Ports) == 1 {
			if f, ok := b.rows.Bush(one, other, dryBore); ok {
				b.a.Parts[y.Part].hang(f, 1)
				continue
			}
		}
		if run >= 0 {
			pipe, ok := b.a.Parts[run].Row.(catalogue.Pipe)
			if !ok {
				continue
			}
			if f, ok := b.rows.Bush(one, other, pipe.Bore); ok {
				b.a.Parts[run].hang(f, 1)
				continue
			}
		}
		part := &b.a.Parts[y.Part]
		b.fault(pathOf(part), "assembly.threads", words.Args{"tag": part.Tag, "one": one, "other": other,
			"neighbour": b.a.Parts[x.Part].Tag, "serves": b.serves(one),
			"row": b.bushRow(one, other)})
	}
}

// dryBore stands for the bore of a bush that no water passes. [m]
const dryBore quantity.Length = 0.02

// serves lists the threads a thread can be brought to.
func (b *build) serves(thread string) string {
	marks := []string{thread}
	for _, key := range b.rows.Keys("fittings") {
		f := b.rows.Fittings[key]
		switch {
		case f.Kind != "bush":
		case f.Mark == thread:
			marks = append(marks, f.Thread+" ("+f.Words+")")
		case f.Thread == thread:
			marks = append(marks, f.Mark+" ("+f.Words+")")
		}
	}
	return list(marks)
}

// pathOf returns the job path that decides the size of a part.
func pathOf(p *Part) string {
	if p.Path != "" {
		return p.Path
	}
	switch p.Kind {
	case Meter:
		return "supply.meter"
	case FloatValve:
		return "choices.float"
	case Store:
		return "choices.store.row"
	case Pump:
		return "choices.pump.row"
	case Vessel:
		if p.Purpose == AsHeaterVessel {
			return "choices.heater-vessel"
		}
		return "choices.vessel.row"
	case Heater:
		return "home.heater.type"
	case Outlet:
		return "outlets." + p.Tag + ".pipe"
	case NonReturn:
		if p.Role == Service {
			return "choices.backflow"
		}
	}
	switch {
	case p.Purpose == AsOutletRun:
		return "outlets"
	case p.Role == Service:
		return "supply.service.pipe"
	case p.Role == HomeRole:
		return "pipework.indoors"
	}
	return "pipework.outdoors"
}

// Meets returns the port joined to e; ok is false when e is open.
func (a *Assembly) Meets(e End) (other End, ok bool) {
	for _, j := range a.Joins {
		switch e {
		case j.A:
			return j.B, true
		case j.B:
			return j.A, true
		}
	}
	return End{}, false
}

// nearestRun returns the run fewest joins away from part at, the earliest of equals; −1
// when no run is joined to it at all.
func (a *Assembly) nearestRun(at int) int {
	far := map[int]int{at: 0}
	queue := []int{at}
	best := -1
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		if best >= 0 && far[i] > far[best] {
			break
		}
		if a.Parts[i].Kind == Run && (best < 0 || i < best) {
			best = i
		}
		for port := range a.Parts[i].Ports {
			if o, ok := a.Meets(End{i, port}); ok {
				if _, been := far[o.Part]; !been {
					far[o.Part] = far[i] + 1
					queue = append(queue, o.Part)
				}
			}
		}
	}
	return best
}
