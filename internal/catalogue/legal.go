package catalogue

import "tideover/internal/quantity"

// legalMost and asked name the rules that bind a kind of outlet.
var (
	legalMost = map[string]string{"shower": "max-flow-shower", "kitchen": "max-flow-sink", "basin": "max-flow-basin", "bidet": "max-flow-basin"}
	asked     = map[string]string{"shower": "min-pressure-shower", "wc": "min-pressure-wc"}
)

// Outlet returns an outlet as the profile's law lets it be sold: it gives no more than the
// legal most, and needs and is sized for the share of its limit it had before (EN 806-3's
// least flow is three quarters of what the outlet is limited to, here and there alike). Where
// a code asks for more pressure at its kind, it asks for that.
func (p *Profile) Outlet(o Outlet) Outlet {
	if least := p.Rule(orTitle(asked[o.Kind])); least.Value > float64(o.Pressure) {
		o.Pressure = quantity.Pressure(least.Value)
	}
	most := quantity.Flow(p.Rule(orTitle(legalMost[o.Kind])).Value)
	if most == 0 {
		return o
	}
	if o.Limit > most {
		o.Need *= most / o.Limit
	}
	if o.Limit == 0 || o.Limit > most {
		o.Limit = most
	}
	o.Need, o.Design = min(o.Need, o.Limit), min(o.Design, o.Limit)
	return o
}

// orTitle is a rule's key, or that of the title, which has no figure, where no rule binds.
func orTitle(key string) string {
	if key == "" {
		return "title"
	}
	return key
}
