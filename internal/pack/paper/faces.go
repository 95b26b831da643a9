package paper

import (
	"fmt"
	"strings"
	"unicode"

	pdf "github.com/carlos7ags/folio/font"

	"tideover/internal/drawing/font"
)

// faces are the two cuts of the one face, as the PDF library embeds them: it notes in
// them which glyphs a document uses, so each document has its own.
type faces struct{ regular, semibold *pdf.EmbeddedFont }

func loadFaces() (*faces, error) {
	regular, err := pdf.ParseTTF(font.Regular)
	if err != nil {
		return nil, fmt.Errorf("paper: regular face: %w", err)
	}
	semibold, err := pdf.ParseTTF(font.SemiBold)
	if err != nil {
		return nil, fmt.Errorf("paper: semibold face: %w", err)
	}
	return &faces{pdf.NewEmbeddedFont(regular), pdf.NewEmbeddedFont(semibold)}, nil
}

func (f *faces) of(bold bool) *pdf.EmbeddedFont {
	if bold {
		return f.semibold
	}
	return f.regular
}

// cut is one weight, to measure and break text in.
type cut struct{ bold bool }

// width is the length of a text set at size. Same unit as size.
func (c cut) width(text string, size float64) float64 { return font.Advance(clean(text), size, c.bold) }

// settable makes a text fit to be set: plain spaces, no control characters.
func settable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsSpace(r) && r != '\u00a0' && r != '\u202f':
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, text)
}

// lost stands for letters the face does not have.
const lost = '\uFFFD'

// clean is a text as it is inked: a visible mark in place of each run of letters the face
// does not have. What they were, the page says at its foot.
func clean(text string) string {
	var b strings.Builder
	was := false
	for _, r := range settable(text) {
		miss := lacks(r)
		switch {
		case !miss:
			b.WriteRune(r)
		case !was:
			b.WriteRune(lost)
		}
		was = miss
	}
	return b.String()
}

func lacks(r rune) bool { return r != '\n' && r != '\u202f' && !font.Has(r) }

// lacking adds to a list the letters of a text that the face does not have.
func lacking(list []rune, text string) []rune {
	for _, r := range settable(text) {
		if lacks(r) {
			list = append(list, r)
		}
	}
	return list
}

// wrap breaks a text into lines no wider than width. A number never parts from its
// unit, nor a word from a dash or bracket glued to it; a word wider
// than the column is cut, after a hyphen where it has one.
func (c cut) wrap(text string, size, width float64) []string {
	var lines []string
	for _, para := range strings.Split(settable(text), "\n") {
		line := ""
		for _, w := range unbroken(para) {
			try := w
			if line != "" {
				try = line + " " + w
			}
			if c.width(try, size) <= width {
				line = try
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for w != "" && c.width(w, size) > width {
				n := c.fits(w, size, width)
				if hyphen := strings.LastIndexByte(w[:n], '-'); hyphen > 0 {
					n = hyphen + 1
				}
				lines = append(lines, w[:n])
				w = w[n:]
			}
			line = w
		}
		lines = append(lines, line)
	}
	return lines
}

// fits returns how many bytes of w fit the width: at least one letter.
func (c cut) fits(w string, size, width float64) int {
	last := 0
	for i := range w {
		if i > 0 && c.width(w[:i], size) > width {
			break
		}
		if i > 0 {
			last = i
		}
	}
	if last == 0 {
		_, last = firstRune(w)
	}
	return last
}

func firstRune(w string) (rune, int) {
	for i, r := range w {
		if i > 0 {
			return r, i
		}
	}
	return 0, len(w)
}

// unbroken splits a line into pieces between which it may break.
func unbroken(line string) []string {
	var list []string
	for _, w := range strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' }) {
		if n := len(list); n > 0 && isNumber(list[n-1]) && len([]rune(w)) <= 8 && len([]rune(list[n-1])) <= 24 {
			list[n-1] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

// isNumber reports whether the last word of a piece is a bare number, sign or tolerance.
func isNumber(piece string) bool {
	w := piece[strings.LastIndexByte(piece, ' ')+1:]
	digit := false
	for _, r := range w {
		switch {
		case r >= '0' && r <= '9':
			digit = true
		case strings.ContainsRune(".,±−-+~<>≥≤=", r):
		default:
			return false
		}
	}
	return digit && !strings.HasSuffix(w, ".") && !strings.HasSuffix(w, ",")
}

// trim cuts a text with an ellipsis so that it fits one line.
func (c cut) trim(text string, size, width float64) string {
	return font.Fit(strings.ReplaceAll(clean(text), "\n", " "), size, c.bold, width)
}

// searchable puts plain spaces for the unbreakable ones, which a reader's search box
// would not find.
func searchable(text string) string { return plainSpaces.Replace(text) }

var plainSpaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ")

// Legible reports whether at least half the letters of a text can be shown.
func Legible(text string) bool {
	n := len([]rune(text))
	return 2*len(lacking(nil, text)) <= n
}
