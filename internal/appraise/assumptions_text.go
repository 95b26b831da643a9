package appraise

import (
	"strconv"
	"strings"

	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// leastTold is the least share of a limit that is told as a figure: a thousandth.
const leastTold = 1e-3

// Text is what is taken, with its range, and what hangs on it, in words.
func (r *Rests) Text(sys quantity.System) (title, moves string) {
	at := func(si float64) string { return quantity.Format(r.Quantity(si), sys) }
	title = words.Say("assume.taken", words.Args{"what": words.Say("assume."+r.Key, nil), "value": at(r.Value), "low": at(r.Low), "high": at(r.High)})
	switch {
	case r.Told:
		return title, words.Say("assume.told", words.Args{"field": strings.Join(r.Settles, ", ")})
	case r.Years:
		return title, words.Say("assume.years", nil)
	case len(r.Turns) > 0:
		var told []string
		for _, t := range r.Turns {
			told = append(told, t.text(at(t.At), sys))
		}
		return title, strings.Join(told, "; ") + "."
	case r.Moves >= leastTold:
		return title, words.Say("assume.moves", words.Args{"share": quantity.Format(quantity.Quantity{Dim: quantity.RatioDim, SI: r.Moves}, sys)})
	case r.Felt:
		return title, words.Say("assume.felt", nil)
	}
	return title, ""
}

// Still reports whether nothing hangs on it in this job.
func (r *Rests) Still() bool { return !r.Told && !r.Years && !r.Felt && len(r.Turns) == 0 }

// text is a turned verdict in words.
func (t *Turn) text(at string, sys quantity.System) string {
	title, _ := finding.Text(t.Finding, sys)
	args := words.Args{"finding": title, "from": words.Say("verdict."+t.Finding.Verdict.ID(), nil), "at": at}
	if t.Gone {
		return words.Say("assume.turns.gone", args)
	}
	args["to"] = words.Say("verdict."+t.To.ID(), nil)
	return words.Say("assume.turns", args)
}

// Brief is all of it in one line.
func (r *Rests) Brief(sys quantity.System) string {
	title, moves := r.Text(sys)
	if moves != "" {
		title += ". " + moves
	}
	return strings.TrimSuffix(title, ".") + ". " + r.Settled()
}

// Some are a few of the weightiest assumptions under what is said of them.
type Some struct {
	Head string
	List []Rests
}

// Parts are the weightiest assumptions: those that were found to move something, then those that the
// order of the register brings. A nil one has none.
func (w *Weightiest) Parts() (list []Some) {
	if w == nil {
		return nil
	}
	if w.Found > 0 {
		list = append(list, Some{words.Say("assume.few", words.Args{"n": strconv.Itoa(w.Drawn)}), w.List[:w.Found]})
	}
	if rest := w.List[w.Found:]; len(rest) > 0 {
		id := "assume.few.fill"
		if w.Found == 0 {
			id = "assume.few.none"
		}
		list = append(list, Some{words.Say(id, nil), rest})
	}
	return list
}

// Errs is which way the assumption errs.
func (r *Rests) Errs() string { return words.Say("assume."+r.Key+".errs", nil) }

// Settled is what would settle it on site.
func (r *Rests) Settled() string {
	return words.Say("assume.settled", words.Args{"how": words.Say("assume."+r.Key+".settle", nil)})
}

// jsonRests is an assumption as docs/json.md describes it; figures in SI.
type (
	jsonRests struct {
		Key   string     `json:"key"`
		Dim   string     `json:"dimension"`
		Value float64    `json:"value"`
		Low   float64    `json:"low"`
		High  float64    `json:"high"`
		Told  bool       `json:"told"`
		Felt  bool       `json:"felt"`
		Moves float64    `json:"moves"`
		Turns []jsonTurn `json:"turns"`
	}
	jsonTurn struct {
		ID    string  `json:"id"`
		Where string  `json:"where"`
		Mode  string  `json:"mode"`
		From  string  `json:"from"`
		To    string  `json:"to"` // "": it no longer arises
		At    float64 `json:"at"`
	}
)

func restsJSON(list []Rests) []jsonRests {
	var out []jsonRests
	for i := range list {
		r := &list[i]
		j := jsonRests{Key: r.Key, Dim: r.Dim.Key(), Value: r.Value, Low: r.Low, High: r.High, Told: r.Told, Felt: r.Felt, Moves: r.Moves, Turns: []jsonTurn{}}
		for _, t := range r.Turns {
			to := t.To.ID()
			if t.Gone {
				to = ""
			}
			j.Turns = append(j.Turns, jsonTurn{t.Finding.ID, t.Finding.Where, t.Finding.Mode, t.Finding.Verdict.ID(), to, t.At})
		}
		out = append(out, j)
	}
	return out
}
