package job

import (
	"math"

	"tideover/internal/quantity"
)

// Limits are those of physical sense, not of good practice: beyond them a value is a
// slip of the pen. Practice is judged later, against the profile.
const (
	bar    = 1e5
	litre  = 1e-3
	lpm    = litre / 60
	day    = 86400.0
	maxBar = 25 * bar // a main above this feeds no home
)

func measure(path string, dim quantity.Dim, low, high float64) Field {
	return Field{Path: path, Shape: Quantity, Dim: dim, Low: low, High: high, Section: "survey"}
}

func pressure(path string) Field { return measure(path, quantity.PressureDim, 0, maxBar) }
func length(path string, low, high float64) Field {
	return measure(path, quantity.LengthDim, low, high)
}
func flow(path string) Field { return measure(path, quantity.FlowDim, 0, 1000*lpm) }
func number(path string, low, high float64) Field {
	return measure(path, quantity.RatioDim, low, high)
}
func whole(path string, low, high float64) Field {
	return Field{Path: path, Shape: Count, Low: low, High: high, Section: "survey"}
}
func plain(path string, shape Shape) Field {
	return Field{Path: path, Shape: shape, Section: "survey"}
}
func choice(path string, allowed ...string) Field {
	return Field{Path: path, Shape: Choice, Allowed: allowed, Section: "survey"}
}
func row(path, table string, allowed ...string) Field {
	return Field{Path: path, Shape: Row, Table: table, Allowed: allowed, Section: "survey"}
}
func size(path string) Field {
	return Field{Path: path, Shape: Size, Table: "pipes", Section: "survey"}
}

func (f Field) required() Field                { f.Required = true; return f }
func (f Field) in(section string) Field        { f.Section = section; return f }
func (f Field) assume(text, from string) Field { f.Default, f.From = text, from; return f }
func (f Field) us(text string) Field           { f.US = text; return f }
func (f Field) same(path string) Field         { f.Same = path; return f }
func (f Field) share(s float64) Field          { f.Share = s; return f }
func (f Field) rule(key string) Field          { f.Rule = key; return f }
func (f Field) entire() Field                  { f.Whole = true; return f }
func (f Field) unknown(taken, from string) Field {
	f.Default, f.Unknown, f.From = "unknown", taken, from
	return f
}

// table is the field table. Defaults follow what practice does where nobody can know:
// the cautious side where somebody can be hurt, the usual figure with a wide spread
// elsewhere.
func table() []Field {
	var t []Field
	for _, part := range [][]Field{
		headFields(), placeFields(), supplyFields(), interruptionFields(), consentFields(), accessFields(), homeFields(),
		householdFields(), outletFields(), buildFields(), existingFields(), choiceFields(), freeFields(), addedFields(), tailFields(),
	} {
		t = append(t, part...)
	}
	return t
}

func headFields() []Field {
	return []Field{
		whole("format", 1, 1).required(),
		plain("name", Text).required(),
		choice("units", "metric", "us", "imperial").required(),
		row("profile", "profiles").assume("generic", FromUsual),
		plain("date", Date).required(),
		whole("seed", 0, math.MaxInt32).assume("1", FromUsual),
		plain("prices", File).in("buy"),
	}
}

func placeFields() []Field {
	return []Field{
		plain("place.address", Text),
		length("place.altitude", -430, 6000).assume("500 m ±500 m", FromUsual),
		measure("place.water", quantity.TemperatureDim, 0.1, 45).assume("15 °C ±8 °C", FromUsual).rule("water-temperature"),
		choice("place.ground", "rock", "gravel", "dense-sand", "medium-sand", "loose-sand", "stiff-clay",
			"firm-clay", "soft-clay", "made-ground", "unknown").in("base").unknown("soft-clay", FromCaution),
		number("place.slope", 0, 1).in("base").assume("0.02 ±0.02", FromUsual),
		choice("place.high-water", "yes", "no", "unknown").in("base").unknown("yes", FromCaution),
		choice("place.frost", "yes", "no", "unknown").unknown("yes", FromCaution),
		choice("place.midsummer", "north", "south", "none", "unknown").assume("unknown", FromNothing),
		measure("place.hot-day", quantity.TemperatureDim, -10, 60),
		measure("place.cold-night", quantity.TemperatureDim, -60, 30),
		measure("place.cold-spell", quantity.TimeDim, 3600, 200*day),
	}
}

