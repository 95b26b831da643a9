package drawing

import (
	"math"
	"sort"
)

// Where the pipes of a store meet its tanks [mm].
const (
	tankLid    = 6.0  // from the pipe that fills a store to its lid
	tankHigh   = 21.0 // of a tank whose height no row settles
	tankLeast  = 14.0 // least height of a tank
	tankMost   = 40.0 // and its greatest: a lower pipe hangs from its foot
	tankHeel   = 1.6  // from the pipe that leaves a tank to its bottom
	levelAt    = 6.4  // from a tank's right wall to its level switch
	levelStem  = 1.2
	levelReach = levelStem + 2*eyeR + 6.4 // of a level switch with its tag under a tank
	riserAt    = 4.0                      // above the bottom, where a pipe that climbs leaves a tank
)

// portAt is the port of a node's part that a strand meets.
func (g *graph) portAt(id, n int) int {
	if s := &g.strands[id]; s.from == n {
		return s.fromPort
	}
	return g.strands[id].toPort
}

// tankLeft is the left wall of the i-th tank from the left.
func (g *graph) tankLeft(n, i int) float64 {
	return g.nodes[n].x + 5 + float64(i)*(tankWide+tankApart)
}

func (g *graph) lastWall(n int) float64 { return g.tankLeft(n, g.tanks(n)-1) + tankWide }

// mouth is where a float valve lets its water fall: over the tank it comes to first.
func (g *graph) mouth(n int, s *strand) float64 {
	place := 0
	for _, id := range g.nodes[n].strands {
		if o := &g.strands[id]; g.portAt(id, n) == air && o.y > s.y {
			place++
		}
	}
	if s.from == n {
		return g.lastWall(n) - 3.6 - 2*float64(place)
	}
	return g.tankLeft(n, 0) + 3.6 + 2*float64(place)
}

// tankTop is a store's lid: under the pipes that fill it.
func (p *plan) tankTop(n int) float64 {
	top, lowest := math.Inf(-1), math.Inf(1)
	for _, id := range p.g.nodes[n].strands {
		y := p.g.strands[id].y
		if p.g.portAt(id, n) == air {
			top = max(top, y+tankLid)
		} else {
			lowest = min(lowest, y)
		}
	}
	if math.IsInf(top, -1) {
		return lowest + tankHeel - tankHigh
	}
	return top
}

// tankFoot is a store's bottom: just under the first pipe that leaves it low enough.
func (p *plan) tankFoot(n int) float64 {
	top := p.tankTop(n)
	for _, side := range []bool{true, false} {
		foot := math.Inf(1)
		for _, id := range p.g.nodes[n].strands {
			s := &p.g.strands[id]
			if p.g.portAt(id, n) != air && (s.from == n) == side && s.y >= top+tankLeast && s.y < top+tankMost {
				foot = min(foot, s.y+tankHeel)
			}
		}
		if !math.IsInf(foot, 1) {
			return foot
		}
	}
	return top + tankHigh
}

// metFromLeft reports whether a pipe comes to a store's tanks from the left.
func (p *plan) metFromLeft(n int) bool {
	for _, id := range p.g.nodes[n].strands {
		if p.g.strands[id].to == n && p.g.portAt(id, n) != air {
			return true
		}
	}
	return false
}

// docked lists the strands that meet a store's tanks on one side, from the top down.
func (p *plan) docked(n int, right bool) []int {
	var list []int
	for _, id := range p.g.nodes[n].strands {
		if p.g.portAt(id, n) != air && (p.g.strands[id].from == n) == right {
			list = append(list, id)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return p.g.strands[list[i]].y < p.g.strands[list[j]].y })
	return list
}

// dock is where the line of a strand ends beside a store, and the way from there to a
// tank: straight through a wall; up to the foot of a tank, the next tank for the next
// strand below; or, from above, down beside the last tank.
func (p *plan) dock(n int, s *strand) (x float64, path []float64) {
	g, foot := p.g, p.tankFoot(n)
	right := s.from == n
	wall, side := g.tankLeft(n, 0), -1.0
	if right {
		wall, side = g.lastWall(n), 1
	}
	high, low, risers := 0, 0, 0
	before := true
	for _, id := range p.docked(n, right) {
		before = before && &g.strands[id] != s
		switch climbs := g.strands[id].y < foot-tankHeel-0.01; {
		case climbs && before:
			high, risers = high+1, risers+1
		case climbs:
			risers++
		case before:
			low++
		}
	}
	switch {
	case s.y < foot-tankHeel-0.01:
		x = wall + side*(1.2+1.2*float64(high))
		if !right {
			x -= 0.8 // clear of the lid
		}
		link := foot - riserAt - 1.2*float64(risers-1-high)
		return x, []float64{x, s.y, x, link, wall, link}
	case s.y < foot:
		return wall, nil
	case right:
		x = g.tankLeft(n, max(0, g.tanks(n)-1-low)) + tankWide - 2.6 - 2.4*float64(max(0, low-g.tanks(n)+1))
	default:
		x = wall + 0.9 + 1.2*float64(low)
	}
	return x, []float64{x, s.y, x, foot}
}

// tankReach is how high and how low a store's tanks, lids, vents and drains reach.
func (p *plan) tankReach(n int) (top, bottom float64) {
	bottom = p.tankFoot(n) + 0.5
	if len(p.drains[n]) > 0 {
		bottom += drainLen
	}
	if p.levels[n] > 0 {
		bottom = p.tankFoot(n) + levelReach
	}
	return p.tankTop(n) - 3.5, bottom
}
