package demand

import (
	"math"

	"tideover/internal/calc"
	"tideover/internal/quantity"
)

// The rectangular pulses of one kind of draw in closed form. The draws of a home are tested
// against these.
const pulses = "Buchberger & Wu 1995, J. Hydraul. Eng. 121(3):232-246, instantaneous demand as an M/G/∞ queue of rectangular pulses; Rodriguez-Iturbe, Cox & Isham 1987, Proc. R. Soc. Lond. A 410:269-288"

var (
	rate   = calc.Symbol{Name: "λ", Meaning: "draws that begin in a second", Unit: "1/s"}
	lasts  = calc.Symbol{Name: "τ", Meaning: "mean duration of a draw", Dim: quantity.TimeDim, Unit: "s"}
	flowOf = calc.Symbol{Name: "q", Meaning: "flow of a draw", Dim: quantity.FlowDim, Unit: "m³/s"}

	// MeanFlow, FlowVariance, FlowCovariance and Busy are the laws of one kind of draw.
	MeanFlow = calc.Register(calc.Equation{
		Key: "pulse-mean", Section: "Household",
		Title:   "Mean flow of draws that begin at random",
		Formula: "μ = λ τ q",
		Result:  calc.Symbol{Name: "μ", Meaning: "mean flow", Dim: quantity.FlowDim, Unit: "m³/s"},
		Args:    []calc.Symbol{rate, lasts, flowOf}, Range: "a steady rate; any law of the duration", Source: pulses,
		Fn: func(a []float64) float64 { return a[0] * a[1] * a[2] },
	})
	FlowVariance = calc.Register(calc.Equation{
		Key: "pulse-variance", Section: "Household",
		Title:   "Variance of the flow of draws that begin at random",
		Formula: "σ² = λ τ q²",
		Result:  calc.Symbol{Name: "σ²", Meaning: "variance of the flow at a moment", Unit: "m⁶/s²"},
		Args:    []calc.Symbol{rate, lasts, flowOf}, Range: "one flow for every draw; a steady rate", Source: pulses,
		Fn: func(a []float64) float64 { return a[0] * a[1] * a[2] * a[2] },
	})
	FlowCovariance = calc.Register(calc.Equation{
		Key: "pulse-covariance", Section: "Household",
		Title:   "Covariance of the flow at two moments, draws of one duration",
		Formula: "c(s) = λ q² max(0, τ − s)",
		Result:  calc.Symbol{Name: "c", Meaning: "covariance of the flows", Unit: "m⁶/s²"},
		Args:    []calc.Symbol{rate, lasts, flowOf, {Name: "s", Meaning: "time between the moments", Dim: quantity.TimeDim, Unit: "s"}},
		Range:   "one flow and one duration; otherwise the mean of max(0, duration − s)", Source: pulses,
		Fn: func(a []float64) float64 { return a[0] * a[2] * a[2] * math.Max(0, a[1]-a[3]) },
	})
	Busy = calc.Register(calc.Equation{
		Key: "pulse-together", Section: "Household",
		Title:   "Chance that n draws run at once",
		Formula: "P(n) = (λ τ)ⁿ e^(−λ τ) / n!",
		Result:  calc.Symbol{Name: "P", Meaning: "chance", Unit: "–"},
		Args:    []calc.Symbol{rate, lasts, {Name: "n", Meaning: "draws that run", Unit: "–"}},
		Range:   "a steady rate; any law of the duration", Source: pulses,
		Fn: func(a []float64) float64 {
			g, _ := math.Lgamma(a[2] + 1)
			return math.Exp(a[2]*math.Log(a[0]*a[1]) - a[0]*a[1] - g)
		},
	})
	// HomesVary is how much homes differ that are told alike.
	HomesVary = calc.Register(calc.Equation{
		Key: "homes-vary", Section: "Household",
		Title:   "Variance of what homes draw that are told alike",
		Formula: "v = (b + a)² / 12",
		Result:  calc.Symbol{Name: "v", Meaning: "variance of a home's share of the use told", Unit: "–"},
		Args: []calc.Symbol{{Name: "b", Meaning: "how much less than told a home may draw, as a share", Unit: "–"},
			{Name: "a", Meaning: "how much more", Unit: "–"}},
		Range: "anywhere between alike; the mean share is 1 + (a − b)/2; one share for all years of a home, beside the spread of its days", Source: "variance of an even law",
		Fn: func(a []float64) float64 { return (a[0] + a[1]) * (a[0] + a[1]) / 12 },
	})
)
