package proof

import (
	"math"
	"math/rand/v2"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
)

// plainNet answers a judgement's questions for one complete case from the whole net: every
// element's bit from the circuit's own State, Strike and Breathe, one solve of everything,
// and reach by walking all paths. It shares no reduction with the engine.
type plainNet struct {
	o      *oracle
	s      *Space
	net    *hydraulics.Net
	state  *hydraulics.State
	ans    *hydraulics.Answer
	work   *hydraulics.Work
	solved bool
	err    error
	rested bool
}

// newBrutes returns what makes an oracle for plain solving of one case at a time. All share
// their buffers: each is done with before the next is made.
func newBrutes(s *Space) func(c Case) *oracle {
	net := s.in.Circuit.Net
	state, ans, work, w := net.NewState(), net.NewAnswer(), net.NewWork(), newWater(s, newMemo())
	return func(c Case) *oracle {
		o := newOracle(s, false, s.all, 0)
		o.start = s.boxOf(c)
		if len(c.Mishaps) > 1 {
			o.fixed = c.Mishaps[0] + 1
		}
		o.w = w
		o.begin()
		for e := range state.Opening {
			state.Opening[e] = 1
		}
		for p := range state.Held {
			state.Held[p] = net.Points()[p].Z
		}
		b := &plainNet{o: o, s: s, net: net, state: state, ans: ans, work: work}
		o.plainly = b
		b.write(c)
		return o
	}
}

// write puts the case into a state, hands first, then the world, then what has failed.
func (b *plainNet) write(c Case) {
	ci, a := b.s.in.Circuit, b.s.in.Assembly
	tags := map[string]string{}
	at := append([]uint8(nil), c.Setting...)
	for k := range c.Mishaps { // the tags change bodies one swap after the other, and the positions go with the tags
		if sw := &b.s.Mishaps[c.Mishaps[k]]; sw.Swap {
			var f, g int
			for h := range b.s.Hands {
				if b.s.Hands[h].Part == sw.Parts[0] {
					f = h
				}
				if b.s.Hands[h].Part == sw.Parts[1] {
					g = h
				}
			}
			at[f], at[g] = at[g], at[f]
		}
	}
	for h := range b.s.Hands {
		tags[b.s.Hands[h].Tag] = b.s.Hands[h].Positions[at[h]]
	}
	off, err := ci.Shut(tags)
	if err != nil {
		panic(err)
	}
	copy(b.state.Off, off)
	for h := range b.s.Hands {
		if b.s.Hands[h].Positions[at[h]] == "between" {
			for _, e := range ci.Opens(b.s.Hands[h].Part, "between") {
				b.state.Opening[e] = 0.5
			}
		}
	}
	b.state.Held[ci.StreetPoint()] = b.s.Mains[c.World.Main]
	for _, p := range ci.SurfacePoints() {
		b.state.Held[p] = b.s.Levels[c.World.Store]
	}
	for _, p := range ci.UpperPoints() {
		b.state.Held[p] = b.s.Uppers[c.World.Header]
	}
	top := math.Inf(-1)
	one := -1
	for _, i := range ci.Outlets {
		if z := float64(a.Parts[i].Ports[0].Z); z >= top {
			top, one = z, i
		}
	}
	for _, i := range ci.Outlets {
		b.state.Off[ci.ElementOf(i)] = !(c.World.Draw == DrawMany || c.World.Draw == DrawOne && i == one)
	}
	if e, _ := ci.Burst(); e >= 0 {
		b.state.Off[e] = c.World.Draw != DrawBurst
	}
	for _, i := range a.Of(assembly.FloatValve) {
		b.state.Off[ci.ElementOf(i)] = c.World.Store == Full
		if h := a.Header(); h >= 0 && a.Fills(i) == h {
			b.state.Off[ci.ElementOf(i)] = c.World.Header == Full
		}
	}
	for _, p := range ci.Pumps() {
		b.state.Off[ci.ElementOf(p)] = ci.Store && c.World.Store == Empty
		b.state.Opening[ci.ElementOf(p)] = 0
		if b.o.runs(ci.ElementOf(p)) {
			b.state.Opening[ci.ElementOf(p)] = 1
		}
	}
	for _, e := range ci.Backs {
		b.state.Off[e] = !c.World.Back
	}
	for _, m := range c.Mishaps {
		b.s.Mishaps[m].Strike(b.state)
	}
	for _, air := range ci.Airs {
		b.state.Off[air.Entry] = b.state.Off[air.Mouth]
	}
}

