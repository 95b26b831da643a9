package day

import "testing"

// TestHeld: the store's water is its area times the height above its lowest level; points
// keep their distance; the last moment is always there.
func TestHeld(t *testing.T) {
	d := &Day{Plant: &Plant{Store: Store{Low: 1, Area: 2}}, Failing: true, In: Inputs{At: FailsAt, Fails: 3600},
		Result: &Result{Moments: []Moment{{At: 0, Level: 2}, {At: 10, Level: 1.9}, {At: 70, Level: 1.5}, {At: 90, Level: 0.5}}}}
	at, volume := d.Held(60)
	want := [][2]float64{{0, 2}, {70, 1}, {90, 0}}
	if len(at) != len(want) {
		t.Fatalf("points at %v, want %v", at, want)
	}
	for i, w := range want {
		if at[i] != w[0] || volume[i] != w[1] {
			t.Errorf("point %d: %v at %v, want %v at %v", i, volume[i], at[i], w[1], w[0])
		}
	}
	if from, to, ok := d.Off(); from != FailsAt || to != FailsAt+3600 || !ok {
		t.Errorf("off from %v to %v, %v", from, to, ok)
	}
}
