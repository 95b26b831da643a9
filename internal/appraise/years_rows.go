package appraise

import (
	"math"
	"strconv"

	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
	"tideover/internal/years"
)

// YearsTable is one side of what each size does: whether it is enough, or whether its water is
// fresh. Its columns go by ids: "years.col.<id>" is a head of a word or two, "years.means.<id>"
// says what is counted.
type YearsTable struct {
	ID      string // "enough", "fresh"
	Columns []string
	Rows    []YearsRow // the smallest size first
}

// YearsRow is one size of store in the reader's units, a text for each column.
type YearsRow struct {
	Name  string
	Own   bool
	Texts []string
}

// evening is the hour of the day from which the carry time is told: the taps run most.
const evening = 18

// column is one figure of a size, with its interval where the years leave one open.
type column struct {
	id   string
	text func(y *Years, i int, sys quantity.System) string
}

func measured(id string, dim quantity.Dim, m seasons.Measure) column {
	return column{id, func(y *Years, i int, sys quantity.System) string {
		return within(dim, ten(&y.Answer.Stores[i], m), sys)
	}}
}

// ten is a measure with what the next ten years bring in nine futures of ten; nothing where there
// is nothing to live through.
func ten(o *seasons.Odds, m seasons.Measure) seasons.Estimate {
	e := o.By[m]
	if o.Idle {
		return seasons.Estimate{}
	}
	e.Low, e.High = o.Next[m].Low, o.Next[m].High
	return e
}

func aged(id string, dim quantity.Dim, of func(f *years.Fresh) seasons.Estimate) column {
	return column{id, func(y *Years, i int, sys quantity.System) string { return within(dim, of(&y.Fresh[i]), sys) }}
}

var enoughColumns = []column{
	{"usable", func(y *Years, i int, sys quantity.System) string {
		return shown(quantity.VolumeDim, y.Answer.Stores[i].Usable, sys)
	}},
	{"rides", func(y *Years, i int, _ quantity.System) string {
		return odds(ten(&y.Answer.Stores[i], seasons.RideThrough))
	}},
	measured("short", quantity.VolumeDim, seasons.ShortYear),
	measured("unserved", quantity.TimeDim, seasons.UnservedYear),
	measured("empty", quantity.TimeDim, seasons.EmptyYear),
	measured("worst", quantity.TimeDim, seasons.WorstSpell),
}

var freshColumns = []column{
	{"carry", func(y *Years, i int, sys quantity.System) string {
		c := &y.Carry[i][evening]
		return within(quantity.TimeDim, seasons.Estimate{N: 1, Value: c.Median, Low: c.Short, High: c.Long}, sys)
	}},
	{"refill", func(y *Years, i int, sys quantity.System) string { return shown(quantity.TimeDim, y.Refill[i], sys) }},
	aged("age", quantity.TimeDim, func(f *years.Fresh) seasons.Estimate { return f.Mean }),
	aged("middle", quantity.TimeDim, func(f *years.Fresh) seasons.Estimate { return f.Middle }),
	aged("old", quantity.TimeDim, func(f *years.Fresh) seasons.Estimate { return f.Most }),
	{"stood", func(y *Years, i int, _ quantity.System) string {
		e := y.Fresh[i].Old
		if e.N > 0 && e.Value == 0 { // its interval then only says how few futures there were
			return words.Say("store.none-seen", nil)
		}
		return odds(e)
	}},
}

// chlorineColumn is there once somebody has read what arrives: before that nothing is known.
var chlorineColumn = aged("chlorine", quantity.RatioDim, func(f *years.Fresh) seasons.Estimate { return f.Below })

// Tables are what each size does.
func (y *Years) Tables(sys quantity.System) []YearsTable {
	fresh := freshColumns
	if y.Site.Read {
		fresh = append(fresh[:len(fresh):len(fresh)], chlorineColumn)
	}
	return []YearsTable{y.table("enough", enoughColumns, sys), y.table("fresh", fresh, sys)}
}

func (y *Years) table(id string, columns []column, sys quantity.System) YearsTable {
	t := YearsTable{ID: id}
	for _, c := range columns {
		t.Columns = append(t.Columns, c.id)
	}
	for i := range y.Answer.Stores {
		r := YearsRow{Name: y.Answer.Stores[i].Name, Own: i == y.Own}
		for _, c := range columns {
			r.Texts = append(r.Texts, c.text(y, i, sys))
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// shown prints an estimate with no more digits than a run of this kind deserves.
func shown(dim quantity.Dim, si float64, sys quantity.System) string {
	return quantity.Format(rough(dim, si), sys)
}

func rough(dim quantity.Dim, si float64) quantity.Quantity {
	return quantity.Quantity{Dim: dim, SI: si, Half: 0.05 * math.Abs(si), Basis: quantity.Derived}
}

// within prints an estimate with its interval: "46 h (40–53)", the unit said again where an end
// has another. Nothing was seen: a dash.
func within(dim quantity.Dim, e seasons.Estimate, sys quantity.System) string {
	if e.N == 0 {
		return words.Say("store.no-outage", nil)
	}
	if dim == quantity.RatioDim {
		return odds(e)
	}
	number, unit := quantity.Shown(rough(dim, e.Value), sys)
	value := quantity.Format(rough(dim, e.Value), sys)
	end := func(si float64) string {
		n, u := quantity.Shown(rough(dim, si), sys)
		if u == unit || si == 0 {
			return n
		}
		return n + " " + u
	}
	low, high := end(e.Low), end(e.High)
	if low == number && high == number {
		return value
	}
	return words.Say("store.within", words.Args{"value": value, "low": low, "high": high})
}

// odds is a share with its interval, in whole hundredths.
func odds(e seasons.Estimate) string {
	if e.N == 0 {
		return words.Say("store.no-outage", nil)
	}
	whole := func(v float64) string { return strconv.Itoa(int(math.Round(100 * v))) }
	return words.Say("store.odds", words.Args{"share": whole(e.Value), "low": whole(e.Low), "high": whole(e.High)})
}
