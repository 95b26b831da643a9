package job

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// inFlow reports whether a key stands within braces.
func (e *entry) inFlow() bool {
	for p := e.parent; p != nil; p = p.parent {
		if p.flow {
			return true
		}
	}
	return false
}

// scalarEnd is the offset after a value: after its quote, its last line of a block, or
// its last word. It is false where the text is not laid out as expected.
func (s *source) scalarEnd(e *entry) (int, bool) {
	if e.value >= len(s.text) {
		return 0, false
	}
	switch s.text[e.value] {
	case '"':
		return s.quoteEnd(e.value, '"')
	case '\'':
		return s.quoteEnd(e.value, '\'')
	case '|', '>':
		return s.blockEnd(e), true
	}
	return s.plainEnd(e.value, e.text)
}

// quoteEnd finds the closing quote: a backslash hides one in double quotes, a second
// quote hides one in single quotes.
func (s *source) quoteEnd(at int, quote byte) (int, bool) {
	for i := at + 1; i < len(s.text); i++ {
		switch {
		case s.text[i] == '\\' && quote == '"':
			i++
		case s.text[i] != quote:
		case quote == '\'' && i+1 < len(s.text) && s.text[i+1] == quote:
			i++
		default:
			return i + 1, true
		}
	}
	return 0, false
}

// blockEnd is the end of the last line of a block value: the last that is not blank and
// is indented deeper than its key. Blank lines after it belong to it when its header
// says "+".
func (s *source) blockEnd(e *entry) int {
	line := s.lineOf(e.value)
	header, _, _ := strings.Cut(s.line(line)[e.value-s.lines[line]:], "#")
	indent := e.at - s.lines[s.lineOf(e.at)]
	last := line
	for i := line + 1; i < len(s.lines); i++ {
		text := s.line(i)
		bare := strings.TrimLeft(text, " ")
		if bare == "" {
			if strings.Contains(header, "+") {
				last = i
			}
			continue
		}
		if len(text)-len(bare) <= indent {
			break
		}
		last = i
	}
	return s.lines[last] + len(s.line(last))
}

// plainEnd follows the words of a plain value, which may be folded over lines.
func (s *source) plainEnd(at int, text string) (int, bool) {
	end := at
	for _, r := range text {
		if r == ' ' || r == '\n' || r == '\t' {
			continue
		}
		for end < len(s.text) && (s.text[end] == ' ' || s.text[end] == '\n' || s.text[end] == '\t') {
			end++
		}
		got, n := utf8.DecodeRuneInString(s.text[end:])
		if got != r {
			return 0, false
		}
		end += n
	}
	return end, true
}

// extent is the offset after an entry with all that stands below it.
func (s *source) extent(e *entry) (int, bool) {
	switch {
	case e.scalar || e.text != "":
		return s.scalarEnd(e)
	case e.flow:
		return s.braceEnd(e)
	case len(e.children) > 0:
		end, ok := 0, true
		for _, c := range e.children {
			at, sure := s.extent(c)
			end, ok = max(end, at), ok && sure
		}
		return end, ok
	}
	return e.value, true
}

// braceEnd is the offset after a map in braces.
func (s *source) braceEnd(e *entry) (int, bool) {
	at := e.value + 1
	for _, c := range e.children {
		end, ok := s.extent(c)
		if !ok {
			return 0, false
		}
		at = max(at, end)
	}
	for ; at < len(s.text); at++ {
		switch s.text[at] {
		case '}':
			return at + 1, true
		case ' ', '\n', ',':
		default:
			return 0, false // a comment within braces: not worth the risk
		}
	}
	return 0, false
}

// add works out where a new key goes and what it looks like: into the deepest map of
// its path that is in the file, at the field table's place.
func (d *Doc) add(path, text string) (splice, *Fault) {
	parent, missing := d.root, strings.Split(path, ".")
	for at := ""; len(missing) > 1; missing = missing[1:] {
		at = strings.TrimPrefix(at+"."+missing[0], ".")
		e := d.entries[at]
		if e == nil {
			break
		}
		parent = e
	}
	if list, _, deep := strings.Cut(path, "."); deep && lists[list] && !isItem(path) && len(missing) > 1 {
		return splice{}, d.refuse("edit-no-item", parentOf(path), nil)
	}
	if parent.scalar {
		return splice{}, d.refuse("edit-layout", path, nil)
	}
	before := d.before(parent, missing[0])
	if parent.flow || parent.inFlow() {
		return d.addToFlow(parent, before, path, missing, text)
	}
	return d.addLines(parent, before, path, missing, text)
}

