package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/job"
	"tideover/internal/quantity"

	"pgregory.net/rapid"
)

// thing is something that must stand clear of everything else: a symbol, a tag, a label.
type thing struct {
	what, owner string
	box         [4]float64
}

func (x thing) String() string { return fmt.Sprintf("%s of %s at %.1f", x.what, x.owner, x.box) }

// piece is one straight piece of pipe.
type piece struct{ x0, y0, x1, y1, half float64 }

func (p piece) level() bool { return math.Abs(p.y0-p.y1) < 1e-9 }

func (p piece) box() [4]float64 {
	return [4]float64{min(p.x0, p.x1), min(p.y0, p.y1), max(p.x0, p.x1), max(p.y0, p.y1)}
}

func overlap(a, b [4]float64, by float64) bool {
	return a[0]+by < b[2] && b[0]+by < a[2] && a[1]+by < b[3] && b[1]+by < a[3]
}

// layoutOf reads things and pieces off a scene, its legend left out.
func layoutOf(s *Scene) (things []thing, pieces []piece) {
	for i := range s.Items {
		if s.Items[i].Class != "legend" {
			read(&s.Items[i], "", &things, &pieces)
		}
	}
	return things, pieces
}

func read(it *Item, owner string, things *[]thing, pieces *[]piece) {
	if it.Tag != "" {
		owner = it.Tag
	}
	var symbol = nothing
	for i := range it.Kids {
		k := &it.Kids[i]
		switch {
		case k.Kind == Group:
			read(k, owner, things, pieces)
		case k.Kind == Text && k.Class != "tag text":
			*things = append(*things, thing{"label " + k.Text, owner, k.Box})
		case k.Class == "tag":
			*things = append(*things, thing{"tag", owner, k.Box})
		case strings.HasPrefix(k.Class, "symbol") && it.Class != "float-arm" && it.Class != "scale":
			symbol = union(symbol, k.Box)
		case k.Class == "pipe main" || strings.HasPrefix(k.Class, "pipe"):
			if k.Kind == Line {
				*pieces = append(*pieces, piece{k.Pts[0], k.Pts[1], k.Pts[2], k.Pts[3], pen(k.Class).Width / 2})
			}
		}
	}
	if symbol != nothing {
		*things = append(*things, thing{"symbol " + it.Class, owner, symbol})
	}
}

// clash returns what is wrong with a layout, "" if nothing is.
func clash(s *Scene) string {
	things, pieces := layoutOf(s)
	for i, a := range things {
		if a.box[0] < -0.01 || a.box[1] < -0.01 || a.box[2] > s.Width+0.01 || a.box[3] > s.Height+0.01 {
			return a.String() + " leaves the sheet"
		}
		for _, b := range things[i+1:] {
			by := 0.02
			if strings.HasPrefix(a.what, "symbol") && strings.HasPrefix(b.what, "symbol") {
				by = 0.45 // two symbols may share a line: a drain stands on its tank
			}
			if overlap(a.box, b.box, by) && !inTank(a, b) {
				return fmt.Sprintf("%v touches %v", a, b)
			}
		}
		for _, p := range pieces {
			if pipeHits(p, a) {
				return fmt.Sprintf("pipe %.2f runs through %v", p, a)
			}
		}
	}
	for i, p := range pieces {
		for _, q := range pieces[i+1:] {
			if crossed(p, q) || along(p, q) {
				return fmt.Sprintf("pipes %.2f and %.2f run into one another", p, q)
			}
		}
	}
	return ""
}

// inTank allows a store's own tag and figure inside its tank.
func inTank(a, b thing) bool {
	return a.owner == b.owner && (strings.HasPrefix(a.what, "symbol store") || strings.HasPrefix(b.what, "symbol store"))
}

