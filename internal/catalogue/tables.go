package catalogue

import (
	"math"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// text makes a text column, of a numeric one of dimension d.
func text(name string) column               { return column{name: name, text: true} }
func of(name string, d quantity.Dim) column { return column{name: name, dim: d} }
func may(c column) column                   { c.may = true; return c }
func rowed(key string, c ...column) []column {
	return append(append([]column{text(key)}, c...), tail...)
}

var tail = []column{text("words"), text("source"), text("certainty")}

// tables are all tables, in the order they are read: sources first, for the others name them.
var tables = []table{
	{"sources", []column{text("key"), text("citation")}, addSource},
	{"pipes", rowed("family", text("mark"), text("thread"), text("joint"), of("outside", quantity.LengthDim), of("bore", quantity.LengthDim),
		of("roughness", quantity.LengthDim), of("rating", quantity.PressureDim), may(of("hot", quantity.PressureDim)), of("stock", quantity.LengthDim), of("clip", quantity.LengthDim), text("indoors")), addPipe},
	{"fittings", rowed("key", text("kind"), text("family"), text("mark"), text("thread"), of("k1", quantity.NoDim), of("kinf", quantity.NoDim),
		of("k", quantity.NoDim), of("insert", quantity.LengthDim)), addFitting},
	{"valves", rowed("key", text("kind"), text("thread"), of("kv", quantity.FlowFactorDim), of("rating", quantity.PressureDim)), addValve},
	{"non-returns", rowed("key", text("kind"), text("thread"), of("kv", quantity.FlowFactorDim), of("opens", quantity.HeadDim), of("rating", quantity.PressureDim)), addNonReturn},
	{"regulators", rowed("key", text("thread"), of("kv", quantity.FlowFactorDim), of("least", quantity.PressureDim), of("most", quantity.PressureDim),
		of("flow", quantity.FlowDim), of("fall", quantity.PressureDim), of("rating", quantity.PressureDim)), addRegulator},
	{"floats", rowed("key", text("thread"), of("seat", quantity.LengthDim), of("kv", quantity.FlowFactorDim), of("band", quantity.LengthDim), of("rating", quantity.PressureDim), may(of("opens", quantity.LengthDim))), addFloat},
	{"stores", rowed("key", text("thread"), of("nominal", quantity.VolumeDim), of("diameter", quantity.LengthDim), of("height", quantity.LengthDim),
		of("inlet", quantity.LengthDim), of("overflow", quantity.LengthDim), of("outlet", quantity.LengthDim), of("mass", quantity.MassDim),
		may(of("overflow-bore", quantity.LengthDim))), addStore},
	{"pumps", rowed("key", text("kind"), text("thread"), of("power", quantity.PowerDim), of("shutoff", quantity.HeadDim), of("q1", quantity.FlowDim), of("h1", quantity.HeadDim),
		of("q2", quantity.FlowDim), of("h2", quantity.HeadDim), of("npsh", quantity.HeadDim), of("wire", quantity.RatioDim), of("starts", quantity.NoDim),
		of("band", quantity.RatioDim), of("rating", quantity.PressureDim)), addPump},
	{"vessels", rowed("key", text("thread"), of("volume", quantity.VolumeDim), of("rating", quantity.PressureDim)), addVessel},
	{"joints", rowed("family", text("mark"), of("insertion", quantity.LengthDim), of("elbow", quantity.LengthDim), of("tee", quantity.LengthDim)), addJoint},
	{"soils", rowed("key", of("least", quantity.PressureDim), of("most", quantity.PressureDim), may(text("wet"))), addSoil},
	{"elastic", rowed("family", of("modulus", quantity.PressureDim), of("poisson", quantity.NoDim)), addElastic},
	{"outlets", rowed("key", text("kind"), of("open", quantity.FlowDim), of("limit", quantity.FlowDim), of("need", quantity.FlowDim), of("design", quantity.FlowDim),
		of("pressure", quantity.PressureDim), of("units", quantity.NoDim)), addOutlet},
	{"heaters", rowed("key", text("kind"), text("thread"), of("rating", quantity.PressureDim), of("kv", quantity.FlowFactorDim), of("least", quantity.FlowDim)), addHeater},
	{"controls", rowed("key", text("kind"), text("thread"), of("rating", quantity.PressureDim)), addControl},
	{"sundries", rowed("key"), addSundry},
	{"uses", useColumns, addUse},
	{"simultaneity", []column{text("key"), of("units", quantity.NoDim), of("flow", quantity.FlowDim), text("source"), text("certainty")}, addTogether},
	{"profiles", []column{text("profile"), text("key"), text("value"), text("source"), text("edition"), text("certainty"), may(text("standing"))}, addRule},
}

func tableNames() []string {
	names := make([]string, len(tables))
	for i := range tables {
		names[i] = tables[i].name
	}
	return names
}

func put[T any](m map[string]T, r *record, key string, v T) {
	if r.fault == nil {
		m[key] = v
	}
}

func addSource(c *Catalogue, r *record) {
	key := r.word("key")
	cited := r.word("citation")
	r.once(key)
	if strings.Contains(key, ";") {
		r.fail("key", "catalogue.key", nil)
	}
	put(c.Sources, r, key, cited)
}

func addPipe(c *Catalogue, r *record) {
	size := quantity.Size{Family: r.word("family"), Mark: r.word("mark")}
	p := Pipe{Row: r.row(size.String()), Size: size, Thread: r.word("thread"), Joint: r.word("joint"),
		Outside: quantity.Length(r.num("outside", 5e-3, 0.2)), Bore: quantity.Length(r.num("bore", 4e-3, 0.19)),
		Roughness: quantity.Length(r.num("roughness", 0, 5e-3)), Rating: quantity.Pressure(r.num("rating", 1e5, 1e7)), Hot: quantity.Pressure(r.opt("hot", 1e5, 1e7)),
		Stock: quantity.Length(r.num("stock", 0.5, 500)), Clip: quantity.Length(r.num("clip", 0.1, 6)), Indoors: r.yes("indoors")}
	if p.Bore >= p.Outside {
		r.fail("bore", "catalogue.bore", nil)
	}
	if r.fault == nil {
		c.Pipes[size] = p
	}
}

func addSundry(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Sundries, r, key, Sundry{Row: r.row(key)})
}