func supplyFields() []Field {
	return []Field{
		pressure("supply.static").required(),
		length("supply.gauge-height", -3, 10).assume("0 m ±0.5 m", FromUsual),
		flow("supply.flow-test.low-flow"),
		pressure("supply.flow-test.low-pressure"),
		flow("supply.flow-test.high-flow"),
		pressure("supply.flow-test.high-pressure"),
		measure("supply.peak.pressure", quantity.PressureDim, -bar, maxBar),
		flow("supply.peak.flow").assume("0 L/min", FromNothing),
		flow("supply.peak.open-flow"),
		measure("supply.peak.open-pressure", quantity.PressureDim, -bar, maxBar),
		plain("supply.peak.from", TimeOfDay),
		plain("supply.peak.to", TimeOfDay),
		pressure("supply.night-maximum").assume("10 bar", FromCaution).rule("night-maximum"),
		size("supply.service.pipe").assume("PE100-SDR11 25", FromUsual).us("copper-L 3/4"),
		length("supply.service.length", 0.1, 2000).assume("20 m ±15 m", FromUsual),
		row("supply.meter", "valves", "none", "unknown").unknown("meter-q3-1.6", FromCaution),
		row("supply.stop-valve", "valves", "none", "unknown").unknown("none", FromCaution),
		row("supply.non-return", "non-returns", "none", "unknown").unknown("none", FromCaution),
		measure("supply.chlorine", quantity.DoseDim, 0, 0.005),
		measure("supply.chlorine-left", quantity.DoseDim, 0, 0.005),
		choice("supply.booster", "yes", "with-consent", "asked", "no", "unknown").unknown("no", FromCaution),
		choice("supply.by-pass", "yes", "with-consent", "asked", "no", "unknown").unknown("no", FromCaution),
		length("supply.house-test.level", -200, 500).same("home.level"),
		pressure("supply.house-test.static"),
		flow("supply.house-test.flow"),
		pressure("supply.house-test.pressure").assume("0 bar", FromUsual),
		choice("supply.neighbour", "fine", "weak", "unknown").assume("unknown", FromNothing),
		choice("supply.second-stop", "open", "part-shut", "none", "unknown").assume("unknown", FromNothing),
		choice("supply.meter-strainer", "clean", "dirty", "none", "unknown").assume("unknown", FromNothing),
		choice("supply.shared", "yes", "no", "unknown").assume("unknown", FromNothing),
	}
}

func interruptionFields() []Field {
	return []Field{
		plain("interruptions.habit", Spells),
		plain("interruptions.timetable", Slots),
		plain("interruptions.log", File),
		choice("interruptions.begin", "day", "night", "any", "unknown").assume("unknown", FromNothing),
		plain("interruptions.weak", Spells),
		measure("interruptions.weak-after", quantity.TimeDim, 0, 7*day).assume("0 h", FromNothing),
		plain("interruptions.power-cuts", Spells).in("power"),
		plain("interruptions.power-log", File).in("power"),
		number("interruptions.power-stops-main", 0, 1).in("power"),
		choice("interruptions.boil-notice", "yes", "no", "unknown").unknown("yes", FromCaution),
		measure("interruptions.notice-lasts", quantity.TimeDim, 0, 60*day).assume("36 h ±12 h", FromUsual),
		choice("interruptions.notice-main", "nothing", "wc").assume("nothing", FromCaution),
	}
}

// accessFields are the limits a design has to keep.
func accessFields() []Field {
	return []Field{
		length("access.door", 0.2, 20),
		choice("access.place", "ground", "roof", "unknown").assume("unknown", FromNothing),
		choice("access.pump", "yes", "no").assume("yes", FromUsual),
		measure("access.floor-load", quantity.LoadDim, 0, 1e6).in("base"),
		number("budget.most", 0, 1e9).in("buy"),
	}
}

