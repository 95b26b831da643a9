package job

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// source is the bytes of a job file as they are, and a copy to read: without a byte
// order mark and with LF line ends. The yaml reader counts CRLF twice and columns in
// runes, so both are kept with a line index of our own.
type source struct {
	name  string
	raw   []byte
	text  string // the copy that is read
	lines []int  // byte offset in text of each line's start
	raws  []int  // byte offset in raw of each line's start (after the mark on line 0)
	crlf  bool   // lines end in CR LF, judged by the first one
	near  *spot  // the last place asked for, while reading; nil afterwards, when many may ask at once
}

// spot is one place in the copy: line index, runes before it on the line, offset.
type spot struct{ line, runes, at int }

const mark = "\xef\xbb\xbf" // byte order mark

// newSource indexes raw. Every "\r\n" becomes "\n" in the copy; nothing else changes.
func newSource(name string, raw []byte) *source {
	s := &source{name: name, raw: raw, near: &spot{}}
	body, start := raw, 0
	if bytes.HasPrefix(raw, []byte(mark)) {
		body, start = raw[len(mark):], len(mark)
	}
	s.lines, s.raws = append(s.lines, 0), append(s.raws, start)
	var b strings.Builder
	b.Grow(len(body))
	for i := 0; i < len(body); i++ {
		if body[i] == '\r' && i+1 < len(body) && body[i+1] == '\n' {
			if len(s.lines) == 1 {
				s.crlf = true
			}
			continue
		}
		b.WriteByte(body[i])
		if body[i] == '\n' {
			s.lines, s.raws = append(s.lines, b.Len()), append(s.raws, start+i+1)
		}
	}
	s.text = b.String()
	return s
}

// rawAt turns an offset in the copy into one in the raw bytes. Within a line the two
// run alike: a CR is only dropped right before the LF that ends the line, and the
// offset of that LF is the one of its CR.
func (s *source) rawAt(offset int) int {
	line := s.lineOf(offset)
	return s.raws[line] + offset - s.lines[line]
}

// lineOf returns the index of the line that holds an offset of the copy.
func (s *source) lineOf(offset int) int {
	low, high := 0, len(s.lines)
	for high-low > 1 {
		if mid := (low + high) / 2; s.lines[mid] <= offset {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// line returns the text of a line without its end.
func (s *source) line(i int) string {
	if i < 0 || i >= len(s.lines) {
		return ""
	}
	return strings.TrimSuffix(s.text[s.lines[i]:s.lineEnd(i)], "\n")
}

// lineEnd is the offset after a line, its LF included.
func (s *source) lineEnd(i int) int {
	if i+1 < len(s.lines) {
		return s.lines[i+1]
	}
	return len(s.text)
}

// offset turns a line and a column, both from 1 and the column in runes, into an
// offset of the copy. A place outside the text is moved to the nearest inside.
func (s *source) offset(line, column int) int {
	if line < 1 {
		return 0
	}
	if line > len(s.lines) {
		return len(s.text)
	}
	p := spot{line - 1, 0, s.lines[line-1]}
	if s.near != nil && s.near.line == p.line && s.near.runes < column {
		p = *s.near
	}
	for end := s.lines[line-1] + len(s.line(line-1)); p.runes < column-1 && p.at < end; p.runes++ {
		_, n := utf8.DecodeRuneInString(s.text[p.at:])
		p.at += n
	}
	s.keep(p)
	return p.at
}

// place turns an offset of the copy into a line and a column, both from 1, the column
// in runes as an editor counts them.
func (s *source) place(offset int) (line, column int) {
	i := s.lineOf(offset)
	p := spot{i, 0, s.lines[i]}
	if s.near != nil && s.near.line == i && s.near.at <= offset {
		p = *s.near
	}
	p.runes += utf8.RuneCountInString(s.text[p.at:offset])
	p.at = offset
	s.keep(p)
	return i + 1, p.runes + 1
}

// keep remembers a place for the next one asked for, while reading: places mostly
// follow each other on a line, and a line may be a megabyte long.
func (s *source) keep(p spot) {
	if s.near != nil {
		*s.near = p
	}
}
