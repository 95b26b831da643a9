package hydraulics

// NPSH is the net positive suction head a pump needs:
//
//	N(q, s) = s² N_b (r + (1 − r) (q/(s q_b))²)
//
// N_b [m] at the best point q_b [m³/s] and full speed; r what remains of it at no flow:
// 0.5 for multistage pumps, 0.7 for jets and peripheral ones. Rising with flow for q ≥ 0.
// Source: suction losses go with the square of the flow, the blade's share with the
// square of the speed (ISO 9906:2012 for the definition); r is an assumption: no
// curve is published for a generic pump. Keep 0.5 to 1 m over it.
type NPSH struct {
	Best float64 // N_b
	At   float64 // q_b
	Rest float64 // r
}

// NewNPSH makes the need of a pump of a kind that asks for best [m] at the flow at [m³/s].
func NewNPSH(part string, k PumpKind, best, at float64) (NPSH, error) {
	p, known := k.prior()
	g := guard{part: part}
	g.want("kind of pump", float64(k), known, "jet, multistage or peripheral (0 to 2)")
	g.want("net positive suction head", best, best > 0 && best <= 20, "above 0 and to 20 m")
	g.want("flow it belongs to", at, at > 1e-9 && at <= 10, "above 0 and to 10 m³/s")
	return NPSH{best, at, p.rest}, g.fail()
}

// Need is the head asked for at flow q ≥ 0 [m³/s] and speed s [m]; 0 standing.
func (n NPSH) Need(q, s float64) float64 {
	if s <= 0 {
		return 0
	}
	return s*s*n.Best*n.Rest + n.Best*(1-n.Rest)*(q/n.At)*(q/n.At)
}