func addFitting(c *Catalogue, r *record) {
	key := r.word("key")
	f := Fitting{Row: r.row(key), Kind: r.word("kind"), Family: r.maybe("family"), Mark: r.maybe("mark"), Thread: r.maybe("thread"),
		K1: r.num("k1", 0, 1e5), Kinf: r.opt("kinf", 0, 1e3), K: r.opt("k", 0, 1e3), Insert: quantity.Length(r.opt("insert", 2e-3, 0.19))}
	if (r.maybe("kinf") == "") == (r.maybe("k") == "") {
		r.fail("k", "catalogue.one-k", nil)
	}
	put(c.Fittings, r, key, f)
}

func addValve(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Valves, r, key, Valve{Row: r.row(key), Kind: r.word("kind"), Size: r.thread(),
		Kv: r.kv(), Rating: r.rating()})
}

func (r *record) kv() quantity.FlowFactor {
	return quantity.FlowFactor(r.num("kv", 0.01/3600, 2000.0/3600))
}
func (r *record) rating() quantity.Pressure { return quantity.Pressure(r.num("rating", 1e4, 1e7)) }

func addNonReturn(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.NonReturns, r, key, NonReturn{Row: r.row(key), Kind: r.word("kind"), Size: r.thread(),
		Kv: r.kv(), Opens: quantity.Head(r.num("opens", 0, 20)), Rating: r.rating()})
}

func addRegulator(c *Catalogue, r *record) {
	key := r.word("key")
	g := Regulator{Row: r.row(key), Size: r.thread(), Kv: r.kv(), Least: quantity.Pressure(r.num("least", 1e4, 1e7)), Most: quantity.Pressure(r.num("most", 1e4, 1e7)),
		Flow: quantity.Flow(r.num("flow", 1e-6, 1)), Fall: quantity.Pressure(r.num("fall", 0, 1e6)), Rating: r.rating()}
	if g.Most <= g.Least {
		r.fail("most", "catalogue.regulator-range", nil)
	}
	put(c.Regulators, r, key, g)
}

func addFloat(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Floats, r, key, Float{Row: r.row(key), Size: r.thread(), Seat: quantity.Length(r.num("seat", 1e-3, 0.1)),
		Kv: r.kv(), Band: quantity.Length(r.num("band", 1e-3, 1)), Rating: r.rating(), Opens: quantity.Length(r.opt("opens", 0.01, 2))})
}

func addStore(c *Catalogue, r *record) {
	key := r.word("key")
	s := Store{Row: r.row(key), Size: r.thread(), Nominal: quantity.Volume(r.num("nominal", 0.02, 100)),
		Diameter: quantity.Length(r.num("diameter", 0.2, 6)), Height: quantity.Length(r.num("height", 0.2, 6)),
		Inlet: quantity.Length(r.num("inlet", 0, 6)), Overflow: quantity.Length(r.num("overflow", 0, 6)),
		Outlet: quantity.Length(r.num("outlet", 0, 6)), Mass: quantity.Mass(r.num("mass", 0.5, 5000)),
		OverflowBore: quantity.Length(r.opt("overflow-bore", 5e-3, 0.3))}
	if !(s.Outlet < s.Overflow && s.Overflow < s.Inlet && s.Inlet <= s.Height) {
		r.fail("overflow", "catalogue.store-heights", nil)
	}
	put(c.Stores, r, key, s)
}

