package circuit

import (
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// Pump returns the index of the pump, of several the first, or −1.
func (c *Circuit) Pump() int {
	if len(c.pumps) == 0 {
		return -1
	}
	return c.pumps[0]
}

// Pumps returns the indices of all pumps, street to home. Several are alike.
func (c *Circuit) Pumps() []int { return c.pumps }

// Working returns the pumps that run in a sound home when the pump is asked for: one, or
// as many of a set as may run together. Which of those on standby it is makes no
// difference, for they are alike and stand alike; the first is taken.
func (c *Circuit) Working() []int { return c.pumps[:min(len(c.pumps), max(1, c.Assembly.Together))] }

// PumpLaw returns the law of one pump; nil when there is none.
func (c *Circuit) PumpLaw() *hydraulics.Pump {
	if len(c.pumps) == 0 {
		return nil
	}
	law, _ := c.Net.Elements()[c.element[c.pumps[0]]].Law.(*hydraulics.Pump)
	return law
}

// WorkingLaw returns the law of the working pumps together: their flows at one head added
// up. Nil when there is none.
func (c *Circuit) WorkingLaw() *hydraulics.Pump {
	law, n := c.PumpLaw(), len(c.Working())
	if law == nil || n == 1 {
		return law
	}
	all, err := hydraulics.NewPumpsAlike(c.Assembly.Parts[c.pumps[0]].Tag, law, n)
	if err != nil {
		panic("circuit: pumps alike: " + err.Error()) // a law that stands for one stands for several
	}
	return all
}

// Pumped returns what the pumps pass together in the case last solved [m³/s].
func (s *Solver) Pumped() quantity.Flow {
	sum := quantity.Flow(0)
	for _, i := range s.C.pumps {
		sum += s.Flow(i)
	}
	return sum
}

// speed sets the speed of the pumps at work in a setting; the others stand.
func (c *Circuit) speed(s *hydraulics.State, setting int, x float64) {
	for _, i := range c.pumps {
		s.Opening[c.element[i]] = 0
	}
	for _, e := range c.atWork[setting] {
		s.Opening[e] = x
	}
}

// readWork finds the pumps at work in each named setting: those whose own valves let them,
// as many as run together; where none has both open, the first.
func (c *Circuit) readWork() {
	c.atWork = make([][]int32, max(1, len(c.settings)))
	for n := range c.atWork {
		for k, i := range c.pumps {
			if len(c.atWork[n]) < max(1, c.Assembly.Together) && (n >= len(c.settings) || !c.shutOff(n, k)) {
				c.atWork[n] = append(c.atWork[n], c.element[i])
			}
		}
		if len(c.atWork[n]) == 0 && len(c.pumps) > 0 {
			c.atWork[n] = []int32{c.element[c.pumps[0]]}
		}
	}
}

// shutOff reports whether a valve of pump k's own is shut in a named setting.
func (c *Circuit) shutOff(setting, k int) bool {
	if k >= len(c.Assembly.Sets) {
		return false
	}
	for _, v := range c.Assembly.Sets[k].Valves {
		if c.settings[setting][c.element[v]] {
			return true
		}
	}
	return false
}
