package proof

import (
	"cmp"
	"slices"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/words"
)

// candidates lists what is worth trying for a broken promise, the cheapest first.
func candidates(in *Input, r *Result, b Bench) []Cure {
	switch r.About.ID {
	case "main-clean":
		return concat(in.turns(), in.devices(b), in.checks(), arrangements(in))
	case "no-loop", "not-backwards":
		return concat(in.turns(), in.checks(), arrangements(in))
	case "mixer":
		return concat(in.coldTaps(), arrangements(in))
	case "no-draught", "store-cleaned":
		return arrangements(in)
	case "heater-boosted":
		return edits("heater", "home.heater.type", "storage-pressure")
	case "ratings":
		return concat(in.cutOuts(), arrangements(in))
	case "expansion":
		return concat(edits("heater-vessel", "choices.heater-vessel", usualVessel), in.homeVessels(b))
	case "overflow":
		return concat(in.overflows(r), in.floats(b, in.overrun(r), false))
	case "not-dry":
		return concat(edits("guard", "choices.pump.guard", "level-switch"), edits("control", "choices.pump.control", "flow-control", "speed-control"))
	case "not-dead-headed":
		return edits("control", "choices.pump.control", "flow-control", "speed-control")
	case "takes-main":
		return in.lockOuts("choices.lock-out.high")
	case "no-hunting":
		return concat(in.lockOuts("choices.lock-out.low"), in.floats(b, in.Part(assembly.Store, ""), false))
	case "no-chatter":
		return concat(edits("vessel", "choices.vessel.row", usualVessel), edits("control", "choices.pump.control", "flow-control"))
	case "served":
		return concat(in.turns(), arrangements(in))
	case "isolated":
		return in.valves(r)
	}
	return nil
}

