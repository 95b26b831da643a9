package appraise

import (
	"math"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/proof"
	"tideover/internal/quantity"
)

// Cases is a job laid out so that any of its cases can be looked at: what a page shows when
// somebody turns a valve.
type Cases struct {
	Assembly *assembly.Assembly
	Space    *proof.Space

	input proof.Input
}

// NewCases lays a job out for looking at its cases. The error is a fault of the input.
func NewCases(in Input) (*Cases, error) {
	a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
	if _, err := layOut(in, a, false); err != nil {
		return nil, err
	}
	given, err := proofInput(in, a, FullProof)
	if err != nil {
		return nil, err
	}
	given.Promises = proof.Promises()
	space, err := proof.NewSpace(&given)
	if err != nil {
		return nil, err
	}
	return &Cases{Assembly: a.Assembly, Space: space, input: given}, nil
}

// Shown is one case worked out, for whoever draws or tells it.
type Shown struct {
	*proof.Replay
	Text      string            // of the case, with the controls in the states shown
	Chosen    string            // of what hands, world and failures are, the controls left to themselves
	Hands     string            // of how the valves stand alone
	Named     string            // the named setting it stands in, or ""
	Near      string            // the named setting fewest movements away
	Positions map[string]string // of every hand-turned part, by tag
	Standing  []Standing        // as the assembly's parts
}

// Look works out one case, given as its text. Controls it does not name are in states that
// stay; where none does, Steady is false. The error says what would be accepted.
func (c *Cases) Look(text string) (*Shown, error) {
	given, err := c.Space.Parse(text)
	if err != nil {
		return nil, err
	}
	if !strings.Contains(text, "pump=") && !strings.Contains(text, "lock=") {
		given, _ = c.Space.Settle(given)
	}
	s := &Shown{Replay: c.Space.Play(given), Text: c.Space.String(given), Named: c.Space.NameOf(given.Setting), Positions: map[string]string{}}
	free := given
	free.Control = c.Space.Normal().Control
	s.Chosen = c.Space.String(free)
	alone := c.Space.Normal()
	alone.Setting = given.Setting
	s.Hands = c.Space.String(alone)
	s.Near, _, _ = strings.Cut(s.Hands, " ")
	for h, hand := range c.Space.Hands {
		s.Positions[hand.Tag] = hand.Positions[given.Setting[h]]
	}
	s.Standing = c.stand(s)
	return s, nil
}

// Origin is whose water is in a part.
type Origin uint8

// The origins. The zero value stands still.
const (
	StandsStill Origin = iota
	OfTheMain
	OfTheStore
	OfTheHome // what stood in the home's pipes, or comes in where they are open
	NoWater
)

// Standing is what is in one part in a case.
type Standing struct {
	Origin Origin
	Flow   quantity.Flow     // positive from the part's port 0 to its port 1
	Speed  quantity.Velocity // in a run of pipe, ≥ 0
	Harm   bool              // a broken promise shows here, or its water comes this way
}

const trickle = float64(quantity.Standing) // [m³/s]

// stand follows the water of a case from part to part.
func (c *Cases) stand(s *Shown) []Standing {
	list := make([]Standing, len(s.Parts))
	if !s.Solved {
		return list
	}
	for i := range s.Parts {
		if q := s.Parts[i].Flow; math.Abs(float64(q)) > trickle {
			list[i].Flow, list[i].Origin = q, OfTheHome
			if law := c.input.Circuit.PipeLaw(i); law != nil {
				list[i].Speed = quantity.Velocity(math.Abs(law.Velocity(float64(q))))
			}
		}
	}
	down, up := c.ways(list)
	for _, from := range []struct {
		kind assembly.Kind
		o    Origin
	}{{assembly.Main, OfTheMain}, {assembly.Store, OfTheStore}} {
		for _, i := range c.Assembly.Of(from.kind) {
			if list[i].Origin != StandsStill {
				list[i].Origin = from.o
			}
			for _, n := range c.along(i, down) {
				list[n].Origin = from.o
			}
		}
	}
	c.air(list, down)
	if s.Case.World.Main == proof.Dry {
		c.drain(list)
	}
	c.harm(s, list, up)
	return list
}

