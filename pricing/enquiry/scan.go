package enquiry

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// reader goes through the words, topic by topic. What one topic understood is not read again by the next: the 28 of
// a date is no width.
type reader struct {
	words string
	known Known
	taken []span
	Reading
}

// span is a stretch of the words, in bytes.
type span struct{ from, to int }

// match is where an expression was found, with its groups.
type match struct {
	span
	groups []string // as written; "" for those that are not there
}

// each gives every place where an expression stands as whole words that nobody has understood yet. see tells whether it
// was what it looked like: if not, the search goes on one letter further.
func (r *reader) each(e *regexp.Regexp, see func(match) bool) {
	r.over(e, func(m match) bool { return r.free(m.span) && see(m) })
}

// over is each, of words too that were understood as something else: a kite shield is one shield, and a kite.
func (r *reader) over(e *regexp.Regexp, see func(match) bool) {
	for at := 0; at < len(r.words); {
		loc := e.FindStringSubmatchIndex(r.words[at:])
		if loc == nil {
			return
		}
		m := match{span: span{at + loc[0], at + loc[1]}}
		for i := 0; i < len(loc); i += 2 {
			if loc[i] < 0 {
				m.groups = append(m.groups, "")
				continue
			}
			m.groups = append(m.groups, r.words[at+loc[i]:at+loc[i+1]])
		}
		_, size := utf8.DecodeRuneInString(r.words[m.from:])
		if m.to > m.from && r.whole(m.span) && see(m) {
			at = m.to
			continue
		}
		at = m.from + max(size, 1)
	}
}

// whole tells that a stretch does not begin or end inside a word or a number.
func (r *reader) whole(s span) bool {
	first, _ := utf8.DecodeRuneInString(r.words[s.from:])
	last, _ := utf8.DecodeLastRuneInString(r.words[:s.to])
	before, size := utf8.DecodeLastRuneInString(r.words[:s.from])
	after, next := utf8.DecodeRuneInString(r.words[s.to:])
	if size > 0 && wordy(first) && wordy(before) && !crossAt(r.words, s.from-size) || next > 0 && wordy(last) && wordy(after) && !crossAt(r.words, s.to) {
		return false
	}
	point := func(c rune) bool { return c == '.' || c == ',' || c == '/' }
	if unicode.IsDigit(first) && point(before) && s.from > size {
		if c, _ := utf8.DecodeLastRuneInString(r.words[:s.from-size]); unicode.IsDigit(c) {
			return false
		}
	}
	if unicode.IsDigit(last) && point(after) {
		if c, _ := utf8.DecodeRuneInString(r.words[s.to+next:]); unicode.IsDigit(c) {
			return false
		}
	}
	return true
}

// crossAt tells the x of 60x90 and of 60cmx90cm.
func crossAt(s string, at int) bool {
	return at > 0 && at+1 < len(s) && (s[at] == 'x' || s[at] == 'X') && (s[at+1] >= '0' && s[at+1] <= '9') && (s[at-1] >= '0' && s[at-1] <= '9' || s[at-1] == 'm' || s[at-1] == 'n')
}

func wordy(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }

func (r *reader) free(s span) bool {
	return !slices.ContainsFunc(r.taken, func(t span) bool { return s.from < t.to && t.from < s.to })
}

// found keeps a find; its words are understood.
func (r *reader) found(about Topic, value string, s span) { r.foundBy(about, value, s, s) }

// foundBy keeps a find of which only the key is understood: the rest may say more.
func (r *reader) foundBy(about Topic, value string, s, key span) {
	s = r.tight(s)
	r.taken = append(r.taken, key)
	r.Finds = append(r.Finds, Find{about, value, r.words[s.from:s.to], s.from, s.to})
}

// tight is a stretch without the blanks at its ends.
func (r *reader) tight(s span) span {
	words := r.words[s.from:s.to]
	s.from += len(words) - len(strings.TrimLeftFunc(words, unicode.IsSpace))
	s.to = s.from + len(strings.TrimSpace(words))
	return s
}

