package demand

import (
	"errors"
	"math"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

func all(string) [Lines]float64 { return [Lines]float64{Either: 1} }

// TestRead: each example's household draws what its job states, on the lines told, with
// the outlets it has.
func TestRead(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row"} {
		j := example(t, name)
		h, err := Read(j, c, all)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		near(t, name+": mean", h.Mean()*Day, float64(j.Home.People.V)*float64(j.Home.Use.V), 1e-9)
		ready(t, h)
		half, err := Read(j, c, func(kind string) [Lines]float64 {
			if kind == "kitchen" {
				return [Lines]float64{OnMain: 1}
			}
			return [Lines]float64{Either: 0.5, OnStore: 0.5}
		})
		if err != nil {
			t.Fatal(err)
		}
		by := half.MeanBy()
		if by[OnMain] <= 0 || by[OnStore] <= 0 || by[Either] <= 0 {
			t.Errorf("%s: lines draw %v", name, by)
		}
	}
	j := example(t, "juniper-flat")
	j.Outlets = nil
	if _, err := Read(j, c, all); !errors.Is(err, ErrNoUse) {
		t.Errorf("a home with no outlets: %v", err)
	}
}

// TestOwnRow: a row of one's own overrides the catalogue's.
func TestOwnRow(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	own, err := c.Merge("own.csv", []byte("table,uses\nkey,kind,group,day,volume L,volume-spread,flow L/s,flow-spread,swing %,careful-keep %,careful-less %,hard-keep %,hard-less %,hours,weekend,words,source,certainty\n"+
		"wc,wc,person,9,4.5,0.1,0.05,0.2,0,80,100,35,100,1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1,1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1,own,own,checked\n"))
	if err != nil {
		t.Fatal(err)
	}
	h, err := Read(example(t, "juniper-flat"), own, all)
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range h.Uses {
		if u.Key == "wc" && (u.PerDay != 9 || math.Abs(u.Volume-0.0045) > 1e-15) {
			t.Errorf("WC: %g a day of %g m³, want 9 of 0.0045", u.PerDay, u.Volume)
		}
	}
}

func example(t *testing.T, name string) *job.Job {
	t.Helper()
	j := *demo.Job(t, name)
	return &j
}
