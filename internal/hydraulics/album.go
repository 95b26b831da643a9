package hydraulics

import (
	"encoding/binary"
	"slices"
	"sync"
)

// album keeps the shapes that have been worked out of circuits joined one way. Nothing in
// them depends on a figure, nor on who asked first: sharing them is faster, and changes no
// bit of an answer. A spread moves the figures of one home some eighty times, and a day or
// a proof comes back to the same few shapes again and again.
type album struct {
	mu     sync.RWMutex
	shapes map[string]*shape
	most   int // shapes
}

// giveUp is how many more shapes a Work seeks in vain than it finds before it seeks no more:
// where every case is another, as in a whole proof, looking costs more than it saves.
const giveUp = 200

const (
	albumRoom = 1 << 18 // elements and points of all shapes together: some 8 MB
	mostStood = 16      // ways pumps run that are kept of one shape
)

func newAlbum(n *Net) *album {
	return &album{shapes: map[string]*shape{}, most: albumRoom / (len(n.elements) + len(n.points))}
}

// marked appends what a shape follows from: what is gone, and how it is strung together.
func (w *Work) marked(to []byte) []byte {
	for part := range slices.Chunk(w.gone, 8) {
		bits := byte(0)
		for i, gone := range part {
			if gone {
				bits |= 1 << i
			}
		}
		to = append(to, bits)
	}
	to = binary.LittleEndian.AppendUint32(to, uint32(w.pin))
	if w.plain {
		return append(to, 1)
	}
	return append(to, 0)
}

// find returns the shape of a mark, or nil and whether there is room for one more.
func (a *album) find(mark []byte) (s *shape, room bool) {
	a.mu.RLock()
	defer a.mu.RUnlock()
	return a.shapes[string(mark)], len(a.shapes) < a.most
}

// keep takes a shape into the album and returns it, or the one that somebody else was
// quicker with.
func (a *album) keep(mark []byte, s *shape) *shape {
	a.mu.Lock()
	defer a.mu.Unlock()
	if first := a.shapes[string(mark)]; first != nil {
		return first
	}
	a.shapes[string(mark)] = s
	return s
}

// stood returns how water stands in a shape of the album with the pumps running as in s,
// or nil.
func (a *album) stood(n *Net, s *State, l *shape) *standing {
	a.mu.RLock()
	defer a.mu.RUnlock()
	for _, t := range l.stood {
		if n.spins(s, t) {
			return t
		}
	}
	return nil
}

// hang keeps how water stands with its shape, while there is room.
func (a *album) hang(l *shape, t *standing) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if len(l.stood) < mostStood {
		l.stood = append(l.stood, t)
	}
}
