package circuit

import (
	"fmt"
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/site"
)

const threeBar = 3e5 / Weight // head of 3 bar [m]: outlets are rated there

// factor is √(loss scale): a flow factor that loses k times as much is 1/√k of it.
func (in Inputs) factor(kv float64) float64 { return kv / math.Sqrt(scale(in.LossScale)) }

func scale(x float64) float64 {
	if x == 0 {
		return 1
	}
	return x
}

// sag is what is known of how the main sags.
func (in Inputs) sag() site.Sag {
	return site.Sag{Static: in.Static, LowFlow: in.LowFlow, HighFlow: in.HighFlow, LowRes: in.LowRes, HighRes: in.HighRes, Busy: in.Busy}
}

// pipeLaw makes the law of a run from its row, length and fittings.
func (in Inputs) pipeLaw(p *assembly.Part) (hydraulics.Law, error) {
	row, ok := p.Row.(catalogue.Pipe)
	if !ok {
		return nil, wrongRow(p)
	}
	spec := hydraulics.PipeSpec{
		Bore: float64(row.Bore), Length: float64(p.Length), Roughness: float64(row.Roughness),
		Viscosity: hydraulics.KinematicViscosity(float64(in.Water)),
	}
	for _, f := range p.Fittings {
		k := scale(in.LossScale)
		loss := hydraulics.Loss{K1: f.Row.K1 * k, Kinf: f.Row.Kinf * k, Count: float64(f.Count)}
		spec.Fittings = append(spec.Fittings, loss)
	}
	return checked(hydraulics.NewPipe(p.Tag, spec))
}

// pumpLaw makes the law of a pump, free to be driven forwards while it stands.
func (in Inputs) pumpLaw(p *assembly.Part) (*hydraulics.Pump, error) {
	row, ok := p.Row.(catalogue.Pump)
	if !ok {
		return nil, wrongRow(p)
	}
	k := scale(in.PumpScale)
	return hydraulics.NewPump(p.Tag, float64(row.Shutoff)*k,
		float64(row.Q1), float64(row.H1)*k, float64(row.Q2), float64(row.H2)*k, standing(row))
}

// standing returns the flow factor [m³/s at 1 bar] of a pump at rest: its curve at no
// speed, H = −C q² (affinity laws); a straight curve has no C, and then the last flow of
// the curve at 1 bar serves.
func standing(row catalogue.Pump) float64 {
	d1 := float64(row.Shutoff-row.H1) / float64(row.Q1)
	d2 := float64(row.Shutoff-row.H2) / float64(row.Q2)
	c := (d2 - d1) / float64(row.Q2-row.Q1)
	if c <= 0 {
		return float64(row.Q2)
	}
	return math.Sqrt(1e5 / Weight / c)
}

// outletLaw makes the law of a draw-off from its flow at 3 bar and its regulator.
func (in Inputs) outletLaw(p *assembly.Part) (hydraulics.Law, error) {
	row, ok := p.Row.(catalogue.Outlet)
	if !ok {
		return nil, wrongRow(p)
	}
	return checked(hydraulics.NewOutletAt(p.Tag, float64(row.At3Bar)*scale(in.OutletScale), threeBar, float64(row.Limit)))
}

// checked keeps a nil pointer from becoming a law that is not nil.
func checked[L hydraulics.Law](law L, err error) (hydraulics.Law, error) {
	if err != nil {
		return nil, err
	}
	return law, nil
}

func wrongRow(p *assembly.Part) error {
	return fmt.Errorf("circuit: %s: a %s cannot be made from the catalogue row %T", p.Tag, p.Kind, p.Row)
}
