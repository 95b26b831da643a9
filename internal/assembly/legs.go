package assembly

import (
	"math"
	"strconv"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// hand is the height of changeover and header above the ground at the meter.
func (b *build) hand() quantity.Length { return b.job.Home.Level.V + ValveHeight }

// service lays main, meter, stop valve, backflow device, service run and the house's own
// stop valve. The device stands beside the stop valve at the meter, where it keeps the
// whole service from the main and can be shut off on the street side to be tested.
func service(b *build, tees int) *line {
	s := &b.job.Supply
	l := entry(b)
	i := l.run(AsServiceRun, "supply.service.length", s.Pipe, s.Length.V, b.hand(), b.bends(), map[string]int{"tee-run": tees})
	b.a.Parts[i].Kept = true
	l.ball(AsServiceStop)
	b.regulator(l)
	return l
}

// regulator lays the pressure regulator chosen right behind the house's stop valve, where it
// holds the pressure on all that follows. It is set and read by what stands next: the flush
// tap, or its own gauge port.
func (b *build) regulator(l *line) {
	c := &b.job.Choices
	if !named(c.Regulator) {
		return
	}
	row := got[catalogue.Regulator](b, "choices.regulator.row")(b.rows.Regulator(c.Regulator))
	b.canSet(row, c.RegSet.V, "choices.regulator.set")
	l.put(Part{Kind: Regulator, Purpose: AsRegulator, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out"), Set: c.RegSet.V}, 1)
}

// canSet faults a pressure, told at a path, that a regulator's spring does not reach.
func (b *build) canSet(row catalogue.Regulator, set quantity.Pressure, path string) {
	if row.Key != "" && set == 0 {
		b.fault(path, "assembly.regulator-unset", words.Args{"row": row.Key})
		return
	}
	if row.Key != "" && (set < row.Least || set > row.Most) {
		show := func(p quantity.Pressure) string {
			return quantity.Handy(quantity.PressureDim, float64(p), b.job.System())
		}
		b.fault(path, "assembly.regulator-range", words.Args{"row": row.Key, "set": show(set), "least": show(row.Least), "most": show(row.Most)})
	}
}

// supply is service with a tap behind the house's stop valve by which the first water after
// an interruption is run clear before any of it goes to the store or to a tap.
func supply(b *build, tees int) *line {
	l := service(b, tees+1)
	l.cock(AsFlushTap)
	return l
}

// entry lays what stands at the meter: main, meter, stop valve, backflow device.
func entry(b *build) *line {
	s := &b.job.Supply
	l := &line{b: b, role: Service, at: End{-1, 0}}
	l.put(Part{Tag: MainTag, Kind: Main, Purpose: AsMain, Size: s.Pipe, Ports: []Port{{Name: "out"}}, Kept: true}, 0)
	if row, ok := b.meter(); ok {
		i := l.put(Part{Kind: Meter, Purpose: AsMeter, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
		b.a.Parts[i].Kept = true
	}
	if named(s.StopTap) {
		row := got[catalogue.Valve](b, "supply.stop-valve")(b.rows.Valve(s.StopTap))
		b.a.Parts[l.valve(AsMeterStop, row)].Kept = true
	}
	b.device(l)
	return l
}

// named reports whether a row is named at all.
func named(key string) bool { return key != "" && key != "none" && key != "unknown" }

// meter returns the meter's row. Where nobody read it, the one that takes most pressure.
func (b *build) meter() (row catalogue.Valve, ok bool) {
	switch key := b.job.Supply.Meter; key {
	case "none":
		return row, false
	case "", "unknown":
		row = b.leastMeter()
		return row, row.Key != ""
	default:
		return got[catalogue.Valve](b, "supply.meter")(b.rows.Meter(key)), true
	}
}

// leastMeter is the meter that takes most pressure.
func (b *build) leastMeter() (row catalogue.Valve) {
	for _, k := range b.rows.Keys("meters") {
		if v := b.rows.Valves[k]; row.Key == "" || v.Kv < row.Kv {
			row = v
		}
	}
	return row
}

// device adds the backflow device chosen, or keeps the non-return valve that is known to
// be there. One that nobody has seen counts as absent. A device chosen takes the place of
// the old one.
func (b *build) device(l *line) {
	chosen, there := b.job.Choices.Backflow, b.job.Supply.Check
	key, path := chosen, "choices.backflow"
	switch {
	case named(chosen):
	case named(there):
		key, path = there, "supply.non-return"
	default:
		return
	}
	row := got[catalogue.NonReturn](b, path)(b.rows.NonReturn(key))
	if !named(b.job.Supply.StopTap) {
		l.valve(AsMeterStop, got[catalogue.Valve](b, path)(b.stopFor(row)))
	}
	l.drain(AsBackflowDrain)
	i := l.nonReturn(AsBackflow, row)
	b.a.Parts[i].Kept = key == there
}

// stopFor returns the ball valve that goes with a row's thread.
func (b *build) stopFor(row catalogue.NonReturn) (catalogue.Valve, error) {
	if row.Key == "" {
		return catalogue.Valve{}, nil // missing; said already
	}
	return b.rows.Valve("ball-" + row.Size.Mark)
}

// feed lays feed valve, strainer, feed run and float valve; the float valve's mouth ends
// in the air above the store.
func feed(l *line, tees int) {
	b := l.b
	l.ball(AsFeedValve)
	l.strainer(AsFeedStrainer)
	store := b.storeRow()
	mouth := b.job.Choices.StoreLevel.V + store.Inlet
	l.run(AsFeedRun, "pipework.tee-to-store", b.job.Pipework.Outdoors, b.job.Pipework.ToStore.V, mouth, b.bends(), map[string]int{"tee-branch": tees})
	row := got[catalogue.Float](b, "choices.float")(b.rows.Float(b.job.Choices.Float))
	i := l.put(Part{Kind: FloatValve, Purpose: AsFloat, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "mouth")}, 1)
	b.port(End{i, 1}).End = "open"
}

func (b *build) storeRow() catalogue.Store {
	return b.made(got[catalogue.Store](b, "choices.store.row")(b.rows.Store(b.job.Choices.Store)))
}

// stores lays the stores side by side, each with a drain and an outlet valve of its own,
// their outlets linked, and returns the line that leads on to the pump.
func stores(b *build) *line {
	row, n := b.storeRow(), b.storeCount()
	z := b.job.Choices.StoreLevel.V + row.Outlet
	part := Part{Kind: Store, Purpose: AsStore, Role: Storage, Row: row, Size: row.Size, Count: n, Spill: b.spill()}
	for i := range n {
		mark := storeMark(i, n)
		part.Ports = append(part.Ports, threaded(row.Size, "outlet"+mark, "drain"+mark)...)
	}
	for i := range part.Ports {
		part.Ports[i].Z = z
	}
	at := b.add(part)
	for i := range n {
		tap := &line{b: b, role: Storage, at: End{at, 2*i + 1}, z: z}
		tap.drainOn(AsStoreDrain, "drain-1")
	}
	trunk := &line{b: b, role: Storage, at: End{at, 0}, z: z}
	trunk.ball(AsStoreValve)
	for i := 1; i < n; i++ {
		next := &line{b: b, role: Storage, at: End{at, 2 * i}, z: z}
		next.ball(AsStoreValve)
		next.run(AsLinkRun, "pipework.store-to-pump", b.job.Pipework.Outdoors, row.Diameter+linkGap, z, 2, map[string]int{"tee-branch": 1})
		b.meet(next.at, trunk.tee(AsLinkTee))
	}
	return trunk
}

// storeCount is how many tanks are linked.
func (b *build) storeCount() int { return max(1, int(math.Round(float64(b.job.Choices.Stores.V)))) }

// storeMark tells the ports of tank i of n from those of the others.
func storeMark(i, n int) string {
	if n == 1 {
		return ""
	}
	return "-" + strconv.Itoa(i+1)
}

// linkGap is the clear space between two stores side by side, an assumption. [m]
const linkGap quantity.Length = 0.3

// boost lays stores, suction run and what lift does, to the height of a hand.
func boost(b *build, tees map[string]int) *line {
	return boostTo(b, tees, AsBoostRun, b.hand())
}

// boostTo is boost with the pipe from the pump ending at a height.
func boostTo(b *build, tees map[string]int, purpose Purpose, z quantity.Length) *line {
	l := stores(b)
	b.guard()
	l.role = Boost
	c, w := &b.job.Choices, &b.job.Pipework
	l.run(AsSuctionRun, "pipework.store-to-pump", w.Outdoors, w.ToPump.V, c.PumpLevel.V, b.bends(), map[string]int{"entry": 1, "tee-branch": b.parted()})
	return lift(l, tees, purpose, z)
}

// lift lays the pumps with their non-return valves, vessel, control, isolating valve and
// the run to the changeover. It returns the line that arrives there.
func lift(l *line, tees map[string]int, purpose Purpose, z quantity.Length) *line {
	b := l.b
	c, w := &b.job.Choices, &b.job.Pipework
	pumpSet(l)
	l.cock(AsPumpDrain)
	passes := 3 // the drain of each side of the non-return valve, and the control
	if named(c.Vessel) {
		b.vessel(l.on(Boost, l.tee(AsVesselTee)), AsVessel, "choices.vessel.row", c.Vessel)
		passes++
	}
	sensor := l.on(Boost, l.tee(AsControlTee))
	b.control(sensor, ControlKind(c.Control), AsControl, b.a.PumpTags(), c.CutIn.V, c.CutOut.V)
	l.ball(AsPumpValve)
	with := map[string]int{"tee-run": passes, "tee-branch": tees["tee-branch"] + b.parted()}
	l.run(purpose, "pipework.pump-to-home", w.Outdoors, w.ToHome.V, z, b.bends(), with)
	return l
}

// vessel lays a pressure vessel behind an isolating valve that is locked open: shut for a
// quarter of an hour, its drain open, it lets the vessel's charge be read.
func (b *build) vessel(l *line, purpose Purpose, path, key string) {
	row := got[catalogue.Vessel](b, path)(b.rows.Vessel(key))
	if row.Key != "" {
		valve := got[catalogue.Valve](b, path)(b.rows.Valve("isolator-" + row.Size.Mark))
		b.later(func() {
			l.put(Part{Kind: Isolator, Purpose: purpose.valve(), Row: valve, Size: valve.Size, Ports: threaded(valve.Size, "in", "out")}, 1)
		})
	}
	l.put(Part{Kind: Vessel, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in")}, 0)
}

// control adds a pressure switch, sensor or controller and what it decides.
func (b *build) control(l *line, kind ControlKind, purpose Purpose, pump string, on, off quantity.Pressure) {
	path := "choices.pump.control"
	if kind.Bars() {
		path = "choices.lock-out.low"
	}
	row := got[catalogue.Control](b, path)(b.rows.Control(string(kind)))
	i := l.put(Part{Kind: Switch, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in")}, 0)
	b.a.Controls = append(b.a.Controls, Control{Tag: b.a.Parts[i].Tag, Kind: kind, Senses: End{i, 0}, Acts: pump, On: on, Off: off})
}

// home lays the run to the header, the header, the heater and each outlet on a run of its own.
func home(l *line, tees int) { homeOf(l, tees, l.b.job.Outlets) }

// homeOf is home with some of the outlets.
func homeOf(l *line, tees int, outlets []job.Outlet) {
	b := l.b
	l.role = HomeRole
	l.cock(AsHomeDrain)
	l.run(AsHomeRun, "pipework.changeover-to-header", b.job.Pipework.Indoors, b.job.Pipework.Header.V, b.hand(), b.bends(), map[string]int{"tee-run": tees + 1})
	heated := b.job.Home.Heater != "none"
	cold, hot := sides(outlets, heated)
	if len(b.job.Outlets) == 0 {
		b.fault("outlets", "assembly.no-outlets", nil)
	}
	spare := 0
	if heated {
		spare = 1
	}
	head := l.header(AsHeader, len(cold)+spare)
	port := 1
	if heated {
		heater := l.on(HomeRole, End{head, port})
		swells := b.expansion(heater)
		b.heater(heater)
		if len(hot) > 0 {
			hots := heater.header(AsHotHeader, len(hot))
			for i, o := range hot {
				run := len(b.a.Parts)
				b.outlet(heater.on(HomeRole, End{hots, i + 1}), o)
				b.passed(run, swells)
			}
		} else {
			b.port(heater.at).End = "capped"
		}
		port++
	}
	for i, o := range cold {
		b.outlet(l.on(HomeRole, End{head, port + i}), o)
	}
}

// sides parts the outlets that draw hot water alone from the rest. An outlet that draws
// both is fed from the cold side: that is where its least pressure is judged.
func sides(outlets []job.Outlet, heated bool) (cold, hot []job.Outlet) {
	for _, o := range outlets {
		if heated && o.Water == "hot" {
			hot = append(hot, o)
		} else {
			cold = append(cold, o)
		}
	}
	return cold, hot
}

// header adds the tee from which every outlet's run leaves.
func (l *line) header(purpose Purpose, branches int) int {
	names := []string{"in"}
	for i := range branches {
		names = append(names, strconv.Itoa(i+1))
	}
	size := l.b.port(l.at).Size
	i := l.put(Part{Kind: Tee, Purpose: purpose, Size: size, Ports: threaded(size, names...)}, 0)
	l.b.a.Parts[i].Kept = true
	return i
}

// heater adds the water heater. One that nobody has seen counts as open vented.
func (b *build) heater(l *line) {
	key, purpose := b.job.Home.Heater, AsHeater
	if !named(key) {
		key, purpose = "storage-vented", AsHeaterUnknown
	}
	row := got[catalogue.Heater](b, "home.heater.type")(b.rows.Heater(key))
	i := l.put(Part{Kind: Heater, Purpose: purpose, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
	b.a.Parts[i].Kept = true
}

// expansion lays the vessel that takes up what the water of a storage heater under
// pressure swells, where no valve shuts it off from the heater. It reports whether it did.
func (b *build) expansion(l *line) bool {
	row, there := b.rows.Heaters[b.job.Home.Heater]
	if !there || row.Rating == 0 || row.Least > 0 || !named(b.job.Choices.Expansion) {
		return false
	}
	b.vessel(l.on(HomeRole, l.tee(AsHeaterVesselTee)), AsHeaterVessel, "choices.heater-vessel", b.job.Choices.Expansion)
	return true
}

// passed strings on a run what a tee passed straight on the way to it takes.
func (b *build) passed(run int, tee bool) {
	row, ok := b.a.Parts[run].Row.(catalogue.Pipe)
	if f, there := b.rows.Fittings["tee-run"]; tee && ok && there {
		b.a.Parts[run].hang(f.Strung(row.Bore), 1)
	}
}

// outlet lays one outlet with its run.
func (b *build) outlet(l *line, o job.Outlet) {
	path := "outlets." + o.Tag
	z := b.job.Home.Level.V + o.Height.V
	i := l.run(AsOutletRun, path+".distance", o.Pipe, o.Distance.V, z, b.bends(), map[string]int{"header": 1})
	if named(o.Device) {
		l.nonReturn(AsOutletCheck, got[catalogue.NonReturn](b, path+".device")(b.rows.NonReturn(o.Device)))
	}
	row := b.law.Outlet(got[catalogue.Outlet](b, path+".kind")(b.rows.Outlet(o.Kind)))
	size := quantity.Size{Family: "thread", Mark: l.thread()}
	k := l.put(Part{Tag: o.Tag, Kind: Outlet, Purpose: AsOutlet, Row: row, Size: size, Ports: threaded(size, "in"), Under: o.Submerged()}, 0)
	b.a.Parts[i].Kept, b.a.Parts[k].Kept = true, true
}

// uniqueTags refuses an outlet named like a part.
func (b *build) uniqueTags() {
	seen := make(map[string]bool, len(b.a.Parts))
	for i := range b.a.Parts {
		p := &b.a.Parts[i]
		if p.Kind != Outlet {
			seen[p.Tag] = true
		}
	}
	for _, i := range b.a.Of(Outlet) {
		tag := b.a.Parts[i].Tag
		if seen[tag] {
			b.fault("outlets."+tag, "assembly.tag-taken", words.Args{"tag": tag})
		}
		seen[tag] = true
	}
}