// before returns the child of parent after which key goes: the last whose place in the
// field table is not behind it; nil when key goes first. New items go last.
func (d *Doc) before(parent *entry, key string) *entry {
	if lists[parent.path] {
		return last(parent.children)
	}
	order := theIndex().children[starred(parent.path)]
	place := slices.Index(order, key)
	var found *entry
	for _, c := range parent.children {
		if i := slices.Index(order, c.key); i >= 0 && i < place {
			found = c
		}
	}
	return found
}

func last(list []*entry) *entry {
	if len(list) == 0 {
		return nil
	}
	return list[len(list)-1]
}

// addLines adds lines to a map laid out by indents.
func (d *Doc) addLines(parent, before *entry, path string, missing []string, text string) (splice, *Fault) {
	s := d.source
	indent := 0
	if parent.parent != nil {
		indent = parent.at - s.lines[s.lineOf(parent.at)] + 2
	}
	if len(parent.children) > 0 {
		indent = parent.children[0].at - s.lines[s.lineOf(parent.children[0].at)]
	}
	lines := blockLines(indent, path, missing, text)
	at := 0
	switch {
	case before != nil:
		end, ok := s.extent(before)
		if !ok {
			return splice{}, d.refuse("edit-layout", path, nil)
		}
		at = s.lineEnd(s.lineOf(max(end-1, before.at)))
	case len(parent.children) > 0:
		at = s.lines[s.lineOf(parent.children[0].at)]
	default:
		at = s.lineEnd(s.lineOf(parent.value - 1))
	}
	if at > 0 && s.text[at-1] != '\n' {
		return splice{at, at, "\n" + strings.TrimSuffix(lines, "\n")}, nil
	}
	return splice{at, at, lines}, nil
}

// blockLines writes the missing steps of a path, each on its line, and the value or the
// fields of the item at the end.
func blockLines(indent int, path string, missing []string, text string) string {
	var b strings.Builder
	for i, key := range missing[:len(missing)-1] {
		fmt.Fprintf(&b, "%*s%s:\n", indent+2*i, "", key)
	}
	indent += 2 * (len(missing) - 1)
	key := missing[len(missing)-1]
	if !isItem(path) {
		fmt.Fprintf(&b, "%*s%s: %s\n", indent, "", key, scalar(text, false))
		return b.String()
	}
	fmt.Fprintf(&b, "%*s%s:\n", indent, "", key)
	pairs, _ := parseItem(path, text)
	for _, p := range pairs {
		fmt.Fprintf(&b, "%*s%s: %s\n", indent+2, "", p.key, scalar(p.text, false))
	}
	return b.String()
}

// addToFlow adds "key: value" within braces.
func (d *Doc) addToFlow(parent, before *entry, path string, missing []string, text string) (splice, *Fault) {
	written := flowText(path, missing, text)
	switch {
	case !parent.flow:
		return splice{parent.value, parent.value, " {" + written + "}"}, nil
	case before != nil:
		end, ok := d.source.extent(before)
		if !ok {
			return splice{}, d.refuse("edit-layout", path, nil)
		}
		return splice{end, end, ", " + written}, nil
	case len(parent.children) > 0:
		at := parent.children[0].at
		return splice{at, at, written + ", "}, nil
	}
	return splice{parent.value + 1, parent.value + 1, written}, nil
}

func flowText(path string, missing []string, text string) string {
	key := missing[0] + ": "
	switch {
	case len(missing) > 1:
		return key + "{" + flowText(path, missing[1:], text) + "}"
	case !isItem(path):
		return key + scalar(text, true)
	}
	var fields []string
	pairs, _ := parseItem(path, text)
	for _, p := range pairs {
		fields = append(fields, p.key+": "+scalar(p.text, true))
	}
	return key + "{" + strings.Join(fields, ", ") + "}"
}

var (
	// What a reader of YAML could take for something else than this text.
	needsQuotes = regexp.MustCompile(`^$|^[\s\-?:,\[\]{}#&*!|>'"%@` + "`" + `=<~]|\s$|: |:$|\s#|[\n\t\x{a0}\x{1680}\x{2000}-\x{200a}\x{202f}\x{205f}\x{3000}]|^\.\.\.|^[0-9]+:[0-9]|^(?i:null|true|false)$`)
	needsInFlow = regexp.MustCompile(`[,\[\]{}:]|\s#`)
	negative    = regexp.MustCompile(`^-[0-9][^\n\t#:]*[^\s:]$|^-[0-9]$`)
)

// scalar writes a text as a value on one line, in double quotes where it needs them.
func scalar(text string, flow bool) string {
	plain := !needsQuotes.MatchString(text) || negative.MatchString(text)
	if plain && (!flow || !needsInFlow.MatchString(text)) {
		return text
	}
	r := strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`)
	return `"` + r.Replace(text) + `"`
}