func consentFields() []Field {
	return []Field{
		choice("consent.tenure", "owner", "tenant", "shared", "unknown").unknown("tenant", FromCaution).assume("owner", FromUsual),
		choice("consent.landlord", "given", "asked", "refused", "unknown").assume("unknown", FromNothing),
		choice("consent.permit", "given", "asked", "refused", "not-needed", "unknown").assume("unknown", FromNothing),
		choice("consent.engineer", "signed", "asked", "refused", "unknown").assume("unknown", FromNothing),
		choice("consent.electrician", "named", "asked", "unknown").assume("unknown", FromNothing),
		choice("consent.insurer", "told", "refused", "not-needed", "unknown").assume("unknown", FromNothing),
	}
}

func homeFields() []Field {
	return []Field{
		number("home.people", 1, 500).required(),
		measure("home.use", quantity.VolumeDim, 1*litre, 2).assume("130 L ±30 %", FromUsual).rule("use-per-person"),
		choice("home.use-rationed", "yes", "no", "unknown").unknown("yes", FromCaution).assume("no", FromUsual),
		length("home.level", -200, 500).assume("0 m ±2 m", FromUsual),
		plain("home.away", DailyHours),
		number("home.in-days", 0, 5).entire().assume("0", FromNothing),
		row("home.heater.type", "heaters", "none", "unknown").unknown("storage-vented", FromCaution),
		pressure("home.heater.rating"),
		measure("home.heater.volume", quantity.VolumeDim, 1*litre, 10),
		choice("home.heater.vent", "yes", "no", "unknown").unknown("yes", FromCaution),
	}
}

// householdFields are how a home differs from the usual one: readings of its own meter,
// people who come and go, what is saved and when, and its own way of using water.
func householdFields() []Field {
	return []Field{
		measure("home.meter.first", quantity.VolumeDim, 0, 1e7),
		plain("home.meter.first-date", Date),
		measure("home.meter.second", quantity.VolumeDim, 0, 1e7),
		plain("home.meter.second-date", Date),
		number("home.guests", 0, 500).assume("0", FromNothing),
		number("home.guest-days", 0, 320).assume("0", FromNothing),
		number("home.away-days", 0, 320).assume("0", FromNothing),
		number("home.saves-at", 0, 1).assume("0", FromNothing),
		number("home.saves-hard-at", 0, 1).assume("0", FromNothing),
		row("uses.*.kind", "uses").required(),
		number("uses.*.per-day", 0, 1000),
		measure("uses.*.volume", quantity.VolumeDim, 0.01*litre, 2),
		measure("uses.*.flow", quantity.FlowDim, 0.1*lpm, 1000*lpm),
		number("uses.*.careful", 0, 1),
		number("uses.*.hard", 0, 1),
	}
}

func outletFields() []Field {
	return []Field{
		row("outlets.*.kind", "outlets").required(),
		length("outlets.*.height", 0, 100).required(),
		length("outlets.*.distance", 0.1, 500).required(),
		size("outlets.*.pipe").same("pipework.indoors"),
		choice("outlets.*.water", "cold", "hot", "both").assume("cold", FromUsual),
		choice("outlets.*.from", "main", "store"),
		choice("outlets.*.mouth", "air", "under-water", "unknown").unknown("under-water", FromCaution).assume("air", FromUsual),
		choice("outlets.*.hangs", "nothing", "hose", "sprayer", "hand-spray", "drip-line", "appliance"),
		row("outlets.*.device", "non-returns", "none").assume("none", FromNothing),
	}
}

