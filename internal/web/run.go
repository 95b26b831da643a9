package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/workers"
)

// stage is how far the appraisal of a state of the file has come.
type stage uint8

const (
	glance stage = iota // every figure and verdict once
	sound               // with spread, tried remedies, the day, and promises with nothing failed
	last                // and with every single failure
)

// settle is how long a job is left alone before every failure is tried: who is still typing
// will change it again.
const settle = 800 * time.Millisecond

// breath is what the page that follows a change is given before anything else wants the
// cores.
const breath = 150 * time.Millisecond

// runs is the appraisal of the desk's state.
type runs struct {
	appraisal *appraise.Appraisal
	stage     stage
	findings  []finding.Finding // as shown: of the appraisal, and what a glance does not judge
	stale     map[string]bool   // keys of those, said of the state before
	priceless error             // why the price list could not be read
	cancel    context.CancelFunc
	bell      chan struct{} // closed when there is more
}

// halt ends the runs of the state before.
func (d *desk) halt() {
	if d.cancel != nil {
		d.cancel()
	}
	d.cancel, d.appraisal, d.stage = nil, nil, glance
	d.unset()
	d.wake()
}

// show sets what is shown to an appraisal's findings. A glance judges no promise and no
// day: what was said of the state before stays, marked, until it is judged again; a page on
// which a broken promise is gone for a moment would lie.
func (d *desk) show(a *appraise.Appraisal, s stage) {
	before := d.findings
	d.appraisal, d.stage, d.findings, d.stale = a, s, a.Findings, map[string]bool{}
	if s != glance {
		return
	}
	close := map[string]*finding.Finding{}
	for i := range before {
		switch f := &before[i]; {
		case unglanced(f):
			d.stale[f.Key()] = true
			d.findings = append(d.findings[:len(d.findings):len(d.findings)], *f)
		case f.Close:
			close[f.Key()] = f
		}
	}
	d.findings = slices.Clone(d.findings)
	for i := range d.findings { // nor is what was too close to call fine for a moment
		f := &d.findings[i]
		if old := close[f.Key()]; old != nil && f.Verdict == finding.Fine {
			f.TooClose()
			f.Held, f.Tried, f.Moves = old.Held, old.Tried, old.Moves
			d.stale[f.Key()] = true
		}
	}
	finding.Order(d.findings)
}

// unglanced reports whether appraise.Quick leaves such a finding out.
func unglanced(f *finding.Finding) bool {
	return strings.HasPrefix(f.ID, "promise-") || strings.HasPrefix(f.ID, "day-") || f.Where == "day" || appraise.OfYears(f.ID)
}

// start appraises the state at once and has the rest follow.
func (d *desk) start() {
	a, err := appraise.Quick(d.input)
	if d.failed = err; err != nil {
		return
	}
	d.show(a, glance)
	first := breath
	if d.before == nil {
		first = 0 // the job is only being opened
	}
	d.goOn(first)
}

// goOn has what takes longer follow.
func (d *desk) goOn(first time.Duration) {
	ctx, cancel := context.WithCancel(d.pages.ctx)
	d.cancel = cancel
	in := d.input
	go d.pages.guarded(func() { d.follow(ctx, in, first) }, func(why error) {
		d.mu.Lock()
		defer d.mu.Unlock()
		if ctx.Err() == nil {
			d.failed, d.stage = why, last
			d.wake()
		}
	})
}

// guarded does work in the background. A mistake of ours in it is told, and ends neither
// the server nor anybody else's work.
func (p *Pages) guarded(work func(), told func(why error)) {
	defer func() {
		if what := recover(); what != nil {
			told(&Error{say("web.internal", "what", fmt.Sprint(mistake(what)))})
		}
	}()
	work()
}

// mistake is what a panic says, of whichever goroutine it was.
func mistake(what any) any {
	if p, is := what.(*workers.Panic); is {
		return p.What
	}
	return what
}

// aside leaves the cores to work that somebody waits for. Where that changed nothing, the
// function it returns has the run begin again.
func (d *desk) aside() (back func()) {
	if d.cancel == nil || d.stage == last {
		return func() {}
	}
	d.cancel()
	now := d.appraisal
	return func() {
		if d.appraisal == now && now != nil && d.stage != last {
			d.goOn(breath)
		}
	}
}

// follow runs what takes longer, as long as nobody changes the job.
func (d *desk) follow(ctx context.Context, in appraise.Input, first time.Duration) {
	in.Proof = appraise.SoundProof
	if !rest(ctx, first) || !d.run(ctx, in, sound) || !rest(ctx, settle) {
		return
	}
	in.Proof = appraise.FullProof
	for ctx.Err() == nil && !d.seated(ctx, in) {
		if !rest(ctx, settle) { // it gave way: what it gave way to goes first
			return
		}
	}
}

// seated tries every failure, and then lives a short run of years, one job at a time: it takes
// every core. It reports whether it came to an end; else it gave way to work that somebody
// waits for.
func (d *desk) seated(ctx context.Context, in appraise.Input) bool {
	turn, rise := context.WithCancel(ctx)
	defer rise()
	leave, err := d.pages.chair.aside(turn, rise, d.unmet.Load)
	if err != nil {
		return false
	}
	defer leave()
	if d.run(turn, in, last) && rest(turn, quiet) {
		d.live(turn, in)
	}
	return turn.Err() == nil
}

// quiet is how long a job is left alone before years of it are lived through.
const quiet = 3 * time.Second

// live adds a short run of years, or those lived for the page of years, to the appraisal that the
// next page shows: no page is laid over for them while somebody works on it. A log that cannot be
// read is the page of years' to tell.
func (d *desk) live(ctx context.Context, in appraise.Input) {
	d.mu.Lock()
	a, of := d.appraisal, revision(d.src)
	d.mu.Unlock()
	if ctx.Err() != nil {
		return
	}
	with, err := d.pages.withYears(ctx, in, a, d.name, of, nil)
	d.mu.Lock()
	defer d.mu.Unlock()
	if err == nil && ctx.Err() == nil && d.appraisal == a {
		d.show(with, last)
	}
}

// rest waits, false when the context ended first.
func rest(ctx context.Context, d time.Duration) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(d):
		return ctx.Err() == nil
	}
}

// run appraises and puts the result on the desk; false when it came too late or failed.
func (d *desk) run(ctx context.Context, in appraise.Input, s stage) bool {
	a, err := appraise.Run(ctx, in, nil)
	d.mu.Lock()
	defer d.mu.Unlock()
	if ctx.Err() != nil {
		return false
	}
	if err != nil {
		d.failed, d.stage = err, last
	} else {
		d.show(a, s)
	}
	d.wake()
	return err == nil
}

// seen is what a finding said: to show what a change moved.
type seen struct {
	figure  quantity.Quantity
	verdict finding.Verdict
}

func (d *desk) seen() map[string]seen {
	if d.appraisal == nil {
		return d.before
	}
	m := map[string]seen{}
	for i := range d.findings {
		f := &d.findings[i]
		m[f.Key()] = seen{f.Figure, f.Verdict}
	}
	return m
}

// revision names a state of a file.
func revision(src []byte) string {
	sum := sha256.Sum256(src)
	return hex.EncodeToString(sum[:6])
}
