package circuit

import (
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// Ever is the most that can have pressed on standing water: the worlds a home sees.
type Ever struct {
	Main   quantity.Pressure // highest at the gauge
	Level  quantity.Length   // highest in the store
	Header quantity.Length   // highest in a header tank, over its outlet
	Speed  float64           // highest of the pump, 0..1
}

// EverState writes the state in which everything presses that can ever press: every way
// that any named setting opens, the main at its highest, the store full, the pump at
// speed. Outlets and the float valve stay shut.
func (c *Circuit) EverState(v Ever) *hydraulics.State {
	s := c.Net.NewState()
	c.State(&Case{Main: v.Main, Level: v.Level, Header: v.Header, Pump: Running}, s)
	for e := range s.Off {
		for _, shut := range c.settings {
			if !shut[e] && c.settings[0][e] {
				s.Off[e] = false
			}
		}
	}
	for n, i := range c.pumps {
		s.Opening[c.element[i]] = 0
		if n == 0 { // side by side they press no higher than one, and stand alike
			s.Opening[c.element[i]] = v.Speed
		}
	}
	return s
}

// Rest completes the intervals of standing water in the last answer, given what can ever
// have pressed.
func (s *Solver) Rest(ever *hydraulics.State) error {
	return s.C.Net.Rest(s.State, ever, s.Answer, s.work)
}

// Serves says what can press on any outlet in a named setting: the main, and the store
// with its pump running.
func (s *Solver) Serves(setting int) (main, store bool) {
	k := Case{Setting: setting, Pump: Running}
	s.C.State(&k, s.State)
	mask := make([]bool, len(s.C.Net.Points()))
	hits := func(from int32) bool {
		s.C.Net.Reach(s.State, from, mask, s.work)
		for _, i := range s.C.Outlets {
			if mask[s.C.point[i][0]] {
				return true
			}
		}
		return false
	}
	if s.C.street >= 0 {
		main = hits(s.C.street)
	}
	for _, list := range [2][]int32{s.C.surface, s.C.upper} {
		for _, at := range list {
			store = store || hits(at)
		}
	}
	return main, store
}

// GaugeHeight is the height of the gauge the main's pressures were read at.
func (c *Circuit) GaugeHeight() quantity.Length { return c.in.Gauge }
