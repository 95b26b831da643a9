package proof

import (
	"math"
	"math/bits"
	"sync"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Space is all cases of one assembly: its variables, their values, and what the values mean.
type Space struct {
	Hands   []Hand           // every part a hand turns, drains included, street to home
	Named   []Named          // the named settings, the normal one first
	Mishaps []circuit.Mishap // as Circuit.Mishaps
	Mains   [5]float64       // head the street is held at in each state of the main [m]
	Levels  [4]float64       // height of the store's surface in each state [m]
	Uppers  [4]float64       // of the header tank's

	in        *Input
	first     []uint8    // per variable: the values it can have, as bits
	normal    []uint8    // per variable: the ordinary value, as a bit
	all       []uint64   // the mishaps it can have, bit 0 for none
	rules     []rule     // per element
	swaps     [][]swap   // per hand: the mishaps that swap its tag, and with whose
	swapOf    [][]uint64 // per hand: those mishaps as bits
	with      [][]uint64 // per hand and position: the named settings that have it, as bits
	swapping  []uint64   // mishaps that swap tags
	swapped   []swapped
	swapCount int

	unlike uint64     // the named settings but for those that stand like an earlier one
	crowd  uint64     // the named settings with more than one drain moved, see drains.go
	drains []int      // hands that are drains
	drain  []bool     // per hand
	sinks  bool       // a mishap lowers a store's surface
	upset  [][]uint64 // per circuit.Upset: its mishaps
	points []place    // per point
	parts  [][]int32  // per part: its elements, those of mishaps too
	ever   *hydraulics.State
	pumps  []onePump         // of a set; nil where there is one pump or none
	bar    *assembly.Control // what can bar the pump, and its table; nil where nothing can
	lock   circuit.Lock
	stops  float64 // speed at which a pump whose controller works comes to stand
}

// Hand is one hand-turned part.
type Hand struct {
	Part      int
	Tag       string
	Positions []string
	Normal    uint8 // its position in the normal setting
}

// Named is a named setting as positions.
type Named struct {
	Name     string
	Position []uint8
}

// The variables after the hands'.
const (
	vMain = iota
	vPower
	vStore
	vDraw
	vFrost
	vHot
	vPump
	vLock
	vHeader
	vBack
	worldly // how many there are
)

type swap struct {
	mishap int
	with   int // hand
}

// place is what a held point stands for.
type place struct {
	held    bool
	street  bool
	surface bool
	upper   bool // a surface that is the header tank's
}

// NewSpace lists the cases of an input. It refuses, as a *Refusal, an assembly without a
// main, without an outlet, or with a loop of nothing but pipes.
func NewSpace(in *Input) (*Space, error) {
	if err := refuse(in); err != nil {
		return nil, err
	}
	s := &Space{in: in, Mishaps: in.Circuit.Mishaps}
	in.homes = sync.OnceValue(in.networks)
	in.doubts = sync.OnceValue(in.doubt)
	in.carried = sync.OnceValue(in.carries)
	s.hands()
	s.settle()
	s.variables()
	s.heads()
	s.mark()
	s.rule()
	s.readPumps()
	s.fold()
	s.evers()
	return s, nil
}

func (s *Space) hands() {
	a := s.in.Assembly
	for i := range a.Parts {
		p := &a.Parts[i]
		if positions := p.Positions(); positions != nil {
			s.Hands = append(s.Hands, Hand{Part: i, Tag: p.Tag, Positions: positions})
		}
	}
}

// settle reads the named settings. A hand-turned part without a position is shut.
func (s *Space) settle() {
	for _, set := range s.in.Assembly.Settings {
		n := Named{Name: set.Name, Position: make([]uint8, len(s.Hands))}
		for h := range s.Hands {
			n.Position[h] = s.Hands[h].at(set.Positions[s.Hands[h].Tag])
		}
		s.Named = append(s.Named, n)
	}
	if len(s.Named) == 0 { // a free assembly that names none: all as it is left
		s.Named = []Named{{Name: "normal", Position: make([]uint8, len(s.Hands))}}
		for h := range s.Hands {
			if s.in.Assembly.Parts[s.Hands[h].Part].Kind == assembly.Drain {
				s.Named[0].Position[h] = s.Hands[h].at("shut")
			}
		}
	}
	for n := range s.Named {
		if s.NameOf(s.Named[n].Position) == s.Named[n].Name {
			s.unlike |= 1 << n
		}
	}
	s.readDrains()
	s.with = make([][]uint64, len(s.Hands))
	for h := range s.Hands {
		s.Hands[h].Normal = s.Named[0].Position[h]
		s.with[h] = make([]uint64, len(s.Hands[h].Positions))
		for n := range min(len(s.Named), 64) {
			s.with[h][s.Named[n].Position[h]] |= 1 << n
		}
	}
}

// at is the index of a position; a name it does not know is shut.
func (h *Hand) at(position string) uint8 {
	last := uint8(len(h.Positions) - 1)
	for k, p := range h.Positions {
		if p == position {
			return uint8(k)
		}
		if p == "shut" {
			last = uint8(k)
		}
	}
	return last
}

func (s *Space) variables() {
	n := len(s.Hands)
	s.first, s.normal = make([]uint8, n+worldly), make([]uint8, n+worldly)
	for h := range s.Hands {
		s.first[h] = 1<<len(s.Hands[h].Positions) - 1
		s.normal[h] = 1 << s.Hands[h].Normal
	}
	w := s.first[n:]
	w[vMain], w[vPower], w[vFrost] = 0b11111, 0b111, 0b11
	w[vStore], w[vDraw], w[vHot], w[vPump], w[vLock], w[vHeader] = 1, 0b0111, 1, 1, 1<<circuit.Allowed, 1
	c := s.in.Circuit
	if c.Store {
		w[vStore] = 0b1111
	}
	if len(c.UpperPoints()) > 0 {
		w[vHeader] = 0b1111
	}
	if w[vBack] = 1; len(c.Backs) > 0 {
		w[vBack] = 0b11
	}
	if e, _ := c.Burst(); e >= 0 {
		w[vDraw] = 0b1111
	}
	if len(s.in.Assembly.Of(assembly.Heater)) > 0 {
		w[vHot] = 0b11
	}
	if c.Pump() >= 0 {
		w[vPump] = 1<<circuit.Standing | 1<<circuit.Running
		if k := c.ControlOf(); k != nil && k.Kind == assembly.SpeedControl {
			w[vPump] |= 1 << circuit.Holding
		}
		if s.bar, s.lock = c.Bar(); s.bar != nil {
			w[vLock] = 0b11
		}
	}
	for v := range w {
		s.normal[n+v] = 1
	}
	s.normal[n+vLock] = 1 << circuit.Allowed
	s.all = make([]uint64, (len(s.Mishaps)+64)/64)
	for m := range len(s.Mishaps) + 1 {
		s.all[m/64] |= 1 << (m % 64)
	}
}

// heads works out what the main and the store are held at. A dry main is an empty pipe: it
// stands at the air's pressure at the meter, takes what is pushed into it and presses on
// nothing. A main that sucks does so down to where water boils.
func (s *Space) heads() {
	c, main := s.in.Circuit, site.MainOf(s.in.Job)
	s.Mains[Good] = c.GaugeHead(main.Usual)
	s.Mains[Weak] = c.GaugeHead(main.Weak())
	s.Mains[High] = c.GaugeHead(main.Highest())
	s.Mains[Sucking] = c.GaugeHead(quantity.Pressure(s.suction()))
	if street := c.StreetPoint(); street >= 0 {
		s.Mains[Dry] = c.Net.Points()[street].Z
	}
	s.levels()
}

// suction is the lowest gauge pressure water can have: that at which it boils [Pa].
func (s *Space) suction() float64 {
	place := &s.in.Job.Place
	return hydraulics.VapourPressure(math.Max(float64(place.Water.V), 0.01)) - hydraulics.Atmosphere(float64(place.Altitude.V))
}

// levels: empty is at the outlet, full the overflow's lip less its margin.
func (s *Space) levels() {
	a := s.in.Assembly
	if stores := a.Of(assembly.Store); len(stores) > 0 {
		s.Levels = s.levelsOf(&a.Parts[stores[0]]) // linked stores stand at one level
	}
	if h := a.Header(); h >= 0 {
		s.Uppers = s.levelsOf(&a.Parts[h])
	}
}

func (s *Space) levelsOf(store *assembly.Part) [4]float64 {
	margin := site.OverflowMargin(s.in.Profile, s.in.Job.Assumed)
	row, _ := store.Row.(catalogue.Store)
	low := store.Ports[0].Z
	for _, port := range store.Ports {
		low = min(low, port.Z)
	}
	full := max(low+row.Overflow-margin-row.Outlet, low)
	depth := float64(full - low)
	return [4]float64{Full: float64(full), Normal: float64(low) + 0.9*depth, Low: float64(low) + 0.1*depth, Empty: float64(low)}
}

// mark says what each held point stands for.
func (s *Space) mark() {
	c := s.in.Circuit
	s.points = make([]place, len(c.Net.Points()))
	for p := range s.points {
		s.points[p].held = c.Net.Points()[p].Held
	}
	if p := c.StreetPoint(); p >= 0 {
		s.points[p].street = true
	}
	for _, p := range c.SurfacePoints() {
		s.points[p].surface = true
	}
	for _, p := range c.UpperPoints() {
		s.points[p].surface, s.points[p].upper = true, true
	}
	s.parts = make([][]int32, len(s.in.Assembly.Parts))
	for e := range c.Net.Elements() {
		i := c.PartOf(int32(e))
		s.parts[i] = append(s.parts[i], int32(e))
	}
}

// Settings is the number of settings that are tried; as many as 64 bits hold when it is more.
func (s *Space) Settings() uint64 {
	n := uint64(1)
	for h := range s.Hands {
		if !s.drain[h] {
			n = times(n, uint64(len(s.Hands[h].Positions)))
		}
	}
	return plus(times(n, uint64(1+len(s.drains))), uint64(bits.OnesCount64(s.crowd&s.unlike)))
}

// Worlds is the number of conditions together with the states of the controls.
func (s *Space) Worlds() uint64 {
	n := uint64(1)
	for _, d := range s.first[len(s.Hands):] {
		n = times(n, uint64(bits.OnesCount8(d)))
	}
	return n
}

// Cases is the number of cases with exactly n mishaps, 0 to 2.
func (s *Space) Cases(n int) uint64 {
	m := uint64(len(s.Mishaps))
	ways := [3]uint64{1, m, 0}
	if m > 1 {
		ways[2] = m * (m - 1) / 2
	}
	return times(times(s.Settings(), s.Worlds()), ways[n])
}

// times multiplies and stays at the most there is.
func times(a, b uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	if hi != 0 {
		return math.MaxUint64
	}
	return lo
}

// plus adds and stays at the most there is.
func plus(a, b uint64) uint64 {
	if a > math.MaxUint64-b {
		return math.MaxUint64
	}
	return a + b
}

// NameOf returns the name of the named setting with these positions, or "".
func (s *Space) NameOf(setting []uint8) string {
	for i := range s.Named {
		if string(s.Named[i].Position) == string(setting) {
			return s.Named[i].Name
		}
	}
	return ""
}

// Normal is the ordinary case: the normal setting and world, the pump standing, nothing
// failed.
func (s *Space) Normal() Case {
	return Case{Setting: append([]uint8(nil), s.Named[0].Position...), Control: Control{Lock: circuit.Allowed}}
}
