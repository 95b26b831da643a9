package outage

import (
	"cmp"
	"math"
	"slices"

	"tideover/internal/stream"
)

// Prior is what is taken for granted of a length before anything is seen: ln t has its
// middle near Mu, ±MuSD, and a spread of e^LogSigma, give or take a factor e^LogSigmaSD
// (normal laws of μ and ln σ). Every law is as likely as the others.
type Prior struct {
	Mu, MuSD             float64
	LogSigma, LogSigmaSD float64
}

// The priors of a supply: an interruption of some eight hours, within a factor of seven
// two times of three; some ten days between two, within a factor of twelve; both spread
// about as widely as an exponential. Basis: judgement, wide on purpose; eight hours is
// the middle of what utilities report of repairs, recalled.
var (
	DownPrior = Prior{math.Log(8 * Hour), 2, math.Log(0.85), 0.6}
	UpPrior   = Prior{math.Log(10 * Day), 2.5, math.Log(0.9), 0.6}
)

// Posterior is what is known of a length after what was seen: for each law a grid over
// μ and ln σ, and how likely the law is. Equal chances within a cell.
type Posterior struct {
	grids   []grid
	weights []float64 // of the laws, sum 1
	Seen    float64   // how many lengths stand behind it
}

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
	for _, law := range Laws {
		p.grids = append(p.grids, newGrid(law, r, prior))
	}
	p.weigh()
	return p
}

// weigh sets the weights of the laws from their evidence, all being as likely before.
func (p *Posterior) weigh() {
	top, sum := math.Inf(-1), 0.0
	for _, g := range p.grids {
		top = math.Max(top, g.evidence)
	}
	p.weights = make([]float64, len(p.grids))
	for i, g := range p.grids {
		p.weights[i] = math.Exp(g.evidence - top)
		sum += p.weights[i]
	}
	for i := range p.weights {
		p.weights[i] /= sum
	}
}

// Only returns the posterior under one law alone, which must be among its own.
func (p *Posterior) Only(law Law) *Posterior {
	c := &Posterior{Seen: p.Seen, weights: []float64{1}}
	for _, g := range p.grids {
		if g.law == law {
			c.grids = []grid{g}
			return c
		}
	}
	panic("outage: only: the posterior must hold the law")
}

// Weight is how likely a law is after what was seen.
func (p *Posterior) Weight(law Law) float64 {
	for i, g := range p.grids {
		if g.law == law {
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

// cellLength is the law at the middle of a cell.
func (g *grid) cellLength(k int) Length {
	return Length{g.law, g.mu.middle(k % g.mu.n), math.Exp(g.log.middle(k / g.mu.n))}
}

// Draw returns one law with its parameters, as likely as what was seen makes it.
func (p *Posterior) Draw(s *stream.Stream) Length {
	pick, at, x, y := s.Uniform(), s.Uniform(), s.Uniform(), s.Uniform()
	n := 0
	for n < len(p.weights)-1 && pick > p.weights[n] {
		pick -= p.weights[n]
		n++
	}
	g := &p.grids[n]
	k, _ := slices.BinarySearch(g.upTo, at)
	k = min(k, len(g.upTo)-1)
	i, j := k%g.mu.n, k/g.mu.n
	return Length{g.law, g.mu.at(float64(i) + x), math.Exp(g.log.at(float64(j) + y))}
}

// Survival is the chance that the next length is above t, all doubt counted in. [–]
func (p *Posterior) Survival(t float64) float64 {
	return p.expect(func(l Length) float64 { return l.Survival(t) })
}

func (p *Posterior) expect(f func(Length) float64) float64 {
	sum := 0.0
	for n := range p.grids {
		g := &p.grids[n]
		for k, m := range g.mass {
			sum += p.weights[n] * m * f(g.cellLength(k))
		}
	}
	return sum
}

// PlugIn is the single likeliest law with its likeliest parameters. It is here for
// comparison: simulating from it understates long spells when the record is short.
func (p *Posterior) PlugIn() Length {
	n := 0
	for i, w := range p.weights {
		if w > p.weights[n] {
			n = i
		}
	}
	g := &p.grids[n]
	best := 0
	for k, m := range g.mass {
		if m > g.mass[best] {
			best = k
		}
	}
	return g.cellLength(best)
}

// Interval returns the ends between which a figure of the length lies with the given
// chance (0.95), as much chance below as above, and its median.
func (p *Posterior) Interval(figure func(Length) float64, chance float64) (low, median, high float64) {
	type cell struct{ x, m float64 }
	var cells []cell
	for n := range p.grids {
		g := &p.grids[n]
		for k, m := range g.mass {
			if m *= p.weights[n]; m > 1e-8 {
				cells = append(cells, cell{figure(g.cellLength(k)), m})
			}
		}
	}
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
