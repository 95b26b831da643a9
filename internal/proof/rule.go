package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// nature says what an element's passing hangs on, before any mishap.
type nature uint8

const (
	always nature = iota
	never         // until a mishap opens it
	turned        // a hand
	floats        // the store's level
	pumps         // water before the pump
	draws         // what is drawn
	airs          // the mouth beside it
	backs         // whether a regulator lets water back
)

// rule is what decides whether an element passes.
type rule struct {
	nature nature
	hand   int
	mask   uint8 // positions or draws that open it
	half   uint8 // positions that leave it half open
	mouth  int32 // of airs
	oneWay bool
	pump   bool
	which  int  // pump of a set
	wet    bool // foreign water at its far end
	upper  bool // the float valve of the header tank

	mishaps bool     // any of the following
	opens   []uint64 // mishaps that open it
	shuts   []uint64 // that shut it
	leaks   []uint64 // that open it while beside is off
	beside  int32
	turns   []turn
	turning []uint64
}

// turn is a mishap that leaves an element part open.
type turn struct {
	mishap  int
	opening float64
}

// rule reads the rules of all elements out of the circuit.
func (s *Space) rule() {
	c := s.in.Circuit
	elements := c.Net.Elements()
	s.rules = make([]rule, len(elements))
	shut, _ := c.Shut(nil)
	for e := range elements {
		w := &s.rules[e]
		w.oneWay = elements[e].OneWay
		if shut[e] {
			w.nature = never
		}
	}
	s.ruleParts()
	for _, a := range c.Airs {
		s.rules[a.Entry].nature, s.rules[a.Entry].mouth = airs, a.Mouth
	}
	for _, e := range c.Backs {
		s.rules[e].nature = backs
	}
	if e, _ := c.Burst(); e >= 0 {
		s.rules[e].nature, s.rules[e].mask = draws, 1<<DrawBurst
	}
	s.ruleMishaps()
}

func (s *Space) ruleParts() {
	c, a := s.in.Circuit, s.in.Assembly
	for h := range s.Hands {
		for k, position := range s.Hands[h].Positions {
			for _, e := range c.Opens(s.Hands[h].Part, position) {
				w := &s.rules[e]
				w.nature, w.hand, w.mask = turned, h, w.mask|1<<k
				if position == "between" {
					w.half |= 1 << k
				}
			}
		}
	}
	highest := s.highest()
	for _, i := range c.Outlets {
		w := &s.rules[c.ElementOf(i)]
		w.nature, w.mask = draws, 1<<DrawMany
		w.wet = a.Parts[i].Under
		if i == highest {
			w.mask |= 1 << DrawOne
		}
	}
	for _, i := range a.Of(assembly.FloatValve) {
		s.rules[c.ElementOf(i)].nature = floats
		s.rules[c.ElementOf(i)].upper = a.Header() >= 0 && a.Fills(i) == a.Header()
	}
	for k, p := range c.Pumps() {
		w := &s.rules[c.ElementOf(p)]
		w.nature, w.pump, w.which = pumps, true, k
	}
}

// highest is the outlet that runs when one runs: the highest, the last of several.
func (s *Space) highest() int {
	best := -1
	for _, i := range s.in.Circuit.Outlets {
		if best < 0 || s.in.Assembly.Parts[i].Ports[0].Z >= s.in.Assembly.Parts[best].Ports[0].Z {
			best = i
		}
	}
	return best
}

func (s *Space) ruleMishaps() {
	s.swaps, s.swapOf = make([][]swap, len(s.Hands)), make([][]uint64, len(s.Hands))
	s.upset = make([][]uint64, circuit.ScreensBlocked+1)
	hand := map[int]int{}
	for h := range s.Hands {
		hand[s.Hands[h].Part] = h
	}
	for k := range s.Mishaps {
		m := &s.Mishaps[k]
		n := k + 1 // 0 is none
		for _, e := range m.Opens {
			s.set(&s.rules[e].opens, n)
		}
		for _, e := range m.Shuts {
			s.set(&s.rules[e].shuts, n)
		}
		for _, l := range m.Leaks {
			s.set(&s.rules[l.Element].leaks, n)
			s.rules[l.Element].beside = l.Beside
		}
		for _, t := range m.Turns {
			w := &s.rules[t.Element]
			s.set(&w.turning, n)
			w.turns = append(w.turns, turn{n, t.Opening})
		}
		if m.Sinks > 0 {
			s.sinks = true
		}
		if m.Upset != circuit.NoUpset {
			s.set(&s.upset[m.Upset], n)
		}
		if m.Swap {
			f, g := hand[m.Parts[0]], hand[m.Parts[1]]
			s.swaps[f], s.swaps[g] = append(s.swaps[f], swap{n, g}), append(s.swaps[g], swap{n, f})
			s.set(&s.swapOf[f], n)
			s.set(&s.swapOf[g], n)
		}
		if m.ID == "hose-in-bucket" {
			for _, e := range m.Opens {
				s.rules[e].wet = true
			}
		}
	}
	for e := range s.rules {
		w := &s.rules[e]
		w.mishaps = w.opens != nil || w.shuts != nil || w.leaks != nil || w.turning != nil
	}
}

func (s *Space) set(mask *[]uint64, n int) {
	if *mask == nil {
		*mask = make([]uint64, len(s.all))
	}
	(*mask)[n/64] |= 1 << (n % 64)
}

// evers writes the state in which everything presses that can ever press: every hand open,
// the main at its highest, the store full, the pump at speed, nothing drawn.
func (s *Space) evers() {
	s.ever = s.in.Circuit.Net.NewState()
	for e := range s.rules {
		w := &s.rules[e]
		s.ever.Off[e] = w.nature == never || w.nature == draws || w.nature == airs || w.nature == floats
		if w.nature == turned && s.in.Assembly.Parts[s.Hands[w.hand].Part].Kind == assembly.Drain {
			s.ever.Off[e] = true
		}
	}
	for k, p := range s.in.Circuit.Pumps() {
		if k > 0 {
			s.ever.Opening[s.in.Circuit.ElementOf(p)] = 0
		}
	}
	s.hold(s.ever, s.Mains[High], s.Levels[Full], s.Uppers[Full])
	s.stops = s.stopSpeed()
}

// stopSpeed is the speed at which a pump whose controller works makes no more than the
// controller's upper pressure with nothing drawn and the store at its lowest; 1 where the
// controller does not hold it back.
func (s *Space) stopSpeed() float64 {
	c := s.in.Circuit
	k, law := c.ControlOf(), c.PumpLaw()
	if k == nil || law == nil || k.Kind == assembly.FlowControl {
		return 1
	}
	z := s.in.Assembly.Parts[k.Senses.Part].Ports[k.Senses.Port].Z
	from := s.Levels[Empty]
	if !c.Store { // it lifts what the main gives, at its strongest no further
		from = s.Mains[High]
	}
	lift := circuit.HeadOf(k.Off, z) - from
	return math.Sqrt(math.Min(math.Max(lift, 0)/law.ShutOff(1), 1))
}

// hold writes the heads of street, store and header tank.
func (s *Space) hold(state *hydraulics.State, main, level, upper float64) {
	c := s.in.Circuit
	if p := c.StreetPoint(); p >= 0 {
		state.Held[p] = main
	}
	for _, p := range c.SurfacePoints() {
		state.Held[p] = level
	}
	for _, p := range c.UpperPoints() {
		state.Held[p] = upper
	}
}
