package job

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	yaml "github.com/goccy/go-yaml"

	"tideover/internal/words"
)

const (
	maxBytes = 1 << 20
	maxDepth = 12
	// The yaml parser's time grows with the square of the tokens (a key, its colon and its
	// value are three): a megabyte of them takes it minutes, this many a fraction of a
	// second, and the largest of our jobs has 600.
	maxTokens = 12000
	maxBlanks = 2000
)

// entry is one key of the file with what stands behind it.
type entry struct {
	path     string // "" for the root
	key      string
	at       int    // offset of the key in the copy
	value    int    // offset of the value; after the colon when there is none
	text     string // without line ends at its end: they are the file's, not the value's
	scalar   bool   // a text; otherwise a map, or nothing when empty is set
	empty    bool   // the key stands alone, or with a null (which text then holds)
	flow     bool   // a map written in braces
	children []*entry
	parent   *entry
}

// tree reads the copy into entries. It stops at the first thing that is not a plain
// map of maps and texts: such a fault hides what follows.
func (s *source) tree() (*entry, *Fault) {
	if f := s.refuseBytes(); f != nil {
		return nil, f
	}
	tokens := lexer.Tokenize(s.text)
	if f := s.refuseTokens(tokens); f != nil {
		return nil, f
	}
	file, err := parse(tokens)
	if err != nil {
		return nil, s.syntax(err)
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		return nil, s.fault("empty-file", 0, "", nil)
	}
	if len(file.Docs) > 1 {
		return nil, s.fault("documents", 0, "", nil)
	}
	root := &entry{}
	if f := s.grow(root, file.Docs[0].Body, 0); f != nil {
		return nil, f
	}
	return root, nil
}

// parse runs the yaml parser; a panic of its own is an error of the text to us.
func parse(tokens token.Tokens) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the text confuses the YAML reader")
		}
	}()
	return parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
}

func (s *source) syntax(err error) *Fault {
	at, why := 0, err.Error()
	var syntax *yaml.SyntaxError
	if errors.As(err, &syntax) {
		why = syntax.Message
		if syntax.Token != nil {
			at = s.tokenAt(syntax.Token)
		}
	}
	why, _, _ = strings.Cut(why, "\n")
	if tab := s.indentingTab(at); tab >= 0 {
		return s.fault("tab", tab, "", nil)
	}
	return s.fault("syntax", at, "", words.Args{"why": why})
}

// indentingTab is the offset of a tab among the blanks before the text of a line, or −1.
func (s *source) indentingTab(at int) int {
	at = min(at, len(s.text))
	from := strings.LastIndexByte(s.text[:at], '\n') + 1
	line := s.text[from:]
	before := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
	if tab := strings.IndexByte(before, '\t'); tab >= 0 {
		return from + tab
	}
	return -1
}

// refuseBytes faults what cannot be text of ours.
func (s *source) refuseBytes() *Fault {
	if len(s.raw) > maxBytes {
		return s.fault("too-big", 0, "", words.Args{"limit": "1 MB"})
	}
	for i, r := range s.text {
		switch {
		case r == 0:
			return s.fault("nul", i, "", nil)
		case r == '\uFFFD' && !strings.HasPrefix(s.text[i:], "\uFFFD"):
			return s.fault("not-utf8", i, "", nil)
		case r != '\n' && r != '\t' && isControl(r):
			return s.fault("control", i, "", words.Args{"code": fmt.Sprintf("U+%04X", r)})
		}
	}
	return s.refuseBlanks()
}

// refuseBlanks faults more blank lines than any job file has: the YAML reader goes over all
// it has of a text again for each of them at its end.
func (s *source) refuseBlanks() *Fault {
	blanks, at := 0, 0
	for line := range strings.Lines(s.text) {
		if strings.Trim(line, " \t\n") == "" {
			if blanks++; blanks > maxBlanks {
				return s.fault("blank-lines", at, "", words.Args{"limit": itoa(maxBlanks)})
			}
		}
		at += len(line)
	}
	return nil
}

// refused are the kinds of token the format has no use for.
var refused = map[token.Type]string{
	token.AnchorType: "anchor", token.AliasType: "alias", token.MergeKeyType: "merge",
	token.TagType: "tag", token.DirectiveType: "directive", token.MappingKeyType: "question-key",
	token.SequenceEntryType: "sequence", token.SequenceStartType: "sequence",
}