// pipeHits reports a pipe inside a thing. A pipe ends at the symbols it serves; the way
// down into a tank and the bar up to the middle of a three-way valve are meant.
func pipeHits(p piece, a thing) bool {
	if strings.HasPrefix(a.what, "symbol store") || strings.HasPrefix(a.what, "symbol three-way") {
		return p.level() && overlap(p.box(), a.box, 1.6) // a lid stands over its wall
	}
	if strings.HasPrefix(a.what, "symbol") {
		return overlap(p.box(), a.box, 0.45)
	}
	b := p.box()
	return overlap([4]float64{b[0] - p.half, b[1] - p.half, b[2] + p.half, b[3] + p.half}, a.box, 0)
}

func crossed(p, q piece) bool {
	if p.level() == q.level() {
		return false
	}
	if q.level() {
		p, q = q, p
	}
	a, b := p.box(), q.box()
	return a[0]+0.05 < b[0] && b[0] < a[2]-0.05 && b[1]+0.05 < a[1] && a[1] < b[3]-0.05
}

func along(p, q piece) bool {
	if p.level() != q.level() {
		return false
	}
	a, b := p.box(), q.box()
	if p.level() {
		return math.Abs(a[1]-b[1]) < 0.3 && a[0]+0.05 < b[2] && b[0]+0.05 < a[2]
	}
	return math.Abs(a[0]-b[0]) < 0.3 && a[1]+0.05 < b[3] && b[1]+0.05 < a[3]
}

// TestClashSeesClashes keeps the checker honest.
func TestClashSeesClashes(t *testing.T) {
	valve := func(x, y float64) Item {
		return Gather("hand-valve open", fmt.Sprint(x), "", pose{x, y, rightward}.handValve("open")...)
	}
	for name, items := range map[string][]Item{
		"symbols": {valve(10, 10), valve(12, 10)},
		"label":   {Gather("pipes", "", "", DrawLine("pipe main", 0, 10, 30, 10)), Gather("", "R1", "", DrawText("label", 3, Start, 5, 11, "6 m"))},
		"symbol":  {Gather("pipes", "", "", DrawLine("pipe main", 0, 10, 30, 10)), valve(15, 10)},
		"cross":   {Gather("pipes", "", "", DrawLine("pipe main", 0, 10, 30, 10), DrawLine("pipe main", 15, 0, 15, 30))},
		"along":   {Gather("pipes", "", "", DrawLine("pipe main", 0, 10, 30, 10), DrawLine("pipe main", 20, 10, 35, 10))},
		"sheet":   {valve(99, 10)},
	} {
		if got := clash(&Scene{Width: 100, Height: 40, Items: []Item{Gather("", "", "", items...)}}); got == "" {
			t.Errorf("%s: the checker sees nothing", name)
		}
	}
	if got := clash(&Scene{Width: 100, Height: 40, Items: []Item{valve(10, 10), valve(30, 10)}}); got != "" {
		t.Errorf("a fair drawing clashes: %s", got)
	}
}

func TestExamplesAreClear(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		for _, arrangement := range assembly.Arrangements() {
			a, j := example(t, name, arrangement)
			for _, setting := range a.Settings {
				for _, onMain := range []bool{true, false} {
					if got := clash(Schematic(a, staged(a, setting.Name, j.Name, onMain, quantity.US))); got != "" {
						t.Errorf("%s as %s, %s: %s", name, arrangement, setting.Name, got)
					}
				}
			}
		}
	}
}

// TestAnyHomeIsClear draws homes of 1 to 60 outlets with 1 to 4 stores in every arrangement.
func TestAnyHomeIsClear(t *testing.T) {
	_, j := example(t, "kestrel-rise", "")
	rapid.Check(t, func(r *rapid.T) { checkDrawing(r, build(t, anyHome(r, j, 60))) })
}

