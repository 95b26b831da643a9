package hydraulics

import (
	"fmt"
	"math"
	"slices"
)

// Net is a circuit, immutable once made: points and elements in the caller's order, with
// every way of every valve present. Many goroutines may solve on one Net, each with its
// own Work and Answer.
type Net struct {
	points   []Point
	elements []Element
	held     []bool     // per point
	fixed    []int32    // the held points
	pumps    []int32    // the pumps that something passes when they stand, but not when they run
	sets     []int32    // the reducers that have a set head of their own
	ends     [][2]int32 // per element

	link, linkTo []int32 // elements at each point, as a compressed list
	album        *album  // shared with nets made Like it

	ways   []law     // per element, what is asked of its law looked up once
	smooth []float64 // per element, the 1/√f a cold solve starts from
}

// law is an element's law with what the solver asks of it every time looked up once.
type law struct {
	drop    Law
	closer  Closer    // nil: never shut by its opening
	pump    *Pump     // nil: no pump
	pipe    *Pipe     // nil: no pipe
	square  quadratic // fully open, where kind says it is a square
	kind    kind
	oneWay  bool
	adds    bool // adds head when it runs: a pump
	opens   float64
	typical float64 // flow at which a cold solve starts [m³/s]
	chord   float64 // of a pipe, and of a square fully open: head over flow there [s/m²]
}

// start is the flow a cold solve starts from where the law does not say [m³/s].
const start = 1e-4

// NewNet checks a circuit. It refuses, by the part's name: a part that joins
// a point to itself or to one that is not there, a missing law or one that
// the certificate does not know, heights or opening heads
// that are not numbers, and a circuit in which no head is held anywhere.
func NewNet(points []Point, elements []Element) (*Net, error) { return newNet(points, elements, nil) }

// Like makes a net of other figures, as NewNet does. Where it is joined as n is, what has
// been worked out of n's layouts serves it too, and the other way round; its answers are
// to the last bit those of a net by itself.
func (n *Net) Like(points []Point, elements []Element) (*Net, error) {
	return newNet(points, elements, n)
}

func newNet(points []Point, elements []Element, like *Net) (*Net, error) {
	n := &Net{
		points:   append([]Point(nil), points...),
		elements: append([]Element(nil), elements...),
	}
	if err := n.check(); err != nil {
		return nil, err
	}
	n.held, n.ends = make([]bool, len(points)), make([][2]int32, len(elements))
	for i, p := range n.points {
		if n.held[i] = p.Held; p.Held {
			n.fixed = append(n.fixed, int32(i))
		}
	}
	n.ways, n.smooth = make([]law, len(elements)), make([]float64, len(elements))
	for i, e := range n.elements {
		n.ends[i] = [2]int32{e.From, e.To}
		n.ways[i] = wayOf(e, &n.smooth[i])
		if p := n.ways[i].pump; p != nil && !e.OneWay && p.passage != nil {
			n.pumps = append(n.pumps, int32(i))
		}
		if r, is := e.Law.(*Reducer); is && r.own {
			n.sets = append(n.sets, int32(i))
		}
	}
	if like != nil && n.joinedAs(like) {
		n.link, n.linkTo, n.album = like.link, like.linkTo, like.album
		return n, nil
	}
	n.join()
	n.album = newAlbum(n)
	return n, nil
}

// joinedAs reports whether two circuits differ in figures alone.
func (n *Net) joinedAs(m *Net) bool {
	return slices.Equal(n.ends, m.ends) && slices.Equal(n.held, m.held) && slices.Equal(n.pumps, m.pumps) &&
		slices.EqualFunc(n.ways, m.ways, func(a, b law) bool { return a.oneWay == b.oneWay && (a.pump == nil) == (b.pump == nil) })
}

func (n *Net) check() error {
	held := false
	for i, p := range n.points {
		if math.IsNaN(p.Z) || math.IsInf(p.Z, 0) || math.Abs(p.Z) > 1e5 {
			return &Refusal{named("point", i, p.Name), "height", p.Z, "within 100000 m of the datum"}
		}
		held = held || p.Held
	}
	if !held {
		return fmt.Errorf("hydraulics: no point of %d has its head held: nothing says what the pressures are", len(n.points))
	}
	for i, e := range n.elements {
		part := named("element", i, e.Name)
		for _, end := range [2]int32{e.From, e.To} {
			if end < 0 || int(end) >= len(n.points) {
				return &Refusal{part, "end", float64(end), fmt.Sprintf("a point, 0 to %d", len(n.points)-1)}
			}
		}
		switch {
		case e.From == e.To:
			return fmt.Errorf("hydraulics: %s: both ends are at point %s: a part must join two points", part, named("point", int(e.From), n.points[e.From].Name))
		case e.Law == nil:
			return fmt.Errorf("hydraulics: %s: has no law of flow and head", part)
		case !certified(e.Law):
			return fmt.Errorf("hydraulics: %s: the certificate has no form of its own for its law (%T): no answer with it could be judged", part, e.Law)
		case !(e.Opens >= 0 && e.Opens <= 1000):
			return &Refusal{part, "opening head", e.Opens, "0 to 1000 m"}
		case setsHeld(n, e):
			return fmt.Errorf("hydraulics: %s: cannot hold a head at point %s, where the head is given", part, named("point", int(e.To), n.points[e.To].Name))
		case e.Opens > 0 && !e.OneWay:
			return fmt.Errorf("hydraulics: %s: an opening head belongs to a one-way part only", part)
		}
	}
	return nil
}

