package orderform

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// reader turns entries into values and keeps every problem it meets.
type reader struct{ problems fault.List }

func (r *reader) text(field string, t Text, usual string, most int) string {
	s := strings.TrimSpace(t.Typed)
	if s == "" {
		return usual
	}
	if utf8.RuneCountInString(s) > most {
		r.problems.Add(field, s, fmt.Sprintf("This is too long: at most %d characters.", most))
	}
	if strings.ContainsFunc(s, func(c rune) bool { return c < ' ' && c != '\n' && c != '\t' }) || !utf8.ValidString(s) {
		r.problems.Add(field, "", "There are characters in it that cannot be printed. Type it again.")
		return usual
	}
	return s
}

func (r *reader) required(field string, t Text, remedy string) string {
	s := r.text(field, t, "", MaxBytes)
	if s == "" {
		r.problems.Add(field, "", remedy)
	}
	return s
}

// count reads a whole number between least and most.
func (r *reader) count(field string, t Text, usual, least, most int) int {
	s := strings.TrimSpace(t.Typed)
	if s == "" {
		return usual
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < least || n > most {
		r.problems.Add(field, s, fmt.Sprintf("Write a whole number from %d to %d.", least, most))
		return usual
	}
	return n
}

func (r *reader) yes(field string, t Text) bool {
	switch strings.ToLower(strings.TrimSpace(t.Typed)) {
	case "", "false", "no", "0", "off":
		return false
	case "true", "yes", "1", "on":
		return true
	}
	r.problems.Add(field, t.Typed, "Write yes or no.")
	return false
}

// choice reads one of the words; the first is the usual one. An empty first word means that one must be chosen.
func (r *reader) choice(field string, t Text, words ...string) string {
	s := strings.ToLower(strings.TrimSpace(t.Typed))
	if s == "" && words[0] != "" {
		return words[0]
	}
	for _, w := range words {
		if s == w && s != "" {
			return w
		}
	}
	r.problems.Add(field, t.Typed, "Choose one of: "+strings.TrimPrefix(strings.Join(words, ", "), ", ")+".")
	return words[0]
}

// length reads a length; nothing written is zero.
func (r *reader) length(field string, s Size) measure.Length {
	if s.IsZero() {
		return 0
	}
	read := measure.ParseLength
	if s.Bare {
		read = measure.ParseMillimetres
	}
	l, err := read(s.Typed)
	// Every failure of measure is a fault, so there is nothing left to pass on.
	_ = r.problems.Take(field, err)
	return l
}

// needed is a length that must be there and over zero.
func (r *reader) needed(field string, s Size, remedy string) measure.Length {
	before := r.problems.Len()
	l := r.length(field, s)
	if l == 0 && r.problems.Len() == before {
		r.problems.Add(field, s.Typed, remedy)
	}
	return l
}

// prep reads how the faces of a part are made ready for glue.
func (r *reader) prep(field string, t Text) string {
	return r.choice(field, t, "keyed", "flat", "smooth")
}

// place reads a place on the face.
func (r *reader) place(field string, p Place) *geom.Point {
	return &geom.Point{X: r.offset(field+".x", p.X), Y: r.offset(field+".y", p.Y)}
}

// offset reads a place on the face in mm: like a length, but it may be left of the centre line.
func (r *reader) offset(field string, s Size) float64 {
	typed := strings.TrimSpace(s.Typed)
	if rest, ok := strings.CutPrefix(typed, "-"); ok {
		return -r.length(field, Size{Text{rest, s.Bare}}).MM()
	}
	return r.length(field, s).MM()
}

func (r *reader) degrees(field string, t Text) float64 {
	s := strings.TrimSpace(t.Typed)
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "°"), 64)
	if err != nil || !(v >= -360 && v <= 360) {
		r.problems.Add(field, s, "Write a turn in degrees from -360 to 360.")
		return 0
	}
	return v
}

func (r *reader) day(field string, t Text) time.Time {
	s := strings.TrimSpace(t.Typed)
	if s == "" {
		return time.Time{}
	}
	day, err := time.Parse(time.DateOnly, s)
	if err != nil || day.Year() < 2000 || day.Year() > 2200 {
		r.problems.Add(field, s, "Write a date as year-month-day, for example 2027-05-28.")
		return time.Time{}
	}
	return day
}
