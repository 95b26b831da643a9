package appraise

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/proof"
)

func casesOf(t testing.TB, name string) *Cases {
	t.Helper()
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := ReadDoc(cat, name, demo.Source(t, name))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewCases(in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestLook: whose water comes out, by hand, in the main demo's plainest cases.
func TestLook(t *testing.T) {
	c := casesOf(t, "kestrel-rise")
	for _, want := range []struct {
		text, chosen string
		origins      map[string]Origin
	}{
		{"", "normal", map[string]Origin{"MAIN": OfTheMain, "F1": OfTheMain, "P1": StandsStill, "kitchen": StandsStill}},
		{"on-store draw=many", "on-store draw=many", map[string]Origin{"P1": OfTheStore, "kitchen": OfTheStore, "N3": StandsStill, "F1": OfTheMain}},
		{"on-main draw=many", "on-main draw=many", map[string]Origin{"N3": OfTheMain, "kitchen": OfTheMain, "P1": StandsStill, "shower-up": NoWater}},
		{"on-main main=dry draw=one", "on-main main=dry draw=one", map[string]Origin{"MAIN": NoWater, "M1": NoWater, "V1": StandsStill}},
		{"main=dry on-store", "on-store main=dry", nil},
	} {
		s, err := c.Look(want.text)
		if err != nil {
			t.Fatal(err)
		}
		if s.Chosen != want.chosen || !s.Steady || !s.Solved {
			t.Errorf("%q: chosen %q, steady %v, solved %v", want.text, s.Chosen, s.Steady, s.Solved)
		}
		for tag, o := range want.origins {
			if got := s.Standing[c.Assembly.Index(tag)]; got.Origin != o {
				t.Errorf("%q: %s carries %d, want %d (%v)", want.text, tag, got.Origin, o, got.Flow)
			}
		}
	}
}

// TestLookSettles: left to themselves the controls come to a state that stays; a state the
// text names is kept, and said to be unsteady where it is.
func TestLookSettles(t *testing.T) {
	c := casesOf(t, "kestrel-rise")
	free, err := c.Look("on-store draw=many")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(free.Text, "pump=holding") || !free.Steady {
		t.Errorf("the pump is left standing: %s", free.Text)
	}
	held, err := c.Look("on-store draw=many pump=standing")
	if err != nil {
		t.Fatal(err)
	}
	if held.Steady || strings.Contains(held.Text, "pump=holding") {
		t.Errorf("a named state was changed: %s", held.Text)
	}
}

// TestLookOrigins: in every named setting under seven worlds, water
// under way has an origin and what stands has no speed.
func TestLookOrigins(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		c := casesOf(t, name)
		for _, world := range []string{"", " draw=one", " draw=many", " main=dry draw=many", " main=sucking", " power=off draw=one", " store=full"} {
			for _, n := range c.Space.Named {
				s, err := c.Look(n.Name + world)
				if err != nil {
					t.Fatal(name, err)
				}
				for i, at := range s.Standing {
					moves := math.Abs(float64(at.Flow)) > trickle
					if moves && at.Origin == StandsStill || at.Flow == 0 && at.Speed != 0 {
						t.Errorf("%s, %s: %s: %+v", name, s.Text, s.Parts[i].Tag, at)
					}
				}
			}
		}
	}
}

// TestLookHarm: the smallest case that breaks a promise shows its harm.
func TestLookHarm(t *testing.T) {
	c := casesOf(t, "kestrel-rise")
	hits := 0
	for m := range c.Space.Mishaps {
		d := c.Space.Normal()
		d.Mishaps = []int{m}
		d.World.Main = proof.Sucking
		s, err := c.Look(c.Space.String(d))
		if err != nil {
			continue // swapped labels have names of their own
		}
		for _, a := range s.Answers {
			if at := c.Assembly.Index(a.Judgement.Where); a.Judgement.Outcome == proof.Broken && a.OfCase() && at >= 0 {
				hits++
				if !s.Standing[at].Harm {
					t.Errorf("%s: %s breaks %s unseen", s.Text, a.Judgement.Where, a.About.ID)
				}
			}
		}
	}
	if hits == 0 {
		t.Error("no case does harm: the test looks at nothing")
	}
}
