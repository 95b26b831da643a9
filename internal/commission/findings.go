package commission

import (
	"strings"

	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// Findings reads the judgements off a result: whether the new parts bear the pressure they
// are tested at.
func Findings(r *Result, c Context) []finding.Finding {
	f := finding.New("pressure-test", "", "")
	if highest, _ := c.highest(); highest <= 0 && c.Service != nil {
		return nil // nothing new that a test could reach
	}
	if r.Test == nil {
		f.Blank(c.blank())
		return []finding.Finding{f}
	}
	f.Source, f.Standing, f.Calc = r.Test.Source, r.Test.Standing, r.Test.Calc
	f.Figure, f.Verdict = quantity.Of(r.Test.At), finding.Fine
	if weak := r.Test.Weak(); len(weak) > 0 {
		f.Verdict = finding.LookAt
		f.Name("parts", strings.Join(weak, ", "))
	}
	return []finding.Finding{f}
}

// blank names what is missing for a test.
func (c *Context) blank() string {
	if _, blank := c.Profile.PressureTest(); blank != "" {
		return blank
	}
	return "supply.static"
}
