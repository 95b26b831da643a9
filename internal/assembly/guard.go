package assembly

import "tideover/internal/catalogue"

// levelPort is the port of a store at which a level switch or an alarm hangs in it.
const levelPort = "level"

// levelSwitch and levelAlarm are the catalogue rows of a level switch and of an alarm, and the
// kinds a job lists them by.
const (
	levelSwitch = "level-switch"
	levelAlarm  = "level-alarm"
)

// guard hangs a level switch in the store the pump draws from: its low float bars the pump
// before the water is down to the outlet, its high one sounds an alarm before it overflows.
// Where the job wants none, the alarm alone. It is numbered after the rest.
func (b *build) guard() {
	at := b.a.Of(Store)[0]
	if !named(b.job.Choices.Guard) {
		b.alarm(at, "choices.store.alarm", b.job.Choices.Alarm)
		return
	}
	b.hang(at, "choices.pump.guard", b.job.Choices.Guard, AsLevelSwitch, func(i int) {
		b.a.Controls = append(b.a.Controls, Control{Kind: DryRun, Senses: End{i, 0}})
	})
}

// alarm hangs a high-level alarm in a store: a float that sounds before it overflows.
func (b *build) alarm(store int, path, chosen string) {
	if named(chosen) {
		b.hang(store, path, chosen, AsLevelAlarm, func(int) {})
	}
}

// hang puts a float switch into a store, by a port of its own.
func (b *build) hang(store int, path, key string, as Purpose, wired func(i int)) {
	row := got[catalogue.Control](b, path)(b.rows.Control(key))
	tank := &b.a.Parts[store]
	tank.Ports = append(tank.Ports, Port{Name: levelPort, Size: row.Size, End: "thread", Z: tank.Ports[0].Z})
	l := &line{b: b, role: Storage, at: End{store, len(tank.Ports) - 1}, z: tank.Ports[0].Z}
	b.later(func() {
		wired(l.put(Part{Kind: Switch, Purpose: as, Row: row, Size: row.Size, Ports: threaded(row.Size, "in")}, 0))
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
