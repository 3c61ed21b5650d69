package artwork

import (
	"fmt"

	"foamwright/materials/fault"
)

// What all that is read may come to.
const (
	mostWork     = 2 * MaxBytes // attributes read, in bytes; copies read them again
	mostSegments = 50_000
	mostProblems = 20
)

// reader walks a document and gathers its shapes.
type reader struct {
	document
	shapes   []drawn
	notes    []note
	guessed  bool       // the size of the page is
	copying  []*element // copies that are under way
	elements int
	work     int
	segments int
	over     error // more than the limits
	problems fault.List
}

// drawn is a shape before its role is known.
type drawn struct {
	Shape
	nonzero bool // filled by that rule
}

// note is something left out or taken for granted, as often as it came.
type note struct {
	sentence    string
	line, count int
}

func (n note) String() string {
	switch {
	case n.line == 0:
		return n.sentence
	case n.count == 1:
		return fmt.Sprintf("Line %d: %s", n.line, n.sentence)
	}
	return fmt.Sprintf("Line %d and %d more: %s", n.line, n.count-1, n.sentence)
}

// note counts what is told once, with the line where it came first.
func (r *reader) note(sentence string, line int) {
	for i := range r.notes {
		if r.notes[i].sentence == sentence {
			r.notes[i].count++
			return
		}
	}
	r.notes = append(r.notes, note{sentence, line, 1})
}

// refuse notes something to put right.
func (r *reader) refuse(line int, value, remedy string) { r.problems.Add("", value, at(line)+remedy) }

// take notes what geom has against a shape, and tells whether that is nothing.
func (r *reader) take(line int, err error) bool {
	for _, p := range fault.ProblemsOf(err) {
		r.refuse(line, p.Value, p.Remedy)
	}
	return err == nil
}

// err is why nothing can be made of the file so far.
func (r *reader) err() error {
	if r.over != nil {
		return r.over
	}
	return r.problems.Err()
}
