package homes

import (
	"fmt"
	"strconv"
)

// home writes the whole job file.
func (d *drawing) home() {
	d.line(0, "format", "1")
	d.line(0, "name", "Random Home")
	units := "metric"
	if d.us {
		units = "us"
	}
	d.line(0, "units", units)
	d.line(0, "profile", d.profile())
	d.line(0, "date", fmt.Sprintf("2026-%02d-%02d", 1+d.IntN(12), 1+d.IntN(28)))
	d.line(0, "seed", strconv.Itoa(d.IntN(100000)))
	d.place()
	d.supply()
	d.interruptions()
	d.household()
	d.taps()
	d.power()
	d.pipework()
	d.choices()
	if d.arrangement == Free {
		d.list()
	}
}

func (d *drawing) profile() string {
	switch {
	case d.chance(2):
		return "generic"
	case d.us:
		return "usa"
	}
	return d.pick("europe", "uk", "india", "south-africa", "australia-new-zealand")
}

func (d *drawing) place() {
	d.open(0, "place")
	d.line(1, "altitude", d.metre(0, 1800))
	d.line(1, "water", d.maybe(d.celsius(5, 28)))
	d.line(1, "ground", d.pick("rock", "gravel", "dense-sand", "medium-sand", "loose-sand", "stiff-clay", "firm-clay", "soft-clay", "made-ground", "unknown"))
	d.line(1, "slope", d.maybe(figure(d.between(0, 12), 0)+" %"))
	d.line(1, "frost", d.pick("yes", "no", "unknown"))
	if d.chance(4) {
		d.line(1, "cold-night", d.celsius(-18, 2))
	}
	if d.chance(4) {
		d.line(1, "hot-day", d.celsius(28, 44))
	}
}

// supply draws a main from weak to strong; a test sags as a pipe and a street do, with the
// square of the flow and a little in proportion to it.
func (d *drawing) supply() {
	rest := d.between(0.6, 6.5)
	d.ground = d.between(-3, min(12, 6*rest))
	d.open(0, "supply")
	d.line(1, "static", d.write(rest, pressures, 0.03))
	d.line(1, "gauge-height", d.maybe(d.metre(0, 1.2)))
	if !d.chance(4) {
		low, high := d.between(5, 10), d.between(14, 28)
		sag := d.between(0.2, 0.7) * rest / (high*high + 4*high)
		d.open(1, "flow-test")
		d.line(2, "low-flow", d.write(low, flows, 0.05))
		d.line(2, "low-pressure", d.told(rest-sag*(low*low+4*low)))
		d.line(2, "high-flow", d.write(high, flows, 0.05))
		d.line(2, "high-pressure", d.told(rest-sag*(high*high+4*high)))
	}
	if d.chance(2) {
		from := d.IntN(22)
		d.open(1, "peak")
		d.line(2, "pressure", d.told(rest*d.between(0.1, 0.8)))
		if d.chance(3) {
			d.line(2, "flow", d.write(d.between(3, 9), flows, 0.1))
		}
		d.line(2, "from", clock(from, 30*d.IntN(2)))
		d.line(2, "to", clock(from+1+d.IntN(2), 0))
	}
	if d.chance(2) {
		d.line(1, "night-maximum", d.told(rest*d.between(1.05, 1.8)))
	}
	d.open(1, "service")
	d.line(2, "pipe", d.outdoor())
	d.line(2, "length", d.metre(4, 120))
	if d.us {
		d.line(1, "meter", d.pick("meter-5/8x3/4", "meter-3/4", "none", "unknown"))
		d.line(1, "stop-valve", d.pick("ball-3/4", "screw-down-3/4", "gate-3/4", "unknown"))
		d.line(1, "non-return", d.pick("none", "unknown", "single-check-3/4", "double-check-3/4"))
	} else {
		d.line(1, "meter", d.pick("meter-q3-1.6", "meter-q3-2.5", "meter-q3-4", "none", "unknown"))
		d.line(1, "stop-valve", d.pick("ball-25", "screw-down-25", "unknown"))
		d.line(1, "non-return", d.pick("none", "unknown", "single-check-25", "double-check-25"))
	}
	d.line(1, "booster", d.pick("yes", "with-consent", "asked", "no", "unknown"))
	d.line(1, "by-pass", d.pick("yes", "with-consent", "asked", "no", "unknown"))
	if d.chance(3) {
		d.line(1, "chlorine", figure(d.between(0, 0.9), 1)+" mg/L")
	}
}

// told writes a pressure that somebody told, exact: readings of one test must not cross.
func (d *drawing) told(bar float64) string {
	if d.us {
		return figure(max(bar, 0.05)*pressures[1].of, 1) + " psi"
	}
	return figure(max(bar, 0.05), 2) + " bar"
}

func (d *drawing) outdoor() string {
	if d.us {
		return d.pick("copper-L 3/4", "copper-L 1", "galvanised 3/4", "PEX-CTS 1")
	}
	return d.pick("PE100-SDR11 20", "PE100-SDR11 25", "PE100-SDR11 32", "galvanised 3/4", "copper-EN 22")
}

func (d *drawing) indoor() string {
	if d.us {
		return d.pick("copper-L 1/2", "copper-L 3/4", "PEX-CTS 3/4", "CPVC 3/4")
	}
	return d.pick("multilayer 20", "multilayer 26", "copper-EN 22", "PP-R 25", "PE-X 25")
}

