package pattern

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// missing is printed for a letter that the typeface lacks: an empty box, to be seen and asked about.
const missing = '□'

// letters measures words as they will be printed.
type letters struct {
	font  *sfnt.Font
	buf   sfnt.Buffer
	known map[rune]float64 // advances in thousandths of the size; below zero where there is none
}

func newLetters() (*letters, error) {
	f, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("pattern: typeface: %w", err)
	}
	return &letters{font: f, known: map[rune]float64{}}, nil
}

func (l *letters) advance(r rune) float64 {
	w, ok := l.known[r]
	if ok {
		return w
	}
	w = -1
	if g, err := l.font.GlyphIndex(&l.buf, r); err == nil && g != 0 && r <= 0xffff { // the PDF library knows no letters beyond
		if a, err := l.font.GlyphAdvance(&l.buf, g, fixed.I(1000), font.HintingNone); err == nil {
			w = float64(a) / 64
		}
	}
	l.known[r] = w
	return w
}

// shown is a text with boxes for letters that the typeface lacks.
func (l *letters) shown(s string) string {
	return strings.Map(func(r rune) rune {
		if l.advance(r) < 0 {
			return missing
		}
		return r
	}, s)
}

// width of a text in mm.
func (l *letters) width(s string, size float64) float64 {
	sum := 0.0
	for _, r := range l.shown(s) {
		sum += l.advance(r)
	}
	return sum * size / 1000
}

// short is a text cut with an ellipsis where it is wider than there is room.
func (l *letters) short(s string, size, width float64) string {
	if l.width(s, size) <= width {
		return s
	}
	for s != "" && l.width(s+"…", size) > width {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return strings.TrimRight(s, " ") + "…"
}

// wrap breaks a text into lines between words; a word longer than a line is cut.
func (l *letters) wrap(s string, size, width float64) []string {
	var lines []string
	now := ""
	for _, word := range strings.Fields(s) {
		word = l.short(word, size, width)
		if longer := strings.TrimPrefix(now+" "+word, " "); l.width(longer, size) <= width {
			now = longer
			continue
		}
		if now != "" {
			lines = append(lines, now)
		}
		now = word
	}
	if now != "" {
		lines = append(lines, now)
	}
	return lines
}
