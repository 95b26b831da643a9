package hydraulics

// Heater is a water heater as the pipework sees it: a passage with a flow factor, a
// pressure it stands, perhaps a vent open to the air, and a flow below which it does not
// fire.
//
//	h = (1 bar/(1000 kg/m³ g)) (q/Kv)²
//
// Kv [m³/s at 1 bar]. Strictly increasing, C1, odd (see Fixed). What the nameplate says
// is the maker's; unknown counts as the weakest.
type Heater struct {
	Fixed
	Rating float64 // greatest pressure head it stands [m]
	Least  float64 // flow at which it fires [m³/s]; 0 a storage heater
	Vented bool    // an open vent pipe rises from it
	Vent   float64 // height of the vent's open end above the datum [m], if Vented
}

// NewHeater makes a heater.
func NewHeater(part string, kv, rating, least float64) (*Heater, error) {
	g := guard{part: part}
	g.want("rating", rating, rating > 0 && rating <= 500, "above 0 and to 500 m of water")
	g.want("least flow", least, least >= 0 && least <= 0.01, "0 (a storage heater) to 0.01 m³/s")
	if err := g.fail(); err != nil {
		return nil, err
	}
	law, err := NewFixed(part, kv)
	if err != nil {
		return nil, err
	}
	return &Heater{Fixed: *law, Rating: rating, Least: least}, nil
}

// WithVent is the heater with a vent pipe open at height z [m above the datum]. The
// vent's two elements are made by NewVent.
func (h Heater) WithVent(part string, z float64) (*Heater, error) {
	g := guard{part: part}
	g.want("height of the vent", z, z >= -1e4 && z <= 1e4, "within 10000 m of the datum")
	h.Vented, h.Vent = true, z
	return &h, g.fail()
}

// Fires reports whether the heater fires at a flow [m³/s]: running backward it does not.
func (h *Heater) Fires(q float64) bool { return q > 0 && q >= h.Least }

// Over is how far a head [m above the datum] presses the heater, standing at height z,
// beyond its rating [m]: above 0 it may burst.
func (h *Heater) Over(head, z float64) float64 { return head - z - h.Rating }

// Spills reports whether water runs out of the vent at a head [m above the datum].
func (h *Heater) Spills(head float64) bool { return h.Vented && head > h.Vent }
