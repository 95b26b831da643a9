package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// Air that a store draws in while its pump runs, and the way it takes.
const (
	airDensity = 1.2   // kg/m³ at 20 °C and sea level
	airHole    = 0.6   // discharge coefficient of a screened hole, an assumption
	airBore    = 0.019 // m: the least bore of an overflow pipe (trade rule), an assumption
)

// storeMishaps: what the store's openings can come to. With the vent blocked air comes in
// through the overflow alone, and the surface presses as much less as that needs.
func (b *builder) storeMishaps(i int) {
	b.mishap(i, "overflow-blocked", Mishap{Upset: OverflowBlocked})
	vent := Mishap{Upset: VentBlocked, Sinks: airLoss(b.leaves(i)), surface: b.c.surface}
	if i == b.a.Header() {
		vent.Upper, vent.surface = true, b.c.upper
	}
	b.mishap(i, "vent-blocked", vent)
	b.mishap(i, "screens-blocked", Mishap{Upset: ScreensBlocked})
}

// airLoss is the head [m of water] that the air for a flow q [m³/s] out of a store needs
// through an overflow of the least bore: Δp = ρ_a/2 (q/(C A))² (Torricelli for air).
func airLoss(q float64) float64 {
	v := q / (airHole * math.Pi / 4 * airBore * airBore)
	return airDensity / 2 * v * v / Weight
}

// leaves is more than ever leaves a store [m³/s]: what its pumps draw at the end of their
// curve or, where water falls from it, what its full head drives down the pipe below it, as
// though that ended at the lowest outlet.
func (b *builder) leaves(store int) float64 {
	if len(b.c.pumps) > 0 && store != b.a.Header() {
		law, _ := b.elements[b.c.element[b.c.pumps[0]]].Law.(*hydraulics.Pump)
		return float64(max(1, b.a.Together)) * law.RunOut(1)
	}
	head := b.fall(store)
	q := 0.0
	for _, run := range b.below(store) {
		law := b.elements[b.c.element[run]].Law
		drop := func(q float64) float64 { h, _ := law.Drop(q, 1); return h }
		low, high := 0.0, 1.0 // m³/s: more than any pipe of a home carries
		for range 40 {
			if mid := (low + high) / 2; drop(mid) < head {
				low = mid
			} else {
				high = mid
			}
		}
		q += high
	}
	return q
}

// fall is the height from a store's rim down to the lowest outlet [m], 0 where none is lower.
func (b *builder) fall(store int) float64 {
	p, low := &b.a.Parts[store], math.Inf(1)
	row, _ := p.Row.(catalogue.Store)
	for _, i := range b.a.Of(assembly.Outlet) {
		low = math.Min(low, float64(b.a.Parts[i].Ports[0].Z))
	}
	return math.Max(float64(p.Ports[0].Z+row.Overflow-row.Outlet)-low, 0)
}

// below lists the pipes that water from a store comes to first.
func (b *builder) below(store int) []int {
	var runs []int
	seen := map[int]bool{store: true}
	for at := []int{store}; len(at) > 0; at = at[1:] {
		for _, j := range b.a.Joins {
			next := j.A.Part + j.B.Part - at[0]
			if j.A.Part != at[0] && j.B.Part != at[0] || seen[next] {
				continue
			}
			if seen[next] = true; b.a.Parts[next].Kind == assembly.Run {
				runs = append(runs, next)
			} else {
				at = append(at, next)
			}
		}
	}
	return runs
}

// controlMishaps: every device that decides can be stuck either way.
func (b *builder) controlMishaps() {
	for _, k := range b.a.Controls {
		on, off := Mishap{Upset: PumpAlwaysRuns}, Mishap{Upset: PumpNeverRuns}
		name := "control"
		switch k.Kind {
		case assembly.LockOut:
			name, on.Upset, off.Upset = "lock-out", LockAlwaysLets, LockAlwaysBars
		case assembly.CutOut:
			name, on.Upset, off.Upset = "cut-out", LockAlwaysLets, LockAlwaysBars
		case assembly.DryRun:
			name, on.Upset, off.Upset = "level-switch", LevelReadsWater, LevelReadsEmpty
		}
		b.mishap(k.Senses.Part, name+"-stuck-on", on)
		b.mishap(k.Senses.Part, name+"-stuck-off", off)
	}
}

// swapMishaps: the labels of any two valves turned by hand are swapped.
func (b *builder) swapMishaps() {
	valves := b.a.Of(assembly.HandValve)
	for n, i := range valves {
		for _, k := range valves[n+1:] {
			b.c.Mishaps = append(b.c.Mishaps, Mishap{ID: "tags-swapped", Tag: b.a.Parts[i].Tag, Other: b.a.Parts[k].Tag,
				Parts: []int{i, k}, Swap: true})
		}
	}
}

// grit is the one mishap of a common cause: what an interruption stirs up lodges under
// the lip of every non-return valve at once, both lips of a double one. A reduced-pressure
// assembly so fouled drains to the air what comes back.
func (b *builder) grit() error {
	m := Mishap{ID: "grit"}
	for _, i := range b.a.Of(assembly.NonReturn) {
		p := &b.a.Parts[i]
		row, _ := p.Row.(catalogue.NonReturn)
		kv := b.c.in.factor(float64(row.Kv))
		from, to := b.c.point[i][0], b.c.point[i][1]
		relieved := row.Kind == "reduced-pressure"
		if relieved { // out of its relief, from between the seats
			from, to = to, b.newPoint(p.Tag+".relief", float64(p.Ports[1].Z), true)
		}
		leak, err := hydraulics.NewLeak(p.Tag, from, to, kv, hydraulics.FouledLip)
		if err != nil {
			return err
		}
		leak.OneWay = relieved
		m.Opens = append(m.Opens, b.extra(i, leak))
		m.Parts = append(m.Parts, i)
	}
	if len(m.Parts) > 0 {
		b.c.Mishaps = append(b.c.Mishaps, m)
	}
	return nil
}