// anyHome is a job with other choices and other outlets, at most so many.
func anyHome(r *rapid.T, j *job.Job, most int) *job.Job {
	made := *j
	made.Choices.Arrangement = rapid.SampledFrom(assembly.Arrangements()).Draw(r, "arrangement")
	made.Choices.Stores.V = quantity.Ratio(rapid.IntRange(1, 4).Draw(r, "stores"))
	made.Home.Heater = rapid.SampledFrom([]string{"none", "storage-pressure"}).Draw(r, "heater")
	made.Outlets = nil
	for i := range rapid.IntRange(1, most).Draw(r, "outlets") {
		made.Outlets = append(made.Outlets, anyOutlet(r, &j.Outlets[0], i))
	}
	if n := len(made.Outlets); made.Choices.Arrangement == assembly.KitchenOnMain {
		made.Outlets = append(made.Outlets, made.Outlets[0], made.Outlets[0])
		made.Outlets[n].Tag, made.Outlets[n].From, made.Outlets[n].Water = "drinking", "main", "cold"
		made.Outlets[n+1].Tag, made.Outlets[n+1].From = "cistern", "store"
	}
	return &made
}

// anyOutlet is an outlet with another name, kind, height, distance and water.
func anyOutlet(r *rapid.T, like *job.Outlet, i int) job.Outlet {
	o := *like
	o.Tag = fmt.Sprintf("%s-%d", rapid.StringMatching(`[a-z]{1,40}`).Draw(r, "tag"), i)
	o.Kind = rapid.SampledFrom([]string{"kitchen", "wc", "basin", "shower", "garden"}).Draw(r, "kind")
	o.Height.V = quantity.Length(rapid.IntRange(-20, 120).Draw(r, "dm")) / 10
	o.Distance.V = quantity.Length(rapid.IntRange(1, 300).Draw(r, "length")) / 10
	o.Water = rapid.SampledFrom([]string{"cold", "both", "hot"}).Draw(r, "water")
	return o
}

// checkDrawing draws an assembly, looks for clashes and misses no part.
func checkDrawing(r *rapid.T, a *assembly.Assembly) {
	if got := faultIn(a); got != "" {
		r.Fatal(got)
	}
}

// faultIn says what is wrong with the drawing of an assembly, "" if nothing is.
func faultIn(a *assembly.Assembly) string {
	s := Schematic(a, View{Job: "any"})
	if got := clash(s); got != "" {
		return got
	}
	seen := map[string]bool{}
	s.Walk(func(it *Item) {
		if it.Kind == Group {
			seen[it.Tag] = true
		}
	})
	for i := range a.Parts {
		if !seen[a.Parts[i].Tag] {
			return fmt.Sprintf("part %s is not drawn", a.Parts[i].Tag)
		}
	}
	return ""
}

// TestAnyPipeworkIsClear draws pipework no arrangement lays: tees joined at random.
func TestAnyPipeworkIsClear(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) { checkDrawing(r, anyPipework(r)) })
}

// mess is an assembly being made up.
type mess struct {
	r     *rapid.T
	a     *assembly.Assembly
	loose []assembly.End
	count map[string]int
}

func (m *mess) add(kind assembly.Kind, letter string, ports ...string) int {
	m.count[letter]++
	roles := []assembly.Role{assembly.Service, assembly.Feed, assembly.Storage, assembly.Boost, assembly.MainLeg, assembly.BypassBy, assembly.HomeRole}
	p := assembly.Part{Tag: fmt.Sprintf("%s%d", letter, m.count[letter]), Kind: kind, Role: rapid.SampledFrom(roles).Draw(m.r, "role"), Length: 3, Size: quantity.Size{Family: "PE", Mark: "25"}}
	for _, n := range ports {
		p.Ports = append(p.Ports, assembly.Port{Name: n, Z: quantity.Length(rapid.IntRange(0, 9).Draw(m.r, "z"))})
	}
	m.a.Parts = append(m.a.Parts, p)
	return len(m.a.Parts) - 1
}

func (m *mess) join(a, b assembly.End) { m.a.Joins = append(m.a.Joins, assembly.Join{A: a, B: b}) }

