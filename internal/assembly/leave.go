package assembly

import (
	"math"

	"tideover/internal/catalogue"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Leave is how it stands with something that local rules and the water supplier have a say in: a
// pump that draws on the main, a pipe that joins store and main. What is offered, what is judged,
// what is proved and whose signature is owed all ask here.
type Leave struct {
	Basis job.Answer     // what settles it: RulesYes, RulesNo, Small, or the supplier's answer (Unknown where nobody asked)
	Rule  catalogue.Rule // the local rule that says so, or that sends one to the supplier
}

// What settles it beside the supplier's answer.
const (
	RulesYes job.Answer = "rules-yes"
	RulesNo  job.Answer = "rules-no"
	Small    job.Answer = "small" // the pump draws less than the rules ask a notice for
)

// Booster is the leave for a pump that draws on the main at most so much; +Inf where nobody has
// chosen the pump.
func Booster(j *job.Job, p *catalogue.Profile, draws quantity.Flow) Leave {
	rule, free := p.Rule("booster-on-main"), p.Rule("booster-free-flow")
	switch {
	case rule.Text == "yes", rule.Text == "with-cut-out":
		return Leave{RulesYes, rule}
	case rule.Text != "no" && free.Set && float64(draws) <= free.Value:
		return Leave{Small, free}
	}
	return answered(rule, j.Supply.Booster)
}

// Joint is the leave for a pipe, or a spool, that joins store and main.
func Joint(j *job.Job, p *catalogue.Profile) Leave {
	return answered(p.Rule("by-pass-allowed"), j.Supply.Bypass)
}

func answered(rule catalogue.Rule, answer job.Answer) Leave {
	switch {
	case rule.Text == "no":
		answer = RulesNo
	case answer.Open():
		answer = job.Unknown
	}
	return Leave{answer, rule}
}

// May reports whether it may be laid out: nobody need be asked, or whoever was does not refuse.
// With consent each time it may, and the consent is still owed.
func (l Leave) May() bool { return l.Free() || l.Basis.Allows() }

// Free reports whether the rules settle it: nobody's leave is needed.
func (l Leave) Free() bool { return l.Basis == RulesYes || l.Basis == Small }

// Given reports whether leave is there in writing, or not needed.
func (l Leave) Given() bool { return l.Free() || l.Basis == job.Yes }

// Refused reports whether rules or supplier refuse.
func (l Leave) Refused() bool { return l.Basis == RulesNo || l.Basis == job.No }

// Draws is the most that the pumps of an assembly can draw, all running against nothing; +Inf
// where one's curve does not say, nought where there is none: where the curve through the row's
// points comes down to no head.
func (a *Assembly) Draws() quantity.Flow {
	sum := 0.0
	for _, i := range a.Of(Pump) {
		row, ok := a.Parts[i].Row.(catalogue.Pump)
		if !ok {
			return quantity.Flow(math.Inf(1))
		}
		h, b, c := row.Curve()
		sum += 2 * h / (b + math.Sqrt(b*b+4*c*h))
	}
	return quantity.Flow(sum)
}

// Notified reports whether the rules ask a notice of a pump that draws so much although it draws
// from a store: where a pump of more than a free flow is notified that is joined to the main
// "directly or indirectly", nobody but the supplier can say whether the store ends it.
func (a *Assembly) Notified(p *catalogue.Profile) bool {
	free := p.Rule("booster-free-flow")
	return free.Set && len(a.Of(Store)) > 0 && float64(a.Draws()) > free.Value
}
