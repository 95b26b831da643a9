package shelf

import (
	"errors"
	"io/fs"
	"path"
	"sort"
	"strings"
	"testing/fstest"
	"time"
)

var (
	errFault = errors.New("injected fault")
	errDead  = errors.New("the program has stopped")
)

// memory is a disk that remembers what was synced and what was not, that can fail or
// stop at its n-th operation, and that can be looked at as a power cut would leave it.
type memory struct {
	root *node
	ops  int
	at   int // the operation that goes wrong, from 1; 0 for none
	stop bool
}

// node is a file or a folder with what is in memory and what is on the disk.
type node struct {
	dir             bool
	data, synced    []byte
	entries, onDisk map[string]*node
}

func newFolder() *node {
	return &node{dir: true, entries: map[string]*node{}, onDisk: map[string]*node{}}
}

func newMemory() *memory { return &memory{root: newFolder()} }

// step counts an operation and says whether it goes wrong.
func (m *memory) step() error {
	m.ops++
	switch {
	case m.at == 0 || m.ops < m.at:
		return nil
	case m.stop:
		return errDead
	case m.ops == m.at:
		return errFault
	}
	return nil
}

func (m *memory) find(name string) *node {
	n := m.root
	for _, part := range strings.Split(path.Clean(name), "/") {
		if part != "." && n != nil {
			n = n.entries[part]
		}
	}
	return n
}

func (m *memory) parent(name string) (*node, string) {
	return m.find(path.Dir(name)), path.Base(name)
}

func (m *memory) Lstat(name string) (fs.FileInfo, error) {
	if err := m.step(); err != nil {
		return nil, err
	}
	n := m.find(name)
	if n == nil {
		return nil, fs.ErrNotExist
	}
	return info{path.Base(name), n}, nil
}

func (m *memory) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := m.step(); err != nil {
		return nil, err
	}
	n := m.find(name)
	if n == nil {
		return nil, fs.ErrNotExist
	}
	var list []fs.DirEntry
	for name, e := range n.entries {
		list = append(list, fs.FileInfoToDirEntry(info{name, e}))
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Name() < list[j].Name() })
	return list, nil
}

func (m *memory) ReadFile(name string) ([]byte, error) {
	if err := m.step(); err != nil {
		return nil, err
	}
	if n := m.find(name); n != nil {
		return append([]byte(nil), n.data...), nil
	}
	return nil, fs.ErrNotExist
}

func (m *memory) Mkdir(name string, _ fs.FileMode) error {
	if err := m.step(); err != nil {
		return err
	}
	p, base := m.parent(name)
	if p.entries[base] != nil {
		return fs.ErrExist
	}
	p.entries[base] = newFolder()
	return nil
}

func (m *memory) Create(name string, _ fs.FileMode) (file, error) {
	if err := m.step(); err != nil {
		return nil, err
	}
	p, base := m.parent(name)
	if p.entries[base] != nil {
		return nil, fs.ErrExist
	}
	n := &node{}
	p.entries[base] = n
	return handle{m, n}, nil
}

func (m *memory) Rename(from, to string) error {
	if err := m.step(); err != nil {
		return err
	}
	p, a := m.parent(from)
	q, b := m.parent(to)
	if t := q.entries[b]; t != nil && t.dir && len(t.entries) > 0 {
		return fs.ErrExist
	}
	q.entries[b] = p.entries[a]
	delete(p.entries, a)
	return nil
}

func (m *memory) RemoveAll(name string) error {
	if err := m.step(); err != nil {
		return err
	}
	p, base := m.parent(name)
	if n := p.entries[base]; n != nil && n.dir {
		clear(n.entries)
	}
	delete(p.entries, base)
	return nil
}

func (m *memory) SyncDir(name string) error {
	if err := m.step(); err != nil {
		return err
	}
	n := m.find(name)
	clear(n.onDisk)
	for k, v := range n.entries {
		n.onDisk[k] = v
	}
	return nil
}

type handle struct {
	m *memory
	n *node
}

// Write that goes wrong leaves half of what it was given.
func (h handle) Write(b []byte) (int, error) {
	if err := h.m.step(); err != nil {
		h.n.data = append(h.n.data, b[:len(b)/2]...)
		return len(b) / 2, err
	}
	h.n.data = append(h.n.data, b...)
	return len(b), nil
}

func (h handle) Sync() error {
	if err := h.m.step(); err != nil {
		return err
	}
	h.n.synced = append([]byte(nil), h.n.data...)
	return nil
}

func (h handle) Close() error { return h.m.step() }

type info struct {
	name string
	n    *node
}

func (i info) Name() string       { return i.name }
func (i info) Size() int64        { return int64(len(i.n.data)) }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return i.n.dir }
func (i info) Sys() any           { return nil }
func (i info) Mode() fs.FileMode {
	if i.n.dir {
		return fs.ModeDir | 0o755
	}
	return 0o644
}

// cut is what a power cut keeps: of folder entries that were not synced all, none, or
// those below the top only; of file data that were not synced all or none.
type cut struct {
	name           string
	top, sub, data bool // true: what was not synced got there all the same
}

var cuts = []cut{
	{"no cut", true, true, true},
	{"names but no data", true, true, false},
	{"nothing unsynced", false, false, false},
	{"only lower folders", false, true, false},
	{"only the top folder", true, false, false},
}

// after returns the disk as found after the cut.
func (m *memory) after(c cut) *memory { return &memory{root: survive(m.root, c, c.top)} }

func survive(n *node, c cut, names bool) *node {
	if !n.dir {
		data := n.synced
		if c.data {
			data = n.data
		}
		return &node{data: data, synced: data}
	}
	from := n.onDisk
	if names {
		from = n.entries
	}
	out := newFolder()
	for k, v := range from {
		out.entries[k] = survive(v, c, c.sub)
		out.onDisk[k] = out.entries[k]
	}
	return out
}

// tree lists the files below name with their content, nil when there is no such folder.
func (m *memory) tree(name string) fstest.MapFS {
	n := m.find(name)
	if n == nil {
		return nil
	}
	out := fstest.MapFS{}
	list(n, "", out)
	return out
}

func list(n *node, at string, out fstest.MapFS) {
	for k, v := range n.entries {
		if v.dir {
			list(v, path.Join(at, k), out)
			continue
		}
		out[path.Join(at, k)] = &fstest.MapFile{Data: v.data}
	}
}