// setsHeld reports whether a reducer is to hold a head that is given already.
func setsHeld(n *Net, e Element) bool {
	r, is := e.Law.(*Reducer)
	return is && r.own && n.points[e.To].Held
}

func named(kind string, i int, name string) string {
	if name != "" {
		return name
	}
	return fmt.Sprintf("%s %d", kind, i)
}

// wayOf looks an element's law up; smooth is left at a pipe's 1/√f at its typical flow.
func wayOf(e Element, smooth *float64) law {
	w := law{drop: e.Law, oneWay: e.OneWay, opens: e.Opens, typical: start}
	w.closer, _ = e.Law.(Closer)
	w.pump, _ = e.Law.(*Pump)
	_, lifts := e.Law.(*Lift)
	w.adds = lifts || w.pump != nil
	w.pipe, _ = e.Law.(*Pipe)
	if t, ok := e.Law.(interface{ typical() float64 }); ok {
		w.typical = t.typical()
	}
	switch w.kind = kindOf(e); w.kind {
	case piped:
		h, _ := w.pipe.dropFrom(w.typical, smooth)
		w.chord = h / w.typical
	case square:
		w.square = squareAt(e.Law, 1)
		w.chord = w.square.chord(w.typical)
	}
	return w
}

// at is the law with its one-way part: one continuous, strictly increasing relation.
func (w *law) at(q, x float64) (h, dh float64) {
	if w.oneWay && q < 0 {
		h, _ = w.drop.Drop(0, x)
		return h + w.opens + Reverse*q, Reverse
	}
	h, dh = w.drop.Drop(q, x)
	return h + w.opens, dh
}

// rest is the head taken at no flow.
func (w *law) rest(x float64) float64 {
	switch w.kind {
	case piped:
		return 0
	case square:
		return w.opens
	}
	h, _ := w.at(0, x)
	return h
}

// atFrom is at with a pipe's last friction remembered.
func (w *law) atFrom(q, x float64, last *float64) (h, dh float64) {
	if w.pipe != nil && !w.oneWay {
		return w.pipe.dropFrom(q, last)
	}
	return w.at(q, x)
}

// stiff reports whether water cannot come back through the element: it is one-way, or a
// pump that runs.
func (w *law) stiff(x float64) bool { return w.oneWay || w.pump != nil && x > 0 }

// closed reports whether the element passes nothing at opening x.
func (w *law) closed(x float64) bool { return w.closer != nil && w.closer.Closes(x) }

// Points returns the points, in order. The caller must not change them.
func (n *Net) Points() []Point { return n.points }

// Elements returns the elements, in order. The caller must not change them.
func (n *Net) Elements() []Element { return n.elements }

// NewState returns a state with everything open, running at full speed, and every held
// head at its point's own height.
func (n *Net) NewState() *State {
	s := &State{
		Held:    make([]float64, len(n.points)),
		Opening: make([]float64, len(n.elements)),
		Off:     make([]bool, len(n.elements)),
	}
	for i, p := range n.points {
		s.Held[i] = p.Z
	}
	for i := range s.Opening {
		s.Opening[i] = 1
	}
	return s
}

// NewAnswer returns an answer with buffers of the right sizes.
func (n *Net) NewAnswer() *Answer {
	p, e := len(n.points), len(n.elements)
	return &Answer{
		Flow: make([]float64, e),
		Head: make([]float64, p), Low: make([]float64, p), High: make([]float64, p),
	}
}

// fit gives an answer's buffers their sizes, keeping what is there.
func (n *Net) fit(a *Answer) {
	if len(a.Flow) == len(n.elements) && len(a.Head) == len(n.points) &&
		len(a.Low) == len(n.points) && len(a.High) == len(n.points) {
		return
	}
	*a = *n.NewAnswer()
}

// checkState refuses a state that does not belong to the circuit.
func (n *Net) checkState(s *State) error {
	if len(s.Held) != len(n.points) || len(s.Opening) != len(n.elements) || len(s.Off) != len(n.elements) {
		return fmt.Errorf("hydraulics: state has %d heads, %d openings, %d bits for %d points and %d elements",
			len(s.Held), len(s.Opening), len(s.Off), len(n.points), len(n.elements))
	}
	for i := range n.points {
		if h := s.Held[i]; n.points[i].Held && !(math.Abs(h) <= 1e5) {
			return &Refusal{named("point", i, n.points[i].Name), "held head", h, "within 100000 m of the datum"}
		}
	}
	for i, x := range s.Opening {
		if !(x >= 0 && x <= 1) {
			return &Refusal{named("element", i, n.elements[i].Name), "opening or speed", x, "0 to 1"}
		}
	}
	return nil
}
