package proof

import (
	"context"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/words"
)

// planner finds orders of hand movements.
type planner struct {
	s      *Space
	safety []Promise
	result []*Result // of each, in the proof
	before []int     // per hand: of a spool, the hand of the valve before it; else −1
	drain  []bool    // per hand: it lets water out, and is turned only where the goal asks it
	pumped bool
	empty  bool // the goal is the pipework drained down
	heated bool // there is a water heater
	water  *water
	known  map[uint64]uint64 // by standing: the safety promises broken there, as bits
}

// planner gathers what a search needs. It is false where the proof did not cover every
// setting: an order could lead through one that nobody looked at.
func (r *Report) planner(in Input) (*planner, bool) {
	s := r.Space
	p := &planner{s: s, water: newWater(s, newMemo()), known: map[uint64]uint64{}, pumped: s.in.Circuit.Pump() >= 0}
	p.heated = len(s.in.Assembly.Of(assembly.Heater)) > 0
	for _, h := range s.Hands {
		p.drain = append(p.drain, s.in.Assembly.Parts[h.Part].Kind == assembly.Drain)
		p.before = append(p.before, s.before(h.Part))
	}
	if s.in.Cards || s.standings() > 1<<61 {
		return p, false
	}
	for _, promise := range in.promises() {
		about := promise.About()
		res := r.Of(about.ID)
		if !about.Safety || about.Spread != EveryCase || res == nil || res.Verdict == NotJudged {
			continue
		}
		if res.Covered < 1 {
			return p, false
		}
		p.safety, p.result = append(p.safety, promise), append(p.result, res)
	}
	return p, len(p.safety) <= 64
}

// before is the hand of the valve that meets a spool's inlet; −1 where none does, or the
// part is no spool.
func (s *Space) before(part int) int {
	if s.in.Assembly.Parts[part].Kind != assembly.Spool {
		return -1
	}
	o, _ := s.in.Assembly.Meets(assembly.End{Part: part})
	for h := range s.Hands {
		if s.Hands[h].Part == o.Part && s.in.Assembly.Parts[o.Part].Kind == assembly.HandValve {
			return h
		}
	}
	return -1
}

// TellUnlooked says which safety promises the orders of movements were not held to, for
// nobody could judge them; "" where they were held to all.
func (r *Report) TellUnlooked() string {
	var list []string
	for i := range r.Results {
		x := &r.Results[i]
		if x.About.Safety && x.Verdict == NotJudged && !x.NeverArises() {
			list = append(list, words.Say("promise."+x.About.ID+".title", nil))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return words.Say("proof.unlooked", words.Args{"list": strings.Join(list, ", ")})
}

// harm returns the safety promises that some case of a standing breaks, as bits. Where no
// guard is set the proof has said so; a guard leaves fewer cases, and they are judged anew.
// So is a standing with several drains open, which the proof did not try.
func (p *planner) harm(s standing) uint64 {
	key := p.key(s)
	if broken, been := p.known[key]; been {
		return broken
	}
	broken := uint64(0)
	for k, res := range p.result {
		if p.s.crowded(s.at) && p.breaks(k, s) || res.unsafeIn(s.at) && (s.guard == 0 || p.breaks(k, s)) {
			broken |= 1 << k
		}
	}
	p.known[key] = broken
	return broken
}

// unsafeIn reports whether a setting breaks the promise with nothing failed.
func (r *Result) unsafeIn(setting []uint8) bool {
boxes:
	for _, box := range r.Unsafe {
		for h, at := range setting {
			if box[h]>>at&1 == 0 {
				continue boxes
			}
		}
		return true
	}
	return false
}

// judge judges every safety promise in a standing again, without what the proof has found.
func (p *planner) judge(s standing) uint64 {
	broken := uint64(0)
	for k := range p.safety {
		if p.breaks(k, s) {
			broken |= 1 << k
		}
	}
	return broken
}

// breaks reports whether a promise is broken in any case of a standing with nothing failed.
// With the plug pulled the pump stands; with the taps looked at nothing is drawn.
func (p *planner) breaks(k int, s standing) bool { return p.breaksWith(k, s, 0) }

// breaksWith is the same with what fails in one of the space's cases of failure; 0 is nothing.
func (p *planner) breaksWith(k int, s standing, failed int) bool {
	mask := make([]uint64, len(p.s.all))
	mask[failed>>6] = 1 << (failed & 63)
	o := newOracle(p.s, false, mask, 0)
	for h, at := range s.at {
		o.start.open[h] = 1 << at
	}
	n := len(p.s.Hands)
	if s.guard&Unplugged != 0 {
		o.start.open[n+vPump] = 1 << circuit.Standing
	}
	if s.guard&TapsShut != 0 {
		o.start.open[n+vDraw] = 1 << DrawNone
	}
	o.w = p.water
	o.w.undo(-1) // the water followed last was another standing's, and its forks are not this one's
	w := newWalk(o, p.safety[k], DefaultBudget)
	for o.begin(); ; o.begin() {
		if w.judge().Outcome == Broken {
			return true
		}
		if !o.next() {
			return false
		}
	}
}

// cancelled keeps a search from asking the context at every step.
func cancelled(ctx context.Context, n int) bool { return n%256 == 0 && ctx.Err() != nil }
