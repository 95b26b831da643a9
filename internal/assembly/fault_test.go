package assembly

import (
	"errors"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

func TestFaults(t *testing.T) {
	c, p := rows(t)
	for _, tc := range []struct {
		name, path, id string
		change         func(j *job.Job)
	}{
		{"unknown arrangement", "choices.arrangement", "assembly.arrangement", func(j *job.Job) { j.Choices.Arrangement = "siphon" }},
		{"missing pump", "choices.pump.row", "assembly.missing-row", func(j *job.Job) { j.Choices.Pump = "multistage-0.76" }},
		{"missing store", "choices.store.row", "assembly.missing-row", func(j *job.Job) { j.Choices.Store = "bucket" }},
		{"missing float", "choices.float", "assembly.missing-row", func(j *job.Job) { j.Choices.Float = "float-99" }},
		{"missing vessel", "choices.vessel.row", "assembly.missing-row", func(j *job.Job) { j.Choices.Vessel = "vessel-9" }},
		{"missing device", "choices.backflow", "assembly.missing-row", func(j *job.Job) { j.Choices.Backflow = "double-check-99" }},
		{"missing control", "choices.pump.control", "assembly.missing-row", func(j *job.Job) { j.Choices.Control = "by-ear" }},
		{"missing meter", "supply.meter", "assembly.missing-row", func(j *job.Job) { j.Supply.Meter = "ball-25" }},
		{"missing stop tap", "supply.stop-valve", "assembly.missing-row", func(j *job.Job) { j.Supply.StopTap = "plug" }},
		{"missing heater", "home.heater.type", "assembly.missing-row", func(j *job.Job) { j.Home.Heater = "kettle" }},
		{"missing outlet kind", "outlets.kitchen.kind", "assembly.missing-row", func(j *job.Job) { j.Outlets[0].Kind = "fountain" }},
		{"missing service pipe", "supply.service.pipe", "assembly.missing-row", func(j *job.Job) { j.Supply.Pipe.Mark = "26" }},
		{"missing outdoor pipe", "pipework.outdoors", "assembly.missing-row", func(j *job.Job) { j.Pipework.Outdoors = quantity.Size{} }},
		{"missing indoor pipe", "pipework.indoors", "assembly.missing-row", func(j *job.Job) { j.Pipework.Indoors.Family = "reed" }},
		{"missing outlet pipe", "outlets.kitchen.pipe", "assembly.missing-row", func(j *job.Job) { j.Outlets[0].Pipe.Mark = "21" }},
		{"no length", "pipework.store-to-pump", "assembly.length", func(j *job.Job) { j.Pipework.ToPump.V = 0 }},
		{"lock-out upside down", "choices.lock-out.high", "assembly.lock-out", func(j *job.Job) { j.Choices.LockHigh.V = 1e5 }},
		{"no pump", "choices.pump.row", "assembly.no-pump", func(j *job.Job) { j.Choices.Pump = "none" }},
		{"no outlets", "outlets", "assembly.no-outlets", func(j *job.Job) { j.Outlets = nil }},
		{"outlet named as a part", "outlets.V1", "assembly.tag-taken", func(j *job.Job) { j.Outlets[0].Tag = "V1" }},
		{"outlet twice", "outlets.wc-up", "assembly.tag-taken", func(j *job.Job) { j.Outlets[0].Tag = "wc-up" }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			j := readJob(t, "kestrel-rise")
			tc.change(j)
			a, err := Build(j, c, p)
			var f *Fault
			if a != nil || !errors.As(err, &f) {
				t.Fatalf("Build = %v, %v, want a fault", a, err)
			}
			if f.Path != tc.path || f.ID != tc.id {
				t.Errorf("fault %s at %s, want %s at %s\n%v", f.ID, f.Path, tc.id, tc.path, err)
			}
			if strings.ContainsAny(err.Error(), "‹{") {
				t.Errorf("unfilled place: %v", err)
			}
		})
	}
}

