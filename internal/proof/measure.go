package proof

// Measurer is a promise that can tell kept from broken without its figure in most cases,
// and works the figure out where it is shown: on the few counterexamples a proof keeps.
// Measure is Judge with the figure, and comes to the same outcome.
type Measurer interface {
	Promise
	Measure(v *View) Judgement
}

// measured gives counterexamples the figures their promise left out.
func (s *Space) measured(p Promise, list ...*Counterexample) {
	m, can := p.(Measurer)
	if !can {
		return
	}
	for _, c := range list {
		if c == nil {
			continue
		}
		o := s.one(c.Case)
		if j := m.Measure(&View{o}); j.Outcome == Broken {
			c.Judgement = j
		}
	}
}
