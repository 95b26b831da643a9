package catalogue

// Elastic is how a pipe family's wall stretches.
type Elastic struct {
	Row
	Modulus float64 // of elasticity, short-term [Pa]
	Poisson float64 // ratio of lateral to axial strain [–]
}

func addElastic(c *Catalogue, r *record) {
	key := r.word("family")
	put(c.Elastic, r, key, Elastic{Row: r.row(key), Modulus: r.num("modulus", 1e8, 1e12), Poisson: r.num("poisson", 0, 0.5)})
}
