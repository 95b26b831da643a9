package assembly

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// lantern reads the example of a free assembly with some of its text changed.
func lantern(t *testing.T, swap ...string) (*job.Doc, job.Faults) {
	t.Helper()
	text := string(demo.Source(t, "lantern-row"))
	for i := 0; i+1 < len(swap); i += 2 {
		if !strings.Contains(text, swap[i]) {
			t.Fatalf("the example has no %q", swap[i])
		}
		text = strings.Replace(text, swap[i], swap[i+1], 1)
	}
	return job.Read("lantern", []byte(text))
}

// TestFreeFaults: each thing that cannot be joined is refused where the job says it.
func TestFreeFaults(t *testing.T) {
	c, p := rows(t)
	tests := []struct {
		name     string
		swap     []string
		path, id string
	}{
		{"unknown tag", []string{"t1, v2, t3", "t1, v3, t3"}, "joins.by-pass.line", "assembly.free-unknown"},
		{"one part is no line", []string{"line: t2.branch, c1", "line: t2.branch"}, "joins.control.line", "assembly.free-short"},
		{"port joined twice", []string{"line: t2.branch, c1", "line: t2.out, c1"}, "joins.control.line", "assembly.free-twice"},
		{"no such port", []string{"line: t2.branch, c1", "line: t2.side, c1"}, "joins.control.line", "assembly.free-port"},
		{"line from nowhere", []string{"line: t1, v2, t3", "line: v2, t3"}, "joins.by-pass.line", "assembly.free-begin"},
		{"no main", []string{"line: main, m1, v0, r1, t1", "line: s1.drain, m1, v0, r1, t1"}, "joins", "assembly.free-no-main"},
		{"nothing joined to an outlet", []string{"  wc:\n    role: home\n    line: t4, wc\n", ""}, "outlets.wc", "assembly.free-outlet"},
		{"part in no line", []string{"line: t1, v2, t3", "line: t1, t3"}, "parts.v2", "assembly.free-left"},
		{"open end", []string{"  control:\n    role: boost\n    line: t2.branch, c1\n", "", "  c1:\n    kind: control\n    kept: yes\n", ""}, "parts.t2", "assembly.free-open"},
		{"heights", []string{"  r3:\n    kind: pipe\n    length: 1.5 m\n    kept: yes\n", "", "line: s1, r3, p1, t2, v1, r4, t3.branch", "line: s1, p1, t2, v1, r4, t3.branch"}, "choices.pump.level", "assembly.free-level"},
		{"second pump", []string{"  c1:\n    kind: control", "  c1:\n    kind: pump"}, "parts.c1", "assembly.free-one-pump"},
		{"a meter in the list, none at the street", []string{"meter: meter-q3-1.6", "meter: none"}, "supply.meter", "assembly.free-no-meter"},
		{"row of another kind", []string{"row: screw-down-25\n    kept", "row: strainer-3/4\n    kept"}, "parts.v0.row", "assembly.free-row-kind"},
		{"pipe without length", []string{"kind: pipe\n    length: 7 m\n", "kind: pipe\n"}, "parts.r2.length", "assembly.length"},
		{"the main is no part", []string{"  v0:  ", "  main:  "}, "parts.main", "assembly.free-main-tag"},
	}
	for _, tt := range tests {
		doc, faults := lantern(t, tt.swap...)
		if len(faults) > 0 {
			t.Errorf("%s: %v", tt.name, faults)
			continue
		}
		_, err := Build(doc.Job, c, p)
		found, ok := err.(Faults)
		if !ok {
			t.Errorf("%s: built without a fault: %v", tt.name, err)
			continue
		}
		hit := false
		for _, f := range found {
			hit = hit || f.Path == tt.path && f.ID == tt.id
			if s := words.Say(f.ID, f.Args); strings.Contains(s, "{") || f.Path == "" {
				t.Errorf("%s: %s: %s", tt.name, f.Path, s)
			}
			if _, _, ok := doc.Place(f.Path); !ok && f.Path != "joins" && !strings.HasSuffix(f.Path, ".length") {
				t.Errorf("%s: the job has no place for %s", tt.name, f.Path)
			}
		}
		if !hit {
			t.Errorf("%s: want %s at %s, got\n%v", tt.name, tt.id, tt.path, err)
		}
	}
}

// TestFreeRing: a second pipe beside a first, with nothing between that can be shut.
func TestFreeRing(t *testing.T) {
	c, p := rows(t)
	doc, faults := lantern(t,
		"  t3:\n    kind: tee\n", "  t3:\n    kind: tee\n    kept: yes\n  t6:\n    kind: tee\n    kept: yes\n  t7:\n    kind: tee\n    kept: yes\n  r6:\n    kind: pipe\n    length: 2 m\n  r7:\n    kind: pipe\n    length: 2 m\n",
		"line: t3, r5, t4", "line: t3, t6, r6, t7, r5, t4\n  ring:\n    role: home\n    line: t6.branch, r7, t7.branch")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	_, err := Build(doc.Job, c, p)
	if err == nil || !strings.Contains(err.Error(), "joins.ring.line") || !strings.Contains(err.Error(), "ring of nothing but pipe") {
		t.Fatalf("a ring of pipe: %v", err)
	}
}

