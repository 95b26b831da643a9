package proof

import (
	"context"

	"tideover/internal/circuit"
)

// The engine behind the contract is being filled in; until then nothing is judged.
type run struct{ in *Input }

func (r *run) isMain([]Main) bool                       { return false }
func (r *run) isPower([]Power) bool                     { return false }
func (r *run) isStore([]Store) bool                     { return false }
func (r *run) isDraw([]Draw) bool                       { return false }
func (r *run) isFrost() bool                            { return false }
func (r *run) isHot() bool                              { return false }
func (r *run) isAt(int, []string) bool                  { return false }
func (r *run) isIn(string) bool                         { return false }
func (r *run) isFailed(int, []string) bool              { return false }
func (r *run) isSound() bool                            { return true }
func (r *run) isUpset([]circuit.Upset) bool             { return false }
func (r *run) pumping() circuit.Pumping                 { return 0 }
func (r *run) lock() circuit.LockState                  { return 0 }
func (r *run) steady() bool                             { return true }
func (r *run) reaches(int32, Source) Source             { return 0 }
func (r *run) joined(int32, int32) bool                 { return false }
func (r *run) flow(int) float64                         { return 0 }
func (r *run) head(int32) Interval                      { return Interval{} }
func (r *run) solvedOK() bool                           { return false }
func (r *run) mainHead() (float64, bool)                { return 0, false }
func (r *run) level() float64                           { return 0 }
func newSpace(*Input) (*Space, error)                   { return &Space{}, nil }
func (s *Space) settings() uint64                       { return 0 }
func (s *Space) cases(int) uint64                       { return 0 }
func (s *Space) nameOf([]uint8) string                  { return "" }
func (s *Space) normal() Case                           { return Case{} }
func (s *Space) write(Case) string                      { return "" }
func (s *Space) read(string) (Case, error)              { return Case{}, nil }
func (s *Space) judge(Promise, Case) (Judgement, error) { return Judgement{}, nil }

func prove(context.Context, Input, func(Progress)) (*Report, error) { return &Report{}, nil }