func (b *plainNet) solve() {
	if b.solved {
		b.o.solved = b.err == nil
		return
	}
	b.solved = true
	ci := b.s.in.Circuit
	if p := ci.Pump(); p >= 0 && b.o.pumping() == circuit.Holding && !b.state.Off[ci.ElementOf(p)] {
		k := ci.ControlOf()
		z := b.s.in.Assembly.Parts[k.Senses.Part].Ports[k.Senses.Port].Z
		b.err = b.net.HoldTogether(b.state, b.ans, b.work, b.o.running(), ci.PointOf(k.Senses.Part, k.Senses.Port), circuit.HeadOf(k.Off, z))
	} else {
		b.err = b.net.Solve(b.state, b.ans, b.work)
	}
	b.o.solved = b.err == nil
}

func (b *plainNet) flow(part int) float64 {
	b.solve()
	w := &water{s: b.s, ans: b.ans, fine: b.err == nil}
	return w.through(part)
}

// flowTight: a complete case leaves no drain to be guessed.
func (b *plainNet) flowTight(part int) (float64, bool) {
	q := b.flow(part)
	return q, b.o.solved
}

func (b *plainNet) head(point int32) Interval {
	b.solve()
	if !b.rested && b.err == nil {
		b.rested = true
		ever := *b.s.ever
		ever.Off, ever.Opening = append([]bool(nil), ever.Off...), append([]float64(nil), ever.Opening...)
		for e := range b.state.Off {
			if b.s.rules[e].nature == never && !b.state.Off[e] {
				ever.Off[e] = false
			}
		}
		if p := b.s.in.Circuit.Pump(); p >= 0 {
			ever.Opening[b.s.in.Circuit.ElementOf(p)] = b.s.stops
			if b.o.upset(circuit.PumpAlwaysRuns) && b.s.in.Circuit.Store {
				ever.Opening[b.s.in.Circuit.ElementOf(p)] = 1
			}
		}
		b.err = b.net.Rest(b.state, &ever, b.ans, b.work)
		b.o.solved = b.err == nil
	}
	return Interval{b.ans.Low[point], b.ans.High[point]}
}

// enters lists the points one step upstream of v along passing elements.
func (b *plainNet) enters(v int32, visit func(e, u int32, running bool)) {
	for e, el := range b.net.Elements() {
		pump := b.s.rules[e].pump
		running := pump && b.state.Opening[e] > 0
		if b.state.Off[e] {
			continue
		}
		if el.To == v {
			visit(int32(e), el.From, running)
		}
		if el.From == v && !el.OneWay && !running {
			visit(int32(e), el.To, false)
		}
	}
}

func (b *plainNet) upstream(point, goal int32, asked Source) Source {
	if b.net.Points()[point].Held && goal < 0 {
		return b.kindOf(-1, point) & asked
	}
	seen := map[int32]bool{point: true}
	var set Source
	var visit func(v int32)
	visit = func(v int32) {
		b.enters(v, func(e, u int32, running bool) {
			if running {
				set |= Pumped & asked
			}
			if u == goal {
				set |= 1 << 7
			}
			if !b.net.Points()[u].Held {
				if !seen[u] {
					seen[u] = true
					visit(u)
				}
				return
			}
			set |= b.kindOf(e, u) & asked
		})
	}
	visit(point)
	if goal >= 0 {
		return set >> 7
	}
	return set
}

