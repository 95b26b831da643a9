package assume

import (
	"slices"
	"testing"

	"tideover/internal/quantity"
)

// TestIn: an assumption is as it is taken, but where a job moves it.
func TestIn(t *testing.T) {
	if got := HeadLost.In(nil); got != 0.2 {
		t.Errorf("nothing moved: %g, want 0.2", got)
	}
	v := Values{"pump-worn": 0.3}
	if a, b := HeadLost.In(v), ChargeLost.In(v); a != 0.3 || b != 0.3 {
		t.Errorf("one moved: %g and %g, want 0.3 and, as taken, 0.3", a, b)
	}
	if got := ChargeLost.In(Values{"charge-lost": 0}); got != 0 {
		t.Errorf("moved to nought: %g", got)
	}
}

// TestEnds: the ends of a range are what is not taken already.
func TestEnds(t *testing.T) {
	one := &Assumption{Value: 1, Low: 1, High: 2}
	if got := one.Ends(); !slices.Equal(got, []float64{2}) {
		t.Errorf("%v, want 2 alone", got)
	}
}

// TestTaken: what says nothing is refused.
func TestTaken(t *testing.T) {
	before := len(all)
	defer func() { all = all[:before] }()
	good := Assumption{Key: "x", Dim: quantity.RatioDim, Value: 1, Low: 0, High: 2, Use: []string{"service"}}
	for what, spoil := range map[string]func(*Assumption){
		"no key": func(a *Assumption) { a.Key = "" }, "no use": func(a *Assumption) { a.Use = nil },
		"value outside": func(a *Assumption) { a.Value = 3 }, "no range": func(a *Assumption) { a.Low, a.High = 1, 1 },
		"twice": func(a *Assumption) { a.Key = "drip" },
	} {
		t.Run(what, func(t *testing.T) {
			a := good
			spoil(&a)
			defer func() {
				if recover() == nil {
					t.Error("is taken")
				}
			}()
			taken(a)
		})
	}
	if !slices.IsSortedFunc(All(), func(a, b *Assumption) int { return slices.Compare([]byte(a.Key), []byte(b.Key)) }) {
		t.Error("not in the order of their keys")
	}
}
