// Package proof covers every case an assembly can stand in and says, promise by promise,
// whether it is kept: in every position of every hand-turned part, in every condition of
// main, power, store, draw-off, frost and heater, in every state of the controls, and with
// every mishap.
//
// Stage: an analysis. It takes a circuit and the job's bare figures and gives a Report:
// a verdict for each promise with the smallest case that breaks it. It reads no file,
// draws nothing and speaks no sentence.
//
// How it covers so much: a promise looks at a case through a View, which hands out one
// fact at a time and remembers which variables the fact hung on. What was never asked for
// cannot have mattered, so one judgement stands for a whole box of cases: the product of
// the values still open. The engine walks boxes, not cases, until nothing is left over.
// Which water is asked for is found by following pipes that pass, so that what lies behind
// a shut valve is never looked at; what can press where is answered without solving.
package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Main is what the public main does.
type Main uint8

// The states of the main, the most ordinary first.
const (
	Good    Main = iota // as measured, nothing running
	Weak                // as at the worst hour
	Dry                 // nothing presses, nothing sucks
	High                // night maximum
	Sucking             // drained by someone lower down
)

// Power is what the electricity does.
type Power uint8

// The states of the power.
const (
	PowerOn         Power = iota
	PowerOff              //
	PowerFlickering       // coming back: every controller starts from its state at switch-on
)

// Store is how much the store holds.
type Store uint8

// The states of the store.
const (
	Normal Store = iota // float valve open, overflow clear
	Full                // float valve shut
	Low                 // float valve open, the outlet still covered
	Empty               // the outlet is bare: air goes to the pump
)

// Draw is what is being drawn in the home.
type Draw uint8

// The draws.
const (
	DrawNone  Draw = iota
	DrawOne        // the highest outlet alone
	DrawMany       // every outlet
	DrawBurst      // a pipe in the home is broken; nothing else runs
)

// World is everything about a case that no hand decides.
type World struct {
	Main   Main
	Power  Power
	Store  Store
	Draw   Draw
	Frost  bool
	Hot    bool  // the heater is heating
	Header Store // what a header tank holds
	Back   bool  // a regulator lets water back while what is behind it presses less than it is set to
}

// Control is the state of everything with a memory.
type Control struct {
	Pump circuit.Pumping   // what the controller does, if it is let: Standing, Running, Holding
	Lock circuit.LockState // of the main-side lock-out; Allowed where there is none
}

// Case is one case, complete. Its text form is what String writes and ParseCase reads.
type Case struct {
	Setting []uint8 // position of every hand-turned part, in the order of Space.Hands
	World   World
	Control Control
	Mishaps []int // of Circuit.Mishaps, ascending; none for a sound assembly
}

// Kind is what sort of reasoning decides a promise.
type Kind string

// The kinds of promise.
const (
	Sign       Kind = "sign"       // which way water moves
	Standing   Kind = "standing"   // what heads standing water can be at
	Reach      Kind = "reach"      // what can press or flow where
	Timed      Kind = "timed"      // how long something lasts
	Arithmetic Kind = "arithmetic" // one sum over the whole assembly, no cases
)

// Spread says over which cases a promise is judged.
type Spread uint8

// The spreads.
const (
	EveryCase  Spread = iota // every setting, world, control state, mishap
	NamedOnly                // the named settings only; everything else as above
	SomeNamed                // in each world with each mishap it is enough that one named setting keeps it
	OnceForAll               // judged once, in the normal setting and world: arithmetic over the assembly
)

// About describes a promise. Its sentences are "promise.<ID>" (what is promised),
// "promise.<ID>.broken" (with {figure}, {limit}, {setting}, {world}, {mishap}).
type About struct {
	ID     string
	Kind   Kind
	Spread Spread
	Safety bool   // counted in "one wrong hand movement breaks no safety promise"
	Source string // standard, clause or reasoning, as findings cite it
}

// Outcome is what a promise says of one case.
type Outcome uint8

// The outcomes.
const (
	Silent   Outcome = iota // the promise does not apply here
	Kept                    //
	Broken                  //
	Unjudged                // it applies and cannot be judged; Judgement.Reason says why
)

// Judgement is what a promise says of one case.
type Judgement struct {
	Outcome Outcome
	Figure  quantity.Quantity // the figure it hangs on; NoDim when there is none
	Limit   quantity.Quantity //
	Margin  float64           // SI, in the dimension of Figure: above 0 kept by so much, below broken by so much
	Where   string            // tag of the part at which it shows, or ""
	Reason  string            // message id, of Unjudged
	Flow    quantity.Flow     // that ran over, of a measured overflow; else 0
}

