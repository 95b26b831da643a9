package quantity

import (
	"regexp"
	"strings"
)

// sizeForm is a family, a blank and a mark: "PE100-SDR11 25", "copper-L 3/4", "thread 1-1/4".
var sizeForm = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9.-]*) +([0-9]+(?:\.[0-9]+|(?:-[0-9]+)?/[0-9]+)?)$`)

// mixed is a mark with its fraction set apart, "1 1/4", which is kept as "1-1/4".
var mixed = regexp.MustCompile(`([0-9]) +([0-9]+/[0-9]+)$`)

// ParseSize reads a trade size: a pipe or thread family and a mark. Whether there is
// such a size only the catalogue knows. The error is always a *ParseError.
func ParseSize(text string) (Size, error) {
	t := strings.TrimSpace(string(newScanner(text).in))
	if i := strings.IndexByte(t, ' '); i > 0 {
		t = t[:i] + mixed.ReplaceAllString(t[i:], "$1-$2")
	}
	m := sizeForm.FindStringSubmatch(t)
	if m == nil {
		return Size{}, sizeError(t)
	}
	return Size{Family: m[1], Mark: m[2]}, nil
}

// sizeError says what is missing of a size: its family, its mark, or that a length was given.
func sizeError(text string) *ParseError {
	id := "quantity.size"
	switch {
	case text != "" && isDigit(rune(text[0])):
		id = "quantity.size-family"
	case sizeForm.MatchString(strings.TrimRight(strings.TrimRight(text, "mincMIN\"″"), " ")):
		id = "quantity.size-length"
	}
	return &ParseError{ID: id, Args: map[string]string{"text": text}}
}
