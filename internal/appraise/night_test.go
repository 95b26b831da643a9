package appraise

import (
	"errors"
	"math"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/years"
)

// flat is Osprey House with a main that reaches the store at night alone.
var flat = sets("interruptions.timetable", "daily 22:00-04:00", "supply.static", "0.1 bar", "supply.flow-test.low-pressure", "0.09 bar",
	"supply.flow-test.high-pressure", "0.05 bar", "supply.night-maximum", "3.5 bar")

// TestWaterAtNightOnly: a main that reaches the store at night alone fills it at night, in check and
// in the years; one that never does is refused in words that name a cure.
func TestWaterAtNightOnly(t *testing.T) {
	y, _ := lived(t, "osprey-house", YearsAsk{Brief: true}, flat...)
	if q := y.Home.Input.Stores[y.Own].Fill[y.Home.Input.Week[2]][0]; q <= 0 {
		t.Error("nothing comes in at night")
	}
	if q := y.Home.Input.Stores[y.Own].Fill[y.Home.Input.Week[12]][0]; q != 0 {
		t.Errorf("by day %v m³/s come in", q)
	}
	// Check's own figures: by hand, of the six hours from 22 to 4 five are at night, and in them alone
	// the float valve passes what it does at night.
	next, err := input(t, "osprey-house").With(flat...)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Quick(next)
	if err != nil {
		t.Fatal(err)
	}
	let := of(t, a, "refill-slots", "").Figure.SI
	if want := 7 * 5 * 3600 * float64(a.Service.Inflow.At[site.AtNight]); math.Abs(let-want) > 1e-9*want || !(want > 0) {
		t.Errorf("in a week %v m³ come in, want %v", let, want)
	}
	if day := float64(a.Service.Inflow.At[site.Usually]); day != 0 {
		t.Errorf("by day %v m³/s", day)
	}
	never := append(flat[:len(flat):len(flat)], sets("supply.night-maximum", "0.2 bar")...)
	next, err = input(t, "osprey-house").With(never...)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := LiveThrough(t.Context(), next, YearsAsk{Brief: true}, nil); !errors.Is(err, years.ErrNoMain) {
		t.Errorf("a main that never fills: %v", err)
	}
}

// TestNeverFineBesideYears: what check says of how long the store lasts stands beside what the
// years say: from the same level, against the same interruption.
func TestNeverFineBesideYears(t *testing.T) {
	for name, row := range map[string]bool{"kestrel-rise": true, "juniper-flat": false, "osprey-house": false} {
		y, _ := lived(t, name, YearsAsk{Brief: true})
		a, err := Quick(input(t, name))
		if err != nil {
			t.Fatal(err)
		}
		plain, lived := of(t, a, "carry-time", ""), findingOf(t, y, "carry-lived")
		if (a.Store.Row != nil) != row || (y.Lasts.Row != nil) != row {
			t.Errorf("%s: in a row %v, in the years %v; want %v", name, a.Store.Row, y.Lasts.Row, row)
		}
		if plain.Verdict == finding.Fine && lived.Verdict != finding.Fine && plain.Limit != lived.Limit {
			t.Errorf("%s: fine against %v, and in the years not against %v", name, plain.Limit, lived.Limit)
		}
		if row {
			if d := float64(a.Store.Begins) - y.Lasts.Begins; d > 1e-6 || d < -1e-6 || quantity.Time(y.Lasts.Longest) != a.Store.Judged {
				t.Errorf("%s: begins with %v, in the years %v", name, a.Store.Begins, y.Lasts.Begins)
			}
		}
	}
}