func concat(lists ...[]Cure) []Cure {
	var out []Cure
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// edits are cures that set one field to each of some values, but the one it has.
func edits(kind, path string, values ...string) []Cure {
	var list []Cure
	for _, v := range values {
		list = append(list, Cure{Kind: kind, Value: v, Edits: []job.Edit{{Op: job.Set, Path: path, Text: v}}})
	}
	return list
}

// coldTaps make a cold tap of a mixer that stays on the main while the heater hangs on the
// store's side.
func (in *Input) coldTaps() []Cure {
	sides := in.Assembly.Sides()
	var list []Cure
	for _, i := range in.mixers() {
		if tag := in.tag(i); sides.Main[i] && !sides.Store[i] {
			list = append(list, Cure{Kind: "cold-tap", Where: tag, Value: tag,
				Edits: []job.Edit{{Op: job.Set, Path: "outlets." + tag + ".water", Text: "cold"}}})
		}
	}
	return list
}

// arrangements are the other arrangements, the unjoined first: where nothing joins store
// and main now, only those that somebody allows.
func arrangements(in *Input) []Cure {
	var names []string
	for _, n := range assembly.Arrangements() {
		offered := in.Assembly.Joined && n != assembly.InLine || assembly.MayOffer(n, in.Job, in.Profile)
		if n == assembly.Raised && !in.above(in.Job.Choices.StoreLevel.V) || n == assembly.HeaderTank && !in.above(in.Job.Choices.HeaderLevel.V) {
			offered = false // from there water presses on no tap
		}
		if n != in.Assembly.Arrangement && offered {
			names = append(names, n)
		}
	}
	return edits("arrangement", "choices.arrangement", names...)
}

// above reports whether a height lies above every outlet.
func (in *Input) above(z quantity.Length) bool {
	for _, o := range in.Assembly.Of(assembly.Outlet) {
		if in.Assembly.Parts[o].Ports[0].Z >= z {
			return false
		}
	}
	return true
}

// devices are backflow devices for the service's own pipe that hold more than the one there: by
// the pipe's mark, or by its thread where the table has none of that mark.
func (in *Input) devices(b Bench) []Cure {
	have := 0
	m := in.Part(assembly.Main, "")
	size := in.Assembly.Parts[m].Ports[0].Size
	for _, i := range in.Assembly.Of(assembly.NonReturn) {
		if in.Assembly.Parts[i].Role == assembly.Service {
			have = holding(&in.Assembly.Parts[i])
		}
	}
	if s := in.Job.Supply.Pipe; s.Mark != "" {
		size = s
	}
	if in.Assembly.Arrangement == assembly.Free {
		return in.listedDevices(b, have)
	}
	var keys []string
	for hold := have + 1; hold <= 3; hold++ {
		for _, mark := range []string{size.Mark, b.Rows.Pipes[size].Thread} {
			var fits []string
			for _, k := range b.Rows.Keys("non-returns") {
				if holding(&assembly.Part{Row: b.Rows.NonReturns[k]}) == hold && strings.HasSuffix(k, "-"+mark) && !strings.HasSuffix(k, "-1-"+mark) {
					fits = append(fits, k)
				}
			}
			if len(fits) > 0 {
				keys = append(keys, fits...)
				break
			}
		}
	}
	list := edits("device", "choices.backflow", keys...)
	for i := range list {
		if holding(&assembly.Part{Row: b.Rows.NonReturns[list[i].Value]}) == 3 {
			list[i].Kind = "device-tested"
		}
	}
	return list
}

// listedDevices put a backflow device into a list of parts: behind the first valve of the
// service, which shuts it off to be tested, else behind the meter; of the thread that is there.
func (in *Input) listedDevices(b Bench, have int) []Cure {
	at := -1
	for _, kind := range []assembly.Kind{assembly.HandValve, assembly.Meter} {
		for _, i := range in.Assembly.Of(kind) {
			if at < 0 && in.Assembly.Parts[i].Role == assembly.Service {
				at = i
			}
		}
	}
	if at < 0 {
		return nil
	}
	var list []Cure
	for hold := have + 1; hold <= 3; hold++ {
		for _, k := range b.Rows.Keys("non-returns") {
			row := b.Rows.NonReturns[k]
			if holding(&assembly.Part{Row: row}) != hold || row.Size.Mark != in.Assembly.Parts[at].Ports[1].Size.Mark || hold == 1 && k != "single-check-"+row.Size.Mark {
				continue
			}
			c := in.added("put-device", "non-return", at, 1, k)
			if hold == 3 {
				c.Kind = "put-device-tested"
			}
			c.Value += ", " + row.Words
			list = append(list, c)
		}
	}
	return list
}

// turns turn round the non-return valves that are fitted the wrong way round.
func (in *Input) turns() []Cure {
	var list []Cure
	for _, i := range in.Assembly.Reversed() {
		if edits := assembly.TurnRound(in.Job, in.tag(i)); len(edits) > 0 {
			list = append(list, Cure{Kind: "turn", Where: in.tag(i), Edits: edits})
		}
	}
	return list
}

// holding ranks what a non-return valve keeps back.
func holding(p *assembly.Part) int {
	row, _ := p.Row.(catalogue.NonReturn)
	return map[string]int{"single": 1, "double": 2, "reduced-pressure": 3}[row.Kind]
}

// checks put a second non-return valve behind each that is there, and one behind each
// valve of the main's legs that has none. Behind one that is fitted the wrong way round none
// goes: two against each other let nothing through, and keep what they keep by that.
func (in *Input) checks() []Cure {
	var list []Cure
	wrong := in.Assembly.Reversed()
	for _, role := range []assembly.Role{assembly.BypassBy, assembly.MainLeg, assembly.Service, assembly.Feed, assembly.Boost} {
		for _, kind := range []assembly.Kind{assembly.NonReturn, assembly.HandValve} {
			for _, i := range in.Assembly.Of(kind) {
				if in.Assembly.Parts[i].Role == role && !slices.Contains(wrong, i) {
					list = append(list, in.added("check", "non-return", i, 1, ""))
				}
			}
		}
	}
	return list
}

// homeVessels put a vessel where nothing shuts it off from the heater: on the run to the
// header, else beside the heater itself.
func (in *Input) homeVessels(b Bench) []Cure {
	var list []Cure
	for _, i := range in.Assembly.Of(assembly.Run) {
		if in.Assembly.Parts[i].Purpose == assembly.AsHomeRun {
			list = append(list, in.vesselsAt(b, i, 1)...)
		}
	}
	for _, h := range in.Assembly.Of(assembly.Heater) {
		list = append(list, in.vesselsAt(b, h, 0)...)
	}
	return list
}

// usualVessel is the row of the vessel that heated water is given where the job names none.
const usualVessel = "vessel-24"

// vesselsAt put a vessel at an end of a part, the smallest first: none with less room than the
// heater's own has or, where it has none, than the usual one.
func (in *Input) vesselsAt(b Bench, i, port int) []Cure {
	least := b.Rows.Vessels[usualVessel].Volume
	for _, v := range in.Assembly.Of(assembly.Vessel) {
		if row, ok := in.Assembly.Parts[v].Row.(catalogue.Vessel); ok && in.Assembly.Parts[v].Purpose == assembly.AsHeaterVessel {
			least = row.Volume
		}
	}
	keys := slices.DeleteFunc(b.Rows.Keys("vessels"), func(k string) bool {
		return b.Rows.Vessels[k].Volume < least || !catalogue.VesselIn(k, in.Job.System())
	})
	slices.SortStableFunc(keys, func(x, y string) int { return cmp.Compare(b.Rows.Vessels[x].Volume, b.Rows.Vessels[y].Volume) })
	var list []Cure
	for _, key := range keys {
		c := in.added("vessel", "vessel", i, port, key)
		said, _ := b.Rows.Words("vessels", key)
		c.Value += ", " + said
		list = append(list, c)
	}
	return list
}

// added puts a part in beside another, at one of its ends.
func (in *Input) added(cure, kind string, i, port int, row string) Cure {
	letter := map[string]string{"non-return": "N", "hand-valve": "V", "vessel": "E"}[kind]
	tag := in.freeTag(letter)
	text := "kind: " + kind
	if row != "" {
		text += ", row: " + row
	}
	text += ", beside: " + in.tag(i) + ", end: " + in.Assembly.Parts[i].Ports[port].Name
	return Cure{Kind: cure, Where: in.tag(i), Value: tag, Edits: []job.Edit{{Op: job.Insert, Path: "added." + strings.ToLower(tag), Text: text}}}
}

// freeTag is the next tag of a letter that no part has.
func (in *Input) freeTag(letter string) string {
	for n := 1; ; n++ {
		if tag := letter + digits(n); in.Assembly.Index(tag) < 0 && in.Assembly.Index(strings.ToLower(tag)) < 0 {
			return tag
		}
	}
}

// valves put a valve on the open side of each part that cannot be taken out.
func (in *Input) valves(r *Result) []Cure {
	if r.Smallest == nil {
		return nil
	}
	var list []Cure
	for _, tag := range strings.Split(r.Smallest.Judgement.Where, ", ") {
		if i := in.Assembly.Index(tag); i >= 0 && !in.relievesHeater(i) {
			for _, port := range []int{1, 0} {
				if port < len(in.Assembly.Parts[i].Ports) {
					list = append(list, in.added("valve", "hand-valve", i, port, ""))
				}
			}
		}
	}
	return list
}

// relievesHeater reports whether a part is a vessel in which heated water finds room: nothing
// may shut it off from the heater, so no valve goes beside it.
func (in *Input) relievesHeater(i int) bool {
	p := &in.Assembly.Parts[i]
	return p.Kind == assembly.Vessel && (p.Purpose == assembly.AsHeaterVessel || p.Role != assembly.Boost)
}

// overflows are overflows that carry what the smallest case lets in with the air gap standing:
// wider, and lower where the width alone does not do; and the screen in a wider housing.
func (in *Input) overflows(r *Result) []Cure {
	s := in.overrun(r)
	row, ok := in.storeRow(s)
	w, known := circuit.SpillOf(in.Assembly, in.Profile, s)
	known = known && w.Known()
	if !ok || !known || r.Smallest == nil {
		return nil
	}
	at := "choices.store"
	if s == in.Assembly.Header() {
		at = "choices.header"
	}
	var list []Cure
	for _, d := range w.Drills(float64(r.Smallest.Judgement.Flow), float64(row.Outlet), at, in.Job.System()) {
		list = append(list, Cure{Kind: "drill", Where: in.tag(s), Value: in.drilled(s, d), Edits: d.Edits})
	}
	return list
}

// drilled says what is drilled and what it costs: litres of the store, hours of use.
func (in *Input) drilled(s int, d circuit.Drill) string {
	p := &in.Assembly.Parts[s]
	row, _ := in.storeRow(s)
	lost := float64(max(1, p.Count)) * float64(row.Floor()) * float64(d.Lower)
	say := func(dim quantity.Dim, si float64) string {
		return quantity.Format(quantity.Quantity{Dim: dim, SI: si, Basis: quantity.Derived}, in.Job.System())
	}
	hours := 0.0
	if daily := float64(site.Daily(in.Job)); daily > 0 {
		hours = lost / daily * 86400
	}
	id := "cure.drill." + d.By
	if d.Lower <= 0 {
		id += ".same"
	}
	screen := "cure.mesh.across"
	if d.Housed {
		screen = "cure.mesh.wide"
	}
	return words.Say(id, words.Args{"bore": d.Wide, "lip": d.High,
		"high": say(quantity.LengthDim, circuit.SlotHigh), "lost": say(quantity.VolumeDim, lost), "hours": say(quantity.TimeDim, hours),
		"screen": words.Say(screen, nil)})
}

// overrun is the store that the smallest case overfills; the first where no case says.
func (in *Input) overrun(r *Result) int {
	if r.Smallest != nil {
		if i := in.Assembly.Index(r.Smallest.Judgement.Where); i >= 0 {
			return i
		}
	}
	return in.Part(assembly.Store, "")
}

// floats are float valves that pass less, the next smaller first.
func (in *Input) floats(b Bench, store int, bigger bool) []Cure {
	now, delayed, path := quantity.FlowFactor(0), false, "choices.float"
	if store == in.Assembly.Header() {
		path = "choices.header.float"
	}
	for _, i := range in.Assembly.Of(assembly.FloatValve) {
		if row, ok := in.Assembly.Parts[i].Row.(catalogue.Float); ok && in.Assembly.Fills(i) == store {
			now, delayed = row.Kv, row.Opens > 0
		}
	}
	var keys []string
	for _, k := range b.Rows.Keys("floats") {
		if kv := b.Rows.Floats[k].Kv; kv > now == bigger && kv != now && delayed == (b.Rows.Floats[k].Opens > 0) {
			keys = append(keys, k)
		}
	}
	slices.SortStableFunc(keys, func(x, y string) int {
		order := cmp.Compare(b.Rows.Floats[x].Kv, b.Rows.Floats[y].Kv)
		if !bigger {
			return -order
		}
		return order
	})
	return edits("float", path, keys...)
}

// lockOuts move one threshold of the lock-out down in steps of a fifth of a bar: never below what
// the highest tap needs of a main that serves it, nor below the least the local rules allow.
func (in *Input) lockOuts(path string) []Cure {
	lock := in.lockOut()
	if lock == nil {
		return nil
	}
	from, least := float64(lock.On), max(float64(circuit.LockFloor(in.Assembly)), in.Profile.Rule("lock-out-least").Value)
	if strings.HasSuffix(path, "high") {
		from, least = float64(lock.Off), float64(lock.On)+lockStep
	}
	return in.lowered("lock-out", path, from, least, lockStep)
}

const (
	lockStep = 0.2e5 // Pa
	stopStep = 0.4e5 // Pa
)

// lowered are settings of a pressure below where it is, in steps, in the home's own units; none
// below the least.
func (in *Input) lowered(kind, path string, from, least, step float64) []Cure {
	var values []string
	for p := from - step; p > 0; p -= step {
		text := quantity.Handy(quantity.PressureDim, p, in.Job.System())
		if q, err := quantity.Parse(text, quantity.PressureDim, in.Job.System()); err == nil && q.SI >= least-1e-6*from {
			values = append(values, text)
		}
	}
	return edits(kind, path, values...)
}

// cutOuts lower the pressure the pump stops at, in steps of two fifths of a bar.
func (in *Input) cutOuts() []Cure {
	c := in.Circuit.ControlOf()
	if c == nil {
		return nil
	}
	return in.lowered("cut-out", "choices.pump.cut-out", float64(c.Off), float64(c.On)+1, stopStep)
}
