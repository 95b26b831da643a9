package assembly

import (
	"strconv"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// freePurposes say what a listed part is for, by its kind and the leg it stands in.
var freePurposes = map[Kind]map[Role]Purpose{
	HandValve: {Service: AsServiceStop, Feed: AsFeedValve, Storage: AsStoreValve, Boost: AsPumpValve,
		MainLeg: AsMainLegValve, BypassBy: AsByPassValve, HomeRole: AsHomeValve},
	NonReturn: {Service: AsBackflow, Feed: AsFeedCheck, Storage: AsStoreCheck, Boost: AsPumpCheck,
		MainLeg: AsMainLegCheck, BypassBy: AsByPassCheck, HomeRole: AsHomeCheck},
	Drain: {Service: AsFlushTap, Feed: AsFeedDrain, Storage: AsStoreDrain, Boost: AsPumpDrain,
		MainLeg: AsMainLegDrain, BypassBy: AsByPassDrain, HomeRole: AsHomeDrain},
	Run: {Service: AsServiceRun, Feed: AsFeedRun, Storage: AsLinkRun, Boost: AsBoostRun,
		MainLeg: AsMainLegRun, BypassBy: AsByPassRun, HomeRole: AsHomeRun},
}

// freePurpose is what a listed part is for.
func freePurpose(k Kind, r Role) Purpose {
	if purpose := freePurposes[k][r]; purpose != "" {
		return purpose
	}
	return map[Kind]Purpose{Meter: AsMeter, Isolator: AsVesselValve, ThreeWay: AsChangeover, Spool: AsSpool, Strainer: AsStrainer, Regulator: AsRegulator, FloatValve: AsFloat,
		Store: AsStore, Pump: AsPump, Vessel: AsVessel, Heater: AsHeater, Tee: AsTee}[k]
}

// make makes the part a line meets first and joins nothing; −1 when it cannot.
func (f *freehand) make(l *line, tag string) int {
	switch {
	case tag == mainWord:
		s := &f.job.Supply
		return f.add(Part{Tag: MainTag, Kind: Main, Role: Service, Purpose: AsMain, Size: s.Pipe, Ports: []Port{{Name: "out"}}, Kept: true})
	case f.taps[tag] != nil:
		return f.tap(tag)
	}
	p := f.listed[tag]
	part := Part{Tag: strings.ToUpper(tag), Path: "parts." + tag, Kept: p.Kept == job.Yes}
	if p.Kind == "pipe" {
		return f.pipe(l, part, p.Size, p.Length.V)
	}
	if _, ok := f.fill(l, &part, p.Kind, p.Row); !ok {
		return -1
	}
	if part.Purpose == "" {
		part.Purpose = freePurpose(part.Kind, l.role)
	}
	if part.Purpose == AsServiceStop && len(f.a.Of(Run)) == 0 {
		part.Purpose = AsMeterStop // before any pipe
	}
	part.Role = l.role
	i := f.add(part)
	if part.Kind == Switch && part.Purpose != AsLevelAlarm {
		f.sense = append(f.sense, sensed{i, p.Kind})
	}
	return i
}

// fill gives a part its kind, row and ports. Without a row of its own it takes what the
// choices name for its kind, and a valve the one of the thread it is met by.
func (f *freehand) fill(l *line, p *Part, kind, key string) (Kind, bool) {
	path := p.Path + ".row"
	before := len(f.faults)
	two := func(size quantity.Size) []Port { return threaded(size, "in", "out") }
	valve := func(k Kind, table string, names ...string) {
		row := f.valveRow(l, path, table, key)
		p.Kind, p.Row, p.Size, p.Ports = k, row, row.Size, threaded(row.Size, names...)
	}
	switch kind {
	case "meter":
		if key == "" {
			row, there := f.meter()
			if !there { // one stands in, so that the lines after it are read
				f.fault("supply.meter", "assembly.free-no-meter", words.Args{"tag": p.Tag})
				row, before = f.leastMeter(), len(f.faults)
			}
			p.Kind, p.Row, p.Size, p.Ports = Meter, row, row.Size, two(row.Size)
		} else {
			valve(Meter, "meter", "in", "out")
		}
	case "hand-valve":
		valve(HandValve, "ball", "in", "out")
		p.Ways = []Way{{Position: open, A: 0, B: 1}}
	case "isolator":
		valve(Isolator, "isolator", "in", "out")
	case "three-way":
		valve(ThreeWay, "three-way", "a", "b", "c")
		p.Ways = threeWays()
	case "spool":
		valve(Spool, "spool", "in", "out")
		p.Ways = []Way{{Position: fitted, A: 0, B: 1}}
	case "strainer":
		valve(Strainer, "strainer", "in", "out")
	case "drain":
		valve(Drain, "drain", "in")
	case "non-return":
		row := catalogue.NonReturn{}
		if key == "" {
			key = "single-check-" + l.threadOr(f)
		}
		row = got[catalogue.NonReturn](f.build, path)(f.rows.NonReturn(key))
		p.Kind, p.Row, p.Size, p.Ports = NonReturn, row, row.Size, two(row.Size)
	case "tee", "header":
		f.fillTee(l, p, kind)
	default:
		f.fillMade(p, kind, key, path)
	}
	return p.Kind, len(f.faults) == before
}

// valveRow is the named row, or the one of a kind in the thread it is met by.
func (f *freehand) valveRow(l *line, path, kind, key string) catalogue.Valve {
	if key == "" {
		key = kind + "-" + l.threadOr(f)
		if kind == "drain" {
			key = "drain-1/2"
		}
	}
	row := got[catalogue.Valve](f.build, path)(f.rows.Valve(key))
	if row.Key != "" && !fits(kind, row.Kind) {
		f.fault(path, "assembly.free-row-kind", words.Args{"row": key, "is": row.Kind, "kind": kind})
	}
	return row
}

// fits reports whether a valve row of a kind serves for what is asked: a stop valve may be
// a ball, screw-down, gate or angle valve.
func fits(asked, is string) bool {
	return asked == is || asked == "ball" && (is == "screw-down" || is == "gate" || is == "angle")
}

// threadOr is the thread of the line's open port; at a line's beginning there is none.
func (l *line) threadOr(f *freehand) string {
	if l.at.Part < 0 {
		return ""
	}
	return l.thread()
}

// fillTee makes a tee or header of the size it is met by.
func (f *freehand) fillTee(l *line, p *Part, kind string) {
	p.Kind = Tee
	if kind == "header" {
		p.Size = l.b.port(l.at).Size
		p.Purpose = AsHeader
		if l.b.a.Parts[l.at.Part].Kind == Heater {
			p.Purpose = AsHotHeader
		}
		p.Ports = threaded(p.Size, "in")
		return
	}
	p.Size = quantity.Size{Family: "thread", Mark: l.threadOr(f)}
	p.Ports = threaded(p.Size, "in", "out", "branch")
}

// branch adds the next port to a header and returns it.
func (f *freehand) branch(part int) int {
	p := &f.a.Parts[part]
	n := len(p.Ports)
	p.Ports = append(p.Ports, Port{Name: strconv.Itoa(n), Size: p.Size, End: "thread"})
	return n
}

// fillMade makes what the choices name where the part names no row: store, pump, float
// valve, vessel, heater and controls.
func (f *freehand) fillMade(p *Part, kind, key, path string) {
	ch := &f.job.Choices
	or := func(choice, choicePath string) (string, string) {
		if key == "" {
			return choice, choicePath
		}
		return key, path
	}
	set := func(k Kind, row catalogue.Item, size quantity.Size, names ...string) {
		p.Kind, p.Row, p.Size, p.Ports = k, row, size, threaded(size, names...)
	}
	switch kind {
	case "float-valve":
		key, at := or(ch.Float, "choices.float")
		if len(f.a.Of(FloatValve)) > 0 {
			key, at = or(ch.HeaderFloat, "choices.header.float")
			p.Purpose = AsHeaderFloat
		}
		row := got[catalogue.Float](f.build, at)(f.rows.Float(key))
		set(FloatValve, row, row.Size, "in", "mouth")
		p.Ports[1].End = "open"
	case "store":
		key, at := or(ch.Store, "choices.store.row")
		if len(f.a.Of(Store)) > 0 {
			key, at = or(ch.HeaderRow, "choices.header.row")
			p.Purpose = AsHeaderStore
		}
		f.fillStore(p, got[catalogue.Store](f.build, at)(f.rows.Store(key)))
	case "regulator":
		key, at := or(ch.Regulator, "choices.regulator.row")
		row := got[catalogue.Regulator](f.build, at)(f.rows.Regulator(key))
		f.canSet(row, ch.RegSet.V, "choices.regulator.set")
		set(Regulator, row, row.Size, "in", "out")
		p.Set = ch.RegSet.V
	case "pump":
		key, at := or(ch.Pump, "choices.pump.row")
		row := got[catalogue.Pump](f.build, at)(f.rows.Pump(key))
		set(Pump, row, row.Size, "in", "out")
	case "vessel":
		key, at := or(ch.Vessel, "choices.vessel.row")
		row := got[catalogue.Vessel](f.build, at)(f.rows.Vessel(key))
		set(Vessel, row, row.Size, "in")
	case "heater":
		key, at := or(f.job.Home.Heater, "home.heater.type")
		p.Purpose = AsHeater
		if !named(key) {
			key, p.Purpose = "storage-vented", AsHeaterUnknown
		}
		row := got[catalogue.Heater](f.build, at)(f.rows.Heater(key))
		set(Heater, row, row.Size, "in", "out")
	case "control", levelSwitch, levelAlarm, string(LockOut), string(CutOut):
		what := ch.Control
		p.Purpose = AsControl
		switch ControlKind(kind) {
		case levelSwitch:
			what, p.Purpose = kind, AsLevelSwitch
		case levelAlarm:
			what, p.Purpose = kind, AsLevelAlarm
		case LockOut:
			what, p.Purpose = kind, AsLockOut
		case CutOut:
			what, p.Purpose = kind, AsCutOut
		}
		row := got[catalogue.Control](f.build, path)(f.rows.Control(what))
		set(Switch, row, row.Size, "in")
	default:
		panic("assembly: " + p.Tag + ": a kind passed the reader that nothing is made of: " + kind)
	}
}

// fillStore makes the linked tanks, each with its outlet and drain.
func (f *freehand) fillStore(p *Part, row catalogue.Store) {
	n, spill := f.storeCount(), f.spill()
	if len(f.a.Of(Store)) > 0 {
		n, spill, row = 1, f.headerSpill(), f.headerMade(row)
	} else {
		row = f.made(row)
	}
	p.Kind, p.Row, p.Size, p.Count, p.Spill = Store, row, row.Size, n, spill
	for i := range n {
		mark := storeMark(i, n)
		p.Ports = append(p.Ports, threaded(row.Size, "outlet"+mark, "drain"+mark)...)
	}
	p.Ports = append(p.Ports, Port{Name: levelPort, Size: f.rows.Controls[levelSwitch].Size, End: "thread"})
}

// pipe makes a run with the bends the job gives each.
func (f *freehand) pipe(l *line, p Part, size quantity.Size, length quantity.Length) int {
	if size == (quantity.Size{}) {
		size = map[Role]quantity.Size{Service: f.job.Supply.Pipe, HomeRole: f.job.Pipework.Indoors}[l.role]
		if size == (quantity.Size{}) {
			size = f.job.Pipework.Outdoors
		}
	}
	row := got[catalogue.Pipe](f.build, p.Path+".size")(f.rows.Pipe(size))
	if !(length > 0) {
		f.fault(p.Path+".length", "assembly.length", words.Args{})
	}
	p.Kind, p.Row, p.Size, p.Length, p.Role = Run, row, size, length, l.role
	p.Purpose = freePurpose(Run, l.role)
	if p.Purpose == AsBoostRun && !f.pumps() {
		p.Purpose = AsDropRun
	}
	p.Ports = []Port{{Name: "in", Size: size, End: row.Joint}, {Name: "out", Size: size, End: row.Joint}}
	i := f.add(p)
	if row.Key == "" {
		return -1
	}
	f.fit(i, "elbow", f.bends())
	return i
}

// pumps reports whether a pump is listed.
func (f *freehand) pumps() bool {
	for i := range f.job.Parts {
		if f.job.Parts[i].Kind == "pump" {
			return true
		}
	}
	return false
}

// tap lays an outlet with the pipe to it and returns the pipe.
func (f *freehand) tap(tag string) int {
	o := *f.taps[tag]
	at := len(f.a.Parts)
	before := len(f.faults)
	f.outlet(&line{b: f.build, role: HomeRole, at: End{-1, 0}}, o)
	if len(f.faults) > before {
		return -1
	}
	f.path[End{at, 1}] = ""
	return at
}
