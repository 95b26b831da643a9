package outage

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"tideover/internal/stream"
)

// What is taken for granted of two kinds before anything is seen, beside the Prior's middle
// (the short kind's): the long kind lasts some eight times as long, give or take a factor of
// two; each kind is spread less than both together, ln σ near ln 0.6 ± 0.4; one of five is of
// the long kind, 2 to 52 of a hundred (95 %). Basis: judgement, after what is told of repairs
// and bursts.
var (
	gapPrior   = distuv.Normal{Mu: math.Log(8), Sigma: 0.7}
	sigmaPrior = distuv.Normal{Mu: math.Log(0.6), Sigma: 0.4}
	sharePrior = distuv.Beta{Alpha: 1.5, Beta: 6}
)

// leastGap keeps the kinds apart: the long one lasts twice as long at the least.
var leastGap = math.Log(2)

// What makes the priors of gap and share sum to 1.
var (
	logApart = math.Log(1 - gapPrior.CDF(leastGap))
	logBeta  = mathext.Lbeta(sharePrior.Alpha, sharePrior.Beta)
)

// point is the parameters of two kinds where each may be any number.
type point [5]float64 // μ, ln σ, gap, ln σ of the long kind, ln of share over the rest

func (p point) length() Length {
	return Length{Law: TwoKinds, Mu: p[0], Sigma: math.Exp(p[1]), Gap: p[2], SigmaLong: math.Exp(p[3]), Share: 1 / (1 + math.Exp(-p[4]))}
}

// prior is ln of how likely a point is before anything is seen.
func (p point) prior(prior Prior) float64 {
	if p[2] < leastGap {
		return math.Inf(-1)
	}
	share := 1 / (1 + math.Exp(-p[4]))
	return distuv.Normal{Mu: prior.Mu, Sigma: prior.MuSD}.LogProb(p[0]) + sigmaPrior.LogProb(p[1]) + gapPrior.LogProb(p[2]) - logApart +
		sigmaPrior.LogProb(p[3]) + sharePrior.Alpha*math.Log(share) + sharePrior.Beta*math.Log1p(-share) - logBeta
}

// drawPoint draws a point as likely as it is before anything is seen.
func drawPoint(s *stream.Stream, prior Prior) point {
	below := gapPrior.CDF(leastGap)
	share := s.Beta(sharePrior.Alpha, sharePrior.Beta)
	return point{prior.Mu + prior.MuSD*s.Normal(), sigmaPrior.Mu + sigmaPrior.Sigma*s.Normal(),
		gapPrior.Quantile(below + (1-below)*s.Uniform()), sigmaPrior.Mu + sigmaPrior.Sigma*s.Normal(), math.Log(share / (1 - share))}
}

// cloud is what is known of two kinds: points, each as likely as the others.
type cloud struct {
	points   []Length
	evidence float64
}

func (c *cloud) of() Law                      { return TwoKinds }
func (c *cloud) told() float64                { return c.evidence }
func (c *cloud) size() int                    { return len(c.points) }
func (c *cloud) at(k int) (Length, float64)   { return c.points[k], 1 / float64(len(c.points)) }
func (c *cloud) draw(at, _, _ float64) Length { return c.points[int(at*float64(len(c.points)))] }

// Known is a length of whose law nothing is in doubt.
func Known(l Length) *Posterior {
	return &Posterior{parts: []part{&known{cloud{points: []Length{l}}}}, weights: []float64{1}}
}

// known is a cloud of one point of any law.
type known struct{ cloud }

func (k *known) of() Law { return k.points[0].Law }

const (
	crowd = 1000 // points
	keeps = 0.5  // share of the points that one step of tempering may cost
	walks = 3    // moves of every point after a step
	leap  = 0.1  // share of the moves that may go from one hill to another
)

// newCloud draws the points that what was seen leaves likely. All begin where the prior has
// them; what was seen then counts more and more, from nothing to wholly, each step so large
// that half the points remain worth having; those worth most are kept, some of them twice, and
// every one is moved by Metropolis' rule along the difference of two others.
// The same record gives the same points. The evidence has an error of some 0.1 in ln.
// Sources: Del Moral, Doucet & Jasra 2006, "Sequential Monte Carlo samplers", J. R. Stat. Soc. B
// 68:411; the moves: ter Braak 2006, "A Markov chain Monte Carlo version of the genetic algorithm
// differential evolution", Stat. Comput. 16:239.
func newCloud(seen []Seen, prior Prior) *cloud {
	s := stream.Of(stream.Key{Process: stream.Posterior, Item: 5})
	r := newMixedRecord(seen)
	w := walker{r: r, prior: prior, s: &s}
	for range crowd {
		p := drawPoint(&s, prior)
		w.points, w.tells = append(w.points, p), append(w.tells, r.tells(p.length()))
		w.before = append(w.before, p.prior(prior))
	}
	c := &cloud{}
	for heat := 0.0; heat < 1 && !r.empty(); {
		next := w.step(heat)
		c.evidence += w.keep(next - heat)
		heat = next
		for range walks {
			w.move(heat)
		}
	}
	for _, p := range w.points {
		c.points = append(c.points, p.length())
	}
	return c
}

