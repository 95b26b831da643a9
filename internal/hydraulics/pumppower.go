package hydraulics

import "math"

// PumpPower is what a pump takes from its supply against flow and speed:
//
//	P₁ = s³ P_b (i + (1 − i) (q/s)/q_b)
//	η = ρ g q H/P₁
//	I = √((P₁/U)² + I_m²),  I_m = (P_b/U) tan φ
//
// P_b [W] electrical at the best point q_b [m³/s], i the power at shut-off over it: below
// 1 for centrifugal pumps, whose current falls as they are throttled, above 1 for
// peripheral ones, whose current is greatest at shut-off. U [V] the supply, I_m [A] the
// current that magnetises the motor, which does not depend on the load; cos φ at the best
// point. Valid for single-phase motors from shut-off to run-out.
// Source: the straight line of input power against flow (Willans's line) and the affinity
// laws; i by kind and cos φ are assumptions (see NewPumpPower).
type PumpPower struct {
	Best float64 // electrical power at the best point, full speed [W]
	At   float64 // flow of the best point [m³/s]
	Idle float64 // power at shut-off over Best [–]
	Cos  float64 // power factor at the best point [–]
}

// NewPumpPower makes the power of a pump of a kind from its electrical power best [W] at
// the flow at [m³/s]. i is 0.75 for jets, 0.55 for multistage and 1.6 for peripheral
// pumps, cos φ 0.95 (a motor with a running capacitor): trade knowledge, assumed.
func NewPumpPower(part string, k PumpKind, best, at float64) (PumpPower, error) {
	p, known := k.prior()
	g := guard{part: part}
	g.want("kind of pump", float64(k), known, "jet, multistage or peripheral (0 to 2)")
	g.want("electrical power", best, best > 0 && best <= 1e6, "above 0 and to 1000000 W")
	g.want("flow of the best point", at, at > 1e-9 && at <= 10, "above 0 and to 10 m³/s")
	return PumpPower{Best: best, At: at, Idle: p.idle, Cos: 0.95}, g.fail()
}

// Power is the electrical power at flow q ≥ 0 [m³/s] and speed s [W]; 0 standing. A
// peripheral pump's line ends at a tenth of Best: beyond run-out nothing is known.
func (p PumpPower) Power(q, s float64) float64 {
	if s <= 0 {
		return 0
	}
	share := p.Idle + (1-p.Idle)*q/(s*p.At)
	return s * s * s * p.Best * math.Max(share, 0.1)
}

// Current is the current at flow q, speed s and supply voltage u [V]; [A].
func (p PumpPower) Current(q, s, u float64) float64 {
	if s <= 0 {
		return 0
	}
	return math.Hypot(p.Power(q, s)/u, p.Best/u*math.Sqrt(1/(p.Cos*p.Cos)-1))
}

// Efficiency is the power given to the water over the power taken, wire to water, for a
// pump that adds head h [m] at flow q and speed s; density [kg/m³].
func (p PumpPower) Efficiency(q, s, h, density float64) float64 {
	if s <= 0 {
		return 0
	}
	return density * Gravity * q * h / p.Power(q, s)
}
