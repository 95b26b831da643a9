package homes

import (
	"fmt"
	"strconv"
	"strings"
)

// choices draws what is built.
func (d *drawing) choices() {
	level := d.ground + d.between(-0.5, 0.6)
	switch d.arrangement {
	case "raised":
		level = d.ground + d.between(3, 6)
	case Free:
		level = d.ground
	}
	d.open(0, "choices")
	d.line(1, "arrangement", d.arrangement)
	d.open(1, "store")
	if d.us {
		d.line(2, "row", d.pick("tank-150-gal", "tank-300-gal", "tank-500-gal"))
	} else {
		d.line(2, "row", d.pick("tank-500", "tank-1000", "tank-1500", "tank-2500", "tank-5000"))
	}
	if d.arrangement != Free {
		d.line(2, "count", strconv.Itoa([]int{1, 1, 1, 2, 3}[d.IntN(5)]))
	}
	d.line(2, "level", d.write(level, lengths, 0.02))
	d.line(2, "category", d.maybe(d.pick("2", "3", "3", "5")))
	if d.chance(3) {
		d.line(2, "overflow", d.pick("19 mm", "36 mm", "46 mm", "68 mm", "100 mm"))
	}
	switch d.IntN(8) {
	case 0:
		d.line(2, "spill", "none")
	case 1:
		d.line(2, "spill", "slot")
		d.line(2, "slot", d.pick("150 mm", "300 mm"))
	}
	d.line(2, "screen", d.maybe(d.pick("across", "wide", "none")))
	if d.chance(4) {
		d.line(2, "exercise", d.pick("4 d", "7 d", "14 d"))
	}
	d.line(2, "stands", d.maybe(d.pick("sun", "shade", "indoors")))
	d.line(1, "float", d.pick("float-15-high", "float-15-medium", "float-15-low", "float-15-full-way", "float-20-full-way"))
	if d.arrangement == "header" {
		d.open(1, "header")
		d.line(2, "row", d.pick("tank-500", "tank-1000"))
		d.line(2, "level", d.write(d.ground+d.between(8, 12), lengths, 0.02))
	}
	d.pump(level)
	d.open(1, "vessel")
	d.line(2, "row", d.pick("vessel-8", "vessel-24", "vessel-60"))
	d.line(1, "heater-vessel", d.maybe(d.pick("vessel-8", "vessel-24", "none")))
	if d.us {
		d.line(1, "backflow", d.maybe(d.pick("double-check-3/4", "reduced-pressure-3/4", "none")))
	} else {
		d.line(1, "backflow", d.maybe(d.pick("double-check-25", "reduced-pressure-25", "none")))
	}
	if d.chance(2) {
		d.open(1, "disinfectant")
		d.line(2, "strength", d.pick("5 %", "12.5 %", "3.5 %"))
		d.line(2, "convention", d.pick("w/w", "w/v"))
	}
}

func (d *drawing) pump(level float64) {
	d.open(1, "pump")
	if d.arrangement == "raised" {
		d.line(2, "row", "none")
		return
	}
	d.line(2, "row", d.pick("jet-0.55", "multistage-0.55", "multistage-0.75", "multistage-1.1", "peripheral-0.55"))
	if d.arrangement != Free && d.chance(5) {
		d.line(2, "count", "2")
		d.line(2, "duty", d.pick("standby", "assist"))
	}
	d.line(2, "level", d.write(level+0.1, lengths, 0.02))
	d.line(2, "control", d.pick("pressure-switch", "flow-control", "speed-control"))
	in := d.between(1.4, 2.6)
	d.line(2, "cut-in", d.told(in))
	d.line(2, "cut-out", d.told(in+d.between(0.4, 1.4)))
}

