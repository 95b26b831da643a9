package hydraulics

// Reverse is the resistance of a one-way element to water coming back [s/m²]: at 100 m
// a shut one would pass 1e-12 m³/s, and even that is taken out before the answer is
// given. One strictly increasing law in place of a switch keeps the circuit convex.
const Reverse = 1e14

// NewNonReturn makes a non-return valve from one point to another: an element that is
// one-way, opens at the head opens [m, ≥ 0] and loses on top what its flow factor kv
// [m³/s at 1 bar] says:
//
//	q ≥ 0:  h = opens + (1 bar/(1000 kg/m³ g)) (q/Kv)²
//	q < 0:  h = opens + Reverse q
//
// one continuous, strictly increasing law, C1 but for the corner at zero.
// A valve that leaks or sticks open is this element with a plain two-way one beside it,
// Off until a case says so; one stuck shut is Off.
// Source: Deuerlein, Simpson & Dempe 2009, J. Hydraul. Eng. 135(11):970 for why a
// one-way element belongs in the convex problem and not in a switch around it.
func NewNonReturn(part string, from, to int32, kv, opens float64) (Element, error) {
	g := guard{part: part}
	g.want("opening head", opens, opens >= 0 && opens <= 100, "0 to 100 m")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	law, err := NewFixed(part, kv)
	if err != nil {
		return Element{}, err
	}
	return Element{Name: part, From: from, To: to, Law: law, OneWay: true, Opens: opens}, nil
}
