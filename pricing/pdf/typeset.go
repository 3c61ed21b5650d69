package pdf

import (
	"strings"

	"golang.org/x/image/font/sfnt"
)

// point is the size of one point of type in mm.
const point = 25.4 / 72

// style is how a text looks: face, size in points, distance of its lines in mm, colour.
type style struct {
	face       int
	size, lead float64
	ink        shade
}

// setter breaks the texts of one document into lines and notes which typefaces it took.
type setter struct {
	faces [3]*typeface
	used  map[*typeface]bool
	known map[*typeface]map[rune]float64 // advances found so far; below zero where there is none
	buf   sfnt.Buffer
}

func newSetter(faces [3]*typeface) *setter {
	s := &setter{faces: faces, used: map[*typeface]bool{}, known: map[*typeface]map[rune]float64{}}
	for _, f := range faces {
		s.known[f] = map[rune]float64{}
	}
	return s
}

// line is a stretch of text ready to print in one face.
type line struct {
	style
	text  string
	face  *typeface
	width float64 // mm
}

func (s *setter) advance(f *typeface, r rune) float64 {
	w, ok := s.known[f][r]
	if !ok {
		if w, ok = f.advance(&s.buf, r); !ok {
			w = -1
		}
		s.known[f][r] = w
	}
	return w
}

// lacks counts the letters of a text that a face has not.
func (s *setter) lacks(f *typeface, text string) (n int) {
	for _, r := range text {
		if s.advance(f, r) < 0 {
			n++
		}
	}
	return n
}

// set readies a text: in its style's face, in the spare one where that has more of its letters.
func (s *setter) set(text string, st style) line {
	l := line{style: st, text: plain(text), face: s.faces[st.face]}
	if n := s.lacks(l.face, l.text); n > 0 {
		if other := s.faces[spare]; s.lacks(other, l.text) < n {
			l.face = other
		}
		l.text = strings.Map(func(r rune) rune {
			if s.advance(l.face, r) < 0 {
				return missing
			}
			return r
		}, l.text)
	}
	s.used[l.face] = true
	l.width = s.width(l, l.text)
	return l
}

// width of a text in a line's face and size, mm.
func (s *setter) width(l line, text string) (mm float64) {
	for _, r := range text {
		mm += s.advance(l.face, r)
	}
	return mm * l.size * point / 1000
}

// wrap breaks a text into lines of at most a width: between words, and within a word that is longer than a line.
func (s *setter) wrap(text string, st style, width float64) []line {
	var lines []line
	for _, paragraph := range strings.Split(text, "\n") {
		whole := s.set(paragraph, st)
		add := func(text string) {
			l := whole
			l.text, l.width = text, s.width(whole, text)
			lines = append(lines, l)
		}
		now := ""
		for _, word := range strings.FieldsFunc(whole.text, func(r rune) bool { return r == ' ' }) {
			longer := strings.TrimPrefix(now+" "+word, " ")
			if s.width(whole, longer) <= width {
				now = longer
				continue
			}
			if now != "" {
				add(now)
			}
			for now = word; now != "" && s.width(whole, now) > width; {
				head := s.head(whole, now, width)
				add(head)
				now = now[len(head):]
			}
		}
		add(now)
	}
	return lines
}

// head is as much of a word as fits, at least a letter.
func (s *setter) head(l line, word string, width float64) string {
	at := 0.0
	for i, r := range word {
		at += s.advance(l.face, r) * l.size * point / 1000
		if at > width && i > 0 {
			return word[:i]
		}
	}
	return word
}

// short is a text on one line, cut with an ellipsis where it is too long.
func (s *setter) short(text string, st style, width float64) line {
	l := s.set(text, st)
	if l.width > width {
		l.text = strings.TrimRight(s.head(l, l.text, width-s.width(l, "…")), " ") + "…"
		l.width = s.width(l, l.text)
	}
	return l
}
