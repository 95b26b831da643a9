package review

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/interview"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// diagnosed holds what diagnose tells of a home to check: the need, the tests at meter and house,
// what the worst-off tap needs.
func diagnosed(t *testing.T, name string, in appraise.Input, checked *appraise.Appraisal, count map[string]int) {
	t.Helper()
	d, err := appraise.Diagnose(in)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	same := func(id, what string, said, of quantity.Quantity) {
		if said.SI != of.SI || said.Dim != of.Dim {
			t.Errorf("%s: %s of %s is %v in diagnose and %v in check", name, what, id, said.SI, of.SI)
		}
		count["diagnose"]++
	}
	for _, x := range []struct {
		id      string
		is      bool
		figures map[string]quantity.Quantity
	}{
		{"service-fault", d.Tested, map[string]quantity.Quantity{"figure": d.Measured, "limit": d.Low, "expected": d.Expected}},
		{"service-rest", d.RestKnown, map[string]quantity.Quantity{"figure": d.RestFound, "limit": d.RestWants}},
		{"need", true, map[string]quantity.Quantity{"figure": d.Basic}},
	} {
		f := byPlace(checked, x.id, "", "")
		if (f != nil) != x.is {
			t.Errorf("%s: diagnose tells %s, %v; check has it: %v", name, x.id, x.is, f != nil)
			continue
		}
		for what, said := range x.figures {
			if f != nil {
				same(x.id, what, said, map[string]quantity.Quantity{"figure": f.Figure, "limit": f.Limit, "expected": f.Args["expected"]}[what])
			}
		}
	}
	if f := byPlace(checked, "need", "", ""); f != nil && f.Names["need"] != "@need."+d.Need {
		t.Errorf("%s: diagnose calls for %s, check for %s", name, d.Need, f.Names["need"])
	}
	for i := range checked.Findings {
		if f := &checked.Findings[i]; f.ID == "outlet-flow" && f.Where == d.Worst && f.Verdict != finding.NotJudged {
			if short := f.Args["short"]; math.Abs(f.Figure.SI+short.SI-d.Wants.SI) > 1e-12 {
				t.Errorf("%s: %s needs %v in diagnose; check has %v and %v short of it", name, d.Worst, d.Wants.SI, f.Figure.SI, short.SI)
			}
			count["diagnose"]++
		}
	}
}

// surveyed holds what the sheet Survey shows as assumed to what is reckoned with: a job in which
// somebody writes those very values down comes to the same figures. One field is left out: a
// pressure of the night that nobody told is held against gaps and ratings, and fills no store.
func surveyed(t *testing.T, name string, in appraise.Input, checked *appraise.Appraisal, count map[string]int) {
	t.Helper()
	told := *in.Job
	n := writeDown(reflect.ValueOf(&told).Elem())
	in.Job = &told
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Errorf("%s: with %d assumed values written down: %v", name, n, err)
		return
	}
	for i := range checked.Findings {
		f := &checked.Findings[i]
		g := byPlace(a, f.ID, f.Where, f.Mode)
		if g == nil || f.Verdict == finding.NotJudged || g.Verdict == finding.NotJudged {
			continue // what was missing is judged now, or told in another's place
		}
		count["survey"]++
		if f.Figure.SI != g.Figure.SI || f.Limit.SI != g.Limit.SI {
			t.Errorf("%s: %s %s %s is %v against %v as assumed, %v against %v with the same values written down", name, f.ID, f.Where, f.Mode, f.Figure.SI, f.Limit.SI, g.Figure.SI, g.Limit.SI)
		}
	}
}

// writeDown makes every assumed value told, without another spread, and counts them.
func writeDown(v reflect.Value) (n int) {
	t := v.Type()
	for i := range t.NumField() {
		f := v.Field(i)
		path := t.Field(i).Tag.Get("job")
		_, isField := job.FieldFor(path)
		switch {
		case !t.Field(i).IsExported(), path == "supply.night-maximum":
		case isField && f.Kind() == reflect.Struct && f.FieldByName("Basis").IsValid():
			if quantity.Basis(f.FieldByName("Basis").Uint()) == quantity.Assumed && f.FieldByName("V").Float() != 0 {
				f.FieldByName("Basis").SetUint(uint64(quantity.Stated))
				n++
			}
		case f.Kind() == reflect.Struct:
			n += writeDown(f)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct && f.Len() > 0:
			own := reflect.MakeSlice(f.Type(), f.Len(), f.Len())
			reflect.Copy(own, f)
			f.Set(own)
			for j := range f.Len() {
				n += writeDown(f.Index(j))
			}
		}
	}
	return n
}

// interviewed holds what an interview tells at its end to check of the file it wrote.
func interviewed(t *testing.T, rows *catalogue.Catalogue, n int, count map[string]int) {
	t.Helper()
	v := interview.New(rows, "2026-03-02")
	r := rand.New(rand.NewPCG(7, uint64(n)))
	answers := interview.Answers{"name": "Interview " + strconv.Itoa(n)}
	for _, q := range v.Call() {
		if len(q.Options) > 0 && r.IntN(3) > 0 {
			answers[q.ID] = q.Options[r.IntN(len(q.Options))]
		}
	}
	o, err := v.Outlook(context.Background(), answers)
	if err != nil {
		t.Fatalf("interview %d, %v: %v", n, answers, err)
	}
	if o.Draft == nil {
		return
	}
	doc, faults := appraise.ReadDoc(rows, "home", o.Draft.Source)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := appraise.NewInput(rows, doc)
	if err != nil {
		t.Fatal(err)
	}
	a, err := appraise.Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s, told := a.Store, o.Draft.Appraisal.Store; told != nil && (s == nil || s.Usable != told.Usable || s.Carry != told.Carry) {
		t.Errorf("interview %d tells a store of %+v, check of its file %+v", n, told, s)
	}
	said := byKey(t, o.Draft.Appraisal)
	for key, f := range byKey(t, a) {
		g, both := said[key]
		if both && g != f && !slices.Contains([]string{"fine", "look-at"}, strings.Fields(g)[0]) {
			t.Errorf("interview %d: %s is %s at its end and %s in check of its file", n, key, g, f)
		}
		if both && strings.Fields(g)[1] != strings.Fields(f)[1] {
			t.Errorf("interview %d: the figure of %s is %s at its end and %s in check", n, key, g, f)
		}
		count["interview"]++
	}
}
