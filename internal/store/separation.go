package store

import (
	"strconv"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

func itoa(n int) string { return strconv.Itoa(n) }

// consent judges whether anybody allows a pipe joint between stored water and the main.
// The supplier's own answer outranks the local rules, except where the rules refuse.
func consent(c Context) finding.Finding {
	f := finding.New("by-pass-consent", "", "")
	leave := assembly.Joint(c.Job, c.Profile)
	f.Source, f.Standing = leave.Rule.Cited()
	switch {
	case !c.Assembly.Joined && c.Assembly.Spooled():
		return spoolConsent(leave, f)
	case !c.Assembly.Joined:
		f.Name("basis", "@by-pass.unjoined")
		f.Verdict = finding.Fine
		return f
	}
	f.Name("basis", "@by-pass."+string(leave.Basis))
	switch {
	case leave.Given():
		f.Verdict = finding.Fine
	case leave.May(), leave.Basis == job.Asked:
		f.Verdict = finding.LookAt
	default:
		f.Verdict = finding.MustFix
		f.Cures = append(f.Cures, []job.Edit{set("choices.arrangement", "through-store")})
	}
	return f
}

// spoolConsent judges who allows a spool that can join the two waters for as long as it is
// in. Out it joins nothing; where it is refused or nobody has answered, it stays off site.
func spoolConsent(leave assembly.Leave, f finding.Finding) finding.Finding {
	f.Verdict = finding.LookAt
	f.Cures = append(f.Cures, []job.Edit{set("choices.arrangement", "through-store")})
	switch {
	case leave.Basis == assembly.RulesNo:
		f.Name("basis", "@by-pass.spool-rules-no")
	case leave.May() && !leave.Given():
		f.Name("basis", "@by-pass.spool-with-consent")
	case leave.Given():
		f.Verdict, f.Cures = finding.Fine, nil
		f.Name("basis", "@by-pass.spool-yes")
	case leave.Basis == job.No:
		f.Name("basis", "@by-pass.spool-no")
	default:
		f.Name("basis", "@by-pass.spool-asked")
	}
	return f
}

// deviceRank orders backflow protection by what it holds, weakest first.
var deviceRank = map[string]int{"none": 0, "single": 2, "double": 3, "reduced-pressure": 4, "air-gap": 5}

// device judges the protection at the service against the fluid category of the store.
// Where no pipe joins store and main, the air gap at the float valve is the protection.
func device(c Context) finding.Finding {
	f := finding.New("backflow-device", "", "")
	category := c.Job.Choices.Fluid()
	f.Name("category", "@"+c.Profile.WaterGrade(category))
	f.Name("most", "@"+c.Profile.WaterGrade("3"))
	have := "air-gap"
	f.Name("device", "@backflow.air-gap")
	if c.Assembly.Joined {
		have = "none"
		f.Name("device", "@backflow.none")
		if n, row, ok := serviceDevice(c.Assembly); ok {
			have = row.Kind
			f.Where = n.Tag
			f.Name("device", row.Words)
		}
	}
	rule := c.Profile.Rule("device-category-" + category)
	if !rule.Set {
		f.Blank("device-category-" + category)
		return f
	}
	f.Source, f.Standing = rule.Cited()
	f.Name("wanted", "@device."+rule.Text)
	f.Name("good", "@"+c.Profile.WaterGrade(strconv.Itoa(holds(c.Profile, have))))
	f.Verdict = finding.Fine
	switch {
	case deviceRank[have] < deviceRank[rule.Text]:
		f.Verdict = finding.MustFix
		f.Cures = deviceCures(c, rule.Text)
	case have == "air-gap":
		openGap(&f, c, category)
	}
	return f
}

// openGap judges an air gap by its class. With an overflow pipe in the wall it is the usual one
// of a cistern with a float valve (EN 1717: AG), good for category 3. Category 5 needs a gap that
// stays open with everything blocked that can block: water leaves by a wide slot (AB).
func openGap(f *finding.Finding, c Context, category string) {
	by := c.Job.Choices.Spill
	f.Name("device", "@backflow.air-gap")
	if by == "slot" {
		f.Name("device", "@backflow.air-gap-slot")
	}
	if category != job.Foul || by == "slot" {
		return
	}
	f.Verdict, f.Case = finding.MustFix, "class"
	f.Cures = [][]job.Edit{{set("choices.store.spill", "slot"), set("choices.store.slot", quantity.Handy(quantity.LengthDim, 0.3, c.Job.System())), set("choices.store.screen", "wide")}}
}

// serviceDevice finds the non-return valve or assembly on the service.
func serviceDevice(a *assembly.Assembly) (assembly.Part, catalogue.NonReturn, bool) {
	for _, i := range a.Of(assembly.NonReturn) {
		if row, is := a.Parts[i].Row.(catalogue.NonReturn); is && a.Parts[i].Role == assembly.Service {
			return a.Parts[i], row, true
		}
	}
	return assembly.Part{}, catalogue.NonReturn{}, false
}

// holds returns the highest category the profile lets a device of this kind keep back; 1
// when none.
func holds(p *catalogue.Profile, kind string) int {
	best := 1
	for n := 2; n <= 5; n++ {
		r := p.Rule("device-category-" + strconv.Itoa(n))
		if r.Set && deviceRank[kind] >= deviceRank[r.Text] {
			best = n
		}
	}
	return best
}

// deviceCures proposes the same size of the wanted kind, or an arrangement that needs none.
func deviceCures(c Context, kind string) [][]job.Edit {
	var cures [][]job.Edit
	size := c.Job.Choices.Backflow
	for i := len(size) - 1; i >= 0 && kind != "air-gap"; i-- {
		if size[i] == '-' {
			stem := map[string]string{"single": "single-check", "double": "double-check", "reduced-pressure": "reduced-pressure"}[kind]
			cures = append(cures, []job.Edit{set("choices.backflow", stem+size[i:])})
			break
		}
	}
	return append(cures, []job.Edit{set("choices.arrangement", "through-store")})
}

// notice judges whether bad water can reach the store after an interruption.
func notice(c Context) finding.Finding {
	f := finding.New("boil-notice", "", "")
	f.Name("valve", "@valve.feed")
	if shut := noticeValves(c.Assembly); len(shut) > 0 {
		f.Where = shut[0]
		f.Name("valve", strings.Join(shut, ", "))
	}
	switch c.Job.Interruptions.Notice {
	case job.Yes:
		f.Verdict = finding.LookAt
	case job.No:
		f.Verdict = finding.Fine
	default:
		f.Blank("interruptions.boil-notice")
	}
	return f
}

// noticeValves lists the valves that the setting for a boil-water notice shuts and the
// normal one leaves open, street to home.
func noticeValves(a *assembly.Assembly) []string {
	notice := a.Setting("boil-notice")
	if notice == nil || len(a.Settings) == 0 {
		return nil
	}
	var tags []string
	for i := range a.Parts {
		tag := a.Parts[i].Tag
		if notice.Positions[tag] == "shut" && a.Settings[0].Positions[tag] == "open" {
			tags = append(tags, tag)
		}
	}
	return tags
}

// handDelay judges how long the taps stay dry until somebody turns a hand changeover:
// nobody is there while everybody is away.
func handDelay(c Context) finding.Finding {
	f := finding.New("hand-delay", "", "")
	if Automatic(c.Assembly) || !c.Assembly.Joined {
		f.Verdict = finding.Fine
		return f
	}
	f.Where = handTurned(c.Assembly)
	away := site.HouseholdOf(c.Job, c.Assembly).Away
	if !away.Told() {
		f.Blank("home.away")
		return f
	}
	f.Name("away", away.String())
	f.Figure = quantity.Quantity{Dim: quantity.TimeDim, SI: float64(away.Lasts()), Basis: quantity.Stated}
	f.Verdict = finding.LookAt
	f.Cures = [][]job.Edit{{set("choices.arrangement", "main-first")}}
	return f
}

// handTurned is the tag of the handle of a hand changeover: a three-way valve, else the
// valve that lets the main past it; "" where there is neither.
func handTurned(a *assembly.Assembly) string {
	tag := ""
	for i := range a.Parts {
		switch p := &a.Parts[i]; {
		case p.Kind == assembly.ThreeWay:
			return p.Tag
		case p.Purpose == assembly.AsByPassMain:
			tag = p.Tag
		}
	}
	return tag
}