func buildFields() []Field {
	const pipe = "pump-and-pipe"
	return []Field{
		measure("power.voltage", quantity.VoltageDim, 6, 500).in("power").assume("230 V", FromUsual),
		choice("power.battery", "yes", "no", "wanted").in("power").assume("no", FromNothing),
		measure("power.battery-stores", quantity.EnergyDim, 0.05*3.6e6, 500*3.6e6).in("power"),
		length("pipework.tee-to-store", 0.1, 1000).in(pipe).assume("10 m ±5 m", FromUsual),
		length("pipework.store-to-pump", 0.1, 200).in(pipe).assume("2 m ±1 m", FromUsual),
		length("pipework.pump-to-home", 0.1, 1000).in(pipe).assume("5 m ±3 m", FromUsual),
		length("pipework.store-to-home", 0.1, 1000).in(pipe).same("pipework.pump-to-home"),
		length("pipework.changeover-to-header", 0.1, 1000).in(pipe).assume("10 m ±5 m", FromUsual),
		size("pipework.outdoors").in(pipe).assume("PE100-SDR11 32", FromUsual).us("copper-L 3/4"),
		size("pipework.indoors").in(pipe).assume("multilayer 26", FromUsual).us("copper-L 3/4"),
		number("pipework.bends-per-run", 0, 100).in(pipe).assume("4 ±2", FromUsual),
		plain("pipework.routes", Reserved).in(pipe),
	}
}

func existingFields() []Field {
	return []Field{
		choice("existing.*.kind", "store", "pump", "vessel", "float-valve", "hand-valve", "non-return",
			"strainer", "meter", "heater", "pipe").required(),
		plain("existing.*.row", Row),
		choice("existing.*.condition", "good", "worn", "broken", "unknown").unknown("worn", FromCaution),
		choice("existing.*.decision", "keep", "replace").assume("keep", FromUsual),
		plain("existing.*.photo", Text),
	}
}

func choiceFields() []Field {
	const pump = "pump-and-pipe"
	return []Field{
		choice("choices.arrangement", "through-store", "kitchen-on-main", "raised", "header", "spool", "main-first", "three-way", "hand-by-pass", "in-line", "free").in("valves").assume("through-store", FromCaution),
		row("choices.store.row", "stores", "none").in("store").required(),
		number("choices.store.count", 1, 20).in("store").entire().assume("1", FromUsual),
		length("choices.store.level", -20, 500).in("store").same("home.level"),
		choice("choices.store.also", "none", "rain", "borehole", "tanker", "sump", "unknown").in("store").unknown("tanker", FromCaution).assume("none", FromUsual),
		choice("choices.store.category", "2", "3", "5").in("store").assume("3", FromCaution).rule("fluid-category"),
		choice("choices.store.spill", "pipe", "slot", "none", "unknown").in("store").assume("pipe", FromUsual),
		length("choices.store.overflow", 0.005, 0.3).in("store"),
		length("choices.store.overflow-height", 0.05, 10).in("store"),
		length("choices.store.slot", 0.02, 5).in("store"),
		choice("choices.store.screen", "across", "wide", "none", "unknown").in("store").unknown("across", FromCaution),
		length("choices.store.mouth-height", 0.05, 10).in("store"),
		measure("choices.store.exercise", quantity.TimeDim, 0, 3660*day).in("store").assume("0 d", FromNothing),
		measure("choices.store.exercise-for", quantity.TimeDim, 600, 7*day).in("store").assume("12 h", FromUsual),
		choice("choices.store.in-turn", "yes", "no").in("store").assume("no", FromUsual),
		choice("choices.store.stands", "sun", "shade", "indoors").in("store").assume("sun", FromCaution),
		choice("choices.store.colour", "black", "green", "beige", "white").in("store").assume("black", FromCaution),
		length("choices.store.insulation", 0, 0.3).in("store").assume("0 mm", FromNothing),
		choice("choices.store.alarm", "level-alarm", "none").in("store").assume("level-alarm", FromPractice),
		row("choices.float", "floats").in("store").assume("float-15-medium", FromUsual),
		row("choices.header.row", "stores").in("store").assume("tank-500", FromUsual),
		length("choices.header.level", -20, 500).in("store").same("choices.store.level"),
		row("choices.header.float", "floats").in("store").assume("float-20-full-way", FromUsual),
		length("choices.header.overflow", 0.005, 0.3).in("store"),
		length("choices.header.overflow-height", 0.05, 10).in("store"),
		choice("choices.header.alarm", "level-alarm", "none").in("store").assume("level-alarm", FromPractice),
		row("choices.pump.row", "pumps", "none").in(pump).required(),
		number("choices.pump.count", 1, 3).in(pump).entire().assume("1", FromUsual),
		choice("choices.pump.duty", "standby", "assist").in(pump).assume("standby", FromUsual),
		length("choices.pump.measured.greatest-head", 0.5, 300).in(pump),
		flow("choices.pump.measured.greatest-flow").in(pump),
		flow("choices.pump.measured.flow").in(pump),
		pressure("choices.pump.measured.pressure").in(pump),
		measure("choices.pump.measured.current", quantity.CurrentDim, 0.05, 200).in(pump),
		length("choices.pump.level", -20, 500).in(pump).same("choices.store.level"),
		choice("choices.pump.control", "pressure-switch", "flow-control", "speed-control").in(pump).assume("pressure-switch", FromUsual),
		choice("choices.pump.guard", "level-switch", "none").in(pump).assume("level-switch", FromPractice),
		measure("choices.pump.cut-in", quantity.PressureDim, 0.1*bar, 16*bar).in(pump).assume("2 bar ±0.2 bar", FromUsual),
		measure("choices.pump.cut-out", quantity.PressureDim, 0.2*bar, 16*bar).in(pump).assume("3 bar ±0.2 bar", FromUsual),
		row("choices.vessel.row", "vessels", "none").in(pump).assume("vessel-8", FromUsual),
		measure("choices.vessel.charge", quantity.PressureDim, 0, 16*bar).in(pump).same("choices.pump.cut-in").share(0.9),
		row("choices.heater-vessel", "vessels", "none").in(pump).assume("vessel-24", FromPractice),
		measure("choices.lock-out.low", quantity.PressureDim, 0, 16*bar).in("valves").assume("1.2 bar", FromPractice),
		measure("choices.lock-out.high", quantity.PressureDim, 0, 16*bar).in("valves").assume("1.8 bar", FromPractice),
		row("choices.regulator.row", "regulators", "none").in("valves").assume("none", FromNothing),
		measure("choices.regulator.set", quantity.PressureDim, 1*bar, 8*bar).in("valves"),
		row("choices.backflow", "non-returns", "none").in("valves").assume("none", FromNothing),
		number("choices.disinfectant.strength", 0.005, 0.20).in("hand-over").assume("0.05 ±0.01", FromUsual),
		choice("choices.disinfectant.convention", "w/w", "w/v").in("hand-over").assume("w/v", FromUsual),
		plain("choices.disinfectant.bought", Date).in("hand-over"),
	}
}

