package hydraulics

import "math"

// Relief is a relief valve into the air: shut up to its set head, then opening with the
// head until, a band above, it stands fully open.
//
//	y = m q                                           to q_a, lifting
//	y climbs over to the square law                   to q_f, the slope evenly
//	y = (1 bar/(1000 kg/m³ g)) (q/Kv)² − S            from q_f on, fully open
//
// y [m] is the head above the set head S [m], both over the height of its mouth; band b
// [m] > 0; q_f = Kv √((S + b)/(1 bar)); q_a = q_f (1 − θ), θ = b/(2 (S + b)), and m is
// what makes the pieces meet. C1, strictly increasing. An element with it must be
// one-way, opening at S, ending at a point held at the height of its mouth.
// Source: rated capacity at 10 % over the set pressure is how such valves are tested
// (ISO 4126-1); that the lift goes with the flow in between is an assumption.
type Relief struct {
	kv, set, band       float64
	m, at, full, steeps float64 // slope lifting; q_a; q_f; slope where fully open begins
}

// NewRelief makes a relief valve from a point to the air at its mouth, set [m] and band
// [m] being heads over the mouth, kv [m³/s at 1 bar] the flow factor fully open.
func NewRelief(part string, from, mouth int32, kv, set, band float64) (Element, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	g.want("set head", set, set > 0 && set <= 1000, "above 0 and to 1000 m")
	g.want("band", band, band >= 1e-3*set && band <= set, "a thousandth of the set head to the set head")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	r := &Relief{kv: kv, set: set, band: band}
	r.full = kv * math.Sqrt((set+band)/barHead)
	theta := band / (2 * (set + band))
	r.at = r.full * (1 - theta)
	r.steeps = 2 * (set + band) / r.full
	r.m = (band - r.steeps*theta*r.full/2) / (r.full * (1 - theta/2))
	return Element{Name: part, From: from, To: mouth, Law: r, OneWay: true, Opens: set}, nil
}

// Drop is the head over the set head [m] that an outflow q [m³/s] needs, and its slope.
func (r *Relief) Drop(q, _ float64) (h, dh float64) {
	switch {
	case q >= r.full:
		return barHead*(q/r.kv)*(q/r.kv) - r.set, 2 * barHead * q / (r.kv * r.kv)
	case q > r.at:
		rise := (r.steeps - r.m) / (r.full - r.at)
		over := q - r.at
		return r.m*q + rise*over*over/2, r.m + rise*over
	}
	return r.m * q, r.m
}

func (r *Relief) typical() float64 { return r.at }
