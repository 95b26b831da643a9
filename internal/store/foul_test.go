package store

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// found judges an example that was changed, and returns its findings by id and place.
func found(t *testing.T, name string, change func(*job.Job)) (map[string]finding.Finding, Context) {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	cat, p := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, cat, p)
	if err != nil {
		t.Fatal(err)
	}
	c := Context{Job: j, Assembly: a, Profile: p, Rows: cat}
	in, _ := Read(j, a, p, nil)
	all := map[string]finding.Finding{}
	for _, f := range Findings(nil, Analyse(in, nil), c) {
		all[f.ID+" "+f.Where] = f
		said(t, &f, c)
	}
	return all, c
}

// Lantern Row's hose lies in a bucket: must be fixed, whatever category the store has, and what
// is offered takes the end out of the water and puts a device in the pipe.
func TestHoseInABucket(t *testing.T) {
	all, c := found(t, "lantern-row", nil)
	f := all["outlet-backflow yard"]
	if f.Verdict != finding.MustFix || f.Case != "under-water" || len(f.Cures) == 0 {
		t.Fatalf("the hose in the bucket is %s (%s), cures %v", f.Verdict.ID(), f.Case, f.Cures)
	}
	if _, sentence := finding.Text(&f, c.Job.System()); !strings.Contains(sentence, "your own taps") {
		t.Errorf("nothing is said of the home's own taps: %s", sentence)
	}
	all, _ = found(t, "lantern-row", func(j *job.Job) {
		for i := range j.Outlets {
			if o := &j.Outlets[i]; o.Tag == "yard" {
				o.Mouth, o.Hangs, o.Device = "air", "hose", "double-check-20"
			}
		}
	})
	if f := all["outlet-backflow yard"]; f.Verdict != finding.Fine {
		t.Errorf("out of the water and behind a double check it is %s", f.Verdict.ID())
	}
}

// What hangs at a tap has a category of its own, and a device that keeps it.
func TestWhatHangsThere(t *testing.T) {
	garden := func(hangs, mouth, device string) func(*job.Job) {
		return func(j *job.Job) {
			for i := range j.Outlets {
				if o := &j.Outlets[i]; o.Tag == "garden" {
					o.Hangs, o.Mouth, o.Device = hangs, mouth, device
				}
			}
		}
	}
	for _, x := range []struct {
		hangs, mouth, device string
		want                 finding.Verdict
		none                 bool
	}{
		{hangs: "", none: true}, {hangs: "nothing", none: true},
		{hangs: "hose", want: finding.LookAt},
		{hangs: "hose", device: "single-check-1/2", want: finding.LookAt},
		{hangs: "hose", device: "double-check-20", want: finding.Fine},
		{hangs: "appliance", want: finding.LookAt},
		{hangs: "drip-line", device: "double-check-20", want: finding.LookAt},
		{hangs: "drip-line", device: "reduced-pressure-25", want: finding.Fine},
		{hangs: "sprayer", device: "reduced-pressure-25", want: finding.MustFix},
		{hangs: "hand-spray", device: "double-check-20", want: finding.MustFix},
		{hangs: "hose", mouth: "under-water", device: "reduced-pressure-25", want: finding.MustFix},
		{hangs: "hose", mouth: "unknown", device: "double-check-20", want: finding.MustFix},
	} {
		all, _ := found(t, "kestrel-rise", garden(x.hangs, x.mouth, x.device))
		f, there := all["outlet-backflow garden"]
		if there == x.none || there && f.Verdict != x.want {
			t.Errorf("%+v: there %v, %s", x, there, f.Verdict.ID())
		}
	}
}

// Water of category 5 is kept from the glass as well as from the street: a gap over a pipe does
// not keep it from the street, a slot does; a tap people drink at must not have it.
func TestFoulWater(t *testing.T) {
	const gap, glass = "backflow-device ", "not-drinking-water S1"
	all, _ := found(t, "osprey-house", nil)
	if _, there := all[glass]; there || all[gap].Verdict != finding.Fine {
		t.Errorf("of the main alone: not for drinking %v, device %s", there, all[gap].Verdict.ID())
	}
	for _, also := range []string{"", "rain", "borehole", "tanker", "sump", "unknown"} {
		foul := func(j *job.Job) {
			if j.Choices.Also = also; also == "" {
				j.Choices.Category = job.Foul
			}
		}
		all, _ := found(t, "osprey-house", foul)
		if all[gap].Verdict != finding.MustFix || all[gap].Case != "class" {
			t.Errorf("%q: a gap over a pipe is %s", also, all[gap].Verdict.ID())
		}
		if f := all[glass]; f.Verdict != finding.MustFix || !strings.Contains(f.Names["taps"], "garden") || strings.Contains(f.Names["drunk"], "garden") {
			t.Errorf("%q: at the taps it is %s, %v", also, f.Verdict.ID(), f.Names)
		}
		all, _ = found(t, "osprey-house", func(j *job.Job) { foul(j); j.Choices.Spill, j.Choices.Slot.V = "slot", 0.3 })
		if all[gap].Verdict != finding.Fine || all[glass].Verdict != finding.MustFix {
			t.Errorf("%q: over a slot the gap is %s, the glass %s", also, all[gap].Verdict.ID(), all[glass].Verdict.ID())
		}
	}
	all, _ = found(t, "osprey-house", func(j *job.Job) {
		j.Choices.Also, j.Choices.Spill, j.Choices.Slot.V = "rain", "slot", 0.3
		j.Outlets = []job.Outlet{j.Outlets[4], j.Outlets[9]} // a WC and the garden
		j.Home.Heater = "none"
	})
	if f := all[glass]; f.Verdict != finding.LookAt {
		t.Errorf("at a WC and a garden tap alone it is %s", f.Verdict.ID())
	}
}
