package finding

import (
	"math"

	"tideover/internal/quantity"
)

// New starts a finding of a known kind at a place in a mode. Its verdict is not judged
// until somebody judges it.
func New(id, where, mode string) Finding {
	k := KindOf(id)
	return Finding{ID: id, Area: k.Area, Rank: k.Rank, Where: where, Mode: mode}
}

// Of makes a figure worked out by us.
func Of(dim quantity.Dim, si float64) quantity.Quantity {
	return quantity.Quantity{Dim: dim, SI: si, Basis: quantity.Derived}
}

// Air makes the air over water under a mouth, worked out by us; negative: under water by so much.
func Air(left quantity.Length) quantity.Quantity {
	return quantity.Quantity{Dim: quantity.LengthDim, SI: float64(left), Basis: quantity.Derived, Air: true}
}

// Count makes a number of things, worked out by us.
func Count(n int) quantity.Quantity {
	return quantity.Quantity{Dim: quantity.RatioDim, SI: float64(n), Basis: quantity.Derived, Counted: true}
}

// Against sets figure, limit and sense, and the verdict: fine when the figure keeps the
// limit, otherwise bad.
func (f *Finding) Against(figure, limit quantity.Quantity, sense Sense, bad Verdict) {
	f.Figure, f.Limit, f.Sense, f.Verdict = figure, limit, sense, Fine
	if !Keeps(figure.SI, limit.SI, sense) {
		f.Verdict = bad
	}
}

// Keeps reports whether a figure keeps a limit; one that stands on it but for the last
// bits does. A figure that is not a number keeps none.
func Keeps(figure, limit float64, sense Sense) bool {
	slack := rounding * math.Abs(limit)
	switch sense {
	case AtLeast:
		return figure >= limit-slack
	case AtMost:
		return figure <= limit+slack
	}
	return true
}

// Margin returns how far the figure stands inside its limit: negative when outside,
// NoDim when there is no limit.
func (f *Finding) Margin() quantity.Quantity {
	m := f.Figure.Less(f.Limit)
	switch {
	case f.Limit.Dim == quantity.NoDim || f.Sense == NoLimit:
		return quantity.Quantity{}
	case f.Sense == AtMost:
		m.SI = -m.SI
	}
	if math.Abs(m.SI) <= rounding*math.Abs(f.Limit.SI) {
		m.SI = 0 // the figure stands on its limit: what is left is the last bits
	}
	return m
}

// rounding is the share of a limit below which a difference from it is only the last
// bits of a solution, not the home's doing.
const rounding = 1e-9

// TooClose marks a finding that is fine as worked out and does not stay so in nine tenths of
// what the inputs may be. Where harm or service hangs on it, it is something to look at.
func (f *Finding) TooClose() {
	f.Close = true
	if KindOf(f.ID).Weighs() {
		f.Verdict = LookAt
	}
}

// Stands is the share of the range tried in which the verdict was the same; ok is false
// where nothing was run again.
func (f *Finding) Stands() (share float64, ok bool) {
	if f.Tried == 0 {
		return 0, false
	}
	return float64(f.Held) / float64(f.Tried), true
}

// Blank marks the finding not judged because a field of the local-rules profile, or of
// the job, is blank. The sentence names the field.
func (f *Finding) Blank(field string) {
	f.Verdict = NotJudged
	f.Name("field", field)
}

// RestsOn marks a finding that is fine in the best case and would not be in the worst, not judged
// because the field of the job that would tell which it is was left blank.
func (f *Finding) RestsOn(field string) {
	f.Best = true
	f.Blank(field)
}

// Name puts a name into the sentence.
func (f *Finding) Name(place, text string) {
	if f.Bare {
		return
	}
	if f.Names == nil {
		f.Names = map[string]string{}
	}
	f.Names[place] = text
}

// Arg puts a further figure into the sentence.
func (f *Finding) Arg(place string, q quantity.Quantity) {
	if f.Bare {
		return
	}
	if f.Args == nil {
		f.Args = map[string]quantity.Quantity{}
	}
	f.Args[place] = q
}
