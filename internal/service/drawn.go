package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Origin says where the water in a part comes from.
type Origin uint8

// The origins. The zero value stands still.
const (
	Standstill Origin = iota
	TheMain
	TheStore
)

// Water is what one part carries in one setting.
type Water struct {
	Origin Origin
	Flow   quantity.Flow     // positive from the part's port 0 to its port 1
	Speed  quantity.Velocity // in a run of pipe, ≥ 0
}

// Drawn is how water moves in one named setting with the simultaneous draw-off open: on
// the main at its usual pressure where the setting lets the main serve, else on the
// store with the main off. Where neither serves, all water stands.
type Drawn struct {
	Setting string
	Mode    string // "on-main", "on-store", "emergency", or "" where nothing moves
	Parts   []Water
}

// drawn works out every named setting, for the drawings: the base run only.
func (a *run) drawn() {
	if !a.in.Record || !a.in.DemandKnown {
		return
	}
	for i := range a.ci.Assembly.Settings {
		d := Drawn{Setting: a.name(i), Parts: make([]Water, len(a.ci.Assembly.Parts))}
		k := circuit.Case{Setting: i, Level: a.in.Low, Open: a.open}
		m := Mode{}
		switch main, store := a.s.Serves(i); {
		case main && store && a.splitHome(): // each serves outlets of its own
			m.ID, k.Main, m.Pumped = "on-main", a.in.Main.Usual, a.ci.Pump() >= 0
			k.Lifting = true
		case i == a.emergency && main:
			m.ID, k.Main = assembly.Emergency, a.in.Main.Usual
		case main:
			m.ID, k.Main, m.Pumped = "on-main", a.in.Main.Usual, a.boosts()
		case store:
			m.ID, k.MainOff, m.Pumped = "on-store", true, a.ci.Pump() >= 0
			k.Lifting = true // what falls from a header tank the pump lifts again
		}
		if m.ID != "" && a.opened(&m, &k) {
			d.Mode = m.ID
			a.carried(&d)
		}
		a.r.Drawn = append(a.r.Drawn, d)
	}
	clear(a.open)
}

// opened solves a case with the simultaneous draw-off open.
func (a *run) opened(m *Mode, k *circuit.Case) bool {
	clear(a.open)
	list := a.picks(m.ID)
	if a.splitHome() {
		list = append(a.picks("on-main"), a.picks("on-store")...)
	}
	for _, n := range list {
		a.open[n] = true
	}
	a.solve(m, k)
	return a.s.OK()
}

// carried reads flows, speeds and origins off the case just solved. Water keeps its
// origin from part to part along joins for as long as it moves.
func (a *run) carried(d *Drawn) {
	parts := a.ci.Assembly.Parts
	next := make([][]int, len(parts))
	for _, j := range a.ci.Assembly.Joins {
		next[j.A.Part] = append(next[j.A.Part], j.B.Part)
		next[j.B.Part] = append(next[j.B.Part], j.A.Part)
	}
	for i := range parts {
		d.Parts[i].Flow = a.s.Flow(i)
		if law := a.ci.PipeLaw(i); law != nil {
			d.Parts[i].Speed = quantity.Velocity(math.Abs(law.Velocity(float64(d.Parts[i].Flow))))
		}
	}
	for i := range parts {
		switch parts[i].Kind {
		case assembly.Main:
			spreadFrom(i, TheMain, parts, next, d.Parts)
		case assembly.Store:
			spreadFrom(i, TheStore, parts, next, d.Parts)
		}
	}
}

// spreadFrom gives an origin to every part that moving water reaches from part i.
// Tees carry water when a neighbour does; they have no flow of their own.
func spreadFrom(i int, o Origin, parts []assembly.Part, next [][]int, water []Water) {
	seen := map[int]bool{i: true}
	for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
		for _, n := range next[queue[0]] {
			still := parts[n].Kind != assembly.Tee && !water[n].Flow.Moves()
			if seen[n] || still {
				continue
			}
			seen[n] = true
			water[n].Origin = o
			queue = append(queue, n)
		}
	}
}
