package day

import (
	"fmt"
	"math"

	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// Plant is what a day is run on: a circuit, the water it stores and what controls it.
// Heights and heads are above the datum [m], volumes in m³, flows in m³/s, times in s.
// A Plant is not changed by a run: several may run on one at once.
type Plant struct {
	Net     *hydraulics.Net
	Street  int32                      // held point of the main; −1 none
	Main    int32                      // element of the main; −1 none
	Crowd   func(head float64) float64 // the opening of its law under a head at rest [m]; nil: as tested
	Store   Store
	Floats  []int32 // elements of the float valves; their mouths are held points
	Header  Store   // a header tank that the pump fills; without a surface there is none
	Lifts   []int32 // elements of its float valves
	Pump    *Pump   // nil: none
	Vessel  *Vessel // nil: none
	Lock    *Lock   // nil: none
	Outlets []Outlet
	Shut    [][]bool // per setting: elements that a hand valve shuts
	Watch   []Place  // points whose pressures are kept

	held *hydraulics.Net // the same circuit with the vessel's point held
	at   ends
}

// Store is the open water, all stores as one.
type Store struct {
	Surface []int32 // held points at the water surface
	Area    float64 // of the water surface [m²]
	Low     float64 // level at which the outlet sucks air
	Lip     float64 // level at which it runs over
	Shut    float64 // level at which the float valve is shut
	Band    float64 // of level: a lever float opens over it; a delayed one opens this far below Shut
	Delayed bool    // the float valve is full open or shut, nothing between
	Stuck   bool    // the float valve never shuts
}

// Kind is what starts and stops a pump.
type Kind uint8

// The kinds of pump control.
const (
	Switch Kind = iota // starts at On, stops at Off
	Flow               // starts at On, stops Sleep after the flow has fallen below Still
	Speed              // holds Off at its sensor; sleeps as Flow stops; starts at On
)

// Pump is the pump with its controller.
type Pump struct {
	Element int32
	With    []int32 // pumps alike that run whenever it does
	all     []int32 // Element and With
	Spare   []int32 // pumps alike on standby: they take turns with it, so that one stands for all
	Law     *hydraulics.Pump
	Kind    Kind
	Sensor  int32   // point
	On, Off float64 // heads at the sensor
	Still   float64 // flow below which it is not wanted
	RunOn   float64 // how long it runs on below that

	DryStop float64 // how long it runs without water before it stops
	Retry   float64 // how long it then waits before it tries again

	Rated, At float64 // electrical power [W] at a flow [m³/s] of all that run: see PowerEq
	Idle      float64 // share of Rated taken at no flow
}

// Vessel is a pressure vessel where it stands; hydraulics.Vessel is its law.
type Vessel struct {
	Point  int32
	Z      float64 // height of the point
	Volume float64 // gas and water
	Charge float64 // of the gas, no water in it, absolute [Pa]
	Air    float64 // air pressure [Pa]
}

// Lock is a main-side lock-out: it lets the pump run after its sensor has been below On
// for Wait, and keeps it from running after it has been above Off for Hold.
type Lock struct {
	Sensor  int32
	On, Off float64 // heads
	Wait    float64
	Hold    float64
}

// Outlet is one draw-off: its element ends at a held mouth.
type Outlet struct {
	Tag     string
	Kind    string
	Element int32
	Need    float64 // below half of it the outlet does not serve
}

// Place is a point whose pressure is kept over time.
type Place struct {
	Name  string
	Point int32
	Z     float64
}

// ends are elements by the held points they meet.
type ends struct{ vessel, street, surface, upper []int32 }

// Ready checks a plant and prepares it to be run on; it refuses by part and figure.
func (p *Plant) Ready() error {
	if err := p.check(); err != nil {
		return err
	}
	if p.Vessel != nil {
		points := append([]hydraulics.Point(nil), p.Net.Points()...)
		points[p.Vessel.Point].Held = true
		net, err := hydraulics.NewNet(points, p.Net.Elements())
		if err != nil {
			return err
		}
		p.held = net
	}
	if p.Pump != nil {
		p.Pump.all = append([]int32{p.Pump.Element}, p.Pump.With...)
	}
	p.at = ends{}
	for e, el := range p.Net.Elements() {
		for _, end := range [2]int32{el.From, el.To} {
			switch {
			case p.Vessel != nil && end == p.Vessel.Point:
				p.at.vessel = append(p.at.vessel, int32(e))
			case end == p.Street:
				p.at.street = append(p.at.street, int32(e))
			case p.Store.meets(end):
				p.at.surface = append(p.at.surface, int32(e))
			case p.Header.meets(end):
				p.at.upper = append(p.at.upper, int32(e))
			}
		}
	}
	return nil
}

func (s *Store) meets(point int32) bool {
	for _, at := range s.Surface {
		if at == point {
			return true
		}
	}
	return false
}

// want is one figure that must be so.
type want struct {
	part, field string
	value       float64
	ok          bool
	accept      string
}

func (p *Plant) check() error {
	if p.Net == nil || len(p.Shut) == 0 {
		return fmt.Errorf("day: a circuit and one setting of its valves are needed")
	}
	for i, s := range p.Shut {
		if len(s) != len(p.Net.Elements()) {
			return fmt.Errorf("day: setting %d has %d bits for %d elements", i, len(s), len(p.Net.Elements()))
		}
	}
	list := append(p.Store.wants("store"), p.Header.wants("header tank")...)
	list = append(list, p.Vessel.wants()...)
	list = append(list, p.Pump.wants()...)
	list = append(list, p.Lock.wants()...)
	for _, w := range list {
		if !w.ok || math.IsNaN(w.value) || math.IsInf(w.value, 0) {
			return fmt.Errorf("day: %s: %s is %g: %s is accepted", w.part, w.field, w.value, w.accept)
		}
	}
	return nil
}

func (s *Store) wants(part string) []want {
	if len(s.Surface) == 0 {
		return nil
	}
	return []want{
		{part, "area", s.Area, s.Area > 1e-4 && s.Area < 1e4, "above 0.0001 and below 10000 m²"},
		{part, "level at which the float shuts", s.Shut, s.Shut > s.Low, "above the outlet"},
		{part, "overflow lip", s.Lip, s.Lip > s.Shut, "above the level at which the float shuts"},
		{part, "band of the float", s.Band, s.Band > 1e-3 && s.Band < s.Shut-s.Low, "above 0.001 m and below the depth of the store"},
	}
}

func (v *Vessel) wants() []want {
	if v == nil {
		return nil
	}
	return []want{
		{"vessel", "volume", v.Volume, v.Volume > 1e-5 && v.Volume < 100, "above 0.00001 and below 100 m³"},
		{"vessel", "charge, absolute", v.Charge, v.Charge >= v.Air && v.Charge < 1e8, "at least the air pressure"},
		{"vessel", "air pressure", v.Air, v.Air > 1e4 && v.Air < 2e5, "10 to 200 kPa"},
	}
}

func (p *Pump) wants() []want {
	if p == nil {
		return nil
	}
	return []want{
		{"pump", "start", p.On, p.On < p.Off, "below where it stops"},
		{"pump", "run-on", p.RunOn, p.RunOn >= 0, "0 s or more"},
		{"pump", "time to the dry-run stop", p.DryStop, p.DryStop > 0, "above 0 s"},
		{"pump", "restart delay", p.Retry, p.Retry > 0, "above 0 s"},
		{"pump", "rated flow", p.At, p.At > 0, "above 0 m³/s"},
		{"pump", "rated power", p.Rated, p.Rated >= 0, "0 W or more"},
	}
}

func (l *Lock) wants() []want {
	if l == nil {
		return nil
	}
	return []want{
		{"lock-out", "lower pressure", l.On, l.On < l.Off, "below the higher one"},
		{"lock-out", "time below", l.Wait, l.Wait >= 0, "0 s or more"},
		{"lock-out", "time above", l.Hold, l.Hold >= 0, "0 s or more"},
	}
}

// level is that of v m³ above Low.
func (s *Store) level(v float64) float64 { return s.Low + v/s.Area }

// volume is what stands above Low at a level.
func (s *Store) volume(level float64) float64 { return s.Area * (level - s.Low) }

// Head is the head at the vessel's point with w m³ of water in it.
func (v *Vessel) Head(w float64) float64 {
	return (v.gas().Pressure(w)-v.Air)/circuit.Weight + v.Z
}

// Water is what a vessel holds at a head; 0 below its charge.
func (v *Vessel) Water(head float64) float64 {
	return v.gas().Water((head-v.Z)*circuit.Weight + v.Air)
}

// gas is the vessel as the law knows it.
func (v *Vessel) gas() hydraulics.Vessel {
	return hydraulics.Vessel{Volume: v.Volume, Charge: v.Charge}
}
