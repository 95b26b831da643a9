package proof

import (
	"tideover/internal/calc"
	"tideover/internal/circuit"
)

var _ = calc.Register(calc.Equation{
	Key: "drains-tight", Section: "The proof", Title: "Bound of a flow over every set of open drains",
	Formula: "q_e(D) ≤ q_e(tight) for each element e that ends in held water and each set D of open drains",
	Result:  calc.Symbol{Name: "q_e", Meaning: "flow through e into the held water", Unit: "m³/s"},
	Range: "every element passes more the higher the head before it and the less the higher the head behind it (pipes, valves, non-return valves, running pumps, regulators); " +
		"not with a pump whose speed holds a pressure. Tight: each drain lets air in as if open and water out as if shut. " +
		"A drain's way out only takes water and its way for air only brings some, at every head, so that with any set D each point is left with no more water than tight; " +
		"the heads that balance are then nowhere higher (the map from heads to what leaves each point is an M-function), and with them the flow into held water",
	Source: "M-functions: Rheinboldt 1970, J. Math. Anal. Appl. 32:274; heads by order of withdrawals: Porsching 1971, SIAM J. Numer. Anal. 8:437",
})

// loose reports whether an element is the mouth of a drain whose position is left open while
// drains are tight. No tag of a drain is ever swapped.
func (o *oracle) loose(e int32) bool {
	w := &o.s.rules[e]
	if !o.tight || o.cards || w.nature != turned || !o.s.drain[w.hand] || o.s.swapOf[w.hand] != nil {
		return false
	}
	d := o.open[w.hand]
	_, bound := o.bound(w.hand)
	return d&(d-1) != 0 && !bound
}

// flowTight is the flow through a part with the drains not asked about tight; false where a
// pump holds a pressure in that water, or it has no certified answer.
func (o *oracle) flowTight(part int) (q float64, ok bool) {
	if o.plainly != nil {
		return o.plainly.flowTight(part)
	}
	if n, known := o.recall(); known {
		return n.low, n.ok && n.set != 0
	}
	o.tight, o.solved = true, true
	bounds := true
	if o.followFrom(part) {
		o.w.strip(o)
		o.done(stripped)
		if o.w.carries(part) {
			if bounds = !o.w.lifted(o) || o.pumping() != circuit.Holding; bounds {
				q = o.flowOf(part)
			}
		}
	}
	o.tight = false
	o.w.fresh() // what was followed is not the case's own water
	n := note{low: q}
	if bounds {
		n.set = 1
	}
	o.note(n)
	return q, o.solved && bounds
}
