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
	"tideover/internal/words"
)

// candidates lists what is worth trying for a broken promise, the cheapest first.
func candidates(in *Input, r *Result, b Bench) []Cure {
	switch r.About.ID {
	case "main-clean":
		return concat(in.devices(b), in.checks(), arrangements(in))
	case "no-loop", "not-backwards":
		return concat(in.checks(), arrangements(in))
	case "mixer":
		return concat(in.coldTaps(), arrangements(in))
	case "no-draught", "store-cleaned":
		return arrangements(in)
	case "heater-boosted":
		return edits("heater", "home.heater.type", "storage-pressure")
	case "ratings":
		return concat(in.cutOuts(), arrangements(in))
	case "expansion":
		return concat(edits("heater-vessel", "choices.heater-vessel", "vessel-24"), in.homeVessels())
	case "overflow":
		return concat(in.overflows(r), in.floats(b, in.overrun(r), false))
	case "not-dry", "not-dead-headed":
		return edits("control", "choices.pump.control", "flow-control", "speed-control")
	case "takes-main":
		return in.lockOuts("choices.lock-out.high")
	case "no-hunting":
		return concat(in.lockOuts("choices.lock-out.low"), in.floats(b, in.Part(assembly.Store, ""), false))
	case "served":
		return arrangements(in)
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

// devices are backflow devices of the service's size that hold more than the one there.
func (in *Input) devices(b Bench) []Cure {
	have, size := 0, ""
	for _, i := range in.Assembly.Of(assembly.NonReturn) {
		if in.Assembly.Parts[i].Role == assembly.Service {
			have = holding(&in.Assembly.Parts[i])
			size = in.Assembly.Parts[i].Size.Mark
		}
	}
	if size == "" {
		m := in.Part(assembly.Main, "")
		size = in.Assembly.Parts[m].Size.Mark
	}
	var keys []string
	for _, k := range b.Rows.Keys("non-returns") {
		row := b.Rows.NonReturns[k]
		p := assembly.Part{Row: row}
		if holding(&p) > have && (row.Size.Mark == size || strings.HasSuffix(k, "-"+size)) {
			keys = append(keys, k)
		}
	}
	rank := func(k string) int { return holding(&assembly.Part{Row: b.Rows.NonReturns[k]}) }
	slices.SortStableFunc(keys, func(x, y string) int { return rank(x) - rank(y) })
	return edits("device", "choices.backflow", keys...)
}

// holding ranks what a non-return valve keeps back.
func holding(p *assembly.Part) int {
	row, _ := p.Row.(catalogue.NonReturn)
	return map[string]int{"single": 1, "double": 2, "reduced-pressure": 3}[row.Kind]
}

// checks put a second non-return valve behind each that is there, and one behind each
// valve of the main's legs that has none.
func (in *Input) checks() []Cure {
	var list []Cure
	for _, role := range []assembly.Role{assembly.BypassBy, assembly.MainLeg, assembly.Service, assembly.Feed, assembly.Boost} {
		for _, kind := range []assembly.Kind{assembly.NonReturn, assembly.HandValve} {
			for _, i := range in.Assembly.Of(kind) {
				if in.Assembly.Parts[i].Role == role {
					list = append(list, Cure{Kind: "check", Where: in.tag(i), Change: &Change{Kind: "check", Part: i, Port: 1}})
				}
			}
		}
	}
	return list
}

// homeVessels put a vessel where nothing shuts it off from the heater: on the run to the
// header, else beside the heater itself.
func (in *Input) homeVessels() []Cure {
	var list []Cure
	for _, i := range in.Assembly.Of(assembly.Run) {
		if in.Assembly.Parts[i].Purpose == assembly.AsHomeRun {
			list = append(list, Cure{Kind: "vessel", Where: in.tag(i), Change: &Change{Kind: "vessel", Part: i, Port: 1}})
		}
	}
	for _, h := range in.Assembly.Of(assembly.Heater) {
		list = append(list, Cure{Kind: "vessel", Where: in.tag(h), Change: &Change{Kind: "vessel", Part: h, Port: 0}})
	}
	return list
}

// valves put a valve on the open side of each part that cannot be taken out.
func (in *Input) valves(r *Result) []Cure {
	if r.Smallest == nil {
		return nil
	}
	var list []Cure
	for _, tag := range strings.Split(r.Smallest.Judgement.Where, ", ") {
		if i := in.Assembly.Index(tag); i >= 0 {
			for _, port := range []int{1, 0} {
				if port < len(in.Assembly.Parts[i].Ports) {
					list = append(list, Cure{Kind: "valve", Where: tag, Change: &Change{Kind: "valve", Part: i, Port: port}})
				}
			}
		}
	}
	return list
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
	if daily := float64(in.Job.Home.People.V) * float64(in.Job.Home.Use.V); daily > 0 {
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
	now, path := quantity.FlowFactor(0), "choices.float"
	if store == in.Assembly.Header() {
		path = "choices.header.float"
	}
	for _, i := range in.Assembly.Of(assembly.FloatValve) {
		if row, ok := in.Assembly.Parts[i].Row.(catalogue.Float); ok && in.Assembly.Fills(i) == store {
			now = row.Kv
		}
	}
	var keys []string
	for _, k := range b.Rows.Keys("floats") {
		if kv := b.Rows.Floats[k].Kv; kv > now == bigger && kv != now {
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

// lockOuts move one threshold of the lock-out down in steps of a fifth of a bar.
func (in *Input) lockOuts(path string) []Cure {
	lock := in.lockOut()
	if lock == nil {
		return nil
	}
	from, least := float64(lock.On), 0.2
	if strings.HasSuffix(path, "high") {
		from, least = float64(lock.Off), float64(lock.On)/1e5+0.2
	}
	var values []string
	for bar := from/1e5 - 0.2; bar > least-1e-9; bar -= 0.2 {
		values = append(values, tenths(bar)+" bar")
	}
	return edits("lock-out", path, values...)
}

// cutOuts lower the pressure the pump stops at, in steps of two fifths of a bar.
func (in *Input) cutOuts() []Cure {
	c := in.Circuit.ControlOf()
	if c == nil {
		return nil
	}
	var values []string
	for bar := float64(c.Off)/1e5 - 0.4; bar*1e5 > float64(c.On); bar -= 0.4 {
		values = append(values, tenths(bar)+" bar")
	}
	return edits("cut-out", "choices.pump.cut-out", values...)
}

// tenths writes a figure with one decimal.
func tenths(x float64) string {
	n := int(x*10 + 0.5)
	return digits(n/10) + "." + digits(n%10)
}
