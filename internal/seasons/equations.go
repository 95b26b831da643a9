package seasons

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/outage"
	"tideover/internal/quantity"
)

// What the run answers in a case simple enough for a closed form: constant draw, times
// with and without the main both exponential, one refill. The run is tested against it.
const twoState = "two-state fluid queue: Mitra 1988, Adv. Appl. Probab. 20:646-676; balance of the densities derived again and simulated"

var (
	capacity = calc.Symbol{Name: "C", Meaning: "usable water", Dim: quantity.VolumeDim, Unit: "m³"}
	draw     = calc.Symbol{Name: "d", Meaning: "draw while the main is off", Dim: quantity.FlowDim, Unit: "m³/s"}
	refill   = calc.Symbol{Name: "r", Meaning: "refill while it is on, less what is drawn then", Dim: quantity.FlowDim, Unit: "m³/s"}
	upTime   = calc.Symbol{Name: "u", Meaning: "mean time with the main", Dim: quantity.TimeDim, Unit: "s"}
	downTime = calc.Symbol{Name: "m", Meaning: "mean time without", Dim: quantity.TimeDim, Unit: "s"}

	// PulseEq is the time from one filling to the next through a delayed float valve.
	PulseEq = calc.Register(calc.Equation{
		Key: "float-pulse", Section: "Seasons",
		Title:   "Time from one filling to the next through a delayed float valve",
		Formula: "t = V/d + V/r",
		Result:  calc.Symbol{Name: "t", Meaning: "time", Dim: quantity.TimeDim, Unit: "s"},
		Args: []calc.Symbol{{Name: "V", Meaning: "water between where the valve opens and where it shuts", Dim: quantity.VolumeDim, Unit: "m³"},
			{Name: "d", Meaning: "draw", Dim: quantity.FlowDim, Unit: "m³/s"}, refill},
		Range: "constant draw, less than the flow in; the valve full open or shut, nothing between", Source: "balance of volumes",
		Fn: func(a []float64) float64 { return a[0]/a[1] + a[0]/a[2] },
	})

	// DryEq is the share of outages that run dry, EmptyEq the share of time a store is empty.
	DryEq = calc.Register(calc.Equation{
		Key: "outage-runs-dry", Section: "Seasons",
		Title:   "Share of interruptions in which the store runs dry",
		Formula: "P_d = p_0 (1/u + 1/m) u",
		Result:  calc.Symbol{Name: "P_d", Meaning: "share of interruptions", Unit: "–"},
		Args: []calc.Symbol{{Name: "p_0", Meaning: "share of all time in which the store is empty", Unit: "–"},
			upTime, downTime},
		Range: "exponential times, constant draw", Source: twoState,
		Fn: func(a []float64) float64 { return a[0] * (1/a[1] + 1/a[2]) * a[1] },
	})
	EmptyEq = calc.Register(calc.Equation{
		Key: "store-empty", Section: "Seasons",
		Title:   "Share of time in which the store is empty",
		Formula: "p_0 = r m / (r m + (1 + r/d) (e^(z C) − 1)/z + r u e^(z C)), z = 1/(m d) − 1/(u r)",
		Result:  calc.Symbol{Name: "p_0", Meaning: "share of all time", Unit: "–"},
		Args:    []calc.Symbol{capacity, draw, refill, upTime, downTime},
		Range:   "exponential times, constant draw; z below 0 says that no store keeps up", Source: twoState,
		Fn: func(a []float64) float64 {
			c, d, r, u, m := a[0], a[1], a[2], a[3], a[4]
			z := 1/(m*d) - 1/(u*r)
			area := c
			if z != 0 {
				area = math.Expm1(z*c) / z
			}
			return r * m / (r*m + (1+r/d)*area + r*u*math.Exp(z*c))
		},
	})
	BandEq = calc.Register(calc.Equation{
		Key: "refill-band", Section: "Seasons",
		Title:   "Flow held in one band of the refill table",
		Formula: "q = (a − b) / ln(a/b)",
		Result:  calc.Symbol{Name: "q", Meaning: "flow in the band", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args: []calc.Symbol{{Name: "a", Meaning: "flow at its lower edge", Dim: quantity.FlowDim, Unit: "m³/s"},
			{Name: "b", Meaning: "flow at its upper edge", Dim: quantity.FlowDim, Unit: "m³/s"}},
		Range:  "a ≥ b > 0; gives exactly the time to fill the band when the flow falls in a straight line with the level",
		Source: "integral of dV/q over the band",
		Fn:     func(a []float64) float64 { return logMean(a[0], a[1]) },
	})
	WilsonEq = calc.Register(calc.Equation{
		Key: "interval-of-a-share", Section: "Seasons",
		Title:   "Interval of a share counted in futures that each hold many trials",
		Formula: "(R + t²/(2n) ± t √(R(1−R)/n + t²/(4n²))) / (1 + t²/n), n = R(1−R)/s²",
		Result:  calc.Symbol{Name: "R", Meaning: "share, low and high", Unit: "–"},
		Args: []calc.Symbol{{Name: "s²", Meaning: "variance of the ratio estimator over futures", Unit: "–"},
			{Name: "t", Meaning: "Student's 97.5 % point", Unit: "–"}},
		Range:  "held to 93 to 97 % coverage on 2,000 runs; where nothing or everything succeeded n is the number of trials",
		Source: "Wilson 1927, J. Am. Stat. Assoc. 22:209-212; Cochran 1977, Sampling Techniques, eq. 6.13; Kish 1965, Survey Sampling (design effect)",
	})
	// KindsEq is the law of two kinds of interruption, NextEq what a range read off futures holds.
	KindsEq = calc.Register(calc.Equation{
		Key: "two-kinds-survival", Section: "Seasons",
		Title:   "Chance that an interruption of one of two kinds lasts longer than t",
		Formula: "S = (1 − w) Φ(−(ln t − μ)/σ) + w Φ(−(ln t − μ − g)/τ)",
		Result:  calc.Symbol{Name: "S", Meaning: "chance", Unit: "–"},
		Args: []calc.Symbol{{Name: "t", Meaning: "length", Dim: quantity.TimeDim, Unit: "s"}, {Name: "μ", Meaning: "middle of ln t of the short kind, t in s", Unit: "–"},
			{Name: "σ", Meaning: "spread of ln t of the short kind", Unit: "–"}, {Name: "g", Meaning: "how much higher the middle of the long kind lies", Unit: "–"},
			{Name: "τ", Meaning: "spread of ln t of the long kind", Unit: "–"}, {Name: "w", Meaning: "share of the long kind", Unit: "–"}},
		Range:  "σ, τ > 0, 0 ≤ w ≤ 1, g ≥ ln 2. Before anything is seen: μ normal about ln 8 h ± 2, ln σ and ln τ about ln 0.6 ± 0.4, g about ln 8 ± 0.7, w beta (1.5, 6), and two kinds as likely as one; fitted by points tempered from there to what was seen, held against plain sums over all five. What is to be expected is the mean over the points, not their median: the median of a small chance lies far below its mean (log-normal towns, more than 24 h, five outages logged: about a fifth)",
		Source: "mixture of two log-normals; Del Moral, Doucet & Jasra 2006, J. R. Stat. Soc. B 68:411 (tempering); ter Braak 2006, Stat. Comput. 16:239 (moves)",
		Fn: func(a []float64) float64 {
			return outage.Length{Law: outage.TwoKinds, Mu: a[1], Sigma: a[2], Gap: a[3], SigmaLong: a[4], Share: a[5]}.Survival(a[0])
		},
	})
	NextEq = calc.Register(calc.Equation{
		Key: "range-of-the-next-years", Section: "Seasons",
		Title:   "Chance that the coming ten years lie between the k-th smallest and the k-th largest of the futures lived",
		Formula: "P = 1 − 2 k / (n + 1)",
		Result:  calc.Symbol{Name: "P", Meaning: "chance", Unit: "–"},
		Args:    []calc.Symbol{{Name: "k", Meaning: "place in the order", Unit: "–"}, {Name: "n", Meaning: "futures that saw anything", Unit: "–"}},
		Range:   "1 ≤ k < n/2; whatever the law, for the coming years are as likely at any place in the order. Told as nine of ten, k is taken as large as keeps P at 0.92: towns unlike the priors hold less",
		Source:  "David & Nagaraja 2003, Order statistics, 3rd ed., section 7.2",
		Fn:      func(a []float64) float64 { return 1 - 2*a[0]/(a[1]+1) },
	})
)
