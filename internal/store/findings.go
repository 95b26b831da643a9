package store

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/words"
)

// Findings appends the judgements read off a result to a list.
func Findings(list []finding.Finding, r *Result, c Context) []finding.Finding {
	list = append(list, carryTime(r, c), turnover(r, c))
	if r.Fewer > 0 {
		list = append(list, oneFewer(r, c))
	}
	list = append(list, shutLevel(r, c)...)
	return Separation(metered(routine(list, r, c), c.Job), c)
}

// Separation appends to a list what does not depend on the store's size: who allows a joint with
// the main, the device at the service, a boil-water notice, and who turns the valve. Where
// nothing is stored the one question is who allows a pump to draw on the main.
func Separation(list []finding.Finding, c Context) []finding.Finding {
	if storeTag(c.Assembly) == "" {
		if len(c.Assembly.Of(assembly.Pump)) > 0 {
			return append(list, boosterConsent(c))
		}
		return outlets(list, c)
	}
	return outlets(glass(append(list, consent(c), device(c), notice(c), handDelay(c)), c), c)
}

// shutLevel says that nobody could cite how far under the overflow the float valve shuts, where the
// profile leaves that blank: the level every figure of the store rests on is then ours.
func shutLevel(r *Result, c Context) []finding.Finding {
	rule := c.Profile.Rule("overflow-margin")
	if rule.Set {
		return nil
	}
	f := finding.New("overflow-margin", storeTag(c.Assembly), "")
	f.Blank(rule.Key)
	f.Arg("margin", finding.Of(quantity.LengthDim, float64(site.OverflowMargin(c.Profile, c.Job.Assumed))))
	return []finding.Finding{f}
}

// boosterConsent judges whether anybody allows the pump to draw straight on the main. It
// is a fault until somebody does: a main that is sucked takes in dirt by every leak.
func boosterConsent(c Context) finding.Finding {
	f := finding.New("booster-consent", c.Assembly.Parts[c.Assembly.Of(assembly.Pump)[0]].Tag, "")
	leave := assembly.Booster(c.Job, c.Profile, c.Assembly.Draws())
	f.Source, f.Standing = leave.Rule.Cited()
	f.Name("basis", "@booster."+string(leave.Basis))
	switch {
	case leave.Given():
		f.Verdict = finding.Fine
	case leave.May():
		f.Verdict = finding.LookAt
	default:
		f.Verdict = finding.MustFix
		f.Cures = [][]job.Edit{{set("choices.arrangement", "through-store")}}
	}
	return f
}

func storeTag(a *assembly.Assembly) string {
	if at := a.Of(assembly.Store); len(at) > 0 {
		return a.Parts[at[0]].Tag
	}
	return ""
}

func set(path, text string) job.Edit { return job.Edit{Op: job.Set, Path: path, Text: text} }

func carryTime(r *Result, c Context) finding.Finding {
	f := finding.New("carry-time", storeTag(c.Assembly), "")
	if c.Work != nil {
		f.Calc = c.Work.Carry.Steps
	}
	f.Source = words.Say(limitOf(c), nil)
	f.Figure = finding.Of(quantity.TimeDim, float64(r.Lasts))
	f.Arg("full", finding.Of(quantity.TimeDim, float64(r.Carry)))
	if r.Longest <= 0 {
		f.Blank("interruptions.habit")
		return f
	}
	f.Name("notice", notices(c))
	f.Arg("sold", finding.Of(quantity.VolumeDim, float64(r.Sold)))
	f.Arg("usable", finding.Of(quantity.VolumeDim, float64(r.Usable)))
	row(&f, r, c)
	limit := quantity.Quantity{Dim: quantity.TimeDim, SI: float64(r.Judged), Basis: quantity.Stated}
	f.Against(f.Figure, limit, finding.AtLeast, finding.LookAt)
	f.Arg("missing", finding.Of(quantity.VolumeDim, float64(r.Short)))
	if !c.Drawn && f.Verdict == finding.Fine && r.Carry < r.Longest+site.NoticeFeared(c.Job) {
		f.RestsOn("interruptions.boil-notice")
	}
	if f.Verdict == finding.NotJudged {
		f.Case = ""
	}
	if f.Verdict == finding.LookAt {
		n := int(c.Job.Choices.Stores.V)
		for more := n + 1; more <= n+2; more++ {
			f.Cures = append(f.Cures, []job.Edit{set("choices.store.count", itoa(more))})
		}
	}
	return f
}

// limitOf is where the interruptions that are judged come from.
func limitOf(c Context) string {
	if len(c.Job.Logged) > 0 {
		return "limit.logged"
	}
	return "limit.told"
}

