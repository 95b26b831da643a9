package commission

import (
	"math"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// How plastic pipe is tested in steps, for those who say so.
const (
	StretchTime = quantity.Time(sitework.StretchTime) // it is pumped up again
	StretchHold = quantity.Time(sitework.StretchHold) // it holds at a third
)

// Test is the pressure test of the new pipe.
type Test struct {
	At       quantity.Pressure
	Hold     quantity.Time
	Multiple float64           // of Highest, as the profile has it; 0: At is fixed, whatever the use
	Highest  quantity.Pressure // of any new part in use
	Where    string            // that part
	Least    bool              // the profile's least pressure governs, not the multiple
	Source   string            // keys of the rule
	Standing string            // what that is to the place
	Plastic  bool              // new pipe stretches: the test is done in steps
	Off      []Off             // what is shut off, taken out or plugged first
	Sections []procedure.Section
	Calc     []calc.Step
}

// Off is a part the test may not reach, and why: "pump", "vessel", "heater", "float",
// "control", "old", "weak"; or one whose body alone bears it: "body".
type Off struct {
	Tag, Why string
	Rating   quantity.Pressure // of a weak one, or of a body
}

// Body is what the body of a valve is proved at, open.
func (o *Off) Body() quantity.Pressure { return bodyProof * o.Rating }

// bodyProof is the pressure that the body of a valve is proved at, open, over what it is rated
// for; its seat, shut, is proved at 1.1 times only. EN 12266-1, tests P10 and P12; recalled.
const bodyProof = 1.5

// Weak are the tags of the parts rated for less than the test, those whose bodies bear it with them.
func (t *Test) Weak() []string {
	var tags []string
	for _, o := range t.Off {
		if o.Why == "weak" || o.Why == "body" {
			tags = append(tags, o.Tag)
		}
	}
	return tags
}

func (c *Context) test() *Test {
	rule, blank := c.Profile.PressureTest()
	highest, where := c.highest()
	if blank != "" || highest <= 0 {
		return nil
	}
	at, work := sitework.Test(rule.Multiple, highest, rule.Least)
	t := &Test{At: at, Hold: rule.Hold, Multiple: rule.Multiple, Highest: highest, Where: where,
		Least: at == rule.Least, Source: rule.Source, Standing: rule.Standing, Plastic: c.plastic(), Calc: work.Steps}
	t.Off = c.off(at)
	t.Sections = procedure.Sections(c.Assembly)
	return t
}

// highest is the highest pressure any new pipe sees in use, and what sees it.
func (c *Context) highest() (quantity.Pressure, string) {
	high, where := quantity.Pressure(0), ""
	if c.Service == nil {
		return 0, ""
	}
	for i := range c.Service.Rests {
		r := &c.Service.Rests[i]
		k := c.Assembly.Index(r.Part)
		if k < 0 || c.Assembly.Parts[k].Kept {
			continue
		}
		if v := max(r.High, r.Working); !math.IsInf(float64(v), 0) && v > high {
			high, where = v, r.Part
		}
	}
	return high, where
}

// off lists what no test may reach, and any part rated for less.
func (c *Context) off(at quantity.Pressure) []Off {
	weak := map[string]quantity.Pressure{}
	for _, r := range c.Service.Rests {
		if r.Rated && r.Rating < at {
			weak[r.Part] = r.Rating
		}
	}
	var list []Off
	for i := range c.Assembly.Parts {
		part := &c.Assembly.Parts[i]
		why := procedure.Spared[part.Kind]
		rating, low := weak[part.Tag]
		switch {
		case part.Kind == assembly.Outlet || part.Kept && part.Kind != assembly.Heater, why == "" && !low:
			continue
		case why == "" && opens(part) && float64(at) <= bodyProof*float64(rating):
			why = "body"
		case why == "":
			why = "weak"
		}
		list = append(list, Off{part.Tag, why, rating})
	}
	return list
}

// opens reports whether a part is a valve that stands open while the pipe on both sides of it is
// under test, or a drain that has a cap.
func opens(part *assembly.Part) bool {
	switch part.Kind {
	case assembly.HandValve, assembly.Isolator, assembly.ThreeWay, assembly.Drain:
		return true
	}
	return false
}

// plastic reports whether new pipe stretches under pressure: plastic without a metal core.
func (c *Context) plastic() bool {
	for i := range c.Assembly.Parts {
		part := &c.Assembly.Parts[i]
		if part.Kind == assembly.Run && !part.Kept && strings.HasPrefix(strings.ToUpper(part.Size.Family), "P") {
			return true
		}
	}
	return false
}
