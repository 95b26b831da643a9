package hydraulics

import "math"

// Loss is one kind of fitting strung on a pipe: K = K1/Re + Kinf (1 + 25.4 mm/bore) on
// the pipe's own bore (the two-K form: Hooper 1981, Chem. Eng. 88(17):96). The term in
// K1 grows at low Reynolds number and makes the loss linear, not flat, at zero flow.
type Loss struct {
	K1, Kinf float64
	Count    float64
	Plain    bool // no size correction: entries, exits, bends whose K is known on this bore
}

// PipeSpec is what a run of pipe is made of, SI.
type PipeSpec struct {
	Bore      float64 // inside diameter [m], 1e-3 to 2
	Length    float64 // along the run [m], 1e-3 to 1e5
	Roughness float64 // ε [m], 0 to 5 % of the bore
	Viscosity float64 // kinematic, ν [m²/s], 1e-7 to 1e-4
	Fittings  []Loss
}

// Pipe is a run of pipe with its fittings:
//
//	h = f (L/D) V²/2g + (K1/Re + K∞) V²/2g,  V = q/(π D²/4)
//
// h [m] at flow q [m³/s]; f is laminar, bridged and Colebrook-White (see friction).
// Strictly increasing and C1 for every q. Valid for full, steady flow of water.
// Source: Darcy-Weisbach (Weisbach 1845); Colebrook 1939; Hooper 1981.
type Pipe struct {
	spec   PipeSpec
	re     float64 // Re per flow [s/m³]
	c      float64 // head per φ [m]
	k1, k2 float64 // fittings: k1 q + k2 q² [s/m², s²/m⁵]
	f      friction
}

// NewPipe makes a pipe, or refuses by part, field, value and limit.
func NewPipe(part string, p PipeSpec) (*Pipe, error) {
	g := guard{part: part}
	g.want("bore", p.Bore, p.Bore >= 1e-3 && p.Bore <= 2, "0.001 to 2 m")
	g.want("length", p.Length, p.Length >= 1e-3 && p.Length <= 1e5, "0.001 to 100000 m")
	g.want("roughness", p.Roughness, p.Roughness >= 0 && p.Roughness <= 0.05*p.Bore, "0 to 5 % of the bore")
	g.want("viscosity", p.Viscosity, p.Viscosity >= 1e-7 && p.Viscosity <= 1e-4, "1e-7 to 1e-4 m²/s")
	var k1, kinf float64
	for _, f := range p.Fittings {
		g.want("fitting K1", f.K1, f.K1 >= 0, "0 or more")
		g.want("fitting Kinf", f.Kinf, f.Kinf >= 0, "0 or more")
		g.want("fitting count", f.Count, f.Count >= 0, "0 or more")
		k1 += f.Count * f.K1
		kinf += f.Count * f.atBore(p.Bore)
	}
	if err := g.fail(); err != nil {
		return nil, err
	}
	p.Fittings = append([]Loss(nil), p.Fittings...)
	area := math.Pi / 4 * p.Bore * p.Bore
	return &Pipe{
		spec: p,
		re:   p.Bore / (area * p.Viscosity),
		c:    p.Length * p.Viscosity * p.Viscosity / (2 * Gravity * p.Bore * p.Bore * p.Bore),
		k1:   k1 * p.Viscosity / (2 * Gravity * p.Bore * area),
		k2:   kinf / (2 * Gravity * area * area),
		f:    newFriction(p.Roughness / p.Bore),
	}, nil
}

// atBore is K∞ on a bore [m], with Hooper's correction unless the loss is plain.
func (l Loss) atBore(bore float64) float64 {
	if l.Plain {
		return l.Kinf
	}
	return l.Kinf * (1 + 0.0254/bore)
}

// Spec returns what the pipe was made from.
func (p *Pipe) Spec() PipeSpec { return p.spec }

// Velocity returns the mean velocity at flow q [m/s].
func (p *Pipe) Velocity(q float64) float64 {
	return q / (math.Pi / 4 * p.spec.Bore * p.spec.Bore)
}

// Drop is the head lost [m] and its slope [s/m²] at flow q [m³/s].
func (p *Pipe) Drop(q, _ float64) (h, dh float64) {
	var x float64
	return p.dropFrom(q, &x)
}

// dropFrom is Drop with the last 1/√f remembered, which saves two logarithms in three.
func (p *Pipe) dropFrom(q float64, x *float64) (h, dh float64) {
	a := math.Abs(q)
	phi, dphi := p.f.at(a*p.re, x)
	h = p.c*phi + a*(p.k1+a*p.k2)
	dh = p.c*dphi*p.re + p.k1 + 2*a*p.k2
	if q < 0 {
		h = -h
	}
	return h, dh
}

// typical is the flow at 0.5 m/s: where a cold solve starts.
func (p *Pipe) typical() float64 { return 0.5 * math.Pi / 4 * p.spec.Bore * p.spec.Bore }