func (r *reader) doubted(about Topic, why Why, s span, choices ...string) {
	s = r.tight(s)
	r.taken = append(r.taken, s)
	r.Doubts = append(r.Doubts, Doubt{about, why, r.words[s.from:s.to], s.from, s.to, choices})
}

// near is how far a word may stand from what it is about, in bytes.
const near = 48

// before is what stands before a place in the same sentence, in small letters.
func (r *reader) before(at int) string {
	s := r.words[max(0, at-near):at]
	if i := strings.LastIndexAny(s, ".!?;\n"); i >= 0 && !ordinal(s, i) {
		s = s[i+1:]
	}
	return strings.ToLower(s)
}

// ordinal tells a point after a figure or in "ca." from the end of a sentence.
func ordinal(s string, at int) bool {
	return s[at] == '.' && at > 0 && (s[at-1] >= '0' && s[at-1] <= '9' || strings.HasSuffix(strings.ToLower(s[:at]), "ca") || strings.HasSuffix(strings.ToLower(s[:at]), "approx") || strings.HasSuffix(strings.ToLower(s[:at]), "max"))
}

// after is what stands after a place, in small letters.
func (r *reader) after(at int) string {
	return strings.ToLower(r.words[at:min(len(r.words), at+near)])
}

// in is an expression of words, whatever their case.
func in(words string) *regexp.Regexp { return regexp.MustCompile("(?i)" + words) }

// Counts as words. A dozen is twelve.
const (
	counted = `(\d{1,4}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|a dozen|a pair of|an|a|` +
		`zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|elf|zwölf|ein dutzend|einen|eine|ein|` +
		`deux|trois|quatre|cinq|sept|huit|neuf|dix|onze|douze|une|un)`
	hedge = `(?:about|around|roughly|approximately|approx\.?|maybe|perhaps|some|at least|up to|no more than|ca\.?|circa|etwa|ungefähr|vielleicht|mindestens|höchstens|environ|à peu près|peut-être|au moins|jusqu'à)`
)

var (
	hedged    = in(hedge + `\s*$`)
	ranged    = in(`(?:\d|\p{L})\s*(?:-|–|to|or|bis|oder|à|ou)\s*$`)
	orSo      = in(`^\s*(?:or so|oder so|ou plus|or more|oder mehr|\?|(?:or|oder|ou)\s+(?:\d|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|zwei|drei|vier|fünf|sechs|zwölf|deux|trois|quatre|cinq|six|douze))`)
	negative  = in(`(?:^|[^\p{L}])(?:no|not|n['’]t|without|instead of|rather than|never|kein|keine|keinen|keiner|ohne|nicht|statt|sans|pas|pas de|pas d['’]|aucune?|ni)\s*(?:a|an|the|any|the usual|ein|eine|einen|un|une)?\s*$`)
	uncertain = in(`(?:^|[^\p{L}])(?:not|n['’]t|no|nobody|none|never|neither|nor|without|might|may be|maybe|perhaps|possibly|if|whether|unsure|think|believe|ask|was|used to be|kein\p{L}*|nicht|niemand|nie|vielleicht|eventuell|ob|falls|glaube|pas|personne|aucune?|peut-être|si|crois)(?:[^\p{L}]|$)`)
)

func number(s string) (int, bool) {
	if n, err := strconv.Atoi(s); err == nil {
		return n, true
	}
	switch strings.ToLower(s) {
	case "one", "a", "an", "ein", "eine", "einen", "un", "une":
		return 1, true
	case "two", "zwei", "deux", "a pair of":
		return 2, true
	case "three", "drei", "trois":
		return 3, true
	case "four", "vier", "quatre":
		return 4, true
	case "five", "fünf", "cinq":
		return 5, true
	case "six", "sechs":
		return 6, true
	case "seven", "sieben", "sept":
		return 7, true
	case "eight", "acht", "huit":
		return 8, true
	case "nine", "neun", "neuf":
		return 9, true
	case "ten", "zehn", "dix":
		return 10, true
	case "eleven", "elf", "onze":
		return 11, true
	case "twelve", "zwölf", "douze", "a dozen", "ein dutzend":
		return 12, true
	}
	return 0, false
}