// clock writes a time of day, with and without a leading nought.
func clock(hour, minute int) string { return fmt.Sprintf("\"%02d:%02d\"", hour, minute) }

func (d *drawing) interruptions() {
	d.open(0, "interruptions")
	switch d.IntN(6) {
	case 0:
		d.files["outages.csv"] = d.log()
		d.line(1, "log", "outages.csv")
	case 1:
		d.line(1, "timetable", d.pick("daily 06:00-12:00", "daily 22:00-04:00", "Mon Wed Fri 05:00-10:00; Sat 06:00-12:00",
			"every second day 06:00-12:00", "daily 05:00-07:30 18:00-20:00"))
	case 2:
		d.line(1, "habit", "about 2 a week, 10 to 20 h; dry season 2 to 4 d with 6 h weak between")
	default:
		low := 1 + d.IntN(9)
		d.line(1, "habit", fmt.Sprintf("about %d a %s, %d to %d h", 1+d.IntN(4), d.pick("week", "month", "year"), low, low+1+d.IntN(12)))
	}
	if d.chance(2) {
		d.line(1, "power-cuts", fmt.Sprintf("about %d a %s, 1 to %d h", 1+d.IntN(4), d.pick("week", "month"), 2+d.IntN(4)))
	}
	d.line(1, "boil-notice", d.maybe(d.pick("yes", "no", "unknown")))
}

// log writes an outage log of up to 25 entries, a day or more apart.
func (d *drawing) log() []byte {
	text := "start,end\n"
	day := 1
	for range 3 + d.IntN(22) {
		hour, long := d.IntN(24), 1+d.IntN(30)
		end := hour + long
		text += fmt.Sprintf("2025-%02d-%02d %02d:00,2025-%02d-%02d %02d:00\n",
			1+(day/28)%12, 1+day%28, hour, 1+((day+end/24)/28)%12, 1+(day+end/24)%28, end%24)
		if day += 3 + d.IntN(10); day > 320 {
			break
		}
	}
	return []byte(text)
}

func (d *drawing) household() {
	d.open(0, "home")
	d.line(1, "people", strconv.Itoa(1+d.IntN(9)))
	d.line(1, "use", d.litre(60, 220))
	d.line(1, "level", d.write(d.ground, lengths, 0.05))
	if d.chance(2) {
		d.line(1, "away", d.pick("08:00-18:00", "8:30-17:45", "14:00-02:00", "22:00-6:00"))
	}
	d.open(1, "heater")
	d.line(2, "type", d.pick("storage-pressure", "storage-vented", "solar-vented", "instant-gas", "electric-shower", "none", "unknown"))
	d.line(2, "rating", d.maybe(d.pick("4 bar", "6 bar", "150 psi", "8 bar")))
	d.line(2, "vent", d.maybe(d.pick("yes", "no", "unknown")))
}

// taps draws 3 to 60 outlets; small homes are the rule.
func (d *drawing) taps() {
	count := 3 + d.IntN(7)
	if d.chance(8) {
		count = 10 + d.IntN(51)
	}
	d.open(0, "outlets")
	for i := range count {
		kind := d.pick("kitchen", "basin", "shower", "wc", "bath", "washing-machine", "garden", "dishwasher", "bidet")
		if i < 2 { // a kitchen and something beside it: all that stays on the main is no home with a store
			kind = []string{"kitchen", "wc"}[i]
		}
		tag := fmt.Sprintf("tap-%d", i+1)
		d.outlets = append(d.outlets, tag)
		d.open(1, tag)
		d.line(2, "kind", kind)
		d.line(2, "height", d.metre(0.4, d.pickHeight()))
		d.line(2, "distance", d.metre(2, 25))
		d.line(2, "pipe", d.maybe(d.indoor()))
		d.line(2, "water", d.water(kind))
		if kind == "garden" && d.chance(3) {
			d.line(2, "mouth", d.pick("under-water", "unknown"))
		}
		if d.arrangement == "kitchen-on-main" && i == 0 {
			d.line(2, "from", "main")
		}
	}
}

// pickHeight is the highest a tap may be: a storey, two or three.
func (d *drawing) pickHeight() float64 { return []float64{2.1, 2.1, 5, 8}[d.IntN(4)] }

func (d *drawing) water(kind string) string {
	switch kind {
	case "wc", "garden", "washing-machine", "dishwasher":
		return "cold"
	}
	return d.pick("cold", "both", "both", "both")
}

func (d *drawing) power() {
	d.open(0, "power")
	d.line(1, "voltage", d.pick("230 V", "120 V", "240 V"))
	d.line(1, "battery", d.maybe(d.pick("yes", "no", "wanted")))
}

func (d *drawing) pipework() {
	d.open(0, "pipework")
	d.line(1, "tee-to-store", d.metre(1, 25))
	d.line(1, "store-to-pump", d.metre(0.5, 4))
	d.line(1, "pump-to-home", d.metre(1, 20))
	d.line(1, "changeover-to-header", d.maybe(d.metre(1, 20)))
	d.line(1, "outdoors", d.maybe(d.outdoor()))
	d.line(1, "indoors", d.maybe(d.indoor()))
	d.line(1, "bends-per-run", d.maybe(strconv.Itoa(d.IntN(8))))
}
