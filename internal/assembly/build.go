package assembly

import (
	"math"
	"strconv"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// ValveHeight is how far above the ground at the house the changeover and the header are
// taken to stand: at hand height. An assumption; outlets' heights do not depend on it. [m]
const ValveHeight quantity.Length = 0.5

// The arrangements.
const (
	ThroughStore  = "through-store"   // all water through the store: no pipe joins store and main
	KitchenOnMain = "kitchen-on-main" // the kitchen tap on the main, the rest of the home on the store
	WithSpool     = "spool"           // all water through the store, a way past it with a piece of pipe taken out
	Raised        = "raised"          // a store above the home feeds it by its height, without a pump
	HeaderTank    = "header"          // a pump lifts from the store on the ground to a header tank, which feeds the home by its height
	MainFirst     = "main-first"      // automatic: the main while it presses, else the store
	ByHand        = "three-way"       // one three-way valve turned by hand
	HandByPass    = "hand-by-pass"    // two valves turned by hand, a non-return valve in each leg
	InLine        = "in-line"         // a booster on the service itself, where the local rules let one draw on the main
	Free          = "free"            // parts and joins as the job lists them
)

var arrangements = map[string]func(*build){ThroughStore: throughStore, KitchenOnMain: kitchenOnMain, WithSpool: spool, Raised: raised, HeaderTank: header,
	MainFirst: mainFirst, ByHand: byHand, HandByPass: handByPass, InLine: inLine, Free: free}

// Arrangements returns the names of the arrangements that are laid out by rule, the
// unjoined first. Free, the one a job lists part by part, is none of them.
func Arrangements() []string {
	return []string{ThroughStore, KitchenOnMain, Raised, HeaderTank, WithSpool, MainFirst, ByHand, HandByPass, InLine}
}

// Propose returns the arrangement to start from where the job names none: the unjoined
// one, unless both the local rules and the supplier's answer let store and main be joined.
func Propose(j *job.Job, p *catalogue.Profile) string {
	if MayOffer(MainFirst, j, p) {
		return MainFirst
	}
	return ThroughStore
}

// MayOffer reports whether an arrangement may be offered at all: one without a joint
// always, one that joins store and main where both the local rules and the supplier's
// answer allow it, a booster in line where either allows it and the rules do not refuse.
// A spool counts as a joint.
func MayOffer(arrangement string, j *job.Job, p *catalogue.Profile) bool {
	switch arrangement {
	case ThroughStore, KitchenOnMain, Raised, HeaderTank:
		return true
	case InLine:
		return Booster(j, p, quantity.Flow(math.Inf(1))).May()
	}
	joint := Joint(j, p)
	return joint.May() && job.Answer(joint.Rule.Text).Allows()
}

// newPipe faults old pipe, described as it is found, where new pipe is laid.
func (b *build) newPipe() {
	for i := range b.a.Parts {
		p := &b.a.Parts[i]
		if row, is := p.Row.(catalogue.Pipe); is && !p.Kept && catalogue.AsFound(row.Size) {
			b.fault(pathOf(p), "assembly.pipe-old", words.Args{"tag": p.Tag, "row": row.Size.String()})
		}
	}
}

// usual is how many parts a home has, about; only for room.
const usual = 72

// Build lays out the job. The error is Faults, each with the path of the job that causes it.
func Build(j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile) (*Assembly, error) {
	return layOut(nil, j, c, p)
}

// layOut lays out the job; like, if not nil, is a layout to take over from, see BuildLike.
func layOut(like *Assembly, j *job.Job, c *catalogue.Catalogue, p *catalogue.Profile) (*Assembly, error) {
	name := j.Choices.Arrangement
	if name == "" {
		name = Propose(j, p)
	}
	b := &build{like: like, job: j, rows: c, law: p, a: &Assembly{Arrangement: name, Assumed: j.Assumed, Parts: make([]Part, 0, usual), Joins: make([]Join, 0, usual)}, tags: map[byte]int{}}
	b.reserve()
	lay, known := arrangements[name]
	if !known {
		b.fault("choices.arrangement", "assembly.arrangement", words.Args{"value": name, "known": list(append(Arrangements(), Free))})
		return nil, b.faults
	}
	if b.crowded(); len(b.faults) > 0 {
		return nil, b.faults
	}
	lay(b)
	b.bushes()
	b.keepExisting()
	b.newPipe()
	b.drift()
	b.uniqueTags()
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	if like != nil && b.a.SharesSettings(like) {
		b.a.hots, b.a.sides = like.hots, like.sides
	} else {
		b.a.hots, b.a.sides = b.a.hot(), b.a.Sides()
	}
	b.warm()
	return b.a, nil
}

func list(names []string) string {
	out := ""
	for i, n := range names {
		if i > 0 {
			out += ", "
		}
		out += n
	}
	return out
}

// build is one layout in the making.
type build struct {
	like   *Assembly // laid out of a job that differs in quantities alone; or nil
	job    *job.Job
	rows   *catalogue.Catalogue
	law    *catalogue.Profile
	a      *Assembly
	tags   map[byte]int
	taken  map[string]bool // tags the job gives itself
	faults Faults
	loose  []End // threaded ports that need a bush to what they meet
	hold   bool  // parts added now get their tags when the rest have theirs
	held   []int // those parts
}

// letters are the tags' first letters. The main and the outlets have none.
var letters = map[Kind]byte{Meter: 'M', HandValve: 'V', Isolator: 'V', ThreeWay: 'W', Spool: 'L', NonReturn: 'N', Strainer: 'U', Regulator: 'G', Run: 'R', Tee: 'T',
	FloatValve: 'F', Store: 'S', Pump: 'P', Vessel: 'E', Switch: 'C', Heater: 'H', Drain: 'D'}

// MainTag is the tag of the public main.
const MainTag = "MAIN"

// add gives the part its tag, if it has none, and its index.
func (b *build) add(p Part) int {
	if b.hold {
		b.held = append(b.held, len(b.a.Parts))
	} else {
		b.tag(&p)
	}
	b.a.Parts = append(b.a.Parts, p)
	return len(b.a.Parts) - 1
}

// tag gives a part without a tag the next of its letter.
func (b *build) tag(p *Part) {
	letter, ok := letters[p.Kind]
	if !ok || p.Tag != "" {
		return
	}
	for p.Tag == "" || b.taken[p.Tag] {
		b.tags[letter]++
		p.Tag = string(letter) + strconv.Itoa(b.tags[letter])
	}
}

// later lays parts that are numbered when all others are: the drains and isolating valves
// that a home is emptied, tested and mended by. What carries the water keeps its number
// whether they are there or not.
func (b *build) later(lay func()) {
	b.hold = true
	lay()
	b.hold = false
}

// tagHeld gives the parts laid later their tags, street to home.
func (b *build) tagHeld() {
	for _, i := range b.held {
		b.tag(&b.a.Parts[i])
	}
	b.held = nil
	for k := range b.a.Controls {
		b.a.Controls[k].Tag = b.a.Parts[b.a.Controls[k].Senses.Part].Tag
	}
}

func (b *build) port(e End) *Port { return &b.a.Parts[e.Part].Ports[e.Port] }

// meet joins two ports. Pipe meets thread through the pipe's adapter, another pipe through
// both adapters, and unequal threads through a reducing bush; all are strung on a run:
// the pipe's own, else the nearest (see bushes). A tee is bought in the sizes it meets.
func (b *build) meet(x, y End) {
	b.a.Joins = append(b.a.Joins, Join{x, y})
	px, py := b.port(x), b.port(y)
	switch {
	case b.a.Parts[x.Part].Kind == Main || b.a.Parts[x.Part].Kind == Tee:
		b.fitTo(x, y)
	case b.a.Parts[y.Part].Kind == Tee:
		b.fitTo(y, x)
	case px.Size.Family != "thread" && py.Size.Family == "thread":
		b.adapt(x, py.Size.Mark)
	case py.Size.Family != "thread" && px.Size.Family == "thread":
		b.adapt(y, px.Size.Mark)
	case px.Size == py.Size && px.End == py.End:
	case px.Size.Family != "thread":
		thread := b.rows.Pipes[py.Size].Thread
		b.adapt(x, thread)
		b.adapt(y, thread)
	default:
		b.loose = append(b.loose, y)
	}
}

// fitTo gives the port of a tee, or of the main, the size of what it meets. A threaded tee
// meets pipe by its adapter; a header made of pipe takes the pipe itself.
func (b *build) fitTo(tee, other End) {
	pt, po := b.port(tee), b.port(other)
	if po.Size.Family == "thread" || b.a.Parts[tee.Part].Size.Family != "thread" {
		pt.Size, pt.End = po.Size, po.End
		return
	}
	thread := b.rows.Pipes[po.Size].Thread
	pt.Size, pt.End = quantity.Size{Family: "thread", Mark: thread}, "thread"
	b.adapt(other, thread)
}

// adapt strings on the run at e what joins it to a thread.
func (b *build) adapt(e End, thread string) {
	run := &b.a.Parts[e.Part]
	pipe, ok := run.Row.(catalogue.Pipe)
	if !ok {
		return // the pipe is missing; said already
	}
	f, err := b.rows.Fitting("adapter", pipe.Size)
	if err != nil {
		b.noAdapter(run, pipe, thread)
		return
	}
	run.hang(f, 1)
	if f.Thread == thread {
		return
	}
	if bush, ok := b.rows.Bush(f.Thread, thread, pipe.Bore); ok {
		run.hang(bush, 1)
		return
	}
	b.fault(pathOf(run), "assembly.ends", words.Args{"pipe": pipe.Size.String(), "thread": thread, "tag": run.Tag,
		"adapter": f.Words, "serves": b.serves(f.Thread),
		"row": b.bushRow(f.Thread, thread), "rows": b.reach(thread)})
}
