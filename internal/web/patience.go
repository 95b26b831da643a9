package web

import (
	"context"
	"net/http"
	"strconv"
	"time"
)

// firstPatience is how long a page that is opened anew waits to be shown whole: less than
// anybody minds, and nothing moves under the reader afterwards.
const firstPatience = 400 * time.Millisecond

// patience waits where somebody asked for what is still to come, and a moment where a page
// is opened anew. What a script lays over the page after an edit does not wait.
func (p *Pages) patience(r *http.Request, d *desk) {
	rev, after := r.URL.Query().Get("wait"), stageOf(r.URL.Query().Get("after"))
	ctx := r.Context()
	if rev == "" {
		if r.Header.Get("HX-Request") != "" && r.URL.Query().Get("as") == "" {
			return
		}
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, firstPatience)
		defer cancel()
		d.mu.Lock()
		rev, after = revision(d.src), glance
		d.mu.Unlock()
		if r.URL.Query().Get("as") == "json" {
			ctx = r.Context()
		}
	}
	ctx, cancel := context.WithTimeout(ctx, mostPatience)
	defer cancel()
	d.wait(ctx, rev, after)
}

// mostPatience is when who waits is answered in any case; the page then asks once more.
const mostPatience = 25 * time.Second

func stageOf(text string) stage {
	if text == "sound" {
		return sound
	}
	return glance
}

// waiting says what is still to come and where to ask for it.
func (d *desk) waiting(here string, r *http.Request) (text, address string) {
	if d.stage == last || d.cancel == nil {
		return say("web.waiting.done"), ""
	}
	id, after := "web.waiting.sound", "glance"
	if d.stage == sound {
		id, after = "web.waiting.last", "sound"
	}
	q := kept(r)
	q.Set("wait", revision(d.src))
	q.Set("after", after)
	n, _ := strconv.Atoi(r.URL.Query().Get("again"))
	q.Set("again", strconv.Itoa(n+1)) // another address each time, or a script would not ask again
	return say(id), here + "?" + q.Encode()
}
