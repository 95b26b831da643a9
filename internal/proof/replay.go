package proof

import (
	"tideover/internal/quantity"
)

// Replay is one case, everything decided, with all its figures.
type Replay struct {
	Case    Case
	Steady  bool     // the controls stay in the states the case names
	Solved  bool     // every circuit of it was solved and certified
	Boils   []string // tags of parts where no water can stand at the pressures told: its column parts there
	Parts   []Played // as the assembly's parts
	Answers []Answer // as the promises
}

// Played is what a part does in a case.
type Played struct {
	Tag       string
	Flow      quantity.Flow
	Pressures []Interval // per port [Pa]
}

// Answer is what a promise says of a case.
type Answer struct {
	About     About
	Judgement Judgement
}

// one is an oracle for one case alone. Certificates are by independent laws.
func (s *Space) one(c Case) *oracle {
	o := newOracle(s, false, s.all, 0)
	o.start = s.boxOf(c)
	if len(c.Mishaps) > 1 {
		o.fixed = c.Mishaps[0] + 1
	}
	o.w = newWater(s, newMemo())
	o.w.work.Quick = false
	o.begin()
	return o
}

// Of judges one promise in one case. In a case whose controls would not stay as it names
// them nothing is judged: the outcome is Silent, as in a proof.
func (s *Space) Of(p Promise, c Case) Judgement {
	o := s.one(c)
	w := newWalk(o, p, 1)
	if w.about.Spread == SomeNamed {
		w.about.Spread = EveryCase // of this setting alone
	}
	o.begin()
	return w.judge()
}

// Play works out all figures of one case.
func (s *Space) Play(c Case) *Replay {
	o := s.one(c)
	r := &Replay{Case: c, Solved: true}
	for i := range s.in.Assembly.Parts {
		p := &s.in.Assembly.Parts[i]
		played := Played{Tag: p.Tag, Flow: quantity.Flow(o.flow(i))}
		r.Solved = r.Solved && o.solved
		for k := range p.Ports {
			played.Pressures = append(played.Pressures, o.felt(i, k))
			r.Solved = r.Solved && o.solved
		}
		r.Parts = append(r.Parts, played)
	}
	r.Steady = o.steady()
	r.Boils = s.boils(r.Parts)
	for _, p := range s.in.Promises {
		r.Answers = append(r.Answers, Answer{p.About(), s.figured(p, c)})
	}
	return r
}

// figured judges one promise in one case and works out the figure that a proof over many
// cases leaves out: litres that fall back, millimetres left of a gap.
func (s *Space) figured(p Promise, c Case) Judgement {
	j := s.Of(p, c)
	m, can := p.(Measurer)
	if !can || j.Outcome != Kept && j.Outcome != Broken {
		return j
	}
	return m.Measure(&View{s.one(c)})
}

// boils lists the parts at which water would have to stand below its vapour pressure for
// the figures to hold, doubt aside. There the column parts.
func (s *Space) boils(played []Played) []string {
	least := s.suction() - 100 // a millibar for the column that the street's own suction lifts
	var tags []string
	for i := range played {
		for _, at := range played[i].Pressures {
			if at.High < least {
				tags = append(tags, played[i].Tag)
				break
			}
		}
	}
	return tags
}

// ReplayCase reads a case from text and works it out.
func ReplayCase(in Input, text string) (*Space, *Replay, error) {
	if in.Promises == nil {
		in.Promises = Promises()
	}
	s, err := NewSpace(&in)
	if err != nil {
		return nil, nil, err
	}
	c, err := s.Parse(text)
	if err != nil {
		return nil, nil, err
	}
	return s, s.Play(c), nil
}
