package appraise

import (
	"strings"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/service"
)

func sets(pairs ...string) (edits []job.Edit) {
	for i := 0; i < len(pairs); i += 2 {
		edits = append(edits, job.Edit{Op: job.Set, Path: pairs[i], Text: pairs[i+1]})
	}
	return edits
}

func findingOf(t *testing.T, y *Years, id string) *finding.Finding {
	t.Helper()
	for i := range y.Findings {
		if y.Findings[i].ID == id {
			return &y.Findings[i]
		}
	}
	t.Fatalf("no finding %s", id)
	return nil
}

func sentence(f *finding.Finding) string {
	_, text := finding.Text(f, quantity.US)
	return text
}

// TestNothingLiftedRidesOutNothing: Juniper Flat with an automatic changeover and a small pump
// 66 ft below the taps: the taps get nothing out of the store (service says so), so no
// interruption is ridden out. With its own pump and height it rides out most.
func TestNothingLiftedRidesOutNothing(t *testing.T) {
	weak := sets("choices.arrangement", "main-first", "choices.pump.row", "dc-12-volt",
		"choices.pump.cut-in", "10 psi", "choices.pump.cut-out", "20 psi", "home.level", "66 ft")
	y, _ := lived(t, "juniper-flat", YearsAsk{Brief: true}, weak...)
	if v := y.Answer.Stores[y.Own].By[seasons.RideThrough].Value; v != 0 {
		t.Errorf("no tap gets water out of the store, and %v of the interruptions are ridden out", v)
	}
	f := findingOf(t, y, "ride-through")
	if f.Verdict != finding.LookAt || len(y.Dry) != 5 || !strings.Contains(sentence(f), "kitchen") {
		t.Errorf("%v: %s (%v)", f.Verdict, sentence(f), y.Dry)
	}
	y, _ = lived(t, "juniper-flat", YearsAsk{Brief: true}, sets("choices.arrangement", "main-first", "interruptions.boil-notice", "no")...)
	if v := y.Answer.Stores[y.Own].By[seasons.RideThrough].Value; v < 0.9 || len(y.Dry) > 0 {
		t.Errorf("with a pump that lifts: %v, dry %v", v, y.Dry)
	}
}

// TestTapsAsServiceHasThem: what the years live by at the usual pressure and on the store is
// what check judges the taps by.
func TestTapsAsServiceHasThem(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row", "osprey-house"} {
		in := input(t, name)
		a, err := evaluate(in, false)
		if err != nil {
			t.Fatal(err)
		}
		list, err := service.Reaches(a.circuit, service.Read(in.Job, a.Assembly, in.Catalogue, in.Profile), []quantity.Pressure{in.Job.Supply.Static.V})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, r := range list {
			for mode, got := range map[string]service.Got{"on-store": r.Store, "on-main": r.Main[0]} {
				m := a.Service.Mode(mode)
				if m == nil {
					continue
				}
				for _, d := range m.Alone {
					if d.Outlet == r.Outlet {
						n++
						if served := d.Flow > 0 && d.Flow >= quantity.Flow(assume.Usable.Value)*d.Need; got.Served != served || got.Calls != d.Left {
							t.Errorf("%s, %s, %s: %+v, by the mode %v and %v", name, d.Outlet, mode, got, served, d.Left)
						}
					}
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: nothing compared", name)
		}
	}
}

func untested() (edits []job.Edit) {
	for _, f := range []string{"low-flow", "low-pressure", "high-flow", "high-pressure"} {
		edits = append(edits, job.Edit{Op: job.Unset, Path: "supply.flow-test." + f})
	}
	return edits
}

// TestYearsWithoutATest: an automatic changeover whose main nobody tested is not judged where it
// hangs on how the main sags.
func TestYearsWithoutATest(t *testing.T) {
	y, _ := lived(t, "kestrel-rise", YearsAsk{Brief: true}, untested()...)
	if f := findingOf(t, y, "ride-through"); f.Verdict != finding.NotJudged {
		t.Errorf("without a flow test: %v: %s", f.Verdict, sentence(f))
	}
}

// TestNoticeEverywhere: check and years count the notice in: Juniper Flat, whose breaks each
// bring one, is no longer fine for carry time, neither by arithmetic nor lived; and with the WCs on
// the main the store lasts longer against it.
func TestNoticeEverywhere(t *testing.T) {
	short := func(edits ...job.Edit) (missing float64) {
		in := input(t, "juniper-flat")
		if len(edits) > 0 {
			doc, _, err := in.Doc.Apply(edits...)
			if err != nil {
				t.Fatal(err)
			}
			in.Doc, in.Job = doc, doc.Job
		}
		a, err := evaluate(in, false)
		if err != nil {
			t.Fatal(err)
		}
		return float64(a.Store.Short)
	}
	all, wcs, none := short(), short(sets("interruptions.notice-main", "wc")...), short(sets("interruptions.boil-notice", "no")...)
	if !(all > wcs && wcs >= none && none == 0) {
		t.Errorf("missing under a notice %v m³, with the WCs on the main %v, without a notice %v", all, wcs, none)
	}
	y, _ := lived(t, "juniper-flat", YearsAsk{Brief: true}, sets("choices.arrangement", "main-first")...)
	if f := findingOf(t, y, "ride-through"); f.Verdict != finding.LookAt {
		t.Errorf("under notices: %s", sentence(f))
	}
	y, _ = lived(t, "juniper-flat", YearsAsk{Brief: true}, sets("choices.arrangement", "main-first", "interruptions.boil-notice", "no")...)
	if f := findingOf(t, y, "ride-through"); f.Verdict != finding.Fine {
		t.Errorf("without: %s", sentence(f))
	}
}
