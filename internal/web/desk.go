package web

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"maps"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"tideover/internal/appraise"
	"tideover/internal/job"
	"tideover/internal/shelf"
)

// fileLimit is the largest job or price file that is read.
const fileLimit = 1 << 20

// desk is one job being worked on. All its fields are under mu.
type desk struct {
	name  string
	pages *Pages
	asked atomic.Int64 // grows from one to the next that is asked for
	unmet atomic.Bool  // nobody has asked for it lately
	alone *time.Timer  // sets unmet
	due   *time.Timer  // closes it
	mu    sync.Mutex

	src     []byte // of the file, as last read
	changed time.Time
	doc     *job.Doc // nil when the file cannot be read as a job at all
	faults  job.Faults
	input   appraise.Input
	failed  error // why nothing can be worked out, beside faults

	runs                     // run.go
	sheets   []sheet         // sheet.go; the latest last
	versions int             // of blocks, so far
	laid     laid            // turn.go
	beside   *beside         // beside.go
	before   map[string]seen // what the findings said before the latest change

	undo, redo []step
	drafts     map[string]draft
}

// draft is what somebody typed that could not be saved: it is kept until it is put right or
// taken back, whatever else happens on the page.
type draft struct {
	text string
	why  []string // sentences
	now  string   // what the file says, when somebody else changed it meanwhile
	both bool     // so it was
}

// desk opens a job, or the desk it is on already.
func (p *Pages) desk(name string) (*desk, error) {
	p.mu.Lock()
	d := p.desks[name]
	fresh := d == nil
	if fresh {
		d = &desk{name: name, pages: p, drafts: map[string]draft{}}
		p.desks[name] = d
	}
	d.meet()
	idle := p.idle()
	p.mu.Unlock()
	for _, d := range idle {
		p.leave(d.name)
	}
	if err := d.open(fresh); err != nil {
		if fresh { // else what was typed and can be undone is kept: the file may come back
			p.leave(name)
		}
		return nil, err
	}
	return d, nil
}

// How long a job stays open that nobody asks for, and how many stay open at most.
const (
	idleFor  = time.Hour
	mostOpen = 24
)

// meet notes that somebody asks for the job. The pages are locked.
func (d *desk) meet() {
	d.pages.turns++
	d.asked.Store(d.pages.turns)
	d.unmet.Store(false)
	if d.alone == nil {
		d.alone = time.AfterFunc(unmetAfter, func() { d.unmet.Store(true) })
		d.due = time.AfterFunc(idleFor, func() {
			if d.spare() {
				d.pages.leave(d.name)
			}
		})
		return
	}
	d.alone.Reset(unmetAfter)
	d.due.Reset(idleFor)
}

// spare reports whether the desk can be closed: nobody is at work on it, and nothing is typed
// on it that is not saved. What could be undone comes back from the versions kept.
func (d *desk) spare() bool {
	if !d.mu.TryLock() {
		return false
	}
	defer d.mu.Unlock()
	return len(d.drafts) == 0
}

// idle lists the jobs to close where too many are open: the longest unasked for. The pages
// are locked.
func (p *Pages) idle() []*desk {
	if len(p.desks) <= mostOpen {
		return nil
	}
	list := slices.SortedFunc(maps.Values(p.desks), func(a, b *desk) int { return cmp.Compare(a.asked.Load(), b.asked.Load()) })
	return slices.DeleteFunc(list[:len(list)-mostOpen], func(d *desk) bool { return !d.spare() })
}

func (d *desk) open(fresh bool) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.look(); err != nil {
		return err
	}
	if fresh {
		d.recall()
	}
	return nil
}

// leave closes a desk: the job is renamed, gone or the server ends.
func (p *Pages) leave(name string) {
	p.packs.drop(name)
	p.lives.drop(name)
	p.mu.Lock()
	d := p.desks[name]
	delete(p.desks, name)
	p.mu.Unlock()
	if d != nil {
		d.stop()
	}
}

// look reads the file again and takes in what somebody else changed.
func (d *desk) look() error {
	src, changed, err := d.pages.folder.Read(d.name, fileLimit)
	if err != nil {
		return err
	}
	d.changed = changed
	if d.doc != nil && bytes.Equal(src, d.src) {
		return nil
	}
	d.take(src, nil)
	return nil
}

