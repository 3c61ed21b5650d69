package pattern

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// mm is a measure to a tenth without trailing noughts.
func mm(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64) }

// whole is a measure to a full mm.
func whole(v float64) string { return strconv.FormatFloat(math.Round(v)+0, 'f', 0, 64) }

// clean is a text on one line in composed letters, without what has no shape of its own: control characters, joiners
// and marks of direction could otherwise hide in a name what it is.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.C, unicode.Variation_Selector) || r == unicode.ReplacementChar:
			return -1
		}
		return r
	}, norm.NFC.String(s))
	return strings.Join(strings.Fields(s), " ")
}