func addPump(c *Catalogue, r *record) {
	key := r.word("key")
	p := Pump{Row: r.row(key), Kind: r.word("kind"), Size: r.thread(), Power: quantity.Power(r.num("power", 20, 20e3)),
		Shutoff: quantity.Head(r.num("shutoff", 1, 300)), Q1: quantity.Flow(r.num("q1", 1e-6, 1)), H1: quantity.Head(r.num("h1", 0.1, 300)),
		Q2: quantity.Flow(r.num("q2", 1e-6, 1)), H2: quantity.Head(r.num("h2", 0.1, 300)), NPSH: quantity.Head(r.num("npsh", 0, 10)),
		Wire: r.num("wire", 0.01, 0.95), Starts: r.num("starts", 1, 1000), HeadBand: r.num("band", 0, 0.5), Rating: r.rating()}
	if r.fault == nil && !p.falls() {
		r.fail("h1", "catalogue.pump-curve", nil)
	}
	put(c.Pumps, r, key, p)
}

func addVessel(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Vessels, r, key, Vessel{Row: r.row(key), Size: r.thread(), Volume: quantity.Volume(r.num("volume", 5e-4, 5)), Rating: r.rating()})
}

func addOutlet(c *Catalogue, r *record) {
	key := r.word("key")
	o := Outlet{Row: r.row(key), Kind: r.word("kind"), At3Bar: quantity.Flow(r.num("open", 1e-6, 0.1)), Limit: quantity.Flow(r.opt("limit", 1e-6, 0.1)),
		Need: quantity.Flow(r.num("need", 1e-6, 0.1)), Design: quantity.Flow(r.num("design", 1e-6, 0.1)),
		Pressure: quantity.Pressure(r.num("pressure", 1e3, 1e6)), Units: r.num("units", 0, 1000)}
	if o.Limit != 0 && o.Limit < o.Need {
		r.fail("limit", "catalogue.limit", nil)
	}
	put(c.Outlets, r, key, o)
}

func addHeater(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Heaters, r, key, Heater{Row: r.row(key), Kind: r.word("kind"), Size: r.thread(),
		Rating: quantity.Pressure(r.opt("rating", 1e4, 1e7)), Kv: r.kv(), Least: quantity.Flow(r.opt("least", 1e-6, 0.1))})
}

func addControl(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Controls, r, key, Control{Row: r.row(key), Kind: r.word("kind"), Size: r.thread(), Rating: r.rating()})
}

func addTogether(c *Catalogue, r *record) {
	key := r.word("key")
	t := Together{Row: Row{Key: key, Source: r.sources(), Certainty: r.certainty()},
		Units: r.num("units", 1e-3, 1e6), Flow: quantity.Flow(r.num("flow", 1e-6, 10))}
	r.once(key)
	put(c.Together, r, key, t)
}

// addRule adds one rule of a profile. The rule "title" gives the profile its words.
func addRule(c *Catalogue, r *record) {
	profile, key := r.word("profile"), r.word("key")
	rule := Rule{Key: key, Text: r.maybe("value"), Source: r.sources(), Edition: r.word("edition"), Certainty: r.certainty(), Standing: r.standing()}
	r.once(profile + " " + key)
	if retiredRules[key] {
		return
	}
	if rule.Text != "" {
		r.setRule(&rule)
	}
	if r.fault != nil {
		return
	}
	p, ok := c.Profiles[profile]
	if !ok {
		p = Profile{Key: profile, Rules: map[string]Rule{}}
	}
	if key == "title" {
		p.Words = rule.Text
	}
	p.Rules[key] = rule
	c.Profiles[profile] = p
}

// setRule turns the written value into SI, or into one of the words the rule allows.
func (r *record) setRule(rule *Rule) {
	k, ok := ruleKinds[rule.Key]
	if !ok {
		r.fail("key", "catalogue.rule", words.Args{"hint": hint(nearest(rule.Key, ruleKinds))})
		return
	}
	rule.Set = true
	if k.text {
		if len(k.choices) > 0 && !contains(k.choices, rule.Text) {
			r.fail("value", "catalogue.rule-choice", words.Args{"choices": strings.Join(k.choices, ", ")})
		}
		return
	}
	number, written, _ := strings.Cut(rule.Text, " ")
	v, ok := parseNumber(number)
	u, known := units[strings.TrimSpace(written)]
	switch {
	case !ok || !known || !u.isDim(k.dim):
		r.fail("value", "catalogue.rule-value", words.Args{"like": k.like})
	case v < 0 || math.IsInf(v*u.factor, 0):
		r.fail("value", "catalogue.rule-value", words.Args{"like": k.like})
	default:
		rule.Value = v * u.factor
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
