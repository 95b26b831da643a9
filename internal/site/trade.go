package site

import (
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// OverflowMargin is how far below the overflow's lip a store's float valve is set shut by
// a profile [m], or as is usual where it leaves that blank or there is no profile.
func OverflowMargin(p *catalogue.Profile, v assume.Values) quantity.Length {
	if r := p.Rule("overflow-margin"); r.Set {
		return quantity.Length(r.Value)
	}
	return quantity.Length(assume.ShutBelowLip.In(v))
}
