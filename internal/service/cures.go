package service

import (
	"math"
	"slices"
	"sort"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func edit(path, text string) job.Edit { return job.Edit{Op: job.Set, Path: path, Text: text} }

// flowCures are edits worth trying where an outlet runs short, the cheapest first: a
// wider branch, a wider run indoors, then what drives the water in this mode.
func (f *reader) flowCures(m *Mode, d *Draw) [][]job.Edit {
	if f.Bare {
		return nil
	}
	var cures [][]job.Edit
	wider := func(path string, s quantity.Size) {
		if next, ok := f.wider(s); ok {
			cures = append(cures, []job.Edit{edit(path, next.String())})
		}
	}
	for _, o := range f.Job.Outlets {
		if o.Tag == d.Outlet {
			wider("outlets."+o.Tag+".pipe", o.Pipe)
		}
	}
	wider("pipework.indoors", f.Job.Pipework.Indoors)
	if m != nil && m.Pumped {
		wider("pipework.outdoors", f.Job.Pipework.Outdoors)
		return append(cures, f.pumpCures()...)
	}
	if m != nil && m.ID == "on-store" { // by its height alone
		wider("pipework.outdoors", f.Job.Pipework.Outdoors)
		return append(cures, f.heightCures(d)...)
	}
	wider("supply.service.pipe", f.Job.Supply.Pipe)
	return cures
}

// lifts are how much higher a store that feeds the home by its height is tried [m]. Judgement;
// what comes of each is worked out.
var lifts = [...]quantity.Length{1, 2, 4}

// ample is the height above the head an outlet needs that pays for the pipes on the way [m]. Judgement.
const ample = 3.0

// heightCures are higher places for what the water falls from: the header tank, or the store
// where there is none. A tank that nobody gave a height stands as low as the store: what would
// be ample for the outlet comes last. None is a tower: how that stands, an engineer says.
func (f *reader) heightCures(d *Draw) [][]job.Edit {
	path, now, highest := f.falls()
	var cures [][]job.Edit
	top := float64(highest)
	try := func(level float64) {
		text := quantity.Handy(quantity.LengthDim, level, f.Job.System())
		if back, err := quantity.Parse(text, quantity.LengthDim, f.Job.System()); err == nil && back.SI <= top {
			cures = append(cures, []job.Edit{edit(path, text)})
		}
	}
	for _, up := range lifts {
		try(float64(now + up))
	}
	for _, pipes := range []float64{ample, 2 * ample} {
		if high := f.head(d) + pipes; high > float64(now+lifts[len(lifts)-1]) {
			try(math.Min(math.Ceil(2*high)/2, math.Floor(2*top)/2))
		}
	}
	return cures
}

// falls is the tank that the water falls from where nothing pumps it: the field of its height,
// how high it stands, and up to where it may be lifted.
func (f *reader) falls() (path string, now, highest quantity.Length) {
	if f.Assembly.Header() >= 0 {
		return "choices.header.level", f.Job.Choices.HeaderLevel.V, assembly.HighestHeader(f.Job)
	}
	return "choices.store.level", f.Job.Choices.StoreLevel.V, assembly.HighestStand(f.Job)
}

// head is the head above the datum at which an outlet serves [m]: it has the pressure its kind
// asks for, and enough to pass the flow it needs, whichever is more (q goes with the root of
// the pressure it was rated at, 3 bar).
func (f *reader) head(d *Draw) float64 {
	row := need(f.part(d.Outlet))
	if row.At3Bar <= 0 {
		return float64(d.NeedHead)
	}
	share := float64(row.Need / row.At3Bar)
	passes := quantity.Pressure(3e5 * share * share)
	return float64(d.NeedHead) + circuit.HeadOf(max(row.Pressure, passes)-row.Pressure, 0)
}

// tower judges whether a tank that feeds the home by its height would have to stand higher than a
// stand reaches, for the tap that falls short and needs the most.
func (f *reader) tower() {
	m := f.r.Mode("on-store")
	if m == nil || m.Pumped || m.Same != "" {
		return
	}
	_, now, highest := f.falls()
	x := f.start("tower", "", m.ID)
	x.Figure, x.Limit, x.Sense = finding.Of(quantity.LengthDim, float64(now)), stated(quantity.LengthDim, float64(highest)), finding.AtMost
	x.Verdict = finding.Fine
	for k := range m.Alone {
		d := &m.Alone[k]
		if !d.Certified || d.Flow >= d.Need {
			continue
		}
		if need := f.head(d) + ample; need > float64(highest) && need > x.Figure.SI {
			x.Verdict, x.Figure = finding.LookAt, finding.Of(quantity.LengthDim, need)
			x.Name("tap", d.Outlet)
		}
	}
	f.add(x)
}

// turnCures have the home turn to the store by itself where a hand does it now: the automatic
// changeover, or where there is one, its lock-out set above what the main still presses then.
func (f *reader) turnCures(d *Draw) [][]job.Edit {
	lock := f.Assembly.LockOut()
	if lock == nil {
		return [][]job.Edit{{edit("choices.arrangement", "main-first")}}
	}
	low := float64(max(d.Sensor, circuit.LockFloor(f.Assembly))) + gaugeStep
	return [][]job.Edit{{f.press("choices.lock-out.low", low), f.press("choices.lock-out.high", max(low+4*gaugeStep, float64(lock.Off)))}}
}

// wider returns the next larger pipe of the same family.
func (f *reader) wider(s quantity.Size) (quantity.Size, bool) {
	if f.Bare {
		return s, false
	}
	return f.Catalogue.Wider(s)
}

// pumpCures are the two next stronger pumps of the same kind.
func (f *reader) pumpCures() [][]job.Edit {
	now, ok := f.Catalogue.Pumps[f.Job.Choices.Pump]
	if !ok || f.Bare {
		return nil
	}
	keys := larger(f.Catalogue.Pumps, func(p catalogue.Pump) (float64, bool) {
		return float64(p.Shutoff), p.Kind == now.Kind && p.Shutoff > now.Shutoff
	})
	return sets("choices.pump.row", keys, 2)
}

// vesselCures are the next larger vessels.
func (f *reader) vesselCures() [][]job.Edit {
	if f.Bare {
		return nil
	}
	now := f.Catalogue.Vessels[f.Job.Choices.Vessel]
	keys := larger(f.Catalogue.Vessels, func(v catalogue.Vessel) (float64, bool) {
		return float64(v.Volume), v.Volume > now.Volume && catalogue.VesselIn(v.Key, f.Job.System())
	})
	return sets("choices.vessel.row", keys, 4)
}

// floatCures are float valves with a larger seat, or a smaller one.
func (f *reader) floatCures(bigger bool) [][]job.Edit {
	return f.floatsFor("choices.float", f.Job.Choices.Float, bigger, 3)
}

// headerFloats are the float valves of a header tank with a larger seat, or a smaller.
func (f *reader) headerFloats(bigger bool) [][]job.Edit {
	return f.floatsFor("choices.header.float", f.Job.Choices.HeaderFloat, bigger, 2)
}

// floatsFor are the next float valves to the one now that pass more, or less.
func (f *reader) floatsFor(path, key string, bigger bool, most int) [][]job.Edit {
	now, ok := f.Catalogue.Floats[key]
	if !ok || f.Bare {
		return nil
	}
	return sets(path, larger(f.Catalogue.Floats, func(v catalogue.Float) (float64, bool) {
		if alike := v.Opens > 0 == (now.Opens > 0); !alike { // how it opens was chosen
			return 0, false
		}
		if bigger {
			return float64(v.Kv), v.Kv > now.Kv
		}
		return -float64(v.Kv), v.Kv < now.Kv
	}), most)
}

// feedCures are float valves with a larger seat, a wider feed, and both at once.
func (f *reader) feedCures() [][]job.Edit {
	cures := f.floatCures(true)
	next, ok := f.wider(f.Job.Pipework.Outdoors)
	if !ok {
		return cures
	}
	wide := []job.Edit{edit("pipework.outdoors", next.String())}
	if n := len(cures); n > 0 {
		return append(cures, wide, append(slices.Clone(cures[n-1]), wide...))
	}
	return append(cures, wide)
}

// larger returns the keys of the rows taken, in rising order of their measure.
func larger[T any](m map[string]T, take func(T) (float64, bool)) []string {
	type entry struct {
		key  string
		size float64
	}
	var list []entry
	for key, row := range m {
		if size, ok := take(row); ok {
			list = append(list, entry{key, size})
		}
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].size != list[j].size {
			return list[i].size < list[j].size
		}
		return list[i].key < list[j].key
	})
	keys := make([]string, len(list))
	for i := range list {
		keys[i] = list[i].key
	}
	return keys
}

func sets(path string, keys []string, most int) [][]job.Edit {
	var cures [][]job.Edit
	for _, key := range keys[:min(most, len(keys))] {
		cures = append(cures, []job.Edit{edit(path, key)})
	}
	return cures
}
