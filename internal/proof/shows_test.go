package proof

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// change is a case that shows what a mishap does: a figure without it and with it.
type change struct {
	c        Case   // with the mishap, last
	what     string // which figure
	from, to string
}

// shows looks for a case whose figure a mishap changes: a flow or a pressure first, then
// what a promise says of it alone, at last of it beside another failure, for what comes to
// bear only then. Only cases whose controls stay are looked at.
func shows(s *Space, m int) (change, bool) {
	r := rand.New(rand.NewPCG(uint64(m), 7))
	for range 400 {
		if judgedOnly[s.Mishaps[m].Upset] {
			break
		}
		c := s.ordinary(r, m)
		if from, to, what := figures(s, c, m); what != "" {
			return change{with(c, m), what, from, to}, true
		}
	}
	for _, key := range append([]string{"", "float-passing F1", "control-stuck-on C1"}, s.flat()...) {
		k := s.in.Circuit.MishapOf(key)
		if k == m || k < 0 && key != "" {
			continue
		}
		for range 600 {
			c := s.ordinary(r, m)
			if k >= 0 {
				c = with(c, k)
			}
			if from, to, what := verdicts(s, c, m); what != "" {
				return change{with(c, m), what, from, to}, true
			}
		}
	}
	return change{}, false
}

// flat are the mishaps that let the charge out of the vessels of the home's heater.
func (s *Space) flat() (keys []string) {
	for i := range s.in.Assembly.Parts {
		if p := &s.in.Assembly.Parts[i]; p.Kind == assembly.Vessel && p.Purpose == assembly.AsHeaterVessel {
			keys = append(keys, "vessel-flat "+p.Tag)
		}
	}
	return keys
}

// judgedOnly are the upsets that change no flow and no pressure of a steady state, only
// what a promise makes of it.
var judgedOnly = map[circuit.Upset]bool{circuit.VesselFlat: true, circuit.VesselShutOff: true, circuit.ReliefBlocked: true,
	circuit.OverflowBlocked: true, circuit.ScreensBlocked: true, circuit.LevelReadsWater: true}

// ordinary draws a case in a setting of the card, every other time with one handle turned:
// one of the two whose labels are swapped, where a mishap does that.
func (s *Space) ordinary(r *rand.Rand, m int) Case {
	o := newOracle(s, false, s.all, 0)
	clear(o.start.failed)
	o.start.failed[0] = 1
	n, turned := r.IntN(len(s.Named)), r.IntN(2*len(s.Hands))
	for h := range s.Hands {
		if x := &s.Mishaps[m]; x.Swap && turned >= len(s.Hands) && s.Hands[h].Part == x.Parts[turned%2] {
			turned = h
		}
	}
	for h := range s.Hands {
		if h != turned {
			o.start.open[h] = 1 << s.Named[n].Position[h]
		}
	}
	return drawn(s, o.start, r)
}

// with is the case with one more mishap.
func with(c Case, m int) Case {
	c.Mishaps = append(append([]int(nil), c.Mishaps...), m)
	return c
}

// figures compares flows and pressures, part by part, of a case without and with a mishap;
// what is "" where none differs by a thousandth of a litre per minute or of a bar.
func figures(s *Space, c Case, m int) (from, to, what string) {
	sound, hurt := s.one(c), s.one(with(c, m))
	if !sound.steady() || !hurt.steady() {
		return "", "", ""
	}
	for i := range s.in.Assembly.Parts {
		a, b := sound.flow(i), hurt.flow(i)
		if sound.solved && hurt.solved && math.Abs(a-b) > 1e-3/6e4 {
			return printed(quantity.Flow(a), quantity.FlowDim), printed(quantity.Flow(b), quantity.FlowDim),
				words.Say("verification.proof.flow", words.Args{"tag": s.in.tag(i)})
		}
	}
	for i := range s.in.Assembly.Parts {
		a, b := sound.felt(i, 0), hurt.felt(i, 0)
		if sound.solved && hurt.solved && math.Abs(a.High-b.High) > 100 {
			return printed(quantity.Pressure(a.High), quantity.PressureDim), printed(quantity.Pressure(b.High), quantity.PressureDim),
				words.Say("verification.proof.pressure", words.Args{"tag": s.in.tag(i)})
		}
	}
	return "", "", ""
}

func printed[T ~float64](v T, dim quantity.Dim) string {
	return quantity.Format(quantity.Quantity{SI: float64(v), Dim: dim}, quantity.Metric)
}

// verdicts compares what the promises on expansion, overflow and a dry pump say of a case without and with a mishap.
func verdicts(s *Space, c Case, m int) (from, to, what string) {
	for _, p := range []Promise{expansion{}, overflow{}, noChatter{}} {
		a, b := s.Of(p, c), s.Of(p, with(c, m))
		if a.Outcome == Silent || b.Outcome == Silent || a.Outcome == b.Outcome && a.Margin == b.Margin {
			continue
		}
		if mp, can := p.(Measurer); can {
			a, b = mp.Measure(&View{s.one(c)}), mp.Measure(&View{s.one(with(c, m))})
		}
		return s.outcome(a), s.outcome(b), words.Say("promise."+p.About().ID+".title", nil)
	}
	if a, b := s.Of(notDry{}, c), s.Of(notDry{}, with(c, m)); a.Outcome == Silent && b.Outcome == Broken {
		return words.Say("verification.proof.stands", nil), s.outcome(b), words.Say("promise.not-dry.title", nil)
	}
	return "", "", ""
}

