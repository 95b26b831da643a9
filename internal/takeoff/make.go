package takeoff

import (
	"math"
	"sort"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Waste is the share of pipe bought on top of what lies in the runs, for cutting and for
// measuring wrongly: a habit of the trade, not a rule.
const Waste = 0.10

// Make lists what the assembly takes: a line for each row and size, parts that are kept
// on lines of their own at the end with nothing to buy. prices gives money by catalogue
// row, or by row and size ("elbow-PE 32") where sizes cost differently; pipe is priced by
// the stock length or coil. A row without a price is counted and left out of the total.
func Make(a *assembly.Assembly, c *catalogue.Catalogue, prices map[string]float64, currency string) *List {
	g := gather{rows: c, at: map[key]int{}}
	for i := range a.Parts {
		g.part(a, &a.Parts[i])
		g.spill(&a.Parts[i])
	}
	for i := range a.Parts {
		g.fittings(a, i)
	}
	union := unions(a)
	for n, j := range a.Joins {
		g.nipple(a, j, union[n])
	}
	g.sundries(a)
	list := &List{Lines: g.lines, Currency: currency}
	for i := range list.Lines {
		list.finish(&list.Lines[i], prices)
	}
	sort.SliceStable(list.Lines, func(i, j int) bool { return before(&list.Lines[i], &list.Lines[j], g.order) })
	return list
}

// key is what makes two pieces the same line.
type key struct {
	row, size string
	kept      bool
}

// gather collects lines.
type gather struct {
	rows  *catalogue.Catalogue
	lines []Line
	at    map[key]int
	order map[string]int // rank of a row on the list
}

// line returns the line of a row and size, new if need be.
func (g *gather) line(row catalogue.Row, size string, kept bool, rank int) *Line {
	k := key{row.Key, size, kept}
	i, ok := g.at[k]
	if !ok {
		if g.order == nil {
			g.order = map[string]int{}
		}
		i = len(g.lines)
		g.at[k], g.order[row.Key] = i, rank
		g.lines = append(g.lines, Line{Row: row.Key, Words: row.Words, Size: size, Kept: kept, Assumed: row.Certainty == catalogue.Recalled})
	}
	return &g.lines[i]
}

// ranks orders the list as a merchant's counter is walked: the big things, pipe, fittings, valves.
var ranks = map[assembly.Kind]int{assembly.Store: 1, assembly.Pump: 2, assembly.Vessel: 3, assembly.Switch: 4, assembly.FloatValve: 5,
	assembly.NonReturn: 6, assembly.Regulator: 6, assembly.ThreeWay: 7, assembly.Spool: 7, assembly.HandValve: 8, assembly.Isolator: 8, assembly.Drain: 9, assembly.Strainer: 10, assembly.Meter: 11,
	assembly.Run: 12, assembly.Tee: 13, assembly.Heater: 15, assembly.Outlet: 16}

const fittingRank = 14

// part counts one part. The main is nobody's to buy.
func (g *gather) part(a *assembly.Assembly, p *assembly.Part) {
	switch {
	case p.Kind == assembly.Tee:
		g.tee(p)
	case p.Row == nil:
	case p.Kind == assembly.Run:
		pipe := p.Row.(catalogue.Pipe)
		l := g.line(pipe.Row, pipe.Size.Mark, p.Kept, ranks[p.Kind])
		l.Length += p.Length
		l.Stock = pipe.Stock
		l.Tags = append(l.Tags, p.Tag)
	default:
		l := g.line(p.Row.Ref(), p.Size.Mark, p.Kept, ranks[p.Kind])
		l.Thread = p.Size.Family == "thread"
		l.Tags = append(l.Tags, p.Tag)
		if !p.Kept {
			l.Count += max(1, p.Count)
		}
	}
}

// spillRank is where the overflow stands on the list: among the fittings.
const spillRank = 14

// spill counts the overflow of a new tank, one for each: the pipe with its tank connector, or
// what frames a slot, and the screen. A tank that is kept has its own; of one that nobody has
// measured nothing can be bought.
func (g *gather) spill(p *assembly.Part) {
	if p.Kind != assembly.Store || p.Kept || p.Spill.Mark == "" {
		return
	}
	add := func(key string) {
		l := g.line(catalogue.Row{Key: key, Words: words.Say("takeoff."+key, nil), Certainty: catalogue.Recalled}, p.Spill.Mark, false, spillRank)
		l.Count += max(1, p.Count)
		l.Tags = append(l.Tags, p.Tag)
	}
	if p.Spill.By == "pipe" {
		add("overflow-pipe")
	}
	switch {
	case p.Spill.Screen == "none":
	case p.Spill.By == "slot":
		add("overflow-screen-slot")
	case p.Spill.Screen == "wide":
		add("overflow-screen-wide")
	default:
		add("overflow-screen")
	}
}

// tee counts a tee by the sizes of its ports. A header made of pipe is as many tees as it
// has branches beyond the first.
func (g *gather) tee(p *assembly.Part) {
	row, ok := g.rows.Fittings["tee-branch"]
	if f, err := g.rows.Fitting("tee-branch", p.Size); err == nil {
		row, ok = f, true
	}
	if !ok {
		return
	}
	if n := len(p.Ports) - 2; p.Purpose == assembly.AsHeader || p.Purpose == assembly.AsHotHeader {
		l := g.line(row.Row, p.Size.Mark, p.Kept, ranks[p.Kind])
		l.Thread = p.Size.Family == "thread"
		l.Tags = append(l.Tags, p.Tag)
		if !p.Kept {
			l.Count += n
		}
		return
	}
	l := g.line(row.Row, teeSize(p), p.Kept, ranks[p.Kind])
	l.Thread = p.Size.Family == "thread"
	l.Tags = append(l.Tags, p.Tag)
	if !p.Kept {
		l.Count++
	}
}

// teeSize writes the sizes of a tee: one where all are equal, else run × run × branch.
func teeSize(p *assembly.Part) string {
	marks := make([]string, len(p.Ports))
	same := true
	for i, port := range p.Ports {
		marks[i] = port.Size.Mark
		same = same && marks[i] == marks[0]
	}
	if same {
		return marks[0]
	}
	return strings.Join(marks, " × ")
}

// fittings counts the pieces strung on part i. Losses of tees and tank outlets are no
// pieces: those stand as parts. Of a run that is kept only the adapters and bushes count
// that join it to something new.
func (g *gather) fittings(a *assembly.Assembly, i int) {
	p := &a.Parts[i]
	left := math.MaxInt
	if p.Kept {
		left = newNeighbours(a, i)
	}
	for _, f := range p.Fittings {
		n := f.Count
		switch f.Row.Kind {
		case "tee-run", "tee-branch", "entry", "exit":
			continue
		case "adapter", "bush":
			n = min(n, left)
		default:
			if p.Kept {
				continue
			}
		}
		if n == 0 {
			continue
		}
		size := ""
		if f.Row.Kind == "elbow" {
			size = p.Size.Mark
		}
		l := g.line(f.Row.Row, size, false, fittingRank)
		l.Count += n
		l.Tags = append(l.Tags, p.Tag)
	}
}

// inside are the kinds of part whose threads are taken to be inside threads: two of them
// meet by a nipple. The others end in an outside thread or a union.
var inside = map[assembly.Kind]bool{assembly.HandValve: true, assembly.Isolator: true, assembly.ThreeWay: true, assembly.NonReturn: true, assembly.Strainer: true, assembly.Regulator: true,
	assembly.Tee: true, assembly.Pump: true, assembly.Store: true}

// nipple counts the nipple of a join between two inside threads, of the smaller where a
// bush brings them together.
func (g *gather) nipple(a *assembly.Assembly, j assembly.Join, union bool) {
	x, y := &a.Parts[j.A.Part], &a.Parts[j.B.Part]
	one, other := x.Ports[j.A.Port], y.Ports[j.B.Port]
	n := 1
	if union {
		mark := other.Size.Mark
		if other.Size.Family != "thread" {
			mark = one.Size.Mark
		}
		g.piece("union-"+mark, mark, 1, x.Tag+"–"+y.Tag)
		n = 0
		for _, p := range []*assembly.Part{x, y} {
			if inside[p.Kind] {
				n++
			}
		}
		g.piece("nipple-"+mark, mark, n, x.Tag+"–"+y.Tag)
		return
	}
	if !inside[x.Kind] || !inside[y.Kind] || one.End != "thread" || other.End != "thread" || x.Kept && y.Kept {
		return
	}
	mark := one.Size.Mark
	if _, ok := g.rows.Fittings["bush-"+mark+"x"+other.Size.Mark]; ok {
		mark = other.Size.Mark
	}
	g.piece("nipple-"+mark, mark, n, x.Tag+"–"+y.Tag)
}

// piece counts n of a threaded fitting by its key. One that the catalogue does not hold is
// named in words all the same.
func (g *gather) piece(key, mark string, n int, tag string) {
	if n == 0 {
		return
	}
	row, ok := g.rows.Fittings[key]
	if !ok {
		id := "takeoff.nipple"
		if strings.HasPrefix(key, "union-") {
			id = "takeoff.union"
		}
		row = catalogue.Fitting{Row: catalogue.Row{Key: key, Words: words.Say(id, words.Args{"mark": mark})}}
	}
	l := g.line(row.Row, mark, false, fittingRank)
	l.Thread = true
	l.Count += n
	l.Tags = append(l.Tags, tag)
}

// newNeighbours returns how many ports of part i meet a part that is not kept.
func newNeighbours(a *assembly.Assembly, i int) int {
	n := 0
	for k := range a.Parts[i].Ports {
		if o, ok := a.Meets(assembly.End{Part: i, Port: k}); ok && !a.Parts[o.Part].Kept && a.Parts[o.Part].Kind != assembly.Main {
			n++
		}
	}
	return n
}

// finish rounds pipe up to stock, prices the line and adds it to the total.
func (l *List) finish(line *Line, prices map[string]float64) {
	if line.Kept {
		return
	}
	if line.Stock > 0 {
		line.Waste = line.Length * Waste
		line.Count = pieces(line.Length+line.Waste, line.Stock)
	}
	price, ok := prices[line.Row+" "+line.Size]
	if !ok {
		price, ok = prices[line.Row]
	}
	if !ok {
		l.Unpriced++
		return
	}
	line.Price, line.Priced = quantity.Money(price), true
	l.Total += quantity.Money(float64(line.Count) * price)
}

// pieces returns how many stock lengths hold a length. [m, m]
func pieces(length, stock quantity.Length) int {
	return int(math.Ceil(float64(length/stock) - 1e-9))
}

// before orders lines: what is bought first, then by rank, row and size.
func before(a, b *Line, order map[string]int) bool {
	if a.Kept != b.Kept {
		return !a.Kept
	}
	if x, y := order[a.Row], order[b.Row]; x != y {
		return x < y
	}
	if a.Row != b.Row {
		return a.Row < b.Row
	}
	return a.Size < b.Size
}