// refuseTokens faults what the format does not use, before anything is built from it:
// anchors, tags, sequences, a second document, deep nesting.
func (s *source) refuseTokens(tokens token.Tokens) *Fault {
	braces, count, indents, content, ended := 0, 0, []int{}, false, false
	for _, t := range tokens {
		id, bad := refused[t.Type]
		switch t.Type {
		case token.CommentType:
			continue
		case token.DocumentHeaderType, token.DocumentEndType:
			bad, id = content && (ended || t.Type == token.DocumentHeaderType), "documents"
			ended = ended || t.Type == token.DocumentEndType
		case token.MappingStartType:
			braces++
		case token.MappingEndType:
			braces--
		case token.MappingValueType:
			if braces == 0 && t.Prev != nil {
				indents = nest(indents, t.Prev.Position.Column)
			}
		}
		content = content || t.Type != token.DocumentHeaderType
		if !bad && ended && t.Type != token.DocumentEndType {
			bad, id = true, "documents"
		}
		if !bad && braces+len(indents) > maxDepth {
			bad, id = true, "too-deep"
		}
		if count++; !bad && count > maxTokens {
			bad, id = true, "crowded"
		}
		if bad {
			return s.fault(id, s.tokenAt(t), "", words.Args{"limit": fmt.Sprint(maxDepth), "keys": fmt.Sprint(maxTokens / 3)})
		}
	}
	return nil
}

// nest keeps the stack of open indents: deeper ones close at a key further left.
func nest(stack []int, column int) []int {
	for len(stack) > 0 && stack[len(stack)-1] >= column {
		stack = stack[:len(stack)-1]
	}
	return append(stack, column)
}

func (s *source) tokenAt(t *token.Token) int {
	return s.offset(t.Position.Line, t.Position.Column)
}

// grow fills e with what n holds.
func (s *source) grow(e *entry, n ast.Node, depth int) *Fault {
	switch n := n.(type) {
	case *ast.MappingNode:
		e.flow = n.IsFlowStyle
		if e.flow {
			e.value = s.skip(e.value)
		}
		for _, v := range n.Values {
			if f := s.branch(e, v, depth); f != nil {
				return f
			}
		}
		return nil
	case *ast.MappingValueNode:
		return s.branch(e, n, depth)
	case *ast.NullNode:
		e.empty = true
		if n.Token.Type != token.ImplicitNullType {
			e.text = n.Token.Value
		}
	case *ast.LiteralNode:
		e.scalar, e.text = true, strings.TrimRight(n.Value.Value, "\n")
	case *ast.StringNode:
		e.scalar, e.text = true, strings.TrimRight(n.Value, "\n")
	case ast.ScalarNode:
		e.scalar, e.text = true, n.GetToken().Value
	default:
		return s.fault("not-a-map", s.tokenAt(n.GetToken()), e.path, nil)
	}
	if e.parent == nil {
		return s.fault("not-a-map", s.tokenAt(n.GetToken()), "", nil)
	}
	if e.scalar || e.text != "" {
		e.value = s.skip(e.value)
	}
	return nil
}

// skip is the first offset from at that is neither blank nor in a comment. The yaml
// reader's own column of a value is wrong where blanks follow it.
func (s *source) skip(at int) int {
	for at < len(s.text) {
		switch s.text[at] {
		case ' ', '\t', '\n':
			at++
		case '#':
			at = s.lineEnd(s.lineOf(at))
		default:
			return at
		}
	}
	return at
}

// colon is the offset after the colon that follows a key at an offset; the yaml
// reader's where the key is not found as it stands.
func (s *source) colon(at int, key string, readers int) int {
	end, ok := at, false
	switch {
	case at >= len(s.text):
	case s.text[at] == '"' || s.text[at] == '\'':
		end, ok = s.quoteEnd(at, s.text[at])
	default:
		end, ok = s.plainEnd(at, key)
	}
	for ok && end < len(s.text) && s.text[end] == ' ' {
		end++
	}
	if !ok || end >= len(s.text) || s.text[end] != ':' {
		return readers + 1
	}
	return end + 1
}

// branch adds one key and its value under e.
func (s *source) branch(e *entry, v *ast.MappingValueNode, depth int) *Fault {
	if depth > maxDepth {
		return s.fault("too-deep", s.tokenAt(v.GetToken()), "", words.Args{"limit": fmt.Sprint(maxDepth)})
	}
	k := v.Key.GetToken()
	child := &entry{key: k.Value, at: s.tokenAt(k), parent: e}
	child.value = min(s.colon(child.at, child.key, s.tokenAt(v.Start)), len(s.text))
	child.path = child.key
	if e.path != "" {
		child.path = e.path + "." + child.key
	}
	e.children = append(e.children, child)
	return s.grow(child, v.Value, depth+1)
}

// fault builds a fault at an offset of the copy.
func (s *source) fault(id string, at int, path string, args words.Args) *Fault {
	line, column := s.place(at)
	for k, v := range args {
		args[k] = short(v)
	}
	return &Fault{ID: id, Args: args, Path: path, File: s.name, Line: line, Column: column, Excerpt: s.line(line - 1)}
}

// short cuts a long text for a sentence.
func short(text string) string {
	const most = 120
	if len(text) <= most || utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "…"
}
