package job

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"tideover/internal/words"
)

// Fault is one thing wrong with a job file: what, where, what would be accepted.
type Fault struct {
	ID           string     // message "fault.<ID>", or a message of quantity's as it is
	Args         words.Args // its places, already formatted
	Path         string     // of the field, or ""
	File         string
	Line, Column int    // from 1; the column counts characters
	Excerpt      string // the line as it stands
	Accept       string // a sentence: what would be accepted, or ""
	Nearest      string // the nearest right name, or ""
}

// Message is the fault in one sentence, without its place.
func (f Fault) Message() string {
	if id := "fault." + f.ID; words.Has(id) {
		return words.Say(id, f.Args)
	}
	return words.Say(f.ID, f.Args)
}

// Error prints the fault as "file:line:column: message", the line with a caret under
// it, what would be accepted and the nearest right name.
func (f Fault) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: %s", f.File, f.Line, f.Column, f.Message())
	if f.Excerpt != "" {
		line, column := window(f.Excerpt, f.Column)
		gutter := fmt.Sprintf("%5d | ", f.Line)
		fmt.Fprintf(&b, "\n%s%s\n%s^", gutter, line, strings.Repeat(" ", len(gutter)+column-1))
	}
	for _, note := range []string{f.Accept, f.guess()} {
		if note != "" {
			b.WriteString("\n        " + note)
		}
	}
	return b.String()
}

func (f Fault) guess() string {
	if f.Nearest == "" {
		return ""
	}
	return words.Say("fault.nearest", words.Args{"name": f.Nearest})
}

// excerptWidth is how much of a long line is shown around the fault, in characters.
const excerptWidth = 100

// window cuts a long line around a column and shows tabs as one blank, so that the
// caret stands under the right character.
func window(line string, column int) (string, int) {
	line = strings.Map(visible, line)
	if utf8.RuneCountInString(line) <= excerptWidth {
		return line, column
	}
	runes := []rune(line)
	from := max(0, min(column-1-excerptWidth/2, len(runes)-excerptWidth))
	return string(runes[from : from+excerptWidth]), column - from
}

// visible puts one blank for a tab and a mark for what cannot be shown.
func visible(r rune) rune {
	switch {
	case r == '\t':
		return ' '
	case isControl(r):
		return '·'
	}
	return r
}

// Faults is every fault of one reading, in the order of the file. A nil or empty
// Faults is no error; Err says so in the way errors do.
type Faults []Fault

// Error prints all faults, a blank line between two.
func (fs Faults) Error() string {
	texts := make([]string, len(fs))
	for i, f := range fs {
		texts[i] = f.Error()
	}
	return strings.Join(texts, "\n\n")
}

// Err returns nil when there is no fault, and fs otherwise.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// sorted puts faults in the order of the file.
func (fs Faults) sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		if fs[i].Line != fs[j].Line {
			return fs[i].Line < fs[j].Line
		}
		return fs[i].Column < fs[j].Column
	})
	return fs
}

// Nearest returns the candidate a person most likely meant by name, or "" when none is near.
func Nearest(name string, candidates []string) string { return nearest(name, candidates) }

// nearest returns the candidate with the least edit distance to name, or "" when none
// is near: at most a third of the longer word may differ, and at least one letter is allowed to.
func nearest(name string, candidates []string) string {
	best, least := "", 1<<30
	for _, c := range candidates {
		d := distance(strings.ToLower(name), c)
		if d < least && d <= max(1, max(len(name), len(c))/3) {
			best, least = c, d
		}
	}
	return best
}

// distance is the number of letters to insert, delete, replace or swap with a
// neighbour to turn a into b (optimal string alignment: Damerau 1964, Levenshtein 1966).
func distance(a, b string) int {
	x, y := []rune(clip(a)), []rune(clip(b))
	two, one, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range one {
		one[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(one[j]+1, row[j-1]+1, one[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], two[j-2]+1)
			}
		}
		two, one, row = one, row, two
	}
	return one[len(y)]
}

// clip keeps a hostile key from costing time: no name of ours is longer.
func clip(s string) string {
	if len(s) > 64 {
		return s[:64]
	}
	return s
}