// outcome says a judgement in a cell of the table.
func (s *Space) outcome(j Judgement) string {
	switch {
	case j.Figure.Air && j.Figure.SI < 0: // under water by so much: nothing is left
		return quantity.Format(j.Figure, quantity.Metric)
	case j.Figure.Dim != quantity.NoDim:
		return words.Say("verification.proof.left", words.Args{"figure": quantity.Format(j.Figure, quantity.Metric)})
	case j.Outcome == Kept:
		return words.Say("verification.proof.kept", nil)
	case j.Where != "" && s.in.Assembly.Parts[s.in.Assembly.Index(j.Where)].Kind == assembly.Heater && j.Margin == -2:
		return words.Say("verification.proof.bursts", nil)
	}
	return words.Say("verification.proof.broken", nil)
}

// TestEveryMishapShowsAFigure: for each mishap, swapped labels and what only decides
// included, a case is found whose figure it changes; docs/verification-mishaps.md shows it.
// The quick run looks at each example as it is laid out by its own job.
func TestEveryMishapShowsAFigure(t *testing.T) {
	t.Parallel()
	const file = "../../docs/verification-mishaps.md"
	lists := []string{""}
	if os.Getenv("TIDEOVER_PROOF") != "" {
		lists = append(lists, assembly.Arrangements()...)
	}
	var b strings.Builder
	b.WriteString("# What each mishap changes\n\n" + words.Say("verification.mishaps.head", nil) + "\n")
	for _, arrangement := range lists {
		for _, name := range []string{"kestrel-rise", "juniper-flat"} {
			in := laid(t, name, arrangement, nil)
			text := mishapRows(t, &in)
			if arrangement == "" {
				fmt.Fprintf(&b, "\n## %s, %s\n\n%s\n|---|---|---|---|---|\n%s", name, in.Assembly.Arrangement, words.Say("verification.mishaps.columns", nil), text)
			}
		}
	}
	golden(t, file, []byte(b.String()))
}

// mishapRows is the table of one home.
func mishapRows(t *testing.T, in *Input) string {
	t.Helper()
	s, err := NewSpace(in)
	if err != nil {
		t.Fatal(err)
	}
	rows := make([]string, len(s.Mishaps))
	var wait sync.WaitGroup
	next := make(chan int)
	for range 2 {
		wait.Go(func() {
			for m := range next {
				x, ok := shows(s, m)
				if !ok {
					t.Errorf("%s: %s changes no figure", in.Assembly.Arrangement, s.Mishaps[m].Key())
				}
				rows[m] = fmt.Sprintf("| %s | `%s` | %s | %s | %s |\n", s.TellMishap(m), s.String(x.c), x.what, x.from, x.to)
			}
		})
	}
	for m := range rows {
		next <- m
	}
	close(next)
	wait.Wait()
	return strings.Join(rows, "")
}

// TestLevelSwitchReadsWrong: a level switch at Juniper Flat's store keeps its bare pressure
// switch from running the pump dry; one that always tells of water does not, and one that
// never does keeps the pump from a full store. Without it the promise is broken as the card says.
func TestLevelSwitchReadsWrong(t *testing.T) {
	without := laid(t, "juniper-flat", "", bare)
	b, err := NewSpace(&without)
	if err != nil {
		t.Fatal(err)
	}
	dry, err := b.Parse("on-store store=empty pump=running")
	if err != nil {
		t.Fatal(err)
	}
	if j := b.Of(byID(t, "not-dry"), dry); j.Outcome != Broken {
		t.Errorf("without a level switch: outcome %d, want %d", j.Outcome, Broken)
	}
	in := laid(t, "juniper-flat", "", nil)
	s, err := NewSpace(&in)
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		promise, text string
		want          Outcome
	}{
		{"not-dry", "on-store store=empty pump=running", Silent}, // the pump stands
		{"not-dry", "on-store store=empty pump=running failed=level-switch-stuck-on@C2", Broken},
		{"not-dry", "on-store store=full pump=running failed=level-switch-stuck-off@C2", Silent},
	} {
		c, err := s.Parse(test.text)
		if err != nil {
			t.Fatalf("%s: %v", test.text, err)
		}
		if j := s.Of(byID(t, test.promise), c); j.Outcome != test.want {
			t.Errorf("%s in %s: outcome %d, want %d", test.promise, test.text, j.Outcome, test.want)
		}
	}
	if _, ok := shows(s, in.Circuit.MishapOf("level-switch-stuck-off C2")); !ok {
		t.Error("a level switch that never tells of water changes no figure")
	}
}
