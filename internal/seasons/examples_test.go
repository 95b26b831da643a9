package seasons

import (
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demand"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/outage"
)

// livedIn is an example's household and supply with stores of its own sizes.
func livedIn(t testing.TB, name string, litres ...float64) *Input {
	t.Helper()
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	j := demo.Job(t, name)
	m, err := outage.Read(j, outage.Logs{}, "")
	if err != nil {
		t.Fatal(err)
	}
	h, err := demand.Read(j, c, func(string) []demand.Part { return []demand.Part{{Line: demand.Either, Share: 1}} })
	if err != nil {
		t.Fatal(err)
	}
	made, err := demand.Make(h, uint64(j.Seed))
	if err != nil {
		t.Fatal(err)
	}
	in := input(made, Outages{m, uint64(j.Seed)}, tanks(400, litres...))
	in.Mains = append(in.Mains, Main{})
	for i := range in.Stores {
		in.Stores[i].Fill = append(in.Stores[i].Fill, []float64{0})
	}
	for hour := range in.Week {
		if job.HoursOf(j.Supply.PeakFrom, j.Supply.PeakTo).Holds(float64(hour) * Hour) {
			in.Week[hour] = 2
		}
	}
	return in
}

// TestExamples lives through the examples' own words: what they were told of interruptions,
// power, people and litres.
func TestExamples(t *testing.T) {
	kestrel, juniper := livedIn(t, "kestrel-rise", 750, 1500, 3000), livedIn(t, "juniper-flat", 500, 1000)
	kestrel.Years, juniper.Years = 2, 10
	for name, in := range map[string]*Input{"kestrel-rise": kestrel, "juniper-flat": juniper} {
		a := lives(t, in, 8)
		for i, o := range a.Stores {
			e := o.By[RideThrough]
			t.Logf("%s, %.0f L: rides out %.3f (%.3f to %.3f) of %.0f a year; empty %.1f h/a, a tap unserved %.2f h/a, %.0f L short a year", name, o.Usable*1000, e.Value, e.Low, e.High,
				o.Total.Outages/a.Years, o.By[EmptyYear].Value/Hour, o.By[UnservedYear].Value/Hour, 1000*o.By[ShortYear].Value)
			if !(e.Value > 0 && e.Value <= 1) || o.Balance > 1e-9 || o.Deficit != 0 {
				t.Errorf("%s store %d: rides out %g, balance %g, deficit %g", name, i, e.Value, o.Balance, o.Deficit)
			}
		}
		if first, last := a.Stores[0].By[RideThrough].Value, a.Stores[len(a.Stores)-1].By[RideThrough].Value; last < first {
			t.Errorf("%s: the largest rides out %g, the smallest %g", name, last, first)
		}
	}
}

// BenchmarkKestrelRise and BenchmarkJuniperFlat live the examples themselves.
func BenchmarkKestrelRise(b *testing.B) { bench(b, livedIn(b, "kestrel-rise", 3000)) }

// BenchmarkJuniperFlat: see BenchmarkKestrelRise.
func BenchmarkJuniperFlat(b *testing.B) {
	in := livedIn(b, "juniper-flat", 1000)
	in.Change, in.Hand = ByHand, juniper(b).Hand
	bench(b, in)
}
