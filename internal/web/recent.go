package web

import (
	"slices"
	"sync"
)

// recent keeps what was worked out for the jobs asked for last, in memory; the oldest makes
// room and is ended.
type recent[R interface{ end() }] struct {
	most int

	mu    sync.Mutex
	of    map[string]R // by job
	order []string     // the oldest first
}

// get is that of a job; the zero R where there is none.
func (y *recent[R]) get(name string) R {
	y.mu.Lock()
	defer y.mu.Unlock()
	return y.of[name]
}

// put keeps one in the place of what there was.
func (y *recent[R]) put(name string, one R) {
	y.mu.Lock()
	defer y.mu.Unlock()
	if y.of == nil {
		y.of = map[string]R{}
	}
	y.of[name] = one
	y.order = append(slices.DeleteFunc(y.order, func(n string) bool { return n == name }), name)
	for len(y.order) > y.most {
		y.forget(y.order[0])
	}
}

// drop ends and forgets that of a job: it is renamed or gone.
func (y *recent[R]) drop(name string) {
	y.mu.Lock()
	defer y.mu.Unlock()
	y.forget(name)
}

func (y *recent[R]) forget(name string) {
	one, there := y.of[name]
	if !there {
		return
	}
	one.end()
	delete(y.of, name)
	y.order = slices.DeleteFunc(y.order, func(n string) bool { return n == name })
}
