package hydraulics

// ThreeWay gives the openings of the two ways of a three-way valve from where its handle
// stands: turn 0 joins the common port to the first side alone, 1 to the second alone,
// and between them both stand partly open, so that the two sides are joined through the
// common port. In mid-turn each way is half open.
//
//	first = 1 − turn, second = turn
//
// For two elements made with NewWay. A plug whose ports overlap leaves both more open
// than this in mid-turn, one with a closed centre less: an assumption between the two.
// turn outside 0 to 1, or not a number, is refused.
func ThreeWay(part string, turn float64) (first, second float64, err error) {
	g := guard{part: part}
	g.want("turn", turn, turn >= 0 && turn <= 1, "0 to 1")
	if err := g.fail(); err != nil {
		return 0, 0, err
	}
	return 1 - turn, turn, nil
}
