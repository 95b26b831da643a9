package seasons

// tank is one store while it is lived through.
type tank struct {
	level  float64 // usable water [m³]
	usable float64
	edges  []float64 // upper ends of the bands [m³]
	fill   [][]float64
	opens  float64 // delayed float valve: level at which it opens [m³]; 0 it follows the level
	shut   bool    // a delayed one is
	weep   float64
	inTurn bool
	lead   uint8
	full   bool // has been since the lead last changed

	begun                float64 // level when the counting began
	shortAt, owed        float64 // what had gone missing when the last interruption began, and what of it is asked for again [m³]
	dry                  float64 // how long it has been empty, with the home hanging on it
	shortNow, shortToday bool
	n                    Count
}

func tankOf(s *Store) tank {
	t := tank{usable: s.Usable, fill: s.Fill, opens: s.Opens * s.Usable, weep: s.Weep, inTurn: s.InTurn}
	for _, e := range s.Edges {
		t.edges = append(t.edges, e*s.Usable)
	}
	t.edges[len(t.edges)-1] = s.Usable
	return t
}

func (b *tank) fresh() {
	b.level, b.begun, b.dry, b.lead, b.full = b.usable, b.usable, 0, 0, true
	b.shortNow, b.shortToday, b.shut, b.n, b.shortAt, b.owed = false, false, b.opens > 0, Count{}, 0, 0
}

// band is the one above the level: as many edges lie at or below it.
func (b *tank) band() int {
	k := 0
	for k < len(b.edges) && b.level >= b.edges[k] {
		k++
	}
	return k
}

// flows is a stretch of one flow: dt from at, so much drawn, leaking, and lost before it
// reached the store.
type flows struct {
	at, dt           float64
	draw, leak, lost float64
}

// run moves a store through a stretch of one draw, from crossing to crossing.
//
// In each band the refill is constant, so the level goes in a straight line to the band's
// edge or the stretch's end. At an edge where the band below would raise the level and the
// band above would let it fall, it stays: the valve gives what is drawn. So it is at the
// top, where the valve shuts. At the bottom the home gets what comes in.
func (w *Worker) run(i int, n *now, f flows) {
	b := &w.tanks[i]
	if b.opens > 0 {
		w.pulse(i, n, f)
		return
	}
	row := b.fill[n.main]
	want := f.draw + f.leak
	for f.dt > 0 {
		k := b.band()
		q := 0.0
		if k < len(b.edges) {
			q = row[k]
		}
		in, out, net, edge := q, want, q-want, 0.0
		switch {
		case net > 0:
			edge = b.edges[k]
		case k == 0 && b.level == 0: // empty
			out, net = q, 0
		case k == 0:
			edge = 0
		case b.level > b.edges[k-1]:
			edge = b.edges[k-1]
		case row[k-1] >= want: // held at the edge
			in, net = want, 0
		default: // falls through the edge into the band below
			in, net = row[k-1], row[k-1]-want
			if k > 1 {
				edge = b.edges[k-2]
			}
		}
		step, before := f.dt, b.level
		if net != 0 {
			if until := (edge - b.level) / net; until <= step {
				step, b.level = until, edge
			} else {
				b.level += net * step
			}
		}
		w.note(i, n, f, step, in, out, before)
		f.at += step
		f.dt -= step
	}
}

// pulse is run for a delayed float valve: shut until the level has fallen to where it opens, then full
// open until the store is full.
func (w *Worker) pulse(i int, n *now, f flows) {
	b := &w.tanks[i]
	want := f.draw + f.leak
	for f.dt > 0 {
		in, out, edge := 0.0, want, 0.0
		if b.shut {
			edge = b.opens
		} else {
			in = b.fill[n.main][0]
		}
		net := in - out
		switch {
		case net > 0:
			edge = b.usable
		case !b.shut && b.level == 0: // empty
			out, net = in, 0
		}
		step, before := f.dt, b.level
		if net != 0 {
			if until := (edge - b.level) / net; until <= step {
				step, b.level = until, edge
			} else {
				b.level += net * step
			}
		}
		b.snap()
		w.note(i, n, f, step, in, out, before)
		f.at += step
		f.dt -= step
	}
}

// snap opens a delayed float valve, or shuts it, where the level has come to that.
func (b *tank) snap() {
	switch {
	case b.opens == 0:
	case b.level >= b.usable:
		b.shut = true
	case b.level <= b.opens:
		b.shut = false
	}
}

// note books one straight line of a store's life.
func (w *Worker) note(i int, n *now, f flows, dt, in, out, before float64) {
	b := &w.tanks[i]
	c := &b.n
	c.In += in * dt
	c.Out += out * dt
	empty := b.level == 0 && before == 0
	lacks := f.lost
	if empty && f.draw > out && !n.routine {
		lacks += f.draw - out
	}
	if lacks > 0 {
		c.Short += lacks * dt
		c.Barred += f.lost * dt
		c.Unserved += dt
	}
	switch {
	case empty && n.hangs:
		b.dry += dt
		c.Empty += dt
		c.Worst = max(c.Worst, b.dry)
	case !empty:
		b.dry = 0
	}
	spilled := 0.0
	if b.weep > 0 && b.level == b.usable && before == b.usable && b.fill[n.main][0] > 0 {
		spilled = b.weep
		c.In += spilled * dt
		c.Spilled += spilled * dt
	}
	b.turnLead(before)
	if w.seen(i) && dt > 0 {
		w.show(i, n, Span{From: f.at, To: f.at + dt, Before: before, After: b.level, In: in + spilled, Out: out, Spilled: spilled, Lead: b.lead})
	}
}

// turnLead changes the lead of two stores in turn when both are full again.
func (b *tank) turnLead(before float64) {
	switch {
	case b.level < b.usable:
		b.full = false
	case !b.full && before < b.usable:
		b.full = true
		if b.inTurn {
			b.lead = 1 - b.lead
		}
	}
}

// Halves splits the usable water of two equal stores in turn: the lead is drawn first and
// filled last. [m³]
func Halves(level, usable float64, lead uint8) (first, second float64) {
	a, z := max(0, level-usable/2), min(level, usable/2)
	if lead == 1 {
		return z, a
	}
	return a, z
}