// walker is the points on their way.
type walker struct {
	r             *mixedRecord
	prior         Prior
	s             *stream.Stream
	points        []point
	tells, before []float64 // ln of likelihood and of prior, of each
	weights       []float64
}

// weigh sets the weights of the points for a step and returns ln of their mean.
func (w *walker) weigh(step float64) float64 {
	top := math.Inf(-1)
	for _, t := range w.tells {
		top = math.Max(top, step*t)
	}
	w.weights = w.weights[:0]
	sum := 0.0
	for _, t := range w.tells {
		x := math.Exp(step*t - top)
		w.weights = append(w.weights, x)
		sum += x
	}
	for i := range w.weights {
		w.weights[i] /= sum
	}
	return top + math.Log(sum/float64(len(w.tells)))
}

// step is how much what was seen counts next: as much as leaves half of the points.
func (w *walker) step(heat float64) float64 {
	worth := func(step float64) float64 {
		w.weigh(step)
		square := 0.0
		for _, x := range w.weights {
			square += x * x
		}
		return 1 / square
	}
	least := keeps * float64(len(w.points))
	if worth(1-heat) >= least {
		return 1
	}
	low, high := 0.0, 1-heat
	for range 30 {
		if mid := (low + high) / 2; worth(mid) >= least {
			low = mid
		} else {
			high = mid
		}
	}
	return heat + high
}

// keep draws the points anew by their weights, evenly spaced, and returns what the step
// adds to the evidence.
func (w *walker) keep(step float64) float64 {
	told := w.weigh(step)
	n := len(w.points)
	points, tells, before := make([]point, 0, n), make([]float64, 0, n), make([]float64, 0, n)
	at, sum, k := w.s.Uniform(), w.weights[0], 0
	for i := range n {
		for sum < (float64(i)+at)/float64(n) && k < n-1 {
			k++
			sum += w.weights[k]
		}
		points, tells, before = append(points, w.points[k]), append(tells, w.tells[k]), append(before, w.before[k])
	}
	w.points, w.tells, w.before = points, tells, before
	return told
}

// move moves every point once, by Metropolis' rule, along the difference of two others of the
// points as they were.
func (w *walker) move(heat float64) {
	old := append([]point(nil), w.points...)
	n := uint64(len(old))
	for i := range w.points {
		a, b := old[w.s.Uint64()%n], old[w.s.Uint64()%n]
		far := 2.38 / math.Sqrt(2*float64(len(a))) // the best for a normal law
		if w.s.Uniform() < leap {
			far = 1
		}
		p := w.points[i]
		for d := range p {
			p[d] += far*(a[d]-b[d]) + 1e-3*w.s.Normal()
		}
		before := p.prior(w.prior)
		if math.IsInf(before, -1) {
			continue
		}
		tells := w.r.tells(p.length())
		if math.Log(w.s.Uniform()) < before-w.before[i]+heat*(tells-w.tells[i]) {
			w.points[i], w.tells[i], w.before[i] = p, tells, before
		}
	}
}

// mixedRecord is what the fit of two kinds reads: the logarithms of plain whole lengths, and all
// else one by one. Whole lengths of a long log that are nearly equal are put together.
type mixedRecord struct {
	whole, weight []float64 // y and how many
	seen          []Seen
	y             []float64
}

const alike = 0.05 // in y: nearer than this counts as equal in a long log

func newMixedRecord(seen []Seen) *mixedRecord {
	r := &mixedRecord{}
	classes := map[int]int{}
	for _, s := range seen {
		s.Weight = s.weight()
		y := math.Log(s.Length)
		if s.How != Whole || s.Age > 0 {
			r.seen, r.y = append(r.seen, s), append(r.y, y)
			continue
		}
		class := int(math.Floor(y / alike))
		if k, ok := classes[class]; ok && len(seen) > manyWhole {
			r.weight[k] += s.Weight
			r.whole[k] += (y - r.whole[k]) * s.Weight / r.weight[k]
			continue
		}
		classes[class] = len(r.whole)
		r.whole, r.weight = append(r.whole, y), append(r.weight, s.Weight)
	}
	return r
}

func (r *mixedRecord) empty() bool { return len(r.whole)+len(r.seen) == 0 }

// tells is ln of the likelihood of all that was seen.
func (r *mixedRecord) tells(l Length) float64 {
	sum := 0.0
	for i, s := range r.seen {
		sum += l.tells(s, r.y[i])
	}
	short, long, often, seldom := l.kinds()
	a, b := often/short.Sigma, seldom/long.Sigma
	for i, y := range r.whole {
		u, v := (y-short.Mu)/short.Sigma, (y-long.Mu)/long.Sigma
		density := a*math.Exp(-u*u/2) + b*math.Exp(-v*v/2)
		if density < 1e-250 { // too near 0 for a number: by its logarithm
			sum += r.weight[i] * (l.logDensityOfKinds(y) + logRoot2Pi)
			continue
		}
		sum += r.weight[i] * math.Log(density)
	}
	for _, n := range r.weight {
		sum -= n * logRoot2Pi
	}
	return sum
}