func (b *plainNet) kindOf(e, u int32) Source {
	ci, w := b.s.in.Circuit, b.o.open[len(b.s.Hands):]
	if u == ci.StreetPoint() {
		if w[vMain]&(1<<Good|1<<Weak|1<<High) != 0 {
			return Street
		}
		return 0
	}
	for _, p := range ci.SurfacePoints() {
		if u == p {
			if w[vStore]&(1<<Empty) != 0 {
				return 0
			}
			return Stored
		}
	}
	for _, p := range ci.UpperPoints() {
		if u == p {
			if w[vHeader]&(1<<Empty) != 0 {
				return 0
			}
			return Stored
		}
	}
	for _, a := range ci.Airs {
		if a.Entry == e {
			return Air
		}
	}
	for k := range b.s.Mishaps {
		if m := &b.s.Mishaps[k]; m.ID == "hose-in-bucket" {
			for _, o := range m.Opens {
				if o == e {
					return Foreign
				}
			}
		}
	}
	return 0
}

func (b *plainNet) most(point int32) float64 {
	top, lifted := b.top(point)
	if lifted != 0 {
		ci := b.s.in.Circuit
		for k, p := range ci.Pumps() {
			if in, _ := b.top(ci.PointOf(p, 0)); lifted>>k&1 != 0 && !math.IsInf(in, -1) {
				top = math.Max(top, in+ci.PumpLaw().ShutOff(1))
			}
		}
	}
	return top
}

func (b *plainNet) top(point int32) (top float64, lifted uint8) {
	if b.net.Points()[point].Held {
		return b.state.Held[point], 0
	}
	top = math.Inf(-1)
	seen := map[int32]bool{point: true}
	var visit func(v int32)
	visit = func(v int32) {
		b.enters(v, func(e, u int32, running bool) {
			switch {
			case running:
				lifted |= 1 << b.s.rules[e].which
			case b.net.Points()[u].Held:
				top = math.Max(top, b.state.Held[u])
			case !seen[u]:
				seen[u] = true
				visit(u)
			}
		})
	}
	visit(point)
	return top, lifted
}

func (b *plainNet) runsOut(point int32) bool {
	ci := b.s.in.Circuit
	seen, out := map[int32]bool{point: true}, false
	var visit func(v int32)
	visit = func(v int32) {
		for e, el := range b.net.Elements() {
			if b.state.Off[e] {
				continue
			}
			u := int32(-1)
			running := b.s.rules[e].pump && b.state.Opening[e] > 0
			if el.From == v {
				u = el.To
			} else if el.To == v && !el.OneWay && !running {
				u = el.From
			}
			if u < 0 || seen[u] {
				continue
			}
			if b.net.Points()[u].Held {
				surface := false
				for _, p := range append(ci.UpperPoints(), ci.SurfacePoints()...) {
					surface = surface || p == u
				}
				out = out || u != ci.StreetPoint() && !surface
				continue
			}
			seen[u] = true
			visit(u)
		}
	}
	visit(point)
	return out
}

// drawn is one case drawn at random from a start box.
func drawn(s *Space, start box, r *rand.Rand) Case {
	n := len(s.Hands)
	pick := func(d uint8) uint8 {
		for {
			if k := uint8(r.IntN(8)); d>>k&1 != 0 {
				return k
			}
		}
	}
	c := Case{Setting: make([]uint8, n)}
	for h := range c.Setting {
		c.Setting[h] = pick(start.open[h])
	}
	s.oneDrain(c.Setting, start, r)
	for v := range worldly {
		c.put(v, pick(start.open[n+v]))
	}
	var may []int
	for m := 0; m <= len(s.Mishaps); m++ {
		if start.failed[m/64]>>(m%64)&1 != 0 {
			may = append(may, m)
		}
	}
	if m := may[r.IntN(len(may))]; m > 0 {
		c.Mishaps = []int{m - 1}
	}
	return c
}

// oneDrain leaves at most one drain moved of those that a start box leaves open.
func (s *Space) oneDrain(at []uint8, start box, r *rand.Rand) {
	for _, k := range r.Perm(len(s.drains)) {
		if h := s.drains[k]; s.crowded(at) && start.open[h]&s.normal[h] != 0 {
			at[h] = s.Hands[h].Normal
		}
	}
}

// lies reports whether a complete case lies in the box now open.
func (o *oracle) lies(b box) bool {
	for v := range o.open {
		if o.open[v]&b.open[v] == 0 {
			return false
		}
	}
	for k := range o.failed {
		if o.failed[k]&b.failed[k] != 0 {
			return true
		}
	}
	return false
}
