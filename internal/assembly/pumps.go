package assembly

import (
	"math"
	"strconv"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

// pumpSet lays the pump or, of several, a set: alike, side by side on one suction and one
// delivery, each between two valves of its own with a non-return valve behind it, so that
// any of them can be taken out while the others serve, and none turns another backwards.
func pumpSet(l *line) {
	b := l.b
	n := b.pumpCount()
	b.a.Together = 1
	if n > 1 && b.job.Choices.PumpDuty == "assist" {
		b.a.Together = n
	}
	if n == 1 {
		l.pump()
		return
	}
	ways := make([]*line, n)
	for i := range n - 1 {
		ways[i] = l.on(Boost, l.tee(AsPumpSplitTee))
	}
	ways[n-1] = l.on(Boost, l.at)
	for i, way := range ways {
		own := Set{Valves: [2]int{way.ball(AsPumpInletValve)}}
		own.Pump, own.Check = way.pump()
		own.Valves[1] = way.ball(AsPumpOutletValve)
		b.a.Sets = append(b.a.Sets, own)
		if i > 0 {
			b.meet(way.at, ways[0].tee(AsPumpJoinTee))
		}
	}
	l.at = ways[0].at
}

// pump adds a pump and the non-return valve behind it, with a drain between: that shows
// whether the valve holds, and lets the pump down before it is opened.
func (l *line) pump() (pump, check int) {
	row := l.b.pumpRow()
	pump = l.put(Part{Kind: Pump, Purpose: AsPump, Row: row, Size: row.Size, Ports: threaded(row.Size, "in", "out")}, 1)
	l.cock(AsPumpCheckDrain)
	return pump, l.check(AsPumpCheck)
}

// pumpRow is the pump as chosen; that there is none fits a raised store alone.
func (b *build) pumpRow() catalogue.Pump {
	const path = "choices.pump.row"
	if b.job.Choices.Pump == "none" {
		b.fault(path, "assembly.no-pump", words.Args{"arrangement": b.a.Arrangement})
		return catalogue.Pump{}
	}
	return got[catalogue.Pump](b, path)(b.rows.Pump(b.job.Choices.Pump))
}

// pumpCount is how many pumps stand side by side.
func (b *build) pumpCount() int { return max(1, int(math.Round(float64(b.job.Choices.Pumps.V)))) }

// parted is how many tees the water of one pump of a set turns in on either side of it.
func (b *build) parted() int { return min(1, b.pumpCount()-1) }

// Set is one pump of several with what parts it from the others: indices of parts.
type Set struct {
	Pump, Check int
	Valves      [2]int // before and behind it
}

// PumpTags names the pumps, street to home: "P1, P2".
func (a *Assembly) PumpTags() string {
	var tags []string
	for _, i := range a.Of(Pump) {
		tags = append(tags, a.Parts[i].Tag)
	}
	return strings.Join(tags, ", ")
}

// PumpOut names the setting in which pump k of a set, from 0, is shut off alone.
func PumpOut(k int) string { return "pump-" + strconv.Itoa(k+1) + "-out" }

// oneOut adds the settings in which one pump of a set is taken out and the rest serve.
func (b *build) oneOut() {
	serves := b.a.Settings[0]
	if s := b.a.Setting("on-store"); serves.Name == "on-main" && s != nil {
		serves = *s // the pumps stand in the normal one
	}
	for k, own := range b.a.Sets {
		s := Setting{Name: PumpOut(k), Positions: make(map[string]string, len(serves.Positions))}
		for tag, at := range serves.Positions {
			s.Positions[tag] = at
		}
		for _, v := range own.Valves {
			s.Positions[b.a.Parts[v].Tag] = shut
		}
		b.a.Settings = append(b.a.Settings, s)
	}
}
