package catalogue

import "tideover/internal/quantity"

// PressureTest is how a profile has new pipe tested.
type PressureTest struct {
	Multiple float64           // of the highest pressure in use; 0: the pressure is fixed, and Least is it
	Least    quantity.Pressure // whatever the use
	Hold     quantity.Time

	Source, Standing string // of the pressure: the rule that sets it
}

// Fixed reports whether the pressure is one figure for all work, which may lie far above
// what a part in the way is made for.
func (t PressureTest) Fixed() bool { return t.Multiple == 0 }

// PressureTest returns the test of new pipe, or the key of the rule whose blank keeps it
// from being judged.
func (p *Profile) PressureTest() (test PressureTest, blank string) {
	multiple, least, hold := p.Rule("test-multiple"), p.Rule("test-least"), p.Rule("test-time")
	switch {
	case !multiple.Set && !(least.Set && least.Value > 0):
		return test, multiple.Key
	case !hold.Set:
		return test, hold.Key
	}
	test = PressureTest{Multiple: multiple.Value, Least: quantity.Pressure(least.Value), Hold: quantity.Time(hold.Value)}
	test.Source, test.Standing = multiple.Cited()
	if test.Fixed() {
		test.Source, test.Standing = least.Cited()
	}
	return test, ""
}
