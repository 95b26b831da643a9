package outage

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// Prior is what is taken for granted of a length before anything is seen: ln t has its
// middle near Mu, ±MuSD, and a spread of e^LogSigma, give or take a factor e^LogSigmaSD
// (normal laws of μ and ln σ). Laws of one kind are as likely as each other; Kinds is how
// likely two kinds are, 0 where they are not thought of.
type Prior struct {
	Mu, MuSD             float64
	LogSigma, LogSigmaSD float64
	Kinds                float64
}

// likely is how likely a law is before anything is seen.
func (p Prior) likely(law Law) float64 {
	if law == TwoKinds {
		return p.Kinds
	}
	return (1 - p.Kinds) / float64(len(oneKind))
}

// The priors of a supply: an interruption of some eight hours, within a factor of seven
// two times of three; some ten days between two, within a factor of twelve; both spread
// about as widely as an exponential; interruptions of two kinds in every other town, for
// a network has both repairs and bursts. Basis: judgement, wide on purpose; eight hours is
// the middle of what utilities report of repairs, recalled.
var (
	DownPrior = Prior{math.Log(8 * Hour), 2, math.Log(0.85), 0.6, 0.5}
	UpPrior   = Prior{Mu: math.Log(10 * Day), MuSD: 2.5, LogSigma: math.Log(0.9), LogSigmaSD: 0.6}
)

// Posterior is what is known of a length after what was seen: how likely each law is, and
// of its parameters a part.
type Posterior struct {
	parts   []part
	weights []float64 // of the laws, sum 1
	Seen    float64   // how many lengths are behind it
}

// part is what is known of the parameters of one law.
type part interface {
	of() Law
	told() float64 // ln of the chance of what was seen, under the law
	size() int
	at(k int) (l Length, mass float64) // of the points that stand for the law: masses sum to 1
	draw(at, x, y float64) Length      // by uniform numbers
}

// grid is a law of one kind: cells over μ and ln σ, with equal chances within a cell.

type grid struct {
	law      Law
	mu, log  axis
	mass     []float64 // of each cell, sum 1; mu runs fastest
	upTo     []float64 // cumulative
	evidence float64   // ln of the chance of what was seen, under the law
}

// axis is n cells between two ends.
type axis struct {
	from, to float64
	n        int
}

func (a axis) middle(i int) float64 { return a.at(float64(i) + 0.5) }
func (a axis) at(x float64) float64 { return a.from + (a.to-a.from)*x/float64(a.n) }
func (a axis) cell() float64        { return (a.to - a.from) / float64(a.n) }

const (
	coarse = 14 // cells a side while the place is sought
	fine   = 36 // cells a side at the end
	depth  = 13 // in ln: what lies deeper below the top is left out, under 1e-5 of the mass
)

// Fit returns what is known of a length after what was seen, or an error when a length
// is not above 0 and finite, or none is given. A single one will do: what it cannot
// tell, the prior keeps wide.
func Fit(seen []Seen, prior Prior) (*Posterior, error) {
	if err := check(seen); err != nil {
		return nil, err
	}
	return fit(seen, prior), nil
}

func fit(seen []Seen, prior Prior) *Posterior {
	r := newRecord(seen)
	p := &Posterior{}
	for _, s := range seen {
		p.Seen += s.weight()
	}
	for _, law := range oneKind {
		g := newGrid(law, r, prior)
		p.parts = append(p.parts, &g)
	}
	if prior.Kinds > 0 {
		p.parts = append(p.parts, newCloud(seen, prior))
	}
	p.weigh(prior)
	return p
}

// PriorOf is what is known of a length before anything is seen.
func PriorOf(p Prior) *Posterior { return fit(nil, p) }

// weigh sets the weights of the laws from their evidence and what was thought before.
func (p *Posterior) weigh(prior Prior) {
	top, sum := math.Inf(-1), 0.0
	for _, g := range p.parts {
		top = math.Max(top, g.told())
	}
	p.weights = make([]float64, len(p.parts))
	for i, g := range p.parts {
		p.weights[i] = prior.likely(g.of()) * math.Exp(g.told()-top)
		sum += p.weights[i]
	}
	for i := range p.weights {
		p.weights[i] /= sum
	}
}

// Only returns the posterior under one law alone, which must be among its own.
func (p *Posterior) Only(law Law) *Posterior {
	c := &Posterior{Seen: p.Seen, weights: []float64{1}}
	for _, g := range p.parts {
		if g.of() == law {
			c.parts = []part{g}
			return c
		}
	}
	panic("outage: only: the posterior must hold the law")
}

// Weight is how likely a law is after what was seen.
func (p *Posterior) Weight(law Law) float64 {
	for i, g := range p.parts {
		if g.of() == law {
			return p.weights[i]
		}
	}
	return 0
}

// newGrid finds where the posterior of a law lies, by looking closer and closer, and
// lays the grid over it.
func newGrid(law Law, r record, prior Prior) grid {
	g := grid{law: law}
	g.mu = axis{prior.Mu - 6*prior.MuSD, prior.Mu + 6*prior.MuSD, coarse}
	g.log = axis{prior.LogSigma - 5*prior.LogSigmaSD, prior.LogSigma + 5*prior.LogSigmaSD, coarse}
	if law == Exponential {
		g.log = axis{0, 0, 1}
	}
	for range 14 {
		g.fill(r, prior)
		was := g.mu.to - g.mu.from
		wasLog := g.log.to - g.log.from
		g.narrow()
		if g.mu.to-g.mu.from > was*0.6 && g.log.to-g.log.from >= wasLog*0.6 {
			break
		}
	}
	g.mu.n, g.log.n = fine, fine
	if law == Exponential {
		g.mu.n, g.log.n = fine*fine, 1
	}
	g.fill(r, prior)
	g.settle()
	return g
}