// take makes bytes the state of the desk and appraises them. read is what was read of them
// already, or nil.
func (d *desk) take(src []byte, read *job.Doc) {
	d.before = d.seen()
	d.halt()
	if read == nil || d.doc == nil || read.Job.Profile != d.doc.Job.Profile { // another profile assumes other values
		read, d.faults = appraise.ReadDoc(d.pages.catalogue, d.name+shelf.Suffix, src)
	} else {
		d.faults = read.Faults()
	}
	d.src, d.doc, d.failed, d.priceless = src, read, nil, nil
	if len(d.faults) > 0 {
		return
	}
	if d.input, d.failed = appraise.NewInput(d.pages.catalogue, d.doc); d.failed != nil {
		return
	}
	if logs, err := d.pages.outageLogs(d.input.Job); err == nil { // a fault of it is told where the years are lived
		if next, err := d.input.WithLogs(logs); err == nil {
			d.input = next
		}
	}
	if name := d.doc.Job.Prices; name != "" {
		csv, err := d.pages.folder.Beside(name, fileLimit)
		if err == nil {
			err = d.input.ReadPrices(name, csv)
		}
		d.priceless = err
	}
	d.start()
}

// problem is a change that was not made, and why.
type problem struct {
	change
	why  []string
	both bool // changed on both sides
}

// make makes changes on the file as it is now. Those that cannot be made come back; the
// others are saved together. The error is one of saving.
func (d *desk) make(list []change) (problems []problem, err error) {
	for range 5 {
		if err := d.look(); err != nil {
			return nil, err
		}
		if d.doc == nil {
			return nil, &Error{say("web.unreadable")}
		}
		next, made, refused := apply(d.doc, list)
		if len(made) == 0 {
			return refused, nil
		}
		err = d.save(next.Bytes(), d.pages.told(made), next)
		var changed *shelf.Changed
		if errors.As(err, &changed) {
			continue // somebody was quicker: once more on top of theirs
		}
		return refused, err
	}
	return nil, err
}

// save writes the file and remembers how to take it back.
func (d *desk) save(data []byte, told string, read *job.Doc) error {
	was := d.src
	if bytes.Equal(was, data) {
		return nil
	}
	if err := d.pages.folder.Save(d.name, was, data); err != nil {
		return err
	}
	d.undo = trimmed(append(d.undo, step{was, data, told}))
	d.redo = nil
	d.take(data, read)
	return nil
}

// apply makes the changes that can be made: all at once, for some only fit together; where
// that is refused, one by one as long as one more fits.
func apply(doc *job.Doc, list []change) (next *job.Doc, made []change, refused []problem) {
	next = doc
	var todo []change
	for _, c := range list {
		switch c.against(doc) {
		case toDo:
			todo = append(todo, c)
		case crossed:
			refused = append(refused, problem{change: c, both: true})
		}
	}
	if after, _, err := next.Apply(edits(todo)...); err == nil {
		return after, todo, refused
	}
	for more := true; more; {
		more = false
		for i, c := range todo {
			if after, _, err := next.Apply(c.edit()); err == nil {
				next, made, more = after, append(made, c), true
				todo = append(todo[:i:i], todo[i+1:]...)
				break
			}
		}
	}
	for _, c := range todo {
		_, _, err := next.Apply(c.edit())
		refused = append(refused, problem{change: c, why: reasons(err)})
	}
	return next, made, refused
}

func edits(list []change) []job.Edit {
	out := make([]job.Edit, len(list))
	for i, c := range list {
		out[i] = c.edit()
	}
	return out
}

// reasons says why an edit was refused, what would be accepted and what was meant.
func reasons(err error) []string {
	var faults job.Faults
	var fault job.Fault
	switch {
	case errors.As(err, &faults) && len(faults) > 0:
		fault = faults[0]
	case errors.As(err, &fault):
	default:
		return []string{err.Error()}
	}
	list := []string{fault.Message()}
	if fault.Accept != "" && !strings.HasPrefix(fault.ID, "quantity.") { // those say so themselves
		list = append(list, upperFirst(fault.Accept)+".")
	}
	if fault.Nearest != "" {
		list = append(list, say("fault.nearest", "name", fault.Nearest))
	}
	return list
}

// stop ends what runs for the desk.
func (d *desk) stop() {
	d.alone.Stop()
	d.due.Stop()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.halt()
}

// wake lets those who wait look again.
func (d *desk) wake() {
	if d.bell != nil {
		close(d.bell)
	}
	d.bell = make(chan struct{})
}

// wait returns when more is known than a page that showed stage of revision rev, or when the
// context ends.
func (d *desk) wait(ctx context.Context, rev string, s stage) {
	for {
		d.mu.Lock()
		bell, fresh := d.bell, revision(d.src) != rev || d.stage > s || d.stage == last || d.cancel == nil
		d.mu.Unlock()
		if fresh || bell == nil {
			return
		}
		select {
		case <-bell:
		case <-ctx.Done():
			return
		}
	}
}
