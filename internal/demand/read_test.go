package demand

import (
	"errors"
	"math"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
)

func all(string) []Part { return []Part{{Line: Either, Share: 1}} }

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
		half, err := Read(j, c, func(kind string) []Part {
			if kind == "kitchen" {
				return []Part{{Line: OnMain, Share: 1}}
			}
			return []Part{{Line: Either, Share: 0.5}, {Line: OnStore, Share: 0.5}}
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

// TestOwnUse: what a job says of its own way of using water overrides the row, in what it
// says alone, and a guess counts as said; the litres of the day stay those stated.
func TestOwnUse(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, _, err := demo.Doc(t, "juniper-flat").Apply(job.Edit{Op: job.Insert, Path: "uses.loo", Text: "kind: wc, per-day: 9, volume: 4.5 L, careful: 0 ?"})
	if err != nil {
		t.Fatal(err)
	}
	h, err := Read(doc.Job, c, all)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", h.Mean()*Day, float64(doc.Job.Home.People.V)*float64(doc.Job.Home.Use.V), 1e-9)
	seen := false
	for _, u := range h.Uses {
		if u.Key != "wc" {
			continue
		}
		seen = true
		row := c.Uses["wc"]
		if u.PerDay != 9 || math.Abs(u.Volume-0.0045) > 1e-15 || u.Keep != stages([2]float64{0, row.Keep[1]}) || u.Flow != float64(row.Flow) {
			t.Errorf("WC: %+v", u)
		}
	}
	if !seen {
		t.Error("there is no WC")
	}
}

// TestComeAndGo: guests and days away move the mean as those who are there do, and what a
// meter read has them counted in already.
func TestComeAndGo(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	j := example(t, "juniper-flat")
	j.Home.Guests.V, j.Home.GuestDays.V, j.Home.AwayDays.V = 4, 36.5, 73
	h, err := Read(j, c, all)
	if err != nil {
		t.Fatal(err)
	}
	each := float64(j.Home.Use.V)
	near(t, "mean", h.Mean()*Day, (3+0.4)*0.8*each, 1e-9)
	if h.Away.Days < awayStay || h.Guests.Days < guestsStay {
		t.Errorf("away %d days in a row, guests %d", h.Away.Days, h.Guests.Days)
	}
	ready(t, h)
	j.Home.AwayDays.V = 320
	if h, err = Read(j, c, all); err != nil || h.Away.Days > slot {
		t.Errorf("320 days away: %v, %d in a row", err, h.Away.Days)
	}
	j.Home.Use.From = job.FromMeter
	if h, err = Read(j, c, all); err != nil {
		t.Fatal(err)
	}
	near(t, "metered", h.Mean()*Day, 3*each, 1e-9)
}

func example(t *testing.T, name string) *job.Job {
	t.Helper()
	j := *demo.Job(t, name)
	return &j
}

// TestLeave: who is away draws nothing, and draws what the day needs in the other hours; a
// home nobody is in on working days draws its water at the weekend. The mean stays.
func TestLeave(t *testing.T) {
	c, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]struct{ from, to int }{"by day": {8, 18}, "all day": {0, 24}} {
		h, err := Read(example(t, "juniper-flat"), c, all)
		if err != nil {
			t.Fatal(err)
		}
		mean := h.Mean()
		var there [24]float64
		for hour := range there {
			if hour < x.from || hour >= x.to {
				there[hour] = 1
			}
		}
		h.Leave(there)
		near(t, name+": mean", h.Mean(), mean, 1e-12)
		m := ready(t, h)
		drawn := 0.0
		for d := range 7 {
			for hour := range 24 {
				n := 0.0
				for i := range m.Uses {
					n += m.Uses[i].inHour(d, hour)
				}
				if d < 5 && there[hour] == 0 && n > 0 {
					t.Fatalf("%s: %g draws on day %d at %d h, when nobody is in", name, n, d, hour)
				}
				drawn += n
			}
		}
		want := 0.0
		for i := range h.Uses {
			want += 7 * h.Uses[i].PerDay
		}
		near(t, name+": draws in a week", drawn, want, 1e-9)
	}
}
