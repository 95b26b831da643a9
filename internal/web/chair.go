package web

import (
	"context"
	"sync"
	"time"
)

// chair is held by the one piece of work that takes every core for long. Work that somebody
// waits for has whoever sits there for nobody in particular get up.
type chair struct {
	free chan struct{} // holds a token while nobody sits

	mu    sync.Mutex
	rise  context.CancelFunc // ends the work of who sits, who then sits down again later; nil: somebody waits for it
	unmet func() bool        // nobody has asked for it lately
}

// unmetAfter is how long nobody has asked for a job before its work gives way to another's.
const unmetAfter = time.Minute

func newChair() *chair {
	c := &chair{free: make(chan struct{}, 1)}
	c.free <- struct{}{}
	return c
}

// wanted sits down for work that somebody waits for. The error is the context's.
func (c *chair) wanted(ctx context.Context) (leave func(), err error) {
	c.ask(func(func() bool) bool { return true })
	return c.sit(ctx, nil, nil)
}

// aside sits down for work that nobody waits for: rise ends it when it is to give way. It has
// work nobody asked for lately give way itself.
func (c *chair) aside(ctx context.Context, rise context.CancelFunc, unmet func() bool) (leave func(), err error) {
	c.ask(func(unmet func() bool) bool { return unmet() })
	return c.sit(ctx, rise, unmet)
}

// ask has who sits get up where may says so.
func (c *chair) ask(may func(unmet func() bool) bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.rise != nil && may(c.unmet) {
		c.rise()
	}
}

func (c *chair) sit(ctx context.Context, rise context.CancelFunc, unmet func() bool) (leave func(), err error) {
	select {
	case <-c.free:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	c.mu.Lock()
	c.rise, c.unmet = rise, unmet
	c.mu.Unlock()
	return func() {
		c.mu.Lock()
		c.rise, c.unmet = nil, nil
		c.mu.Unlock()
		c.free <- struct{}{}
	}, nil
}
