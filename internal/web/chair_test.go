package web

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"
)

// TestChair: work somebody waits for has work nobody waits for get up; that gives way to a
// job asked for lately only where its own was not.
func TestChair(t *testing.T) {
	c := newChair()
	met, unmet := func() bool { return false }, func() bool { return true }
	sit := func(unmet func() bool) (turn context.Context, leave func()) {
		turn, rise := context.WithCancel(context.Background())
		leave, err := c.aside(turn, rise, unmet)
		if err != nil {
			t.Fatal(err)
		}
		return turn, leave
	}
	turn, leave := sit(met)
	gave := make(chan struct{})
	go func() { <-turn.Done(); leave(); close(gave) }()
	late, end := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer end()
	if _, err := c.aside(late, func() {}, met); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("work aside took the chair from a job that is looked at: %v", err)
	}
	stand, err := c.wanted(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	<-gave
	short, end2 := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer end2()
	if _, err := c.wanted(short); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("work that is waited for was made to get up: %v", err)
	}
	stand()
	turn, leave = sit(unmet)
	go func() { <-turn.Done(); leave() }()
	if _, leave := sit(met); leave == nil {
		t.Error("a job nobody asked for lately kept the chair")
	}
}

// TestBackgroundMistake: a mistake of ours in the background is told and ends nothing else.
func TestBackgroundMistake(t *testing.T) {
	s := serve(t, "kestrel-rise")
	told := make(chan error, 1)
	s.pages.guarded(func() { panic("mistake") }, func(why error) { told <- why })
	if err := <-told; err == nil {
		t.Error("nothing was told")
	}
}

// TestDesksClose: jobs nobody asks for do not stay open for ever, but for one on which
// something is typed and not saved.
func TestDesksClose(t *testing.T) {
	s := serve(t, "kestrel-rise")
	src := []byte(s.file("kestrel-rise"))
	names := []string{"kestrel-rise"}
	for len(names) < mostOpen+4 {
		name := fmt.Sprint("job ", len(names))
		if err := s.pages.folder.Create(name, src); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	for i, name := range names {
		d, err := s.pages.desk(name)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			d.mu.Lock()
			d.drafts["supply.static"] = draft{text: "3 baz"}
			d.mu.Unlock()
		}
	}
	s.pages.mu.Lock()
	open := len(s.pages.desks)
	kept := s.pages.desks["kestrel-rise"] != nil
	s.pages.mu.Unlock()
	if open > mostOpen+1 || !kept {
		t.Errorf("%d jobs are open, the one with a draft among them: %v", open, kept)
	}
}

// TestUndoIsBounded: what can be undone is bounded by number and by size.
func TestUndoIsBounded(t *testing.T) {
	var list []step
	for range mostSteps + 50 {
		list = trimmed(append(list, step{before: []byte("a"), after: []byte("b")}))
	}
	if len(list) != mostSteps {
		t.Errorf("%d steps of a byte", len(list))
	}
	list = nil
	for range 50 {
		list = trimmed(append(list, step{before: make([]byte, 1<<20)}))
	}
	if len(list) != mostBytes>>20 {
		t.Errorf("%d steps of a megabyte", len(list))
	}
}
