// Package appraise is the run: one short list of analyses, called by the CLI, the page
// and the tests alike. It alone fans out, reruns for spread and tries remedies.
package appraise

import (
	"context"

	"tideover/internal/assembly"
	"tideover/internal/base"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/commission"
	"tideover/internal/consent"
	"tideover/internal/day"
	"tideover/internal/disinfect"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/power"
	"tideover/internal/service"
	"tideover/internal/store"
	"tideover/internal/takeoff"
)

// Input is everything a run needs; nothing is read from disk or clock.
type Input struct {
	Doc       *job.Doc // the job file; nil when there is only a Job, and then no remedy is tried
	Job       *job.Job
	Catalogue *catalogue.Catalogue
	Profile   *catalogue.Profile
	Prices    map[string]float64 // by catalogue row, in Currency; nil when the user gives none
	Currency  string
	Factors   Factors
	Proof     Depth // how much of the proof Run tries; once, in no rerun
	Foremost  int   // one remedy is looked for, of this many findings that matter most and of all that must be fixed; 0: some of each finding

	made     func(*Appraisal)    // in the base run: called once assembly and circuit are there
	atOnce   map[string][]string // in reruns, by mode: the outlets the base run took as open at once
	base     *Appraisal          // in reruns: the base run, which most differ from in figures alone
	moving   bool                // in reruns for spread
	unserved bool                // in those: what outlets get need not be worked out again
	only     *service.Only       // in those: of what the home is served, this alone need be; nil: all
	from     stage               // in reruns: the first analysis that what was moved can change
	until    stage               // in those for spread: the last whose findings are asked for; 0: all
	starts   []circuit.Start     // in reruns: the base run's answers, to start from
	room     []finding.Finding   // in reruns: empty, for the findings
	plain    bool                // share nothing between the job and the remedies tried on it, for comparison
	ctx      context.Context     // see Within; nil: nothing ends it
}

// Within is the input with every evaluation of it looking at a context: before each analysis, each
// case solved and each stretch of a day. One that ends gives up at the next look, with the
// context's error. Run, Prove and what else takes a context do so by themselves.
func (in Input) Within(ctx context.Context) Input {
	in.ctx = ctx
	return in
}

// ended is the error of the context, once that has ended.
func (in Input) ended() error {
	if in.ctx == nil {
		return nil
	}
	return in.ctx.Err()
}

// Factors are the general uncertainties of the tables, moved like any other input. The
// zero value leaves every figure as the catalogue has it.
type Factors struct {
	Losses float64 // share added to every fitting's loss, −1 < Losses
	Pump   float64 // share added to every pump's head, −1 < Pump

	Floats  float64 // share added to the flow factor of every float valve, −1 < Floats
	Outlets float64 // share added to what every draw-off gives fully open, −1 < Outlets
}

// Appraisal is everything derived from one job.
type Appraisal struct {
	Doc        *job.Doc // says which fields the file gives; nil when there is only a Job
	Job        *job.Job
	Profile    *catalogue.Profile
	Assembly   *assembly.Assembly
	Service    *service.Result
	Store      *store.Result
	Base       *base.Result       // what the stores stand on; nil without one
	Power      *power.Result      // what the pump takes; nil without one
	HandOver   *commission.Result // what is read, tested, flushed and waited for on site
	Buying     *takeoff.List
	Gate       []consent.Signature // who must sign before work starts
	Disinfect  *disinfect.Dose     // what to pour before first use; nil when the job gives no store to dose
	Day        *day.Day            // the home over a day, event by event; nil when there is no pump and store to follow
	Proof      *Proof              // what came of trying every case; nil when none was tried
	Rests      []Rests             // what hangs on each assumption; nil when nobody asked, see Assumptions
	Weightiest *Weightiest         // the assumptions that most hangs on; nil where nothing was run again
	Years      *Years              // what came of living through the years; nil when they were not lived, see Take
	Unlived    error               // why they were not, where somebody asked
	Findings   []finding.Finding   // worst first
	Sources    map[string]string   // citations of the catalogue by key
	Moved      []job.Leaf          // the inputs that were moved for the shares; none where nothing was run again
	Unmoved    []string            // paths of what is not known and was not moved either
	Verdict    finding.Verdict

	circuit *circuit.Circuit  // that of Assembly
	joined  []finding.Finding // what was found of how its parts are joined
	ends    []int             // how many findings there were after each analysis, before they were ordered
}
