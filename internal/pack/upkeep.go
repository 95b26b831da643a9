package pack

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/consent"
	"tideover/internal/job"
	"tideover/internal/pack/paper"
)

// chore is one piece of upkeep.
type chore struct {
	id     string
	days   int // from one to the next; months where it is nought
	months int
	once   bool
	who    string // "", "licensed"
	on     bool
	calls  bool // stands in the calendar: what is done every week does not ring
}

// chores is the upkeep of this assembly, the most frequent first. Intervals are trade
// knowledge, recalled.
func (p *pack) chores() []chore {
	has := func(k assembly.Kind) bool { return len(p.Assembly.Of(k)) > 0 }
	pump := has(assembly.Pump)
	battery := p.Job.Power.Battery == job.Yes || p.Job.Power.Battery == job.Wanted
	stored := p.stored()
	list := []chore{{"look", 7, 0, false, "", stored, false}, {"look-bare", 7, 0, false, "", !stored, false}, {"month-one", 0, 1, true, "", true, true}}
	list = append(list, chore{"routine", p.routineDays(), 0, false, "", p.routineDays() > 0, true},
		chore{"exercise", 0, 1, false, "", p.routineDays() == 0 && pump && p.stored(), true})
	return append(list,
		chore{"trip", 0, 1, false, "", pump, true},
		chore{"turns", 0, 1, false, "", p.several(), true},
		chore{"charge", 0, 6, false, "", p.pumpVessels() != "", true},
		chore{"charge-heater", 0, 6, false, "", p.pumpVessels() == "" && has(assembly.Vessel), true},
		chore{"strainers", 0, 6, false, "", has(assembly.Strainer), true},
		chore{"regulator", 0, 12, false, "", has(assembly.Regulator), true},
		chore{"screens", 0, 6, false, "", has(assembly.Store), true},
		chore{"alarm", 0, 6, false, "", p.tagsAs(assembly.AsLevelAlarm) != "", true},
		chore{"relief", 0, 6, false, "", p.heated(), true},
		chore{"checks", 0, 12, false, "", p.testedChecks() != "", true},
		chore{"stand", 0, 12, false, "", stored && consent.Carried(p.Job, p.Assembly), true},
		chore{"clean", 0, 12, false, "", has(assembly.Store), true},
		chore{"again", 0, 12, false, "", p.HandOver != nil && len(p.HandOver.Again) > 0, true},
		chore{"flow", 0, 12, false, "", true, true},
		chore{"electrical", 0, 12, false, "licensed", pump, true},
		chore{"float", 0, 24, false, "", has(assembly.FloatValve), true},
		chore{"battery", 0, 48, false, "licensed", battery && pump, true},
		chore{"membrane", 0, 60, false, "", has(assembly.Vessel), true},
		chore{"cartridges", 0, 60, false, "", has(assembly.NonReturn), true},
		chore{"lid", 0, 96, false, "", has(assembly.Store), true},
	)
}

// heated reports whether a heater under pressure keeps water hot: one with a relief valve.
func (p *pack) heated() bool {
	for _, i := range p.Assembly.Of(assembly.Heater) {
		if row, ok := p.Assembly.Parts[i].Row.(catalogue.Heater); ok && assembly.Relieved(p.Job, row) {
			return true
		}
	}
	return false
}

// first is the day a chore falls due for the first time.
func (p *pack) first(c chore) time.Time { return p.made.AddDate(0, c.months, c.days) }

func (p *pack) choreArgs() []string {
	routine, is := p.routine()
	if !is {
		routine = []string{"turns", p.onStoreTurns()}
	}
	return append(routine,
		"stores", p.tags(assembly.Store), "float", p.tags(assembly.FloatValve), "alarm", p.tagsAs(assembly.AsLevelAlarm), "vessel", p.tags(assembly.Vessel), "charge-again", p.chargeAgain(), "pump-vessel", orWords(p.pumpVessels(), "valves.vessel"), "also", p.heaterVessel(),
		"strainers", p.tags(assembly.Strainer), "regulator", p.tags(assembly.Regulator), "checks", p.tags(assembly.NonReturn), "tested", p.testedChecks(), "feed", p.feed(), "pump", p.tags(assembly.Pump),
		"charge", p.pressure(p.Job.Choices.Charge.V), "tenth", p.ratio(0.1), "half-hour", p.time(1800),
	)
}

