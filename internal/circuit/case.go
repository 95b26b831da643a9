package circuit

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// Pumping says what the pump does in a case: its controller's state.
type Pumping uint8

// What a pump can do.
const (
	Standing Pumping = iota // no power, locked out, or satisfied
	Running                 // at full speed
	Holding                 // at the speed that holds Case.Hold where its controller feels
)

// Case is everything one steady state depends on.
type Case struct {
	Setting int               // index of the assembly's named setting
	MainOff bool              // nothing presses and nothing sucks
	Main    quantity.Pressure // at the gauge, nothing running
	Level   quantity.Length   // of the water surface in the store, above the datum
	Dry     bool              // the store gives nothing
	Filling bool              // the float valve is open
	Header  quantity.Length   // how high the water in a header tank stands over its outlet; 0: about to run dry
	Lifting bool              // the header tank's float valve is open
	Pump    Pumping
	Hold    quantity.Pressure // where the pump's controller feels it
	Open    []bool            // per Circuit.Outlets; nil: all shut
}

// Shut returns, per element, whether the given positions shut it. A hand-turned part
// without a position, or a drain, is shut. An unknown tag or position is refused.
func (c *Circuit) Shut(positions map[string]string) ([]bool, error) {
	shut := make([]bool, len(c.part))
	for e := c.sound; e < len(shut); e++ {
		shut[e] = true
	}
	known := 0
	for i := range c.Assembly.Parts {
		p := &c.Assembly.Parts[i]
		position, given := positions[p.Tag]
		if given {
			known++
		}
		if p.Kind == assembly.Drain && position != "open" {
			shut[c.element[i]] = true
		}
		for _, w := range c.ways[i] {
			shut[w.element] = !has(w.positions, position)
		}
		if given && len(c.ways[i]) == 0 && p.Kind != assembly.Drain {
			return nil, fmt.Errorf("%s has no position %q: nobody can turn it", p.Tag, position)
		}
	}
	if known != len(positions) {
		return nil, fmt.Errorf("%d positions are given and %d of their tags are in the assembly", len(positions), known)
	}
	return shut, nil
}

func has(list []string, s string) bool {
	for _, t := range list {
		if t == s {
			return true
		}
	}
	return false
}

// crowd has neighbours draw on the main as much as its pressure at rest says.
func (c *Circuit) crowd(k *Case, s *hydraulics.State) {
	if c.main >= 0 {
		s.Opening[c.main] = c.busy.Opening(k.Main)
	}
}

// MainAt is the opening of the main's law under a head at rest [m above the datum]: 1 where
// neighbours draw as in the flow test, less where they draw more.
func (c *Circuit) MainAt(head float64) float64 { return c.busy.Opening(PressureOf(head, c.in.Gauge)) }

// State writes the case into a state of the circuit's net.
func (c *Circuit) State(k *Case, s *hydraulics.State) {
	copy(s.Off, c.settings[k.Setting])
	for _, e := range c.turned {
		s.Opening[e] = 1
	}
	if c.street >= 0 {
		s.Held[c.street] = HeadOf(k.Main, c.in.Gauge)
	}
	c.crowd(k, s)
	for _, at := range c.surface {
		s.Held[at] = float64(k.Level)
	}
	for _, at := range c.upper {
		s.Held[at] = c.Net.Points()[at].Z + float64(k.Header)
	}
	for n, i := range c.Outlets {
		s.Off[c.element[i]] = k.Open == nil || !k.Open[n]
	}
	for i := range c.Assembly.Parts {
		switch e := c.element[i]; c.Assembly.Parts[i].Kind {
		case assembly.Main:
			s.Off[e] = k.MainOff
		case assembly.FloatValve:
			s.Off[e] = !k.Filling
			if h := c.Assembly.Header(); h >= 0 && c.Assembly.Fills(i) == h {
				s.Off[e] = !k.Lifting
			}
		case assembly.Pump:
			s.Off[e] = k.Dry
		}
	}
	if k.Pump == Standing {
		c.speed(s, k.Setting, 0)
	} else {
		c.speed(s, k.Setting, 1)
	}
}