// fill works out ln of prior times likelihood in every cell.
func (g *grid) fill(r record, prior Prior) {
	wide := -math.Log(prior.MuSD) - logRoot2Pi
	g.mass = slices.Grow(g.mass[:0], g.mu.n*g.log.n)
	for j := range g.log.n {
		ls := g.log.middle(j)
		zs := (ls - prior.LogSigma) / prior.LogSigmaSD
		priorLog := -zs*zs/2 - math.Log(prior.LogSigmaSD) - logRoot2Pi
		if g.law == Exponential {
			priorLog = 0
		}
		along := r.row(g.law, math.Exp(ls))
		for i := range g.mu.n {
			mu := g.mu.middle(i)
			zm := (mu - prior.Mu) / prior.MuSD
			lp := priorLog + wide - zm*zm/2
			g.mass = append(g.mass, lp+along(mu))
		}
	}
}

// narrow draws the axes in to the cells that matter and two beside them.
func (g *grid) narrow() {
	top := slices.Max(g.mass)
	mu, log := [2]int{g.mu.n, -1}, [2]int{g.log.n, -1}
	for k, lp := range g.mass {
		if lp >= top-depth {
			i, j := k%g.mu.n, k/g.mu.n
			mu = [2]int{min(mu[0], i), max(mu[1], i)}
			log = [2]int{min(log[0], j), max(log[1], j)}
		}
	}
	g.mu = g.mu.part(mu)
	if g.law != Exponential {
		g.log = g.log.part(log)
	}
}

// part is the axis from two cells before the first of span to two behind its last.
func (a axis) part(span [2]int) axis {
	return axis{a.at(float64(span[0] - 2)), a.at(float64(span[1] + 3)), a.n}
}

// settle turns logarithms into shares and adds them up.
func (g *grid) settle() {
	top, sum := slices.Max(g.mass), 0.0
	g.upTo = make([]float64, len(g.mass))
	for k, lp := range g.mass {
		g.mass[k] = math.Exp(lp - top)
		sum += g.mass[k]
		g.upTo[k] = sum
	}
	for k := range g.mass {
		g.mass[k] /= sum
		g.upTo[k] /= sum
	}
	area := g.mu.cell()
	if g.law != Exponential {
		area *= g.log.cell()
	}
	g.evidence = top + math.Log(sum*area)
}

func (g *grid) of() Law       { return g.law }
func (g *grid) told() float64 { return g.evidence }
func (g *grid) size() int     { return len(g.mass) }

// at is the law at the middle of a cell.
func (g *grid) at(k int) (Length, float64) {
	return Length{Law: g.law, Mu: g.mu.middle(k % g.mu.n), Sigma: math.Exp(g.log.middle(k / g.mu.n))}, g.mass[k]
}

func (g *grid) draw(at, x, y float64) Length {
	k, _ := slices.BinarySearch(g.upTo, at)
	k = min(k, len(g.upTo)-1)
	i, j := k%g.mu.n, k/g.mu.n
	return Length{Law: g.law, Mu: g.mu.at(float64(i) + x), Sigma: math.Exp(g.log.at(float64(j) + y))}
}

// Draw returns one law with its parameters, as likely as what was seen makes it.
func (p *Posterior) Draw(s *stream.Stream) Length {
	pick, at, x, y := s.Uniform(), s.Uniform(), s.Uniform(), s.Uniform()
	n := 0
	for n < len(p.weights)-1 && pick > p.weights[n] {
		pick -= p.weights[n]
		n++
	}
	return p.parts[n].draw(at, x, y)
}

// Survival is the chance that the next length is above t, all doubt counted in. [–]
func (p *Posterior) Survival(t float64) float64 {
	return p.expect(func(l Length) float64 { return l.Survival(t) })
}

func (p *Posterior) expect(f func(Length) float64) float64 {
	sum := 0.0
	p.each(func(l Length, m float64) { sum += m * f(l) })
	return sum
}

// each goes through the points that stand for all laws; masses sum to 1.
func (p *Posterior) each(f func(l Length, mass float64)) {
	for n, g := range p.parts {
		for k := range g.size() {
			l, m := g.at(k)
			f(l, m*p.weights[n])
		}
	}
}

// PlugIn is the likeliest law, with its likeliest parameters (of two kinds: one of those
// drawn). It is here for comparison: simulating from it understates long spells when the
// record is short.
func (p *Posterior) PlugIn() Length {
	n := 0
	for i, w := range p.weights {
		if w > p.weights[n] {
			n = i
		}
	}
	var best Length
	most := -1.0
	for k := range p.parts[n].size() {
		if l, m := p.parts[n].at(k); m > most {
			best, most = l, m
		}
	}
	return best
}

// Interval returns the ends between which a figure of the length lies with the given
// chance (0.95), as much chance below as above, and its median. The median of a small
// chance lies far below its mean, for such a chance has a skew law; what is to be expected
// is the mean (Survival), not the median.
func (p *Posterior) Interval(figure func(Length) float64, chance float64) (low, median, high float64) {
	type cell struct{ x, m float64 }
	var cells []cell
	p.each(func(l Length, m float64) {
		if m > 1e-8 {
			cells = append(cells, cell{figure(l), m})
		}
	})
	slices.SortFunc(cells, func(a, b cell) int { return cmp.Compare(a.x, b.x) })
	at := func(share float64) float64 {
		sum := 0.0
		for _, c := range cells {
			if sum += c.m; sum >= share {
				return c.x
			}
		}
		return cells[len(cells)-1].x
	}
	return at((1 - chance) / 2), at(0.5), at((1 + chance) / 2)
}
