package circuit

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
)

// Burst returns the element of a pipe broken right through in the home, and the part it
// is counted to; −1, −1 when there is none. It is Off by default; air comes in through it
// as through an open mouth.
func (c *Circuit) Burst() (element int32, part int) { return c.burst, c.burstAt }

// plainBore is taken for a home without a run of its own, an assumption. [m]
const plainBore = 0.013

// burstHole is the discharge coefficient of a sharp-edged hole (Torricelli with contraction).
const burstHole = 0.61

// addBurst breaks the home's pipe at its header, or where its first outlet hangs.
func (b *builder) addBurst() error {
	b.c.burst, b.c.burstAt = -1, -1
	i, bore := b.trunk()
	if i < 0 {
		return nil
	}
	at := b.c.point[i][0]
	c := burstHole * math.Pi / 4 * bore * bore * math.Sqrt(2*hydraulics.Gravity)
	part := &b.a.Parts[i]
	law, err := checked(hydraulics.NewOutlet(part.Tag, c, 0))
	if err != nil {
		return err
	}
	mouth := b.newPoint(part.Tag+".burst", b.points[at].Z, true)
	b.c.burst, b.c.burstAt = b.newElement(i, at, mouth, law, true), i
	return b.airInto(i, b.c.burst, c)
}

// trunk is the part at which the home is taken to burst, and the bore of its pipe [m].
func (b *builder) trunk() (part int, bore float64) {
	part, bore = -1, plainBore
	for i := range b.a.Parts {
		switch p := &b.a.Parts[i]; {
		case p.Kind == assembly.Run && p.Role == assembly.HomeRole && bore == plainBore:
			if row, ok := p.Row.(catalogue.Pipe); ok {
				bore = float64(row.Bore)
			}
		case p.Kind == assembly.Tee && p.Role == assembly.HomeRole && part < 0:
			part = i
		}
	}
	if part < 0 && len(b.c.Outlets) > 0 {
		part = b.c.Outlets[0]
	}
	return part, bore
}
