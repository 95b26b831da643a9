package hydraulics

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
)

// otherPipes is the circuit with every pipe another one.
func (c *circuit) otherPipes(r *rand.Rand) []Element {
	list := slices.Clone(c.elements)
	for i := range list {
		if _, is := list[i].Law.(*Pipe); is {
			list[i].Law = randomPipe(r)
		}
	}
	return list
}

// someOff are states of a circuit with other parts shut off.
func (c *circuit) someOff(r *rand.Rand, n int) []*State {
	var list []*State
	for range n {
		s := &State{Held: c.state.Held, Opening: slices.Clone(c.state.Opening), Off: make([]bool, len(c.elements))}
		for e := range s.Off {
			s.Off[e] = r.IntN(5) == 0
			if _, is := c.elements[e].Law.(*Pump); is && r.IntN(2) == 0 {
				s.Opening[e] = 0
			}
		}
		list = append(list, s)
	}
	return list
}

// answers solves the states one after another, each from nothing.
func answers(n *Net, list []*State) string {
	w, out := n.NewWork(), ""
	for _, s := range list {
		a := n.NewAnswer()
		err := n.Solve(s, a, w)
		out += fmt.Sprint(err, a.Flow, a.Head, a.Low, a.High)
		if err == nil {
			err = n.Rest(s, s, a, w)
			out += fmt.Sprint(err, a.Head, a.Low, a.High)
		}
	}
	return out
}

// What nets joined alike share changes no bit of an answer, whoever came first, while
// others add to it, and when it is full.
func TestLike(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 16))
	found := 0
	for range 300 {
		c := random(r, 2+r.IntN(60), true)
		list := c.someOff(r, 6)
		one, other := c.net(), c.otherPipes(r)
		alone := must(NewNet(c.points, other))
		shared := must(one.Like(c.points, other))
		if shared.album != one.album {
			t.Fatal("nets that differ in their pipes alone share nothing")
		}
		full := must(NewNet(c.points, other))
		full.album.most = 0
		want, first := answers(alone, list), answers(full, list)
		if first != want {
			t.Fatal("an album without room changes an answer")
		}
		var wg sync.WaitGroup
		for range 2 {
			wg.Go(func() { answers(one, list) })
		}
		if got := answers(shared, list); got != want {
			t.Fatalf("got  %s\nwant %s", got, want)
		}
		wg.Wait()
		found += len(one.album.shapes)
	}
	if found < 1000 {
		t.Errorf("%d shapes: the test says little", found)
	}
}

// A net that is joined otherwise shares nothing.
func TestLikeOfAnother(t *testing.T) {
	n, _ := newHome()
	points, elements := slices.Clone(n.Points()), slices.Clone(n.Elements())
	elements[0].From, elements[0].To = elements[0].To, elements[0].From
	if other := must(n.Like(points, elements)); other.album == n.album {
		t.Error("a part turned round shares its album")
	}
	elements = slices.Clone(n.Elements())
	for i := range elements {
		if !elements[i].OneWay {
			elements[i].OneWay = true
			break
		}
	}
	if other := must(n.Like(points, elements)); other.album == n.album {
		t.Error("a part that became one-way shares its album")
	}
}
