package pdf

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// The typefaces, in the renderer's order. The spare one is for letters the other two lack.
const (
	sans = iota
	serif
	spare
)

// missing is printed for a letter that no typeface has: an empty box, to be seen and asked about.
const missing = '□'

// typeface is one font: its bytes for the document, and parsed for measuring. sfnt.Font is safe for concurrent use.
type typeface struct {
	family string
	ttf    []byte
	font   *sfnt.Font
}

func parse(family string, ttf []byte) (*typeface, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("typeface %s: %w", family, err)
	}
	return &typeface{family, ttf, f}, nil
}

// advance is the width of a letter in thousandths of its size; not ok when the typeface lacks it. The library
// knows only letters of the first 65 536.
func (t *typeface) advance(buf *sfnt.Buffer, r rune) (width float64, ok bool) {
	if r > 0xffff {
		return 0, false
	}
	g, err := t.font.GlyphIndex(buf, r)
	if err != nil || g == 0 {
		return 0, false
	}
	a, err := t.font.GlyphAdvance(buf, g, fixed.I(1000), font.HintingNone)
	return float64(a) / 64, err == nil
}

// plain is a text in composed letters and without what has no shape of its own: control characters, joiners and
// selectors. Every kind of white space but the unbreakable becomes a common one.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\u00a0' || r == '\u202f':
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.C, unicode.Variation_Selector):
			return -1
		}
		return r
	}, norm.NFC.String(s))
}