// TestFreeReversed: a part entered by its far port stands the wrong way round.
func TestFreeReversed(t *testing.T) {
	c, p := rows(t)
	doc, faults := lantern(t, "  v2:  ", "  n1:\n    kind: non-return\n  v2:  ", "line: t1, v2, t3", "line: t1, v2, n1.out, t3")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	a, err := Build(doc.Job, c, p)
	if err != nil {
		t.Fatal(err)
	}
	if got := a.flood(a.Index(MainTag), &a.Settings[0], true)[a.Index("kitchen")]; got {
		t.Error("a non-return valve the wrong way round lets the main through")
	}
	if got := a.flood(a.Of(Store)[0], &a.Settings[0], true)[a.Index(MainTag)]; !got {
		t.Error("a non-return valve the wrong way round keeps stored water from the main")
	}
}

// freeTwin lists the parts and lines of a laid assembly as a job would.
func freeTwin(j *job.Job, a *Assembly) *job.Job {
	kinds := map[Kind]string{Meter: "meter", HandValve: "hand-valve", Isolator: "isolator", ThreeWay: "three-way", Spool: "spool", NonReturn: "non-return", Strainer: "strainer",
		Run: "pipe", Tee: "tee", FloatValve: "float-valve", Store: "store", Pump: "pump", Vessel: "vessel", Switch: "control", Heater: "heater", Drain: "drain"}
	twin := j.Clone()
	twin.Choices.Arrangement = Free
	skip := map[int]bool{}
	for _, i := range a.Of(Outlet) {
		o, _ := a.Meets(End{i, 0})
		skip[i], skip[o.Part] = true, true
	}
	name := func(i int) string {
		p := &a.Parts[i]
		switch {
		case p.Kind == Main:
			return "main"
		case skip[i]:
			o, _ := a.Meets(End{i, 1})
			return a.Parts[o.Part].Tag
		}
		return strings.ToLower(p.Tag)
	}
	for i := range a.Parts {
		p := &a.Parts[i]
		if skip[i] || p.Kind == Main {
			continue
		}
		f := job.FreePart{Tag: name(i), Kind: kinds[p.Kind], Kept: "no"}
		if p.Kind == Tee && (p.Purpose == AsHeader || p.Purpose == AsHotHeader) {
			f.Kind = "header"
		}
		if p.Purpose == AsLockOut {
			f.Kind = "lock-out"
		}
		if p.Purpose == AsLevelSwitch {
			f.Kind = levelSwitch
		}
		if p.Purpose == AsLevelAlarm {
			f.Kind = levelAlarm
		}
		if p.Purpose == AsCutOut {
			f.Kind = string(CutOut)
		}
		if p.Kind == Run {
			f.Size, f.Length = p.Size, val[quantity.Length](float64(p.Length))
			if catalogue.AsFound(p.Size) {
				f.Kept = job.Yes
			}
		} else if p.Row != nil && p.Kind != Switch {
			f.Row = p.Row.Ref().Key
		}
		twin.Parts = append(twin.Parts, f)
	}
	for _, jn := range a.Joins {
		if skip[jn.A.Part] {
			continue
		}
		port := func(e End) string {
			p := &a.Parts[e.Part]
			if skip[e.Part] || p.Kind == Main {
				return name(e.Part)
			}
			return name(e.Part) + "." + p.Ports[e.Port].Name
		}
		twin.Joins = append(twin.Joins, job.FreeJoin{Tag: fmt.Sprintf("j%d", len(twin.Joins)), Role: string(a.Parts[jn.B.Part].Role), Line: port(jn.A) + ", " + port(jn.B)})
	}
	return twin
}

// TestFreeTwin: any arrangement, listed part by part, is laid out the same: the same parts
// joined by the same ports at the same heights, and joined to the main or not.
func TestFreeTwin(t *testing.T) {
	c, p := rows(t)
	rapid.Check(t, func(t *rapid.T) {
		j := randomJob(t, c)
		j.Choices.Pumps.V = 1 // a free arrangement has one
		a, err := Build(j, c, p)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Build(freeTwin(j, a), c, p)
		if err != nil {
			t.Fatalf("%s listed part by part: %v", a.Arrangement, err)
		}
		if d := cmp.Diff(outline(a), outline(b)); d != "" {
			t.Fatalf("%s listed part by part is laid out otherwise:\n%s", a.Arrangement, d)
		}
		if a.Joined != b.Joined {
			t.Fatalf("joined %v, listed %v", a.Joined, b.Joined)
		}
		joins(t, b)
		ends(t, b, c)
		tags(t, b)
		heights(t, b)
		settings(t, b)
	})
}

// outline is what an assembly is, whatever its pipes to the outlets are called.
func outline(a *Assembly) []string {
	name := func(e End) string {
		p := &a.Parts[e.Part]
		tag := p.Tag
		if p.Purpose == AsOutletRun {
			o, _ := a.Meets(End{e.Part, 1})
			tag = "to " + a.Parts[o.Part].Tag
		}
		return fmt.Sprintf("%s.%s at %.9g", tag, p.Ports[e.Port].Name, math.Round(float64(p.Ports[e.Port].Z)*1e9)/1e9)
	}
	var list []string
	for _, j := range a.Joins {
		list = append(list, name(j.A)+" meets "+name(j.B))
	}
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Purpose == AsOutletRun {
			continue
		}
		row := ""
		if p.Row != nil {
			row = p.Row.Ref().Key
		}
		list = append(list, fmt.Sprintf("%s %s %s %s %v", p.Tag, p.Kind, row, p.Size, p.Count))
	}
	slices.Sort(list)
	return list
}
