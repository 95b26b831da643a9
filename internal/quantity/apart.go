package quantity

import "math"

// same is how near two values must be, as a share of the greater, to count as one: what
// a solver leaves over is no difference.
const same = 1e-6

// FormatApart prints a figure and what it is held against as Format does, but never alike
// where they are not the same: "2 m/s" and "2.0 m/s" become "2.003 m/s" and "2.000 m/s".
// Both then have the fewest decimals that tell them apart.
func FormatApart(figure, limit Quantity, sys System) (a, b string) {
	one, other := shape(figure, sys), shape(limit, sys)
	if figure.Dim != limit.Dim || figure.Dim == MoneyDim || figure.Counted || figure.Air && figure.SI < 0 || one.unit != other.unit || trim(one.number) != trim(other.number) ||
		math.Abs(figure.SI-limit.SI) <= same*math.Max(math.Abs(figure.SI), math.Abs(limit.SI)) {
		return one.String(), other.String()
	}
	number := func(q Quantity) float64 {
		if q.Dim == NoDim {
			return q.SI
		}
		return shown(q, sys).numberOf(q)
	}
	for places := 1; places <= maxPlaces; places++ {
		x, y := Fixed(number(figure), places), Fixed(number(limit), places)
		if x != y {
			one.number, other.number = x, y
			break
		}
	}
	return one.String(), other.String()
}
