package catalogue

import (
	"sort"
	"strconv"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Missing is the error of a lookup: the table has no such row.
type Missing struct {
	Table, Key string
	Near       string // nearest key there is, or ""
}

// Error says what is missing and what is near.
func (m *Missing) Error() string {
	return words.Say("catalogue.missing", words.Args{"table": m.Table, "key": m.Key, "hint": hint(m.Near)})
}

func hint(near string) string {
	if near == "" {
		return ""
	}
	return " " + words.Say("catalogue.near", words.Args{"near": near})
}

// keys returns the keys of a table, unordered; a table named for a use ("meters") holds
// the rows of that kind alone.
func (c *Catalogue) keys(table string) map[string]bool {
	out := map[string]bool{}
	switch table {
	case "pipes":
		for s := range c.Pipes {
			out[s.String()] = true
		}
	case "valves":
		note(out, c.Valves, func(Valve) bool { return true })
	case "meters":
		note(out, c.Valves, func(v Valve) bool { return v.Kind == "meter" })
	case "stop-valves":
		note(out, c.Valves, func(v Valve) bool { return stops[v.Kind] })
	case "fittings":
		note(out, c.Fittings, nil)
	case "non-returns":
		note(out, c.NonReturns, nil)
	case "regulators":
		note(out, c.Regulators, nil)
	case "floats":
		note(out, c.Floats, nil)
	case "stores":
		note(out, c.Stores, nil)
	case "pumps":
		note(out, c.Pumps, nil)
	case "vessels":
		note(out, c.Vessels, nil)
	case "joints":
		for s := range c.Joints {
			out[s.String()] = true
		}
	case "soils":
		note(out, c.Soils, nil)
	case "elastic":
		note(out, c.Elastic, nil)
	case "outlets":
		note(out, c.Outlets, nil)
	case "heaters":
		note(out, c.Heaters, nil)
	case "controls":
		note(out, c.Controls, nil)
	case "sundries":
		note(out, c.Sundries, nil)
	case "uses":
		note(out, c.Uses, nil)
	case "simultaneity":
		note(out, c.Together, nil)
	case "profiles":
		note(out, c.Profiles, nil)
	case "sources":
		note(out, c.Sources, nil)
	default:
		panic("catalogue: table " + table + ": there is none")
	}
	return out
}

func note[T any](out map[string]bool, m map[string]T, keep func(T) bool) {
	for k, v := range m {
		if keep == nil || keep(v) {
			out[k] = true
		}
	}
}

// Keys returns the keys of a table in order.
func (c *Catalogue) Keys(table string) []string { return sorted(c.keys(table)) }

// Has reports whether a table holds a row with the key and, if not, the nearest key it
// holds ("" when none is near). Tables are named as their files; "meters" and
// "stop-valves" are the valves that can be one. A pipe's key is "family mark".
// It panics when there is no such table (our own fault).
func (c *Catalogue) Has(table, key string) (bool, string) {
	keys := c.keys(table)
	if keys[key] {
		return true, ""
	}
	return false, nearest(key, keys)
}

func find[T any](c *Catalogue, m map[string]T, table, key string) (T, error) {
	v, ok := m[key]
	if !ok {
		_, near := c.Has(table, key)
		return v, &Missing{Table: table, Key: key, Near: near}
	}
	return v, nil
}

// Cite returns the citations behind a row's source keys, joined; a key that is none stands
// as it is.
func (c *Catalogue) Cite(list string) string {
	keys := strings.Split(list, ";")
	for i, key := range keys {
		key = strings.TrimSpace(key)
		if text, ok := c.Sources[key]; ok {
			key = text
		}
		keys[i] = key
	}
	return strings.Join(keys, "; ")
}

// The lookups return a row, or a *Missing that names the nearest key.

// Pipe looks a pipe up by size.
func (c *Catalogue) Pipe(s quantity.Size) (Pipe, error) {
	if p, ok := c.Pipes[s]; ok {
		return p, nil
	}
	_, near := c.Has("pipes", s.String())
	return Pipe{}, &Missing{Table: "pipes", Key: s.String(), Near: near}
}

// Valve looks up a hand valve, three-way valve, meter, strainer or drain.
func (c *Catalogue) Valve(key string) (Valve, error) { return find(c, c.Valves, "valves", key) }

// Meter looks up a valve row that is a meter.
func (c *Catalogue) Meter(key string) (Valve, error) {
	if v, ok := c.Valves[key]; ok && v.Kind == "meter" {
		return v, nil
	}
	_, near := c.Has("meters", key)
	return Valve{}, &Missing{Table: "meters", Key: key, Near: near}
}

// NonReturn looks up a non-return valve or backflow assembly.
func (c *Catalogue) NonReturn(key string) (NonReturn, error) {
	return find(c, c.NonReturns, "non-returns", key)
}

// Float looks up a float valve.
func (c *Catalogue) Float(key string) (Float, error) { return find(c, c.Floats, "floats", key) }

// Store looks up a tank.
func (c *Catalogue) Store(key string) (Store, error) { return find(c, c.Stores, "stores", key) }

// Pump looks up a pump.
func (c *Catalogue) Pump(key string) (Pump, error) { return find(c, c.Pumps, "pumps", key) }

// Vessel looks up a pressure vessel.
func (c *Catalogue) Vessel(key string) (Vessel, error) { return find(c, c.Vessels, "vessels", key) }

// Outlet looks up a kind of draw-off.
func (c *Catalogue) Outlet(key string) (Outlet, error) { return find(c, c.Outlets, "outlets", key) }

// Heater looks up a kind of water heater.
func (c *Catalogue) Heater(key string) (Heater, error) { return find(c, c.Heaters, "heaters", key) }

// Control looks up a pump control.
func (c *Catalogue) Regulator(key string) (Regulator, error) {
	return find(c, c.Regulators, "regulators", key)
}

// Control returns a control by key.
func (c *Catalogue) Control(key string) (Control, error) { return find(c, c.Controls, "controls", key) }

// Profile looks up a local-rules profile.
func (c *Catalogue) Profile(key string) (*Profile, error) {
	p, err := find(c, c.Profiles, "profiles", key)
	if err != nil {
		return nil, err
	}
	return &p, nil
}

// Fitting returns the fitting of a kind for a pipe size: made for that mark, else for its
// family, else for any. It comes as strung on that pipe: a loss that does not follow the
// bore is turned into the Kinf that gives it there.
func (c *Catalogue) Fitting(kind string, s quantity.Size) (Fitting, error) {
	pipe, err := c.Pipe(s)
	if err != nil {
		return Fitting{}, err
	}
	var best *Fitting
	for _, f := range c.ofKind(kind) {
		fits := (f.Family == "" || f.Family == s.Family) && (f.Mark == "" || f.Mark == s.Mark)
		if fits && (best == nil || f.special() > best.special()) {
			best = f
		}
	}
	if best == nil {
		return Fitting{}, &Missing{Table: "fittings", Key: kind + " " + s.String()}
	}
	return best.Strung(pipe.Bore), nil
}

// ofKind returns the fittings of a kind, in the order of their keys.
func (c *Catalogue) ofKind(kind string) []*Fitting {
	if c.kinds == nil {
		return kindsOf(c.Fittings)[kind]
	}
	return c.kinds[kind]
}

// kindsOf lists fittings by their kind, in the order of their keys.
func kindsOf(fittings map[string]Fitting) map[string][]*Fitting {
	kinds := map[string][]*Fitting{}
	for _, key := range sorted(fittings) {
		f := fittings[key]
		kinds[f.Kind] = append(kinds[f.Kind], &f)
	}
	return kinds
}

// special says how narrowly a fitting is meant: 0 for any pipe, more for a family or mark.
func (f *Fitting) special() int {
	n := 0
	if f.Family != "" {
		n++
	}
	if f.Mark != "" {
		n += 2
	}
	return n
}

// Bush returns the reducing bush between two thread marks in either order, as strung on a
// pipe of the given bore. ok is false when none is made.
func (c *Catalogue) Bush(one, other string, bore quantity.Length) (Fitting, bool) {
	for _, f := range c.ofKind("bush") {
		if f.Mark == one && f.Thread == other || f.Mark == other && f.Thread == one {
			return f.Strung(bore), true
		}
	}
	return Fitting{}, false
}

// boreInch is the bore that doubles a fitting's loss in the two-K form, 1 inch. [m]
const boreInch = 0.0254

// Strung returns f for a pipe of the given bore [m], with K turned into Kinf. The K of a
// bush counts on its own smaller bore and is brought to the pipe's: K (bore/insert)⁴, for
// the same flow goes through both.
func (f Fitting) Strung(bore quantity.Length) Fitting {
	if f.Kind == "bush" && f.Insert > 0 {
		r := float64(bore / f.Insert)
		f.K, f.Insert = f.K*r*r*r*r, 0
	}
	if f.K != 0 {
		f.Kinf, f.K = f.K/(1+boreInch/float64(bore)), 0
	}
	return f
}

// Loss returns the loss coefficient K [–] of a strung fitting at Reynolds number re > 0 on
// a bore [m]: K = K1/re + Kinf (1 + 1 in/bore).
// Source: Hooper (1981), The two-K method predicts head losses in pipe fittings.
func (f Fitting) Loss(re float64, bore quantity.Length) float64 {
	f = f.Strung(bore)
	return f.K1/re + f.Kinf*(1+boreInch/float64(bore))
}

// nearest returns the key of m that looks most like s, or "" when none is close.
func nearest[T any](s string, m map[string]T) string {
	best, least := "", max(2, len(s)/3)+1
	for _, k := range sorted(m) {
		if d := distance(s, k); d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is the number of single-byte changes that turn a into b (Levenshtein 1966).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			diagonal, row[j] = row[j], min(row[j]+1, row[j-1]+1, diagonal+cost)
		}
	}
	return row[len(b)]
}

func sorted[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// stops are the kinds of hand valve that shut a service off.
var stops = map[string]bool{"ball": true, "screw-down": true, "gate": true, "angle": true}

// SoldIn reports whether a tank of that key is sold where a home's units are used: those by the
// gallon in the US, those by the litre elsewhere. A row of somebody's own is sold to them.
func SoldIn(key string, sys quantity.System) bool {
	gallons := strings.HasSuffix(key, "-gal")
	if _, litres := strconv.Atoi(strings.TrimPrefix(key, "tank-")); !gallons && litres != nil {
		return true
	}
	return gallons == (sys == quantity.US)
}

// VesselIn is SoldIn for a pressure vessel: those by the litre are sold in the US too.
func VesselIn(key string, sys quantity.System) bool {
	return sys == quantity.US || !strings.HasSuffix(key, "-gal")
}