// Promise is one promise. Judge must be a function of what it asks the View alone (and of
// View.Input, which is the same in all cases): no state, no clock, no other knowledge of the
// case, or a judgement would be spread over cases it does not hold in. It should ask for
// little and for the deciding first: reach before flow.
type Promise interface {
	About() About
	Judge(v *View) Judgement
}

// Input is what a proof needs.
type Input struct {
	Assembly *assembly.Assembly
	Circuit  *circuit.Circuit // with mishaps: circuit.NewWithMishaps
	Job      *job.Job
	Profile  *catalogue.Profile
	Promises []Promise // nil: Promises()
	Cards    bool      // only the named settings: what no card names is not looked at, and no verdict speaks of it
	Pairs    bool      // also every pair of mishaps of which neither alone breaks the promise
	Workers  int       // 0: as many as processors; the report does not depend on it
	Budget   int       // most boxes a promise may take before it counts as sampled; 0: DefaultBudget, far less where there are too many settings to end

	homes   func() [][]int         // the home's pipes, a list for each network of them; worked out once
	doubts  func() doubted         // parts that could be pressed too high; worked out once
	carried func() map[int]float64 // per store, what its overflow carries with the air gap standing [m³/s]; worked out once
}

// Verdict is what a promise comes to over all cases.
type Verdict uint8

// The verdicts, from the worst; NotJudged is the zero value and never counts as kept.
const (
	NotJudged       Verdict = iota
	BrokenPromise           // broken in a named setting with nothing failed
	UnlessPartFails         // in a named setting with one mishap; what only a pair breaks shows in the counts alone
	WhileHandsObey          // only in settings that no card names
	KeptAlways              //
)

// ID is the verdict's stable name, and "proof.verdict.<ID>" its words.
func (v Verdict) ID() string {
	return [...]string{"not-judged", "broken", "unless-a-part-fails", "while-hands-obey", "kept-always"}[v]
}

// Counts counts cases. A case whose controls would not stay in the states it names is no
// case: where a promise would be broken it is counted as Silent; where it is kept whatever
// the controls do, nobody asked.
type Counts struct{ Kept, Broken, Silent, Unjudged uint64 }

// Counterexample is a case that breaks a promise.
type Counterexample struct {
	Case      Case
	Named     string // the named setting it stands in, or ""
	Moves     int    // hand movements from the normal setting
	Judgement Judgement
}

// Result is what came of one promise.
type Result struct {
	About   About
	Verdict Verdict
	Reason  string // message id, of NotJudged

	// By what it takes: [0] no mishap, [1] one, [2] two (Pairs); named settings and others.
	Named, Other [3]Counts

	// Smallest is the smallest counterexample: fewest mishaps, then fewest hand movements from the
	// normal setting, then the most ordinary world. SmallestNamed is the same among the named settings,
	// OneMove among the settings one movement from a named one with nothing failed. Nil when there is none.
	Smallest, SmallestNamed, OneMove *Counterexample

	// Breakers are the mishaps that alone break it in a named setting that keeps it sound,
	// each with its smallest case, in the order of Circuit.Mishaps.
	Breakers []Counterexample

	// Unsafe are the settings that break it with nothing failed: one entry is a box, per
	// hand-turned part the set of positions as bits. A setting is unsafe if it lies in any.
	Unsafe [][]uint8

	// Beyond counts boxes with several drains open in settings that no card names, judged where
	// they can change the verdict (drains.go). Apart: not all of them were, there were too many.
	Beyond Counts
	Apart  bool

	Covered float64 // share of all cases that were covered: 1 but for Budget and cancelling
	Boxes   int     // judgements made
	Solves  int     // circuits that had to be solved or were found solved
}

// Report is a whole proof.
type Report struct {
	Space    *Space
	Results  []Result // in the order of Input.Promises
	Cases    uint64   // all cases with no and with one mishap
	Pairs    uint64   // further cases with two, where they were asked for
	Boxes    int      // judgements made; each stands for a box of cases
	Solves   int      // questions that needed a solved circuit
	Distinct int      // different circuits solved for them
}

// Progress is told while a proof runs.
type Progress struct {
	Promise string  // the one just finished, or being worked on
	Share   float64 // of the work done, 0..1
	Broken  *Counterexample
}
