package hydraulics

// NonReturnState is what has become of a non-return valve.
type NonReturnState uint8

// The states of a non-return valve.
const (
	Sound      NonReturnState = iota // opens forward, holds backward
	StuckOpen                        // passes both ways, and opens at nothing
	StuckShut                        // passes nothing
	LeaksBack                        // opens forward; backward it passes what a fouled lip lets by
	BuiltWrong                       // fitted the wrong way round
)

// NonReturn is one non-return valve with everything that can become of it, as elements
// that are always present: a case switches between them by their Off bits, so that the
// circuit, its elimination order and its pattern stay the same.
type NonReturn struct {
	// Elements are, in order: the valve as it should be, its bare passage both ways, the
	// leak beside it, and the valve the wrong way round.
	Elements [4]Element
}

// NewNonReturnStates makes a non-return valve (see NewNonReturn) with its variants.
// share is what leaks back when it is fouled, as a share of its flow factor: FouledLip
// when nothing better is known.
func NewNonReturnStates(part string, from, to int32, kv, opens, share float64) (NonReturn, error) {
	var v NonReturn
	var err error
	if v.Elements[0], err = NewNonReturn(part, from, to, kv, opens); err != nil {
		return v, err
	}
	if v.Elements[1], err = NewLeak(part, from, to, kv, 1); err != nil {
		return v, err
	}
	if v.Elements[2], err = NewLeak(part, from, to, kv, share); err != nil {
		return v, err
	}
	v.Elements[3], err = NewNonReturn(part, to, from, kv, opens)
	return v, err
}

// Off returns which of the four elements pass nothing in a state. A state that is none
// of the five passes nothing.
func (r NonReturnState) Off() [4]bool {
	switch r {
	case Sound:
		return [4]bool{false, true, true, true}
	case StuckOpen:
		return [4]bool{true, false, true, true}
	case LeaksBack:
		return [4]bool{false, true, false, true}
	case BuiltWrong:
		return [4]bool{true, true, true, false}
	}
	return [4]bool{true, true, true, true}
}
