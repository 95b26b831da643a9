package assembly

import "tideover/internal/catalogue"

// levelPort is the port of a store at which a level switch hangs in it.
const levelPort = "level"

// levelSwitch is the catalogue row of a level switch, and the kind a job lists one by.
const levelSwitch = "level-switch"

// guard hangs a level switch in the store the pump draws from: its low float bars the pump
// before the water is down to the outlet, its high one sounds an alarm before it overflows.
// It is numbered after the rest.
func (b *build) guard() {
	if !named(b.job.Choices.Guard) {
		return
	}
	row := got[catalogue.Control](b, "choices.pump.guard")(b.rows.Control(b.job.Choices.Guard))
	at := b.a.Of(Store)[0]
	tank := &b.a.Parts[at]
	tank.Ports = append(tank.Ports, Port{Name: levelPort, Size: row.Size, End: "thread", Z: tank.Ports[0].Z})
	l := &line{b: b, role: Storage, at: End{at, len(tank.Ports) - 1}, z: tank.Ports[0].Z}
	b.later(func() {
		i := l.put(Part{Kind: Switch, Purpose: AsLevelSwitch, Row: row, Size: row.Size, Ports: threaded(row.Size, "in")}, 0)
		b.a.Controls = append(b.a.Controls, Control{Kind: DryRun, Senses: End{i, 0}})
	})
}

// guards says of every control laid that bars pumps which they are: of a level switch they
// are laid after it.
func (b *build) guards() {
	for k := range b.a.Controls {
		if c := &b.a.Controls[k]; c.Kind == DryRun {
			c.Acts = b.a.PumpTags()
		}
	}
}
