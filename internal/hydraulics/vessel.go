package hydraulics

import "math"

// Vessel is a pressure vessel: a volume of air behind a membrane, squeezed slowly.
//
//	w = V (1 − p₀/p) for p ≥ p₀, else 0
//	p = p₀ V/(V − w)
//
// w [m³] the water in it, V [m³] its volume, p₀ [Pa] the charge of the empty vessel and p
// [Pa] the pressure, both absolute. w rises strictly with p above the charge. At the
// charge it is empty and gives nothing more.
// Source: Boyle's law (isothermal; a fast change is nearer adiabatic and takes in less).
type Vessel struct{ Volume, Charge float64 }

// NewVessel makes a vessel of volume [m³] and charge [Pa absolute].
func NewVessel(part string, volume, charge float64) (Vessel, error) {
	g := guard{part: part}
	g.want("volume", volume, volume > 0 && volume <= 100, "above 0 and to 100 m³")
	g.want("charge, absolute", charge, charge >= 5e4 && charge <= 4e6, "50000 to 4000000 Pa: add the air's own pressure to what a gauge reads")
	return Vessel{volume, charge}, g.fail()
}

// Water is the water in the vessel at p [Pa absolute, above 0]; [m³].
func (v Vessel) Water(p float64) float64 {
	if p <= v.Charge {
		return 0
	}
	return v.Volume * (p - v.Charge) / p
}

// Pressure is the pressure with w [m³], 0 to below its volume, of water in it [Pa
// absolute]. The emptied vessel stands at its charge: below that its pressure is the
// pipe's and nobody's here. A w at or above the volume is +Inf: there is no air left.
func (v Vessel) Pressure(w float64) float64 {
	if w >= v.Volume {
		return math.Inf(1)
	}
	return v.Charge * v.Volume / (v.Volume - w)
}

// Swell is how much a volume of water grows from t1 to t2 [°C], counted at t1's mass;
// [m³]. It must find room: in a vessel, through a relief valve, or back into the pipe.
//
//	ΔV = V (ρ(t1)/ρ(t2) − 1)
//
// Source: Kell 1975 for ρ.
func Swell(volume, t1, t2 float64) float64 { return volume * (Density(t1)/Density(t2) - 1) }
