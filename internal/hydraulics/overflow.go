package hydraulics

import "math"

// Overflow is a level overflow pipe that leaves a store and falls free: the water in it
// runs at critical depth near its mouth, part-full.
//
//	q² T = g A³                       critical flow at depth y
//	E = y + (1 + K + K_s) A/(2 T)     head over the bottom of the bore
//	A = D² (θ − sin θ)/8,  T = D sin(θ/2),  y = D (1 − cos(θ/2))/2
//	K_s = (1/(0.62 f) − 1)²           screen of which the share f stands open
//
// q [m³/s], D the bore [m], θ the angle of the wetted arc. K is the loss at the entry: 0
// for a bellmouth, 0.5 for a pipe cut flush, which the velocity head is counted with. A
// is the flow's section [m²], T its width at the surface [m].
//
// As the water rises over the crown y tends to D, and q to what the bore passes running
// full, (π D²/4) √(2 g (E − D)/(1 + K + K_s)): one law from a trickle to drowned.
//
// q rises strictly with E from nothing. Valid for a short pipe, level or falling, that
// ends in the air; one that runs on level for many diameters passes less.
// Source: critical flow (Belanger 1849; Chow 1959, Open-Channel Hydraulics, ch. 4);
// screen by Borda-Carnot with a contraction of 0.62 (Weisbach 1855).
type Overflow struct{ Bore, Entry, Screen float64 }

// NewOverflow makes an overflow of a bore [m] with entry loss K. open is the share of the
// screen's area that is free: 1 without a screen, 0.4 for the usual fine mesh, half of
// that when it is half blocked.
func NewOverflow(part string, bore, entry, open float64) (Overflow, error) {
	g := guard{part: part}
	g.want("bore", bore, bore >= 5e-3 && bore <= 1, "0.005 to 1 m")
	g.want("entry loss", entry, entry >= 0 && entry <= 5, "0 to 5")
	g.want("share of the screen open", open, open > 0.01 && open <= 1, "above 0.01 and to 1")
	if err := g.fail(); err != nil {
		return Overflow{}, err
	}
	o := Overflow{Bore: bore, Entry: entry}
	if open < 1 {
		k := 1/(0.62*open) - 1
		o.Screen = k * k
	}
	return o, nil
}

func (o Overflow) losses() float64 { return 1 + o.Entry + o.Screen }

// critical is the flow and the head at a wetted arc θ, 0 < θ < 2π.
func (o Overflow) critical(theta float64) (q, e float64) {
	d := o.Bore
	section := d * d * segment(theta) / 8
	width := d * math.Sin(theta/2)
	depth := d * math.Pow(math.Sin(theta/4), 2)
	deep := section / width
	return section * math.Sqrt(Gravity*deep), depth + o.losses()*deep/2
}

// segment is θ − sin θ, by its series where the difference would lose its digits.
func segment(theta float64) float64 {
	if theta > 0.1 {
		return theta - math.Sin(theta)
	}
	t := theta * theta
	return theta * t / 6 * (1 - t/20*(1-t/42*(1-t/72)))
}

// Flow is what the overflow passes with the water e [m] over the bottom of its bore
// [m³/s]; nothing when it stands below.
func (o Overflow) Flow(e float64) float64 {
	if !(e > 0) {
		return 0
	}
	theta := o.arc(func(t float64) bool { _, at := o.critical(t); return at > e })
	q, _ := o.critical(theta)
	return q
}

// Head is how high over the bottom of its bore the water must stand to pass q ≥ 0 [m].
func (o Overflow) Head(q float64) float64 {
	if !(q > 0) {
		return 0
	}
	theta := o.arc(func(t float64) bool { at, _ := o.critical(t); return at > q })
	_, e := o.critical(theta)
	return e
}

// arc is the wetted arc at which over turns true, by halving.
func (o Overflow) arc(over func(theta float64) bool) float64 {
	lo, hi := 0.0, 2*math.Pi
	for range 200 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if over(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// Depth is the water's depth where it runs critical, for a flow q ≥ 0 [m].
func (o Overflow) Depth(q float64) float64 {
	if !(q > 0) {
		return 0
	}
	theta := o.arc(func(t float64) bool { at, _ := o.critical(t); return at > q })
	return o.deep(theta)
}

// deep is the depth at a wetted arc θ.
func (o Overflow) deep(theta float64) float64 { return o.Bore * math.Pow(math.Sin(theta/4), 2) }

// Behind is how high over the bottom of its bore the water stands when q ≥ 0 [m³/s] runs off
// behind a screen at the open end that needs a depth y ≥ 0 of its own [m]:
//
//	h = max(E, y + (1 + K) q²/(2 g A(y)²))  where y is over the critical depth, else E
//
// E is Head(q): a screen that backs up less than the pipe itself needs governs nothing. A(y)
// is the section of the bore filled to y, the whole bore over its crown. Rises with q and with
// y. Source: energy at the entry, as Head.
func (o Overflow) Behind(y, q float64) float64 {
	if !(q > 0) {
		return 0
	}
	theta := o.arc(func(t float64) bool { at, _ := o.critical(t); return at > q })
	_, pipe := o.critical(theta)
	if y <= o.deep(theta) {
		return pipe
	}
	r := o.Bore / 2
	section := math.Pi * r * r
	if y < 2*r {
		half := math.Acos(1 - y/r)
		section = r * r * (half - math.Sin(half)*math.Cos(half))
	}
	v := q / section
	return math.Max(pipe, y+(1+o.Entry)*v*v/(2*Gravity))
}

// slotC is the discharge coefficient of a sharp sill with ends.
const slotC = 0.6

// SlotHead is how high the water stands over the sill of an open slot of width b > 0 [m], of
// which the screen leaves the share f > 0 free, when q ≥ 0 [m³/s] falls over it [m]:
//
//	h = (q / (2/3 C b f √(2 g)))^(2/3),  C = 0.6
//
// +Inf where nothing is open. Valid while the water stays under the top of the slot.
// Source: weir formula (Poleni 1717), C of a sharp sill with ends.
func SlotHead(b, f, q float64) float64 {
	if !(b*f > 0) {
		return math.Inf(1)
	}
	return math.Pow(q/(2./3*slotC*b*f*math.Sqrt(2*Gravity)), 2./3)
}