// ways lists, for every part, those its water goes on to and those it comes from.
func (c *Cases) ways(list []Standing) (down, up [][]int) {
	down, up = make([][]int, len(list)), make([][]int, len(list))
	for _, j := range c.Assembly.Joins {
		for _, e := range [2][2]assembly.End{{j.A, j.B}, {j.B, j.A}} {
			if c.passes(e[0], list, 1) && c.passes(e[1], list, -1) {
				down[e[0].Part] = append(down[e[0].Part], e[1].Part)
				up[e[1].Part] = append(up[e[1].Part], e[0].Part)
			}
		}
	}
	return down, up
}

// passes reports whether water leaves a part at a port (sign 1) or enters it there (−1).
// What joins more than two pipes lets water through any way its neighbours take it.
func (c *Cases) passes(e assembly.End, list []Standing, sign float64) bool {
	p := &c.Assembly.Parts[e.Part]
	out := sign * float64(list[e.Part].Flow)
	switch {
	case p.Kind == assembly.Store || len(p.Ports) > 2:
		return true
	case p.Kind == assembly.Outlet || p.Kind == assembly.Drain:
		return out < -trickle
	case p.Kind == assembly.Main:
		return out > trickle
	case len(p.Ports) < 2:
		return false
	case e.Port == 0:
		return out < -trickle
	}
	return out > trickle
}

// along lists the parts that water from part i reaches, or with the ways turned round, those
// it came by. A store's surface ends the way.
func (c *Cases) along(i int, ways [][]int) []int {
	been := map[int]bool{i: true}
	var list []int
	for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
		if p := &c.Assembly.Parts[queue[0]]; p.Kind == assembly.Store && queue[0] != i {
			continue
		}
		for _, n := range ways[queue[0]] {
			if !been[n] {
				been[n] = true
				queue, list = append(queue, n), append(list, n)
			}
		}
	}
	return list
}

// air marks the pipes that an open tap lets air into.
func (c *Cases) air(list []Standing, down [][]int) {
	for _, i := range c.Assembly.Of(assembly.Outlet) {
		if list[i].Origin != OfTheHome || list[i].Flow >= 0 || c.Assembly.Parts[i].Under {
			continue
		}
		for _, n := range append(c.along(i, down), i) {
			if list[n].Origin == OfTheHome {
				list[n].Origin = NoWater
			}
		}
	}
}

// drain empties what lies between a dry main and the first part that can hold water back.
func (c *Cases) drain(list []Standing) {
	for _, i := range c.Assembly.Of(assembly.Main) {
		for queue := []int{i}; len(queue) > 0; queue = queue[1:] {
			at := queue[0]
			if list[at].Origin != StandsStill {
				continue
			}
			list[at].Origin = NoWater
			for port := range c.Assembly.Parts[at].Ports {
				other, met := c.Assembly.Meets(assembly.End{Part: at, Port: port})
				if !met {
					continue
				}
				switch c.Assembly.Parts[other.Part].Kind {
				case assembly.Run, assembly.Meter, assembly.Strainer, assembly.Regulator:
					queue = append(queue, other.Part)
				}
			}
		}
	}
}

// harm marks where a broken promise shows, and the way its water takes to there.
func (c *Cases) harm(s *Shown, list []Standing, up [][]int) {
	for _, a := range s.Answers {
		at := c.Assembly.Index(a.Judgement.Where)
		if a.Judgement.Outcome != proof.Broken || at < 0 || !a.OfCase() {
			continue
		}
		list[at].Harm = true
		if a.About.Kind != proof.Sign {
			continue
		}
		for _, n := range c.along(at, up) {
			list[n].Harm = true
		}
	}
}
