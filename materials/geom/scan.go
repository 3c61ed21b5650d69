package geom

import (
	"fmt"
	"strconv"
	"strings"

	"foamwright/materials/fault"
)

// scanner reads the tokens of path data. The first error stays; after it every read gives nothing.
type scanner struct {
	d     string
	at    int
	from  int     // where the last number starts
	unit  float64 // of the numbers, in mm
	fresh bool    // a set of numbers starts here, so no comma may stand before it
	err   error
}

// fail notes the first error, with the character counted from 1 as an editor does. What comes before an
// error is plain ASCII, so bytes are characters.
func (s *scanner) fail(at int, remedy string) {
	if s.err != nil {
		return
	}
	where, end := fmt.Sprintf("Character %d", at+1), min(len(s.d), at+20)
	if at >= len(s.d) {
		where, at = "At the end", max(0, at-20)
	}
	s.err = refuse(strings.ToValidUTF8(s.d[at:end], "?"), where+": "+remedy+".")
}

// refuse is a fault about the whole path; the caller knows the field.
func refuse(value, remedy string) error {
	var l fault.List
	l.Add("", value, remedy)
	return l.Err()
}

func (s *scanner) ended() bool { return s.at >= len(s.d) }

// peek is the next byte, or 0 at the end.
func (s *scanner) peek() byte {
	if s.ended() {
		return 0
	}
	return s.d[s.at]
}

func (s *scanner) next() byte {
	c := s.peek()
	s.at++
	return c
}

// wsp skips white space: tab, line feed, form feed, carriage return, space.
func (s *scanner) wsp() {
	for !s.ended() && strings.IndexByte("\t\n\f\r ", s.d[s.at]) >= 0 {
		s.at++
	}
}

// commaWsp skips white space with one comma at most in it, and tells whether there was a comma.
func (s *scanner) commaWsp() bool {
	s.wsp()
	if s.peek() != ',' {
		return false
	}
	s.at++
	s.wsp()
	return true
}

// another tells whether one more set of numbers follows, and moves to it.
func (s *scanner) another() bool {
	s.fresh = true
	if s.commaWsp() {
		return true // and if no number follows the comma, reading it says so
	}
	c := s.peek()
	return digit(c) || c == '+' || c == '-' || c == '.'
}

// separate moves past what may stand before a number: white space at the start of a set, after that a comma too.
func (s *scanner) separate() {
	if s.fresh {
		s.wsp()
	} else {
		s.commaWsp()
	}
	s.fresh, s.from = false, s.at
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

func (s *scanner) digits() int {
	from := s.at
	for digit(s.peek()) {
		s.at++
	}
	return s.at - from
}

// number reads a sign, digits with or without a dot and an exponent: "5", "-.5", "1e2".
func (s *scanner) number(what string) float64 {
	if s.err != nil {
		return 0
	}
	s.separate()
	if c := s.peek(); c == '+' || c == '-' {
		s.at++
	}
	whole, part := s.digits(), 0
	if s.peek() == '.' {
		s.at++
		if part = s.digits(); part == 0 && whole > 0 {
			s.fail(s.at, "a digit has to follow the dot; write 1 or 1.0, not 1.")
			return 0
		}
	}
	if whole+part == 0 {
		s.fail(s.from, "a number is missing here: "+what)
		return 0
	}
	if mark := s.at; s.peek()|0x20 == 'e' {
		s.at++
		if c := s.peek(); c == '+' || c == '-' {
			s.at++
		}
		if s.digits() == 0 {
			s.at = mark
		}
	}
	v, _ := strconv.ParseFloat(s.d[s.from:s.at], 64)
	if s.far(v) {
		s.fail(s.from, "this number is over 100 000 mm; check the unit")
	}
	return v
}

// far tells whether a number of the data's own units is out of reach.
func (s *scanner) far(v float64) bool { return v*s.unit < -reach || v*s.unit > reach }

// flag reads 0 or 1, which may touch what comes after.
func (s *scanner) flag(what string) bool {
	if s.err != nil {
		return false
	}
	s.separate()
	c := s.next()
	if c != '0' && c != '1' {
		s.fail(s.from, "the "+what+" flag has to be 0 or 1")
	}
	return c == '1'
}

// coordinate reads a number from a base, x or y.
func (s *scanner) coordinate(base float64, what string) float64 {
	v := base + s.number(what)
	if s.far(v) {
		s.fail(s.from, "this place is further out than 100 000 mm; check the unit")
	}
	return v
}

func (s *scanner) pair(o Point) Point {
	x := s.coordinate(o.X, "x")
	return Point{x, s.coordinate(o.Y, "y")}
}
