// Package consent asks who must sign before work starts: the gate of the verdict.
//
// Stage: an analysis. It takes the job's answers and the assembly, and gives who is asked,
// why, and how each stands; a finding is read off them. It gives no legal advice: it lists
// those the trade asks as a rule, and local law may ask for more.
package consent

import (
	"strconv"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Who is somebody that signs. Words: "sign.<Who>".
type Who string

// Those who are asked.
const (
	Supplier    Who = "supplier"    // the water supplier
	Landlord    Who = "landlord"    // or whoever owns the building together
	Permit      Who = "permit"      // the local authority
	Engineer    Who = "engineer"    // for what stands on a roof, a stand or a floor
	Electrician Who = "electrician" // for fixed wiring
	Insurer     Who = "insurer"     // is told; does not sign
)

// State is how a signature stands. The zero value is Owed, so that forgetting shows.
type State uint8

// The states.
const (
	Owed State = iota
	Given
	Refused
	Tell // is to be told; nothing waits for it
)

// ID is the message id of the state's word, and its stable name.
func (s State) ID() string { return [...]string{"owed", "given", "refused", "tell"}[s] }

// Signature is one line of the gate. Why is the id of the reason: "sign.why.<Why>".
type Signature struct {
	Who   Who
	State State
	Why   string
	Path  string // field that holds the answer
}

// Ask lists who must sign for what is to be built under these local rules, in the order they are
// asked.
func Ask(j *job.Job, a *assembly.Assembly, p *catalogue.Profile) []Signature {
	c := &j.Consent
	var list []Signature
	add := func(on bool, who Who, s State, why, path string) {
		if on {
			list = append(list, Signature{who, s, why, path})
		}
	}
	supplier, why, path := leave(assembly.Joint(j, p)), "joined", "supply.by-pass"
	notice := a.Notified(p) // whatever else they are asked: that no joint is refused says nothing of the pump
	switch {
	case a.Joined:
	case a.Spooled():
		why = "spool"
	case len(a.Of(assembly.Store)) == 0 && len(a.Of(assembly.Pump)) > 0:
		supplier, why, path = leave(assembly.Booster(j, p, a.Draws())), "booster", "supply.booster"
		if supplier == Tell {
			why = "booster-free"
		}
	default: // nobody is asked about a joint that is not there; works at the meter are theirs all the same
		supplier, why = Tell, "unjoined"
	}
	add(!notice || why != "unjoined", Supplier, supplier, why, path)
	add(notice, Supplier, Tell, noticeOf(p), path)
	add(c.Tenure != "owner" && c.Tenure != "", Landlord, answered(c.Landlord), "not-owner", "consent.landlord")
	add(c.Permit != job.NotNeeded, Permit, permit(c.Permit), "permit", "consent.permit")
	switch raised := Carried(j, a); {
	case raised:
		add(true, Engineer, answered(c.Engineer), "raised", "consent.engineer")
	case j.Place.Ground == "made-ground": // the tables presume nothing of it, and the finding on it says so
		add(len(a.Of(assembly.Store)) > 0, Engineer, answered(c.Engineer), "made-ground", "consent.engineer")
	}
	add(len(a.Of(assembly.Pump)) > 0, Electrician, answered(c.Electrician), "wiring", "consent.electrician")
	add(c.Insurer != job.NotNeeded, Insurer, insurer(c.Insurer), "insured", "consent.insurer")
	return list
}

// noticeOf is why the pump may have to be notified: the rules here ask it, or those elsewhere do.
func noticeOf(p *catalogue.Profile) string {
	if p.Rule("booster-free-flow").Standing == catalogue.RuleHere {
		return "pumped"
	}
	return "pumped-elsewhere"
}

// leave turns what rules and supplier say of a joint or a pump into a state: what needs nobody's
// leave is told all the same.
func leave(l assembly.Leave) State {
	switch {
	case l.Free():
		return Tell
	case l.Given():
		return Given
	case l.Refused():
		return Refused
	}
	return Owed
}

// answered turns an answer into a state.
func answered(answer job.Answer) State {
	switch answer {
	case job.Yes, job.Given, job.Signed, job.Named:
		return Given
	case job.No, job.Refused:
		return Refused
	}
	return Owed
}

// permit: nobody knows of one as a rule, so that nothing waits until somebody says so.
func permit(answer job.Answer) State {
	if answer.Open() {
		return Tell
	}
	return answered(answer)
}

func insurer(answer job.Answer) State {
	switch answer {
	case job.Informed:
		return Given
	case job.Refused:
		return Refused
	}
	return Tell
}

// high is the height of a store's base above the ground at the house from which on it
// stands on something that must carry it, not on the ground. Judgement. [m]
const high = 0.5

// Raised reports whether the store stands on a stand, a roof or an upper floor.
func Raised(j *job.Job) bool { return float64(j.Choices.StoreLevel.V-j.Home.Level.V) > high }

// Carried reports whether any tank stands on something that must carry it: a raised store,
// or a header tank of the assembly.
func Carried(j *job.Job, a *assembly.Assembly) bool {
	return Raised(j) || a.Header() >= 0 && float64(j.Choices.HeaderLevel.V-j.Home.Level.V) > high
}

// Count is how many signatures stand so.
func Count(list []Signature, s State) int {
	n := 0
	for _, one := range list {
		if one.State == s {
			n++
		}
	}
	return n
}

// Findings reads the gate off the list. A refusal must be fixed: the work may not start.
func Findings(list []Signature) []finding.Finding {
	f := finding.New("signatures", "", "")
	f.Verdict = finding.Fine
	owed, refused := Count(list, Owed), Count(list, Refused)
	f.Figure = finding.Of(quantity.NoDim, float64(owed))
	f.Name("owed", strconv.Itoa(owed))
	switch {
	case refused > 0:
		f.Verdict = finding.MustFix
		f.Name("who", "@sign."+string(firstOf(list, Refused)))
	case owed > 0:
		f.Verdict = finding.LookAt
		f.Name("who", "@sign."+string(firstOf(list, Owed)))
	}
	for _, one := range list {
		if one.State == Owed || one.State == Refused {
			f.Moves = append(f.Moves, one.Path)
		}
	}
	return []finding.Finding{f}
}

func firstOf(list []Signature, s State) Who {
	for _, one := range list {
		if one.State == s {
			return one.Who
		}
	}
	return ""
}
