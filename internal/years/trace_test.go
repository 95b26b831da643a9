package years

import (
	"context"
	"math"
	"testing"

	"tideover/internal/freshness"
	"tideover/internal/seasons"
)

// TestCourse: the days shown hold the worst time of the future, the line stays within the
// store, and the year's times off are those of the supply itself.
func TestCourse(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		h := made(t, name)
		const future = 3
		c, err := h.Course(context.Background(), future)
		if err != nil {
			t.Fatal(err)
		}
		full, end := h.Input.Stores[h.Own].Usable, float64(c.Days)*seasons.Day
		if c.Days < fewestDays || c.Days > mostDays || math.Mod(c.From, seasons.Day) != 0 {
			t.Errorf("%s: %d days from %v", name, c.Days, c.From)
		}
		least := full
		for i, p := range c.Line {
			least = math.Min(least, p.Water)
			if p.Water < 0 || p.Water > full+1e-9 || p.At < 0 || p.At > end || i > 0 && p.At <= c.Line[i-1].At {
				t.Fatalf("%s: point %d of the line: %v", name, i, p)
			}
		}
		if c.Line[0].At != 0 || c.Line[len(c.Line)-1].At != end {
			t.Errorf("%s: the line goes from %v to %v of %v", name, c.Line[0].At, c.Line[len(c.Line)-1].At, end)
		}
		if least-c.Least > 0.1*full {
			t.Errorf("%s: the line shows %v m³ at the least, the store had %v", name, least, c.Least)
		}
		year := int(c.From / seasons.Year)
		if tail := int((c.From + end) / seasons.Year); tail != year {
			continue // the days lie over the turn of a year
		}
		got, want := 0.0, 0.0
		for _, s := range c.Year.Off {
			got += s.Length()
		}
		f := h.Input.Supply.Future(future)
		from, to := float64(year)*seasons.Year, float64(year+1)*seasons.Year
		upTo := from // of what is counted: each interruption with its notice, those that meet once
		for y := range year + 1 {
			for _, s := range f.Off(nil, y) {
				begin, over := math.Max(s.From, upTo), math.Min(s.To+f.(seasons.Noticing).Noticed(), to)
				want += math.Max(0, over-begin)
				upTo = math.Max(upTo, over)
			}
		}
		if math.Abs(got-want) > 1 {
			t.Errorf("%s: the main is off for %v s in the year shown, the supply says %v", name, got, want)
		}
	}
}

// TestDeepest: of two times dry the longer is shown, whatever the level elsewhere.
func TestDeepest(t *testing.T) {
	w := &deepest{full: 1}
	for _, s := range []seasons.Span{
		{From: 0, To: 10, Before: 1, After: 0, Hangs: true}, {From: 10, To: 12, Hangs: true}, {From: 12, To: 20, After: 1},
		{From: 20, To: 30, Before: 1, After: 0, Hangs: true}, {From: 30, To: 33, Hangs: true}, {From: 33, To: 35, Lost: true}, {From: 35, To: 40, After: 1},
	} {
		w.See(&s)
	}
	w.close()
	if w.dry != 5 || w.began != 20 || w.low != 35 {
		t.Errorf("dry for %v, down since %v, over at %v; want 5, 20, 35", w.dry, w.began, w.low)
	}
}

// TestBins: equal steps, few enough to be read, and all the water in them or beyond.
func TestBins(t *testing.T) {
	for _, most := range []float64{3000, 86400, 30 * 86400, 500 * 86400} {
		ages := freshness.NewAges()
		ages.Add(0, most, 1)
		var a Ages
		a.Add(&Lived{stores: []*follower{{ages: ages, years: 1, days: 1}}, years: 1})
		f := a.Fresh(0)
		bins, beyond := f.Bins()
		sum := beyond
		for _, b := range bins {
			sum += b.Share.Value
		}
		if len(bins) < 2 || len(bins) > mostBins || math.Abs(sum-1) > 1e-9 {
			t.Errorf("up to %v s: %d bins that hold %v", most, len(bins), sum)
		}
		if even := bins[0].To / most; math.Abs(bins[0].Share.Value-even) > 0.05*even {
			t.Errorf("up to %v s: the first of even ages holds %v, want %v", most, bins[0].Share.Value, even)
		}
	}
	if bins, _ := (&Fresh{}).Bins(); bins != nil {
		t.Error("nothing drawn, and yet ages")
	}
}

func TestFreshTo(t *testing.T) {
	stores := []seasons.Store{{Usable: 1}, {Usable: 2}, {Usable: 4}}
	fresh := make([]Fresh, 3)
	for i, age := range []float64{10, 20, 40} {
		fresh[i].Mean.Value = age
	}
	for ceiling, want := range map[float64]float64{5: 0, 15: 1.5, 30: 3, 40: math.Inf(1)} {
		if got := freshTo(stores, fresh, ceiling); got != want {
			t.Errorf("ceiling %v: fresh to %v, want %v", ceiling, got, want)
		}
	}
}
