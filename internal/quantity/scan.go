package quantity

import (
	"math/big"
	"strings"
	"unicode"
)

// maxText is the longest text read as a quantity, in runes: room for what Format prints of
// the largest values there are.
const maxText = 1000

// scanner walks over the runes of one text.
type scanner struct {
	text string
	in   []rune // text with every kind of blank and minus made plain
	at   int
}

func newScanner(text string) *scanner {
	in := []rune(text)
	for i, r := range in {
		switch {
		case unicode.IsSpace(r): // no-break, thin and narrow blanks among them
			in[i] = ' '
		case r == '−' || r == '‐' || r == '‑': // minus sign, hyphens
			in[i] = '-'
		}
	}
	return &scanner{text: text, in: in}
}

// peek returns the rune n places ahead, 0 past the end.
func (s *scanner) peek(n int) rune {
	if s.at+n >= len(s.in) {
		return 0
	}
	return s.in[s.at+n]
}

func (s *scanner) blanks() {
	for s.peek(0) == ' ' {
		s.at++
	}
}

func (s *scanner) end() bool { return s.at >= len(s.in) }

// rest is what has not been read yet.
func (s *scanner) rest() string { return string(s.in[s.at:]) }

// take moves over want when it stands next.
func (s *scanner) take(want string) bool {
	for i, r := range []rune(want) {
		if s.peek(i) != r {
			return false
		}
	}
	s.at += len([]rune(want))
	return true
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// digits reads a run of digits, "" when there is none.
func (s *scanner) digits() string {
	from := s.at
	for isDigit(s.peek(0)) {
		s.at++
	}
	return string(s.in[from:s.at])
}

// vulgar are the fractions that have a character of their own.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '¼': {1, 4}, '¾': {3, 4}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
}

// number reads an unsigned number: "3.2", ".5", "1e-3", "3/4", "1 1/2", "1-1/2", "1½".
// ok is false, and nothing is read, when there is none.
func (s *scanner) number() (n *big.Rat, ok bool) {
	if f, ok := vulgar[s.peek(0)]; ok {
		s.at++
		return big.NewRat(f[0], f[1]), true
	}
	from := s.at
	whole := s.digits()
	decimals := ""
	if s.peek(0) == '.' && (whole != "" || isDigit(s.peek(1))) {
		s.at++
		decimals = s.digits()
	}
	if whole == "" && decimals == "" {
		s.at = from
		return nil, false
	}
	simple := s.at == from+len(whole) // no point: a fraction may follow
	exponent := s.exponent()
	n, _ = new(big.Rat).SetString(whole + "." + decimals + "0" + exponent)
	if simple && exponent == "" {
		s.fraction(n)
	}
	return n, true
}

// exponent reads "e-3" with at most three digits, "" when there is none.
func (s *scanner) exponent() string {
	if r := s.peek(0); r != 'e' && r != 'E' {
		return ""
	}
	from := s.at
	s.at++
	if s.peek(0) == '-' || s.peek(0) == '+' {
		s.at++
	}
	if n := len(s.digits()); n == 0 || n > 3 {
		s.at = from
		return ""
	}
	return string(s.in[from:s.at])
}

// fraction reads what may follow a whole number n: "/4" divides it, " 1/2", "-1/2" and
// "½" are added to it.
func (s *scanner) fraction(n *big.Rat) {
	if f, ok := vulgar[s.peek(0)]; ok {
		s.at++
		n.Add(n, big.NewRat(f[0], f[1]))
		return
	}
	from := s.at
	if s.take("/") {
		if d, ok := s.denominator(); ok {
			n.Quo(n, d)
			return
		}
		s.at = from
		return
	}
	if s.peek(0) != ' ' && s.peek(0) != '-' {
		return
	}
	s.at++
	top, _ := new(big.Rat).SetString("0" + s.digits())
	if top.Sign() > 0 && s.take("/") {
		if d, ok := s.denominator(); ok {
			n.Add(n, top.Quo(top, d))
			return
		}
	}
	s.at = from
}

// denominator reads the lower part of a fraction: digits that are not all nought.
func (s *scanner) denominator() (*big.Rat, bool) {
	d, _ := new(big.Rat).SetString("0" + s.digits())
	return d, d.Sign() > 0
}

// unit reads a unit and returns its spelling and the units it may stand for, or none.
// The longest spelling wins; among those of one length, the one with the same capitals.
func (s *scanner) unit() (string, []*unit) {
	var best *name
	under := spellings()[unicode.ToLower(s.peek(0))]
	for i := range under {
		n := &under[i]
		if best != nil && len(n.runes) < len(best.runes) {
			break
		}
		if !s.fits(n.runes, foldable(n.text)) {
			continue
		}
		if s.fits(n.runes, false) {
			best = n
			break
		}
		if best == nil {
			best = n
		}
	}
	if best == nil {
		return "", nil
	}
	s.at += len(best.runes)
	return best.text, best.units
}

// foldable reports whether a spelling may be read without regard to capitals: not where
// a capital turns milli into mega or a celsius into something else.
func foldable(text string) bool {
	switch text {
	case "mL", "ml", "mL/s", "ml/s", "mL/min", "ml/min", "mA", "mg", "MJ", "MPa", "mbar":
		return false
	}
	return true
}

// fits reports whether the runes of a unit stand next and end where a unit can end.
func (s *scanner) fits(unit []rune, fold bool) bool {
	for i, r := range unit {
		if p := s.peek(i); p != r && !(fold && p != 0 && unicode.ToLower(p) == unicode.ToLower(r)) {
			return false
		}
	}
	last, next := unit[len(unit)-1], s.peek(len(unit))
	switch {
	case isDigit(next):
		return !isDigit(last)
	case last == '\'' || last == '"' || last == '′' || last == '″' || last == '.':
		return true
	}
	return !unicode.IsLetter(next) && !strings.ContainsRune("/²³^°%", next)
}