// row says of a store that is not full when an interruption begins why that is, and with what
// it begins.
func row(f *finding.Finding, r *Result, c Context) {
	if r.Row == nil {
		return
	}
	f.Arg("begins", finding.Of(quantity.VolumeDim, float64(r.Begins)))
	if f.Case = "row"; r.Row.Waits {
		f.Case = "waits"
		return
	}
	if r.Begins <= 0 {
		f.Case = "dry"
	}
	main := "carry.main"
	if r.Row.Weak {
		main = "carry.main-weak"
	}
	f.Name("main", words.Say(main, words.Args{"on": quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: float64(r.Row.On), Basis: quantity.Stated}, c.Job.System())}))
}

// notices says that a boil-water notice is counted in, and what else the figures rest on.
func notices(c Context) string {
	lasts, more := site.NoticeOf(c.Job), rationed(c)
	if len(c.Job.Logged) > 0 {
		more = " " + words.Say("carry.logged", nil) + more
	}
	if lasts <= 0 {
		return more
	}
	return " " + words.Say("carry.notice", words.Args{"lasts": quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: float64(lasts)}, c.Job.System())}) + more
}

// rationed says that the use was read while water was short.
func rationed(c Context) string {
	more := c.Job.Suppressed()
	if more == 0 {
		return ""
	}
	return " " + words.Say("carry.rationed", words.Args{"more": quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: more}, c.Job.System())})
}

// oneFewer says which interruptions the last of several stores is there for.
func oneFewer(r *Result, c Context) finding.Finding {
	f := finding.New("one-store-fewer", storeTag(c.Assembly), "")
	f.Source = words.Say(limitOf(c), nil)
	f.Figure = finding.Of(quantity.TimeDim, float64(r.Fewer))
	if r.Longest <= 0 {
		f.Blank("interruptions.habit")
		return f
	}
	f.Limit = quantity.Quantity{Dim: quantity.TimeDim, SI: float64(r.Longest), Basis: quantity.Stated}
	var when []string
	for _, s := range r.Beyond {
		told := s.When
		if told == "" {
			told = quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: float64(s.Most)}, c.Job.System())
		}
		when = append(when, told)
	}
	f.Verdict = finding.Fine
	f.Name("when", strings.Join(when, ", "))
	if len(r.Beyond) == 0 {
		f.Verdict = finding.LookAt
		f.Cures = [][]job.Edit{{set("choices.store.count", itoa(int(c.Job.Choices.Stores.V)-1))}}
	}
	return f
}

// turnover judges how long it takes to draw the usable water once.
func turnover(r *Result, c Context) finding.Finding {
	f := finding.New("turnover", storeTag(c.Assembly), "")
	if c.Work != nil {
		f.Calc = c.Work.Turnover.Steps
	}
	look, fix := c.Profile.Rule("turnover-look"), c.Profile.Rule("turnover-fix")
	f.Figure = finding.Of(quantity.TimeDim, float64(r.Turnover))
	f.Arg("through", finding.Of(quantity.VolumeDim, float64(r.Through)))
	f.Arg("whole", finding.Of(quantity.VolumeDim, float64(r.Usable+r.Dead)))
	switch {
	case !look.Set:
		f.Blank("turnover-look")
		return f
	case !fix.Set:
		f.Blank("turnover-fix")
		return f
	}
	f.Source, f.Standing = look.Cited()
	f.Against(f.Figure, ruled(quantity.TimeDim, look), finding.AtMost, finding.LookAt)
	f.Arg("worst", ruled(quantity.TimeDim, fix))
	if f.Verdict == finding.LookAt && float64(r.Turnover) > fix.Value {
		f.Verdict = finding.MustFix
		f.Source, f.Standing = fix.Cited()
		f.Limit = ruled(quantity.TimeDim, fix) // the one the sentence names
	}
	if f.Verdict != finding.Fine {
		f.Cures = routines(r, c, quantity.Time(look.Value))
		if f.Verdict == finding.MustFix {
			f.Cures = append(f.Cures, routines(r, c, quantity.Time(fix.Value))...)
		}
		f.Cures = append(f.Cures, []job.Edit{set("choices.arrangement", "through-store")})
		f.Cures = append(f.Cures, smaller(r, c, quantity.Time(look.Value))...)
	}
	return f
}

// ruled is a limit of the local rules.
func ruled(dim quantity.Dim, r catalogue.Rule) quantity.Quantity {
	return quantity.Quantity{Dim: dim, SI: r.Value, Basis: quantity.Stated}
}
