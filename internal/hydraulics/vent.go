package hydraulics

// airEase is how much more easily air passes an opening than water, by volume:
// √(ρ_water/ρ_air) at 20 °C and sea level, 1000 and 1.20 kg/m³.
// Source: Torricelli's law for two fluids at the same pressure difference; small
// differences, at which air does not yet show that it can be squeezed.
const airEase = 28.87

// NewVacuumRelief makes a part that lets air in from the air at its height, a point held
// there, once the pipe sucks by more than opens [m, ≥ 0]: one-way from the air to the
// pipe. What flows through it is the volume of air, which is the volume of water that
// leaves elsewhere. kv [m³/s of water at 1 bar] is its free passage.
//
//	h = opens + (1 bar/(1000 kg/m³ g)) (q/(28.9 Kv))²
//
// Strictly increasing (see NonReturn). The steady state with it holds while water still
// stands at its height; how much can run out there before is DrainBack.
func NewVacuumRelief(part string, air, to int32, kv, opens float64) (Element, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 0.3, "1e-9 to 0.3 m³/s at 1 bar")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	return NewNonReturn(part, air, to, kv*airEase, opens)
}

// NewVent makes an open vent pipe on a point: water spills from its mouth when the head
// reaches the mouth's height, and air comes in where the vent leaves the pipe once the
// head has fallen to there. mouth is a point held at the height of the open end, root a
// point held at the height where the vent leaves the pipe; kv [m³/s at 1 bar] is the
// passage of the vent pipe.
//
// Two one-way elements: the first out, the second in.
func NewVent(part string, at, mouth, root int32, kv float64) ([2]Element, error) {
	in, err := NewVacuumRelief(part, root, at, kv, 0)
	if err != nil {
		return [2]Element{}, err
	}
	out, err := NewNonReturn(part, at, mouth, kv, 0)
	return [2]Element{out, in}, err
}