// chargeAgain asks for the charge of the vessels, where there are any.
func (p *pack) chargeAgain() string {
	if tags := p.tags(assembly.Vessel); tags != "" {
		return say("upkeep.charge-again", "vessel", tags) + " "
	}
	return ""
}

// upkeep is the calendar as a table, with boxes for who did it.
func (p *pack) upkeep() []paper.Block {
	t := paper.Table{Gap: 2, Pad: 0.8, Head: []string{say("upkeep.every"), say("upkeep.what"), say("upkeep.first"), say("upkeep.done")},
		Cols: []paper.Col{{Width: 24}, {Share: 1}, {Width: 22}, {Width: 42}}}
	args := p.choreArgs()
	for _, c := range p.chores() {
		if !c.on {
			continue
		}
		what := say("upkeep.do."+c.id, args...)
		if c.who != "" {
			what += " (" + say("build.who."+c.who) + ")"
		}
		t.Rows = append(t.Rows, []paper.Cell{strong(p.every(c)), {Text: what, Style: paper.Small}, cell(p.first(c).Format(time.DateOnly)), write})
	}
	b := append([]paper.Block{para(say("upkeep.how", "date", p.date)), t}, append(p.openings(), p.again()...)...)
	return append(b, small(say("upkeep.assumed")),
		paper.Text{Style: paper.Strong, Text: say("upkeep.change"), Gap: 3}, deferral())
}

// every is an interval in words.
func (p *pack) every(c chore) string {
	n := fmt.Sprint
	switch {
	case c.once:
		return say("upkeep.once", "n", n(c.months))
	case c.days == 7:
		return say("upkeep.week")
	case c.days > 0:
		return say("upkeep.days", "n", n(c.days))
	case c.months == 1:
		return say("upkeep.month")
	case c.months == 12:
		return say("upkeep.year")
	case c.months%12 == 0:
		return say("upkeep.years", "n", n(c.months/12))
	}
	return say("upkeep.months", "n", n(c.months))
}

// rule is the recurrence of a chore (RFC 5545, RRULE).
func (c chore) rule() string {
	if c.days > 0 {
		return fmt.Sprintf("FREQ=DAILY;INTERVAL=%d", c.days)
	}
	if c.months%12 == 0 {
		return fmt.Sprintf("FREQ=YEARLY;INTERVAL=%d", c.months/12)
	}
	return fmt.Sprintf("FREQ=MONTHLY;INTERVAL=%d", c.months)
}

// calendar is the upkeep as an iCalendar file (RFC 5545). A chore keeps its identifier as
// long as the job keeps its name, so that a second import moves the old entries instead
// of doubling them; the stamp is the job's date.
func (p *pack) calendar() []byte {
	cal := ics.NewCalendarFor("Tideover")
	cal.SetProductId("-//Tideover//" + p.tool + "//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetXWRCalName(p.titled("upkeep.calendar"))
	args := p.choreArgs()
	key := fmt.Sprintf("%x", sha256.Sum256([]byte(p.Job.Name)))[:12]
	for _, c := range p.chores() {
		if !c.on || !c.calls {
			continue
		}
		e := cal.AddEvent("upkeep-" + c.id + "-" + key + "@tideover")
		e.SetDtStampTime(p.made)
		e.SetAllDayStartAt(p.first(c))
		e.SetAllDayEndAt(p.first(c).AddDate(0, 0, 1))
		e.SetSummary(p.titled("upkeep.title." + c.id))
		e.SetDescription(say("upkeep.do."+c.id, args...) + " " + say("upkeep.note"))
		e.SetTimeTransparency(ics.TransparencyTransparent)
		if !c.once {
			e.AddRrule(c.rule())
		}
	}
	return []byte(cal.Serialize(ics.WithNewLineWindows))
}

// titled is a message with the job's name in it, on one line.
func (p *pack) titled(id string) string {
	return strings.TrimSpace(say(id, "job", oneLine(p.Job.Name)))
}