// chain strings parts from an end and returns the last open end.
func (m *mess) chain(at assembly.End) assembly.End {
	two := []struct {
		kind   assembly.Kind
		letter string
	}{{assembly.Run, "R"}, {assembly.HandValve, "V"}, {assembly.NonReturn, "N"}, {assembly.Pump, "P"}, {assembly.Strainer, "U"}, {assembly.Meter, "M"}, {assembly.Heater, "H"}}
	for range rapid.IntRange(0, 3).Draw(m.r, "parts") {
		k := rapid.SampledFrom(two).Draw(m.r, "part")
		i := m.add(k.kind, k.letter, "in", "out")
		m.join(at, assembly.End{Part: i, Port: 0})
		at = assembly.End{Part: i, Port: 1}
	}
	return at
}

// take takes an open end at random.
func (m *mess) take() (assembly.End, bool) {
	if len(m.loose) == 0 {
		return assembly.End{}, false
	}
	i := rapid.IntRange(0, len(m.loose)-1).Draw(m.r, "end")
	e := m.loose[i]
	m.loose = append(m.loose[:i:i], m.loose[i+1:]...)
	return e, true
}

func (m *mess) tee() {
	at, ok := m.take()
	if !ok {
		return
	}
	kind, letter, ports := assembly.Tee, "T", []string{"in", "1", "2", "3", "4"}[:rapid.IntRange(3, 5).Draw(m.r, "ports")]
	if rapid.IntRange(0, 5).Draw(m.r, "way") == 0 {
		kind, letter, ports = assembly.ThreeWay, "W", []string{"a", "b", "c"}
	}
	at = m.chain(at)
	i := m.add(kind, letter, ports...)
	m.join(at, assembly.End{Part: i, Port: 0})
	for port := 1; port < len(ports); port++ {
		m.loose = append(m.loose, assembly.End{Part: i, Port: port})
	}
}

// anyPipework joins tees, three-way valves and at most one store at random, with loops.
// Several stores that feed one another in loops are beyond what the layout promises.
func anyPipework(r *rapid.T) *assembly.Assembly {
	m := &mess{r: r, a: &assembly.Assembly{}, count: map[string]int{}}
	m.loose = append(m.loose, assembly.End{Part: m.add(assembly.Main, "MAIN", "out")})
	for range rapid.IntRange(0, 8).Draw(r, "tees") {
		m.tee()
	}
	if rapid.Bool().Draw(r, "store") {
		if at, ok := m.take(); ok {
			at = m.chain(at)
			f := m.add(assembly.FloatValve, "F", "in", "mouth")
			m.join(at, assembly.End{Part: f})
			s := m.add(assembly.Store, "S", "outlet", "drain")
			d := m.add(assembly.Drain, "D", "in")
			m.join(assembly.End{Part: s, Port: 1}, assembly.End{Part: d})
			m.loose = append(m.loose, assembly.End{Part: s, Port: 0})
		}
	}
	for range rapid.IntRange(0, 3).Draw(r, "loops") {
		if len(m.loose) < 2 {
			break
		}
		a, _ := m.take()
		b, _ := m.take()
		m.join(m.chain(a), b)
	}
	m.close()
	return m.a
}

// close puts an end on what is still open.
func (m *mess) close() {
	ends := []struct {
		kind   assembly.Kind
		letter string
	}{{assembly.Outlet, "out-"}, {assembly.Drain, "D"}, {assembly.Vessel, "E"}, {assembly.Switch, "C"}, {assembly.Heater, "H"}}
	for len(m.loose) > 0 {
		at, _ := m.take()
		if rapid.IntRange(0, 9).Draw(m.r, "open") == 0 {
			continue
		}
		k := rapid.SampledFrom(ends).Draw(m.r, "last")
		at = m.chain(at)
		i := m.add(k.kind, k.letter, "in")
		m.join(at, assembly.End{Part: i})
	}
}
