package hydraulics

// NewMotorised makes a valve moved by a motor: a ball or plug of which x is the travel,
// 0 shut to 1 open, Kv x² as for a valve turned by hand. Stuck midway is an opening that
// does not change any more. It neither knows nor needs power: see Travel.
func NewMotorised(part string, kv float64) (*Valve, error) { return newValve(part, kv, 2) }

// Travel is where a motorised valve stands some seconds after it was told to move.
//
//	x(t) = from + (to − from) min(1, t/(|to − from| T))
//
// from and to are travels of 0 to 1, t [s] ≥ 0 the time since the command, full T [s] > 0
// the time for the whole travel; a motor without power stays at from: leave t at 0.
// Source: a motor of constant speed.
func Travel(part string, from, to, t, full float64) (float64, error) {
	g := guard{part: part}
	g.want("travel at the start", from, from >= 0 && from <= 1, "0 to 1")
	g.want("travel asked for", to, to >= 0 && to <= 1, "0 to 1")
	g.want("time", t, t >= 0, "0 s or more")
	g.want("time of the whole travel", full, full > 0, "above 0 s")
	if err := g.fail(); err != nil {
		return 0, err
	}
	step := t / full
	switch {
	case to > from+step:
		return from + step, nil
	case to < from-step:
		return from - step, nil
	}
	return to, nil
}
