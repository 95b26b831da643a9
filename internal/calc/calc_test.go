package calc

import (
	"testing"
)

var doubled = Register(Equation{
	Key: "test-doubled", Title: "A number twice", Formula: "y = 2 x", Section: "Test",
	Result: Symbol{Name: "y", Meaning: "twice the number"}, Args: []Symbol{{Name: "x", Meaning: "number"}},
	Source: "definition", Fn: func(a []float64) float64 { return 2 * a[0] },
})

func TestSheetRecordsWhatRan(t *testing.T) {
	var s Sheet
	if got := s.Eval(doubled, 21); got != 42 {
		t.Fatalf("Eval = %g, want 42", got)
	}
	s.Walk("V1", "walk.hand-valve", 10, 9.5)
	if len(s.Steps) != 2 || s.Steps[0].Key != "test-doubled" || s.Steps[0].Args[0] != 21 || s.Steps[0].Result != 42 {
		t.Fatalf("steps = %+v", s.Steps)
	}
	if w := s.Steps[1]; w.Part != "V1" || w.Before != 10 || w.After != 9.5 || w.Check() != 0 {
		t.Errorf("walk = %+v", w)
	}
}

func TestSheetKeepsItsOwnArguments(t *testing.T) {
	var s Sheet
	args := []float64{1}
	s.Eval(doubled, args...)
	args[0] = 99
	if s.Steps[0].Args[0] != 1 {
		t.Error("a recorded step changes when the caller's slice does")
	}
}

func TestCheckObjects(t *testing.T) {
	step := Step{Key: "test-doubled", Args: []float64{3}, Result: 6}
	if d := step.Check(); d != 0 {
		t.Errorf("a right step differs by %g", d)
	}
	step.Result = 6.000006
	if d := step.Check(); d < 1e-7 {
		t.Errorf("a step wrong by 1e-6 differs by only %g", d)
	}
}

func TestNilSheetCostsNothing(t *testing.T) {
	var none *Sheet
	if got := none.Eval(doubled, 4); got != 8 {
		t.Fatalf("Eval on no sheet = %g, want 8", got)
	}
	args := []float64{4}
	if n := testing.AllocsPerRun(100, func() { none.Eval(doubled, args...); none.Walk("V1", "", 1, 0) }); n != 0 {
		t.Errorf("no sheet allocates %g times", n)
	}
}

func TestRegisterRefuses(t *testing.T) {
	for name, e := range map[string]Equation{
		"twice":     *doubled,
		"no source": {Key: "test-bare", Title: "t", Formula: "f", Section: "s"},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: Register took it", name)
				}
			}()
			Register(e)
		}()
	}
	defer func() {
		if recover() == nil {
			t.Error("Eval took two arguments where one is asked for")
		}
	}()
	(*Sheet)(nil).Eval(doubled, 1, 2)
}
