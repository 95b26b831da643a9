package appraise

import (
	"tideover/internal/proof"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// The stable JSON form of a proof; docs/json.md describes it.
type (
	jsonProof struct {
		Cases     uint64         `json:"cases"`
		Pairs     uint64         `json:"pairs"`
		Covered   string         `json:"covered"`
		Boxes     int            `json:"judgements"`
		Circuits  int            `json:"circuits"`
		Promises  []jsonPromise  `json:"promises"`
		Sequences []jsonSequence `json:"sequences"`
		Replay    *jsonReplay    `json:"replay,omitempty"`
	}
	jsonPromise struct {
		ID       string            `json:"id"`
		Promise  string            `json:"promise"`
		Kind     string            `json:"kind"`
		Safety   bool              `json:"safety"`
		Verdict  string            `json:"verdict"`
		Reason   string            `json:"reason"`
		Covered  float64           `json:"covered"`
		Kept     uint64            `json:"kept"`
		Broken   uint64            `json:"broken"`
		Smallest *jsonCounter      `json:"smallest"`
		Breakers []jsonCounter     `json:"breakers"`
		Cures    []jsonCure        `json:"cures"`
		Counts   map[string]counts `json:"counts"`
	}
	counts struct {
		Kept     uint64 `json:"kept"`
		Broken   uint64 `json:"broken"`
		Silent   uint64 `json:"silent"`
		Unjudged uint64 `json:"unjudged"`
	}
	jsonCounter struct {
		Case     string   `json:"case"`
		Sentence string   `json:"sentence"`
		Setting  string   `json:"setting"` // its name, or ""
		Moves    int      `json:"moves"`
		Where    string   `json:"where"`
		Figure   *float64 `json:"figure"` // SI; null where there is none
		Text     string   `json:"text"`   // the figure as printed
	}
	jsonCure struct {
		Cure  string   `json:"cure"`
		After string   `json:"after"`
		Parts int      `json:"parts"`
		Worse []string `json:"worse"`
	}
	jsonSequence struct {
		From   string      `json:"from"`
		To     string      `json:"to"`
		Judged bool        `json:"judged"`
		Moves  []jsonMove  `json:"moves"`
		Blocks []jsonBlock `json:"blocks"`
	}
	jsonMove struct {
		Act string `json:"act"` // "turn", "pull-plug", "put-plug", "look-taps", "open-taps", "heater-off"
		Tag string `json:"tag"`
		To  string `json:"to"`
	}
	jsonBlock struct {
		Promise string  `json:"promise"`
		After   int     `json:"after"`
		Until   int     `json:"until"`
		Seconds float64 `json:"seconds"`
	}
	jsonReplay struct {
		Case     string       `json:"case"`
		Steady   bool         `json:"steady"`
		Solved   bool         `json:"solved"`
		Parts    []jsonPlayed `json:"parts"`
		Promises []jsonAnswer `json:"promises"`
	}
	jsonPlayed struct {
		Tag       string        `json:"tag"`
		Flow      float64       `json:"flow"`      // m³/s
		Pressures [][2]*float64 `json:"pressures"` // Pa, low and high, by port; null: nothing bounds it
	}
	jsonAnswer struct {
		ID      string   `json:"id"`
		Outcome string   `json:"outcome"`
		Figure  *float64 `json:"figure"`
		Limit   *float64 `json:"limit"`
		Where   string   `json:"where"`
	}
)

// json is the proof's JSON form; nil where there is no proof.
func (p *Proof) json(sys quantity.System) *jsonProof {
	if p == nil {
		return nil
	}
	out := &jsonProof{Cases: p.Report.Cases, Pairs: p.Pairs, Boxes: p.Boxes, Circuits: p.Distinct,
		Promises: []jsonPromise{}, Sequences: []jsonSequence{}, Replay: p.replay()}
	if p.Replay == nil {
		out.Covered = p.TellCovered()
	}
	for i := range p.Results {
		out.Promises = append(out.Promises, p.promise(&p.Results[i], sys))
	}
	for i := range p.Sequences {
		out.Sequences = append(out.Sequences, sequenceJSON(&p.Sequences[i]))
	}
	return out
}

func (p *Proof) promise(r *proof.Result, sys quantity.System) jsonPromise {
	out := jsonPromise{ID: r.About.ID, Promise: words.Say("promise."+r.About.ID, nil), Kind: string(r.About.Kind), Safety: r.About.Safety,
		Verdict: r.Verdict.ID(), Covered: r.Covered, Kept: r.Kept(), Broken: r.Broken(), Breakers: []jsonCounter{}, Cures: []jsonCure{},
		Counts: map[string]counts{}}
	if r.Reason != "" {
		out.Reason = words.Say(r.Reason, nil)
	}
	if c := r.Shown(); c != nil {
		one := p.counter(r, c, sys)
		out.Smallest = &one
	}
	for i := range r.Breakers {
		out.Breakers = append(out.Breakers, p.counter(r, &r.Breakers[i], sys))
	}
	for i := range p.Cures[r.About.ID] {
		c := &p.Cures[r.About.ID][i]
		out.Cures = append(out.Cures, jsonCure{Cure: c.Tell(), After: c.After.ID(), Parts: c.Parts, Worse: append([]string{}, c.Worse...)})
	}
	for n, name := range []string{"sound", "one-failure", "two-failures"} {
		out.Counts["named-"+name], out.Counts["other-"+name] = counted(r.Named[n]), counted(r.Other[n])
	}
	return out
}

func counted(c proof.Counts) counts { return counts{c.Kept, c.Broken, c.Silent, c.Unjudged} }

func (p *Proof) counter(r *proof.Result, c *proof.Counterexample, sys quantity.System) jsonCounter {
	out := jsonCounter{Case: p.Space.String(c.Case), Sentence: p.Tell(r.About, c, sys), Setting: c.Named, Moves: c.Moves, Where: c.Judgement.Where}
	if f := c.Judgement.Figure; f.Dim != quantity.NoDim {
		out.Figure, out.Text = finite(f.SI), quantity.Format(f, sys)
	}
	return out
}

// finite is a number JSON can hold, or null.
func finite(x float64) *float64 {
	if x-x != 0 {
		return nil
	}
	return &x
}

func sequenceJSON(s *proof.Sequence) jsonSequence {
	out := jsonSequence{From: s.From, To: s.To, Judged: s.Judged, Moves: []jsonMove{}, Blocks: []jsonBlock{}}
	for _, m := range s.Moves {
		out.Moves = append(out.Moves, jsonMove{[...]string{proof.Turn: "turn", proof.PullPlug: "pull-plug", proof.PutPlug: "put-plug", proof.LookTaps: "look-taps", proof.OpenTaps: "open-taps", proof.HeaterOff: "heater-off"}[m.Act], m.Tag, m.To})
	}
	for _, b := range s.Blocks {
		out.Blocks = append(out.Blocks, jsonBlock{b.Promise, b.After, b.Until, float64(b.For)})
	}
	return out
}

func (p *Proof) replay() *jsonReplay {
	if p.Replay == nil {
		return nil
	}
	out := &jsonReplay{Case: p.Space.String(p.Replay.Case), Steady: p.Replay.Steady, Solved: p.Replay.Solved,
		Parts: []jsonPlayed{}, Promises: []jsonAnswer{}}
	for _, q := range p.Replay.Parts {
		out.Parts = append(out.Parts, jsonPlayed{Tag: q.Tag, Flow: float64(q.Flow), Pressures: byPort(q.Pressures)})
	}
	for _, a := range p.Replay.Answers {
		answer := jsonAnswer{ID: a.About.ID, Where: a.Judgement.Where,
			Outcome: a.Judgement.Outcome.ID()}
		if a.Judgement.Figure.Dim != quantity.NoDim {
			answer.Figure, answer.Limit = finite(a.Judgement.Figure.SI), finite(a.Judgement.Limit.SI)
		}
		out.Promises = append(out.Promises, answer)
	}
	return out
}

// byPort keeps one pair for each port, so that the second is never read as the first.
func byPort(pressures []proof.Interval) [][2]*float64 {
	list := make([][2]*float64, len(pressures))
	for i, p := range pressures {
		list[i] = [2]*float64{finite(p.Low), finite(p.High)}
	}
	return list
}
