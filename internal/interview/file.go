package interview

import (
	"fmt"
	"strings"

	"tideover/internal/quantity"
	"tideover/internal/words"
)

// file is a job file being written, line by line, with a comment where one is due.
type file struct {
	b     strings.Builder
	open  []string // maps that are open
	sys   quantity.System
	notes []Note
}

// Note says why a field has its value.
type Note struct {
	Path string
	ID   string // of the message
	Args words.Args
}

// Text is the note in words.
func (n Note) Text() string { return words.Say(n.ID, n.Args) }

// column is where comments begin.
const column = 42

// put writes a field at its path, its maps opened as they are needed. note is the id of
// the reason, or "".
func (f *file) put(path, value, note string, args ...string) {
	steps := strings.Split(path, ".")
	same := 0
	for same < len(f.open) && same < len(steps)-1 && f.open[same] == steps[same] {
		same++
	}
	if same == 0 && len(steps) > 1 {
		f.b.WriteByte('\n')
	}
	for depth := same; depth < len(steps)-1; depth++ {
		fmt.Fprintf(&f.b, "%s%s:\n", strings.Repeat("  ", depth), steps[depth])
	}
	f.open = steps[:len(steps)-1]
	line := fmt.Sprintf("%s%s: %s", strings.Repeat("  ", len(steps)-1), steps[len(steps)-1], value)
	if note != "" {
		n := Note{Path: path, ID: note, Args: words.Args{}}
		for i := 0; i+1 < len(args); i += 2 {
			n.Args[args[i]] = args[i+1]
		}
		f.notes = append(f.notes, n)
		line += strings.Repeat(" ", max(1, column-len([]rune(line)))) + "# " + n.Text()
	}
	f.b.WriteString(line + "\n")
}

// amount prints a quantity in the reader's units, as a job file takes it.
func (f *file) amount(dim quantity.Dim, si, half float64, assumed bool) string {
	q := quantity.Quantity{Dim: dim, SI: si, Half: half, Basis: quantity.Stated}
	text := quantity.Format(q, f.sys)
	if half > 0 {
		q.Basis = quantity.Measured
		text = quantity.FormatSpread(q, f.sys)
	}
	text = plain.Replace(text)
	if assumed {
		text += " ?"
	}
	return text
}

// plain takes printed signs back to those of a keyboard.
var plain = strings.NewReplacer("\u202f", "", "\u00a0", " ", "\u2212", "-", "\u2009", "")

// quoted is a text as YAML takes it on one line.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}
