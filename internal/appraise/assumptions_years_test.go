package appraise

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// livedFutures is how many futures, of ten years, an assumption of the years is moved in: the same ones
// at both ends, so that what they leave open does not count.
const livedFutures = 8

// livedOf is what an assumption that the years read does to their headline in an example, in words; ""
// where the job tells what takes its place, or where it is not felt.
func livedOf(t *testing.T, name string, in Input, a *assume.Assumption) string {
	t.Helper()
	if !slices.Contains(a.Use, "years") || answered(in, a) {
		return ""
	}
	headline := func(at float64) (ride, short float64) {
		j := *in.Job
		j.Assumed = assume.Values{a.Key: at}
		with := in
		with.Job = &j
		y, err := LiveThrough(context.Background(), with, YearsAsk{Brief: true, alone: true, futures: livedFutures}, nil)
		if err != nil {
			t.Fatal(name, a.Key, err)
		}
		by := &y.Answer.Stores[y.Own].By
		return by[seasons.RideThrough].Value, by[seasons.ShortYear].Value
	}
	ride, short := headline(a.Value)
	said := ""
	for most, ends := 0.0, a.Ends(); len(ends) > 0; ends = ends[1:] {
		r, s := headline(ends[0])
		felt := math.Max(100*math.Abs(r-ride), 10*math.Abs(s-short)/math.Max(short, 1e-3))
		if felt > math.Max(most, 0.1) { // a point of a thousand ridden out, or a hundredth of what is missing
			most = felt
			said = fmt.Sprintf("%s: rides out %.3g to %.3g of a hundred, %s to %s missing a year, at %s", name, 100*ride, 100*r,
				shown(quantity.VolumeDim, short, quantity.Metric), shown(quantity.VolumeDim, s, quantity.Metric), quantity.Format(a.Quantity(ends[0]), quantity.Metric))
		}
	}
	return said
}

// TestYearsFeelWhatTheySay: an assumption that the years alone read moves their headline where nothing
// takes its place.
func TestYearsFeelWhatTheySay(t *testing.T) {
	in := input(t, "juniper-flat")
	in.Doc = nil
	a := assume.ByKey("weak-after")
	if said := livedOf(t, "juniper-flat", in, a); said == "" {
		t.Error("how long the main comes back weak moves nothing")
	}
}
