package catalogue

import "tideover/internal/quantity"

// Joint is what a fitting takes of a pipe: how far the pipe goes in, and how far a
// fitting's centre stands from the pipe's stop. Cut length is centre to centre less both
// take-outs and plus both insertions.
type Joint struct {
	Row
	Size       quantity.Size
	Insertion  quantity.Length
	Elbow, Tee quantity.Length // take-out; 0 not known, a maker's own figure
}

func addJoint(c *Catalogue, r *record) {
	size := quantity.Size{Family: r.word("family"), Mark: r.word("mark")}
	j := Joint{Row: r.row(size.String()), Size: size, Insertion: quantity.Length(r.num("insertion", 1e-3, 0.2)),
		Elbow: quantity.Length(r.opt("elbow", 1e-3, 0.3)), Tee: quantity.Length(r.opt("tee", 1e-3, 0.3))}
	if r.fault == nil {
		c.Joints[size] = j
	}
}

// Cut is the length to cut of a pipe between two fittings whose centres lie so far apart
// [m], with the take-outs of both. ok is false where an insertion is not known. A length
// below nought says that the fittings meet before the pipe begins.
func (c *Catalogue) Cut(s quantity.Size, centres, one, other quantity.Length) (cut quantity.Length, ok bool) {
	j, ok := c.Joints[s]
	return centres - one - other + 2*j.Insertion, ok
}

// Soil is what a kind of ground may be presumed to carry.
type Soil struct {
	Row
	Least, Most quantity.Pressure // 0: none; an engineer is asked
	Halved      bool              // it carries half where water stands within one width of the base
}

func addSoil(c *Catalogue, r *record) {
	key := r.word("key")
	put(c.Soils, r, key, Soil{Row: r.row(key), Least: quantity.Pressure(r.num("least", 0, 1e7)), Most: quantity.Pressure(r.num("most", 0, 1e7)), Halved: r.maybe("wet") == "half"})
}
