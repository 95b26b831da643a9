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
	vent := Mishap{Upset: VentBlocked}
	if i != b.a.Header() { // from a header tank no pump draws
		vent.Sinks, vent.surface = b.airLoss(), b.c.surface
	}
	b.mishap(i, "vent-blocked", vent)
	b.mishap(i, "screens-blocked", Mishap{Upset: ScreensBlocked})
}

// airLoss is the head [m of water] that the air for a pump at the end of its curve needs
// through an overflow of the least bore: Δp = ρ_a/2 (q/(C A))² (Torricelli for air).
func (b *builder) airLoss() float64 {
	if len(b.c.pumps) == 0 {
		return 0
	}
	law, _ := b.elements[b.c.element[b.c.pumps[0]]].Law.(*hydraulics.Pump)
	v := float64(max(1, b.a.Together)) * law.RunOut(1) / (airHole * math.Pi / 4 * airBore * airBore)
	return airDensity / 2 * v * v / Weight
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