// list writes parts and joins: a by-pass beside tank and pump, as somebody may have fitted
// it, with hand valves put into its lines one behind the other and side by side.
func (d *drawing) list() {
	f := &freeList{drawing: d}
	service := f.pieces("meter", "hand-valve", "pipe:8", "tee")
	feed := f.pieces("pipe:6", "float-valve")
	boost := f.pieces("store", "pipe:1.5", "pump", "tee", "hand-valve")
	if d.chance(2) {
		boost = append(boost, f.pieces("non-return")...)
	}
	boost = append(boost, f.pieces("pipe:3")...)
	control := f.pieces("control")
	by := f.pieces("hand-valve")
	if d.chance(2) {
		by = append(by, f.pieces("non-return")...)
	}
	join := f.pieces("tee")
	home := f.pieces("pipe:5", "header")
	legs := [][]string{service, feed, boost, by, home}
	for n := d.IntN(20); n > 0; n-- {
		f.valve(&legs[d.IntN(len(legs))], n > 1 && d.chance(3), &n)
	}
	service, feed, boost, by, home = legs[0], legs[1], legs[2], legs[3], legs[4]
	street, pumped, house := last(service), "t2", last(home)
	f.join("service", "service", "main", service...)
	f.join("by-pass", "main-leg", street, append(by, join...)...)
	f.join("feed", "feed", street+".branch", feed...)
	f.join("pump", "boost", "", append(boost, join[0]+".branch")...)
	f.join("control", "boost", pumped+".branch", control...)
	f.join("home", "home", join[0], home...)
	for _, tag := range d.outlets {
		f.join("to-"+tag, "home", house, tag)
	}
	for _, two := range f.beside {
		f.join("beside-"+two[1], "home", two[0]+".branch", two[1], two[2]+".branch")
	}
	d.text.WriteString("parts:\n" + f.parts.String() + "joins:\n" + f.joins.String())
	d.valves = f.count["v"]
}

// freeList is a list of parts in the making.
type freeList struct {
	*drawing
	parts, joins strings.Builder
	count        map[string]int
	beside       [][]string // tee, valve, tee
}

// letters of the tags, by kind of part.
var letters = map[string]string{"meter": "m", "hand-valve": "v", "pipe": "r", "tee": "t", "float-valve": "f", "store": "s",
	"pump": "p", "non-return": "n", "control": "c", "header": "h"}

// pieces lists parts of these kinds; a pipe has its length behind a colon [m].
func (f *freeList) pieces(kinds ...string) []string {
	if f.count == nil {
		f.count = map[string]int{}
	}
	tags := make([]string, len(kinds))
	for i, kind := range kinds {
		kind, long, pipe := strings.Cut(kind, ":")
		letter := letters[kind]
		f.count[letter]++
		tags[i] = fmt.Sprintf("%s%d", letter, f.count[letter])
		fmt.Fprintf(&f.parts, "  %s:\n    kind: %s\n", tags[i], kind)
		if pipe {
			fmt.Fprintf(&f.parts, "    length: %s m\n", long)
		}
		if kind == "meter" {
			f.parts.WriteString("    row: meter-q3-2.5\n")
		}
		if kind == "hand-valve" && f.chance(6) {
			f.parts.WriteString("    stands: shut\n")
		}
	}
	return tags
}

// valve puts one more hand valve into a line, or two side by side, of which n is told.
func (f *freeList) valve(line *[]string, beside bool, n *int) {
	at := 1 + f.IntN(len(*line))
	if at == len(*line) { // the last stays the last: others join there
		at--
	}
	if at < 1 {
		return
	}
	one := f.pieces("hand-valve")
	if beside {
		*n--
		two := f.pieces("tee", "hand-valve", "tee")
		f.beside = append(f.beside, two) // joined last: a line begins at what is there
		one = []string{two[0], one[0], two[2]}
	}
	grown := append([]string{}, (*line)[:at]...)
	*line = append(append(grown, one...), (*line)[at:]...)
}

// join writes one line of the list, from one part through others.
func (f *freeList) join(name, role, from string, through ...string) {
	if from != "" {
		through = append([]string{from}, through...)
	}
	fmt.Fprintf(&f.joins, "  %s:\n    role: %s\n    line: %s\n", name, role, strings.Join(through, ", "))
}

func last(list []string) string { return list[len(list)-1] }