// freeFields describe an arrangement part by part. They count where choices.arrangement
// is free.
func freeFields() []Field {
	const valves = "valves"
	return []Field{
		choice("parts.*.kind", FreeKinds()...).in(valves).required(),
		plain("parts.*.row", Row).in(valves),
		size("parts.*.size").in(valves),
		length("parts.*.length", 0.01, 2000).in(valves),
		length("parts.*.height", -50, 500).in(valves),
		choice("parts.*.stands", "open", "shut", "main", "between", "store").in(valves),
		choice("parts.*.kept", "yes", "no").in(valves).assume("no", FromNothing),
		choice("joins.*.role", "service", "feed", "store", "boost", "main-leg", "by-pass", "home").in(valves).required(),
		plain("joins.*.line", Text).in(valves).required(),
	}
}

// addedFields are parts put in beside others, in whatever arrangement: what a home needs and
// its arrangement does not have.
func addedFields() []Field {
	const valves = "valves"
	return []Field{
		choice("added.*.kind", "non-return", "hand-valve", "vessel", "drain", "regulator").in(valves).required(),
		plain("added.*.row", Row).in(valves),
		plain("added.*.beside", Text).in(valves).required(),
		plain("added.*.end", Text).in(valves).assume("out", FromUsual),
		measure("added.*.set", quantity.PressureDim, 1*bar, 8*bar).in(valves),
	}
}

func tailFields() []Field {
	return []Field{
		plain("notes", Text).in("log"),
		plain("bought.*.row", Text).in("buy").required(),
		plain("bought.*.for", Text).in("buy"),
		plain("bought.*.from", Text).in("buy"),
		number("bought.*.paid", 0, 1e9).in("buy"),
		plain("bought.*.date", Date).in("buy"),
		plain("photos.*.file", File).in("log").required(),
		plain("photos.*.shows", Text).in("log"),
	}
}
