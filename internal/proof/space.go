package proof

import (
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Space is all cases of one assembly: its variables, their values, and what the values mean.
type Space struct {
	Hands   []Hand           // every part a hand turns, drains included, street to home
	Named   []Named          // the named settings, the normal one first
	Mishaps []circuit.Mishap // as Circuit.Mishaps
	Mains   [5]float64       // head the main is held at in each state [m]; Dry's is not used
	Levels  [4]float64       // height of the store's surface in each state [m]
	Suction quantity.Pressure
	Locked  bool // there is a lock-out: its state is a variable
	Pumped  bool // there is a pump: its controller's state is a variable

	in *Input
}

// Hand is one hand-turned part.
type Hand struct {
	Part      int
	Tag       string
	Positions []string
	Normal    uint8 // its position in the normal setting
}

// Named is a named setting as positions.
type Named struct {
	Name     string
	Position []uint8
}

// NewSpace lists the cases of an input. It refuses an assembly without a main, without an
// outlet, or with a loop of nothing but pipes.
func NewSpace(in *Input) (*Space, error) { return newSpace(in) }

// Settings is the number of settings; 0 when it is beyond counting in 64 bits.
func (s *Space) Settings() uint64 { return s.settings() }

// Cases is the number of cases with exactly n mishaps, 0..2.
func (s *Space) Cases(n int) uint64 { return s.cases(n) }

// NameOf returns the name of the named setting with these positions, or "".
func (s *Space) NameOf(setting []uint8) string { return s.nameOf(setting) }

// Normal is the ordinary case: the normal setting and world, the pump standing, nothing failed.
func (s *Space) Normal() Case { return s.normal() }

// String writes a case as text that Parse reads: what differs from the normal case, by word.
//
//	V3=open V6=shut; main=dry power=off draw=one; pump=running lock=allowed; N2.check-stuck-open
func (s *Space) String(c Case) string { return s.write(c) }

// Parse reads a case written by String. A setting's name may stand for its positions.
func (s *Space) Parse(text string) (Case, error) { return s.read(text) }

// Of judges one promise in one case, everything decided: for replaying a counterexample.
// Figures of the solved circuit are in the Solver returned.
func (s *Space) Of(p Promise, c Case) (Judgement, error) { return s.judge(p, c) }
