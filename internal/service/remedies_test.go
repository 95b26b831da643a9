package service

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// found lays out an example changed by hand and returns all findings.
func found(t *testing.T, name string, change func(*job.Job)) (*example, []finding.Finding) {
	t.Helper()
	s := readSite(t, name, change)
	s.build(t)
	return &s, Findings(nil, s.analyse(t, false), Context{s.job, s.plan, s.cat, s.profile, false})
}

// TestCuresKeepTheHomesUnits: what is suggested is written in the home's own units, and pipe is of
// the family the home has.
func TestCuresKeepTheHomesUnits(t *testing.T) {
	seen := 0
	for _, change := range []func(*job.Job){
		func(j *job.Job) { j.Choices.CutIn.V = 0.2e5 }, // the pump does not start
		func(j *job.Job) { j.Choices.CutOut.V = 6e5 },  // nor stop
		func(j *job.Job) {
			j.Outlets[2].Height.V = 9
			j.Pipework.Indoors = quantity.Size{Family: "copper-L", Mark: "1/2"}
		},
		func(j *job.Job) {
			j.Choices.Float = "float-15-high"
			j.Interruptions.Timetable = []job.Slot{{From: 0, To: 120, Cycle: 1440}}
		},
		func(j *job.Job) { j.Choices.Arrangement, j.Choices.Pump = assembly.Raised, "none" },
	} {
		_, list := found(t, "juniper-flat", change)
		for i := range list {
			for _, edits := range list[i].Cures {
				for _, e := range edits {
					seen++
					for _, other := range []string{" bar", " m", " mm", "PE100", "multilayer"} {
						if strings.HasSuffix(e.Text, other) || strings.HasPrefix(e.Text, other) {
							t.Errorf("%s: a copper home in inches is offered %s: %s", list[i].Key(), e.Path, e.Text)
						}
					}
				}
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d edits were looked at", seen)
	}
}

// TestNoTower: no store is lifted higher than a stand, however often a lift is taken.
func TestNoTower(t *testing.T) {
	for _, level := range []float64{9, 13.5, 17, 30} {
		s, list := found(t, "kestrel-rise", func(j *job.Job) {
			j.Choices.Arrangement, j.Choices.Pump, j.Choices.StoreLevel.V = assembly.Raised, "none", quantity.Length(level)
		})
		top, lifts := float64(s.job.Home.Level.V)+assembly.GroundStand, 0
		for i := range list {
			for _, edits := range list[i].Cures {
				if edits[0].Path != "choices.store.level" {
					continue
				}
				lifts++
				q, err := quantity.Parse(edits[0].Text, quantity.LengthDim, quantity.Metric)
				if err != nil || q.SI > top {
					t.Errorf("at %g m: the store is lifted to %s, and a stand reaches %g m (%v)", level, edits[0].Text, top, err)
				}
			}
		}
		if level < 12 && lifts == 0 {
			t.Errorf("at %g m no lift is tried", level)
		}
	}
}

// TestWaitingIsNotRunning: a tap that runs thin until somebody turns the home to the store does
// not keep running, and what is suggested is that it turns by itself.
func TestWaitingIsNotRunning(t *testing.T) {
	low := func(j *job.Job) {
		smallGarden(j)
		j.Choices.Arrangement = assembly.MainFirst
		j.Supply.PeakRes.V, j.Choices.LockLow.V = 1.4e5, 0.2e5
	}
	waiting := 0
	_, list := found(t, "kestrel-rise", low)
	for i := range list {
		f := &list[i]
		if f.ID != "outlet-peak" || f.Names["cover"] != "@cover.store-by-hand" {
			continue
		}
		waiting++
		if f.Verdict == finding.Fine {
			t.Errorf("%s waits for somebody and is fine", f.Where)
		}
		if len(f.Cures) == 0 || f.Cures[0][0].Path != "choices.lock-out.low" {
			t.Errorf("%s: %v", f.Where, f.Cures)
		}
	}
	if waiting == 0 {
		t.Error("nothing waits for a hand")
	}
}

// TestWhatHoldsTheFill: where the main governs, no larger float valve is promised to help; where
// the pump is not what presses, nobody is told to lower it. By hand: Kestrel Rise fills at about
// 20 L/min through a 4.8 mm seat (Kv 0.65 m³/h): (1.2/0.65)² = 3.4 bar of what the main has is
// lost in the valve; through a 19 mm seat (Kv 10) nearly nothing is.
func TestWhatHoldsTheFill(t *testing.T) {
	for _, x := range []struct{ float, outdoors, want string }{
		{"float-15-medium", "32", "@refill-time.float"},
		{"float-25-full-way", "63", "@refill-time.main"},
		{"float-25-full-way", "20", "@refill-time.pipe"},
	} {
		_, list := found(t, "kestrel-rise", func(j *job.Job) {
			j.Choices.Float, j.Pipework.Outdoors.Mark = x.float, x.outdoors
		})
		for i := range list {
			if f := &list[i]; f.ID == "refill-time" && f.Names["do"] != x.want {
				t.Errorf("%s, %s pipe: %s, want %s", x.float, x.outdoors, f.Names["do"], x.want)
			}
			if f := &list[i]; f.ID == "rest-outlet" && (f.Names["cause"] == "@rest.pump-stop") != (f.Names["do"] == "@rest-outlet.pump") {
				t.Errorf("%s: %s is the cause, and %s the remedy", f.Where, f.Names["cause"], f.Names["do"])
			}
		}
	}
}
