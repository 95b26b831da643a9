package years

import (
	"math"

	"tideover/internal/seasons"
)

// Bin is the share of the water between two ages when it reaches a tap.
type Bin struct {
	From, To float64 // [s]
	Share    seasons.Estimate
}

// widths are what a bin may span: steps a reader counts in.
var widths = []float64{seasons.Hour / 2, seasons.Hour, 2 * seasons.Hour, 3 * seasons.Hour, 6 * seasons.Hour, 12 * seasons.Hour,
	seasons.Day, 2 * seasons.Day, 7 * seasons.Day, 14 * seasons.Day, 30 * seasons.Day, 60 * seasons.Day}

const mostBins = 24

// Bins lays the ages of a store's water out in equal steps, up to the age that one litre in a
// hundred exceeds; beyond is the share of what is older than the last.
func (f *Fresh) Bins() (bins []Bin, beyond float64) {
	last := f.Quantile(0.99).Value
	if math.IsInf(last, 1) {
		return nil, 0
	}
	wide := widths[len(widths)-1]
	for k := len(widths) - 1; k >= 0; k-- {
		if last/widths[k] <= mostBins {
			wide = widths[k]
		}
	}
	for k := range int(math.Ceil(last / wide)) {
		b := Bin{From: wide * float64(k), To: wide * float64(k+1)}
		b.Share = f.Between(b.From, b.To)
		bins = append(bins, b)
	}
	return bins, math.Max(f.all.Above(wide*float64(len(bins))), 0)
}

// freshTo is the usable water up to which the mean age keeps a ceiling, by the straight line
// between two sizes: 0 where the smallest does not, +Inf where all do. [m³]
func freshTo(stores []seasons.Store, fresh []Fresh, ceiling float64) float64 {
	for i := range stores {
		if fresh[i].Mean.Value <= ceiling {
			continue
		}
		if i == 0 {
			return 0
		}
		a, b := fresh[i-1].Mean.Value, fresh[i].Mean.Value
		if math.IsInf(b, 1) {
			return stores[i-1].Usable
		}
		return stores[i-1].Usable + (stores[i].Usable-stores[i-1].Usable)*(ceiling-a)/(b-a)
	}
	return math.Inf(1)
}
