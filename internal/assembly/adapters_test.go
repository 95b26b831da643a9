package assembly

import (
	"errors"
	"strings"
	"testing"

	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestImpossibleJoinsNameWhatServes: each kind of join that cannot be made says which rows
// of the catalogue would do it, or that none does.
func TestImpossibleJoinsNameWhatServes(t *testing.T) {
	c, p := rows(t)
	const (
		pipes = "table,pipes\nfamily,mark,thread,joint,words,outside mm,bore mm,roughness mm,rating bar,stock m,clip m,indoors,source,certainty\n"
		pumps = "table,pumps\nkey,kind,thread,words,power kW,shutoff m,q1 L/s,h1 m,q2 L/s,h2 m,npsh m,wire %,starts 1/h,band %,rating bar,source,certainty\n"
		bush  = "table,fittings\nkey,kind,family,mark,thread,words,k1,kinf,k,insert mm,source,certainty\n"
	)
	for _, tt := range []struct {
		name   string
		mine   []string
		id     string
		change func(*job.Job)
		want   []string
	}{
		{"a solvent pipe without an adapter, to a thread that adapters reach",
			[]string{pipes + "PVC,25,3/4,solvent,glued pipe 25,25,21,0.002,10,6,0.8,yes,own,checked\n"}, "assembly.no-adapter",
			func(j *job.Job) { j.Pipework.Outdoors = quantity.Size{Family: "PVC", Mark: "25"} },
			[]string{"PVC 25", "solvent", "adapter-PE-25 (compression adapter, PE 25 to 3/4 thread)", "adapter-copper-3/4", "adapter-multilayer-26"}},
		{"a fusion pipe to a thread that nothing reaches",
			[]string{pipes + "PE-fused,90,3,fusion,welded pipe 90,90,73,0.007,10,6,0.8,no,own,checked\n",
				pumps + "big,multistage,3,big pump,3,45,0.9,35,1.4,24,2.5,37,20,10,10,own,checked\n"}, "assembly.no-adapter",
			func(j *job.Job) {
				j.Pipework.Outdoors, j.Choices.Pump = quantity.Size{Family: "PE-fused", Mark: "90"}, "big"
			},
			[]string{"PE-fused 90", "fusion", "No row of the fittings ends in a 3 thread"}},
		{"a thread two bushes away",
			[]string{pumps + "big,multistage,3,big pump,3,45,0.9,35,1.4,24,2.5,37,20,10,10,own,checked\n",
				bush + "bush-2x1,bush,,2,1,\"reducing bush, 2 × 1 thread\",0,,0.2,25,own,checked\nbush-3x2,bush,,3,2,\"reducing bush, 3 × 2 thread\",0,,0.2,50,own,checked\n"}, "assembly.ends",
			func(j *job.Job) { j.Choices.Pump = "big" },
			[]string{"bush-2x1 (reducing bush, 2 × 1 thread) + bush-3x2 (reducing bush, 3 × 2 thread)"}},
		{"a thread no bush leads to",
			[]string{pumps + "big,multistage,3,big pump,3,45,0.9,35,1.4,24,2.5,37,20,10,10,own,checked\n"}, "assembly.ends",
			func(j *job.Job) { j.Choices.Pump = "big" },
			[]string{"No bush of the catalogue leads from 1 to 3", "No row of the fittings ends in a 3 thread"}},
	} {
		m := c
		for _, csv := range tt.mine {
			var err error
			if m, err = m.Merge("mine.csv", []byte(csv)); err != nil {
				t.Fatalf("%s: %v", tt.name, err)
			}
		}
		j := readJob(t, "kestrel-rise")
		tt.change(j)
		_, err := Build(j, m, p)
		var f *Fault
		if !errors.As(err, &f) || f.ID != tt.id {
			t.Errorf("%s: Build = %v, want %s", tt.name, err, tt.id)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v\nwants %q", tt.name, err, want)
			}
		}
		if strings.ContainsAny(err.Error(), "‹{") {
			t.Errorf("%s: unfilled place: %v", tt.name, err)
		}
	}
}