// TestEndsThatDoNotFit: a row of the user's own with a thread nothing reaches.
func TestEndsThatDoNotFit(t *testing.T) {
	c, p := rows(t)
	big := "table,pumps\nkey,kind,thread,words,power kW,shutoff m,q1 L/s,h1 m,q2 L/s,h2 m,npsh m,wire %,starts 1/h,band %,rating bar,source,certainty\n" +
		"big,multistage,3,big pump,3,45,0.9,35,1.4,24,2.5,37,20,10,10,own,checked\n"
	m, err := c.Merge("mine.csv", []byte(big))
	if err != nil {
		t.Fatal(err)
	}
	j := readJob(t, "kestrel-rise")
	j.Choices.Pump = "big"
	_, err = Build(j, m, p)
	if err == nil || !strings.Contains(err.Error(), "compression adapter, PE 32 to 1 thread") || !strings.Contains(err.Error(), "reducing bush, 1 × 3/4") {
		t.Errorf("error = %v, want one that names the adapter and what serves", err)
	}
	huge := "table,vessels\nkey,thread,words,volume L,rating bar,source,certainty\nv,2,vessel,100,10,own,checked\n"
	if m, err = c.Merge("mine.csv", []byte(huge)); err != nil {
		t.Fatal(err)
	}
	j = readJob(t, "kestrel-rise")
	j.Choices.Vessel = "v"
	if _, err = Build(j, m, p); err != nil {
		t.Errorf("a tee is bought to fit a vessel: %v", err)
	}
}

func TestPropose(t *testing.T) {
	c, _ := rows(t)
	for _, tc := range []struct{ rule, answer, want string }{
		{"with-consent", "yes", MainFirst}, {"with-consent", "asked", ThroughStore}, {"with-consent", "unknown", ThroughStore},
		{"no", "yes", ThroughStore}, {"unknown", "yes", ThroughStore}, {"yes", "yes", MainFirst}, {"yes", "with-consent", MainFirst}, {"", "yes", ThroughStore},
		{"yes", "", ThroughStore}, {"yes", "no", ThroughStore}, {"yes", "unknown", ThroughStore}, {"yes", "asked", ThroughStore},
	} {
		m, err := c.Merge("r.csv", []byte("table,profiles\nprofile,key,value,source,edition,certainty\ngeneric,by-pass-allowed,"+tc.rule+",own,1,checked\n"))
		if err != nil {
			t.Fatal(err)
		}
		p, _ := m.Profile("generic")
		j := &job.Job{}
		j.Supply.Bypass = job.Answer(tc.answer)
		if got := Propose(j, p); got != tc.want {
			t.Errorf("rule %q, answer %q: %s, want %s", tc.rule, tc.answer, got, tc.want)
		}
	}
}

func TestExistingKept(t *testing.T) {
	c, p := rows(t)
	j := readJob(t, "kestrel-rise")
	j.Existing = []job.Existing{
		{Tag: "old-tank", Kind: "store", Row: "tank-1500", Decision: "keep"},
		{Tag: "old-pump", Kind: "pump", Row: "jet-0.37", Decision: "keep"},
		{Tag: "some-valve", Kind: "hand-valve", Decision: "keep"},
		{Tag: "float", Kind: "float-valve", Decision: "replace"},
	}
	a, err := Build(j, c, p)
	if err != nil {
		t.Fatal(err)
	}
	if !a.Parts[a.Index("S1")].Kept || a.Parts[a.Index("P1")].Kept || a.Parts[a.Index("F1")].Kept {
		t.Error("kept: the store, not another pump, not what is replaced")
	}
	if !a.Parts[a.Index("V2")].Kept {
		t.Error("a valve of unknown row is the first that is not kept yet")
	}
	if len(a.Unplaced) != 1 || a.Unplaced[0] != "old-pump" {
		t.Errorf("unplaced = %v, want the pump of another row", a.Unplaced)
	}
}

func TestDevice(t *testing.T) {
	c, p := rows(t)
	for _, tc := range []struct {
		chosen, there, row string
		kept               bool
	}{
		{"double-check-25", "unknown", "double-check-25", false},
		{"double-check-25", "double-check-25", "double-check-25", true},
		{"double-check-25", "single-check-25", "double-check-25", false},
		{"none", "single-check-25", "single-check-25", true},
		{"none", "unknown", "", false},
		{"", "none", "", false},
	} {
		j := readJob(t, "kestrel-rise")
		j.Choices.Backflow, j.Supply.Check = tc.chosen, tc.there
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		row, kept := "", false
		for _, i := range a.Of(NonReturn) {
			if a.Parts[i].Role == Service {
				row, kept = a.Parts[i].Row.(catalogue.NonReturn).Key, a.Parts[i].Kept
			}
		}
		if row != tc.row || kept != tc.kept {
			t.Errorf("chosen %q, there %q: %q kept %v, want %q kept %v", tc.chosen, tc.there, row, kept, tc.row, tc.kept)
		}
	}
}
