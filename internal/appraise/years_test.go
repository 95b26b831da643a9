package appraise

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"runtime"
	"slices"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
	"tideover/internal/years"
)

// lived lives through a few futures of an example.
func lived(t *testing.T, name string, ask YearsAsk, edits ...job.Edit) (*Years, *job.Job) {
	t.Helper()
	doc := demo.Doc(t, name)
	if len(edits) > 0 {
		next, _, err := doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		doc = next
	}
	cat, _ := demo.Rows(t, doc.Job.Profile)
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	y, err := LiveThrough(context.Background(), in, ask, nil)
	if err != nil {
		t.Fatal(err)
	}
	return y, doc.Job
}

// few is a run as short as a run that tries everything can be.
var few = YearsAsk{Half: 0.4, Most: 2}

// TestYearsOfJuniperFlat: a hand changeover waits for somebody, so that no size rides out
// much; the store's own water grows months old; the odds rise with the size, and the balance
// closes.
func TestYearsOfJuniperFlat(t *testing.T) {
	y, _ := lived(t, "juniper-flat", few)
	own := y.Answer.Stores[y.Own]
	if v := own.By[seasons.RideThrough].Value; v > 0.4 {
		t.Errorf("by hand, with nobody home all day, %v of the interruptions are ridden out", v)
	}
	if y.Fresh[y.Own].Mean.Value < 30*86400 {
		t.Errorf("water of a store that works a dozen times a year is %v d old", y.Fresh[y.Own].Mean.Value/86400)
	}
	for i := range y.Answer.Stores {
		o := &y.Answer.Stores[i]
		if o.Balance > 1e-9 {
			t.Errorf("%s: in and out miss each other by %v", o.Name, o.Balance)
		}
		if i > 0 && o.By[seasons.RideThrough].Value < y.Answer.Stores[i-1].By[seasons.RideThrough].Value-1e-12 {
			t.Errorf("%s rides out fewer than the smaller one", o.Name)
		}
	}
	if y.Window != nil || len(y.Opens) == 0 {
		t.Error("months-old water counts as fresh, or nothing was tried against it")
	}
}

// TestYearsOnAnyCores: the answer is the same, to the last byte, on any number of cores.
func TestYearsOnAnyCores(t *testing.T) {
	var first []byte
	for _, cores := range []int{1, 3} {
		was := runtime.GOMAXPROCS(cores)
		y, j := lived(t, "juniper-flat", YearsAsk{Brief: true})
		runtime.GOMAXPROCS(was)
		doc, err := YearsDocument{j, y}.JSON()
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = doc
		}
		if !bytes.Equal(first, doc) {
			t.Errorf("%d cores: another answer", cores)
		}
		if cores == 3 {
			oneFuture(t, YearsDocument{j, y})
		}
	}
}

// oneFuture: an end that one future alone leaves open is null, not a document that cannot be written.
func oneFuture(t *testing.T, d YearsDocument) {
	t.Helper()
	y := *d.Years
	alone := seasons.Estimate{Value: 3600, Low: math.Inf(-1), High: math.Inf(1), N: 1}
	y.Tails = []years.Tail{{Law: "two-kinds", Futures: 1, Share: alone, Worst: alone, Short: alone}}
	y.Opens = []years.Opened{{ID: "routine", Share: alone, Age: alone}}
	y.Stops = nil
	doc, err := YearsDocument{d.Job, &y}.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var told struct {
		Tails []struct {
			Worst map[string]*float64 `json:"worst-spell-s"`
		}
	}
	if err := json.Unmarshal(doc, &told); err != nil {
		t.Fatal(err)
	}
	if w := told.Tails[0].Worst; *w["value"] != 3600 || w["low"] != nil || w["high"] != nil {
		t.Errorf("worst spell of one future: %v", w)
	}
}

// TestYearsOfATimetable: all water through the store on a supply that turns every second
// day: the store turns over, and its water is days old, not weeks.
func TestYearsOfATimetable(t *testing.T) {
	y, _ := lived(t, "osprey-house", few, job.Edit{Op: job.Set, Path: "home.people", Text: "12"})
	if age := y.Fresh[y.Own].Mean.Value / 86400; !(age > 0.5 && age < 14) {
		t.Errorf("mean age %v d", age)
	}
	if r := y.Refill[y.Own]; math.IsInf(r, 1) || r <= 0 {
		t.Errorf("refills in %v s", r)
	}
	if len(y.Tables(quantity.Metric)[1].Rows) != len(y.Answer.Stores) || len(y.Told(quantity.Metric)) < 3 {
		t.Error("rows or sentences are missing")
	}
}

// TestTooWide: a run that ends at the most it may live says that it is not as narrow as asked.
func TestTooWide(t *testing.T) {
	y := &Years{Home: &years.Home{Input: &seasons.Input{}}, Result: &years.Result{Answer: &seasons.Answer{Stores: make([]seasons.Odds, 1)}, Knee: -1, Next: math.NaN()}}
	y.Answer.Stores[0].By[seasons.RideThrough] = seasons.Estimate{Value: 0.5, Low: 0.4, High: 0.6, N: 256}
	said := func(id string) bool {
		return slices.Contains(y.Told(quantity.Metric), words.Say(id, words.Args{"half": "10.0"}))
	}
	if !said("store.run-wide") || !said("store.wide-ages") {
		t.Error("a run too wide does not say so")
	}
	y.Answer.Narrow, y.Ages.Narrow = true, true
	if !said("store.run") || said("store.run-wide") || said("store.wide-ages") {
		t.Error("a run as narrow as asked says it is not")
	}
}
